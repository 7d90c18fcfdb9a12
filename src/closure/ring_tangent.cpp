#include "closure/ring_tangent.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Eigenvalues>
#include <Eigen/LU>

#include "base/check.h"
#include "files/limits.h"

namespace graftwright {
namespace {

constexpr int kMaxInner = 400;
// While no more crossings than this are tied, their strands alone keep the donor from floating off:
// the preconditioner then takes them one by one.
constexpr Eigen::Index kFewBites = 6;
// Of more crossings, those so much stiffer than the median one are taken one by one too, as many of them.
constexpr double kFarStiffer = 2.0;

// Most directions in which a crossing's strands are stiff: three of the deep one, two of the surface's. (One less of
// each but where the edges are squashed past each other.)
constexpr Eigen::Index kStiffWays = 5;
constexpr double kNoStiffness = 1e-12;  // of the stiffest way

// Most loops, and strands one by one, of a closure: no allocation.
constexpr int kMostLoops = static_cast<int>(kMostBites + kStiffWays * kFewBites);
using SmallMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::ColMajor, kMostLoops, kMostLoops>;

std::size_t harmonic(Eigen::Index column) { return static_cast<std::size_t>((column + 1) / 2); }

Eigen::Map<const Eigen::VectorXd> flat(const RingMatrix& x) { return {x.data(), x.size()}; }
Eigen::Map<Eigen::VectorXd> flat(RingMatrix& x) { return {x.data(), x.size()}; }

}  // namespace

RingTangent::RingTangent(const ClosureSystem& system, const WoundInterface& interface, const Threads& threads)
    : interface_(&interface), threads_(&threads), transform_(system.model().harmonics(), interface.points()) {
    const Eigen::Index columns = 2 * system.model().columns(), unknowns = kRingUnknowns * columns;
    GRAFTWRIGHT_CHECK(system.size() <= kMostBites, "no more bites than a file may hold");
    const auto crossings = static_cast<Eigen::Index>(threads.crossings().size());
    const Eigen::Index low_rank =
        static_cast<Eigen::Index>(system.size()) + kStiffWays * std::min(crossings, kFewBites);
    loops_.resize(unknowns, low_rank);
    solved_loops_.resize(unknowns, low_rank);
    for (Eigen::MatrixXd* small : {&flexibility_, &woodbury_, &small_inverse_}) small->resize(low_rank, low_rank);
    for (Eigen::VectorXd* small : {&drawn_, &pull_}) small->resize(low_rank);
    strand_stiffness_.resize(threads.crossings().size());
    by_mean_.reserve(threads.crossings().size());
    one_by_one_.reserve(threads.crossings().size());
    for (int m = 0; m <= system.model().harmonics(); ++m) {
        const double blur = m * kThreadSpread / system.model().shape().wound_radius;
        damping_.push_back(std::exp(-blur * blur));
    }
    blocks_.resize(static_cast<std::size_t>(system.model().harmonics()) + 1);
    contact_.resize(6, interface.points());
    points_in_.resize(kRingUnknowns, 2 * interface.points());
    points_out_.resize(kRingUnknowns, 2 * interface.points());
    for (RingMatrix* buffer : {&residual_, &solved_, &direction_, &image_, &on_harmonics_})
        buffer->resize(kRingUnknowns, columns);
}

void RingTangent::linearise(const ReducedSystem& reduced, const std::vector<Knot>& knots, const ThreadResponse& threads,
                            const WoundInterface::Response& contact) {
    reduced_ = &reduced;
    contact_ = interface_->arc() * contact.tangent;
    add_loops(knots, threads);
    add_strands(threads);
    factor_preconditioner();
}

void RingTangent::add_loops(const std::vector<Knot>& knots, const ThreadResponse& threads) {
    loop_count_ = threads.unknowns;
    loops_.leftCols(loop_count_).setZero();
    flexibility_.topLeftCorner(loop_count_, loop_count_).setZero();
    for (std::size_t b = 0; b < knots.size(); ++b) {
        const Eigen::Index k = threads.unknown[b];
        if (k < 0) continue;
        loops_.col(k) -= reduced_->loop_force.col(static_cast<Eigen::Index>(b));
        for (std::size_t c = 0; c < knots.size(); ++c) {
            const Eigen::Index l = threads.unknown[c];
            if (l >= 0)
                flexibility_(k, l) +=
                    reduced_->loop_compliance(static_cast<Eigen::Index>(b), static_cast<Eigen::Index>(c));
        }
        flexibility_(k, k) += 1.0 / knots[b].stiffness;
    }
    threads_->add_crossings(threads, threads.unknown, loops_);
}

void RingTangent::share_out_crossings(const ThreadResponse& threads) {
    by_mean_.clear();
    one_by_one_.clear();
    for (std::size_t c = 0; c < strand_stiffness_.size(); ++c) {
        const double tension = threads.pull[static_cast<Eigen::Index>(c)];
        if (tension <= 0.0) continue;
        strand_stiffness_[c] = tension * threads_->crossings()[c].curvature(threads.ends[c]);
        by_mean_.push_back(c);
    }
    const auto stiffer = [&](std::size_t a, std::size_t b) {
        const double of_a = strand_stiffness_[a].trace(), of_b = strand_stiffness_[b].trace();
        return of_a > of_b || (of_a == of_b && a < b);
    };
    std::sort(by_mean_.begin(), by_mean_.end(), stiffer);
    const auto few = static_cast<std::size_t>(kFewBites);
    const std::size_t most = std::min(by_mean_.size(), few);
    const double limit =
        by_mean_.size() <= few ? 0.0 : kFarStiffer * strand_stiffness_[by_mean_[by_mean_.size() / 2]].trace();
    while (one_by_one_.size() < most && strand_stiffness_[by_mean_[one_by_one_.size()]].trace() > limit)
        one_by_one_.push_back(by_mean_[one_by_one_.size()]);
    by_mean_.erase(by_mean_.begin(), by_mean_.begin() + static_cast<std::ptrdiff_t>(one_by_one_.size()));
}

void RingTangent::add_strands(const ThreadResponse& threads) {
    share_out_crossings(threads);
    mean_strands_.setZero();
    for (const std::size_t c : by_mean_) mean_strands_ += strand_stiffness_[c].topLeftCorner<4, 4>();
    for (const std::size_t c : one_by_one_) {
        // As a sum of squares: columns of their own, each with a flexibility of its own.
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 8, 8>> ways(strand_stiffness_[c]);
        for (Eigen::Index way = 8 - kStiffWays; way < 8; ++way) {
            if (!(ways.eigenvalues()[way] > kNoStiffness * ways.eigenvalues()[7])) continue;
            const EndValues on_ends = std::sqrt(ways.eigenvalues()[way]) * ways.eigenvectors().col(way);
            const Eigen::Index k = loop_count_++;
            loops_.col(k).setZero();
            threads_->crossings()[c].add_to_edges(
                on_ends, Eigen::Map<RingMatrix>(loops_.col(k).data(), kRingUnknowns, residual_.cols()));
            flexibility_.row(k).head(k).setZero();
            flexibility_.col(k).head(k).setZero();
            flexibility_(k, k) = 1.0;
        }
    }
}

void RingTangent::factor_preconditioner() {
    const Eigen::Matrix<double, 6, 1> mean = contact_.rowwise().sum();
    Eigen::Matrix4d round = Eigen::Matrix4d::Zero();
    round(0, 0) = mean[0];
    round(0, 3) = round(3, 0) = mean[1];
    round(3, 3) = mean[2];
    round(1, 1) = mean[3];
    round(2, 2) = mean[5];
    for (std::size_t m = 0; m < blocks_.size(); ++m) {
        Block& block = blocks_[m];
        const Eigen::Matrix4d& host = reduced_->host[m];
        block.glued_inverse = (reduced_->donor[m] + host).inverse();
        block.donor_share = block.glued_inverse * host;
        block.even = (m == 0 ? 1.0 : 0.5) * (round + damping_[m] * mean_strands_);
        Eigen::Matrix4d jump = host - host * block.donor_share + block.even;
        if (m < reduced_->foundation.size()) jump += reduced_->foundation[m];
        block.jump_inverse = jump.inverse();
    }
    const Eigen::Index n = loop_count_;
    if (n == 0) return;
    for (Eigen::Index k = 0; k < n; ++k) {
        apply_blocks(Eigen::Map<const RingMatrix>(loops_.col(k).data(), kRingUnknowns, residual_.cols()),
                     Eigen::Map<RingMatrix>(solved_loops_.col(k).data(), kRingUnknowns, residual_.cols()));
    }
    Eigen::Ref<Eigen::MatrixXd> woodbury(woodbury_.topLeftCorner(n, n));
    woodbury = flexibility_.topLeftCorner(n, n);
    // Symmetric: panels of the upper half, then mirrored.
    constexpr Eigen::Index kPanel = 8;
    for (Eigen::Index begin = 0; begin < n; begin += kPanel) {
        const Eigen::Index width = std::min(kPanel, n - begin);
        woodbury.block(0, begin, begin + width, width).noalias() +=
            loops_.leftCols(begin + width).transpose() * solved_loops_.middleCols(begin, width);
    }
    woodbury.triangularView<Eigen::StrictlyLower>() = woodbury.transpose();
    // B alone need not be positive: pressure tips a loose donor. Then neither is this.
    small_inverse_.topLeftCorner(n, n) = Eigen::PartialPivLU<SmallMatrix>(woodbury).inverse();
}

void RingTangent::apply_blocks(const Eigen::Ref<const RingMatrix>& r, Eigen::Ref<RingMatrix> z) const {
    const Eigen::Index columns = r.cols() / 2;
    for (Eigen::Index c = 0; c < columns; ++c) {
        const Block& block = blocks_[harmonic(c)];
        const Eigen::Vector4d on_donor = r.col(columns + c);
        const Eigen::Vector4d jump = block.jump_inverse * (r.col(c) - block.donor_share.transpose() * on_donor);
        z.col(c) = jump;
        z.col(columns + c).noalias() = block.glued_inverse * on_donor - block.donor_share * jump;
    }
}

void RingTangent::add_uneven(const RingMatrix& x, RingMatrix& y) {
    transform_.edges_to_points(x, points_in_);
    const int points = interface_->points();
    for (int j = 0; j < points; ++j) {
        const double u = points_in_(0, j), v = points_in_(1, j), w = points_in_(2, j), b = points_in_(3, j);
        points_out_(0, j) = contact_(0, j) * u + contact_(1, j) * b;
        points_out_(3, j) = contact_(1, j) * u + contact_(2, j) * b;
        points_out_(1, j) = contact_(3, j) * v + contact_(4, j) * w;
        points_out_(2, j) = contact_(4, j) * v + contact_(5, j) * w;
    }
    points_out_.rightCols(points).setZero();
    for (const std::size_t c : by_mean_) {
        const Crossing& crossing = threads_->crossings()[c];
        crossing.add_to_points(strand_stiffness_[c] * crossing.ends(points_in_), points_out_);
    }
    transform_.edges_to_harmonics(points_out_, on_harmonics_);
    y += on_harmonics_;
    for (Eigen::Index c = 0; c < x.cols() / 2; ++c) y.col(c).noalias() -= blocks_[harmonic(c)].even * x.col(c);
}

void RingTangent::precondition(const RingMatrix& r, RingMatrix& z) {
    apply_blocks(r, z);
    const Eigen::Index n = loop_count_;
    if (n == 0) return;
    drawn_.head(n).noalias() = solved_loops_.leftCols(n).transpose() * flat(r);
    pull_.head(n).noalias() = small_inverse_.topLeftCorner(n, n) * drawn_.head(n);
    flat(z).noalias() -= solved_loops_.leftCols(n) * pull_.head(n);
}

RingTangent::Solve RingTangent::solve(const RingMatrix& gradient, double relative, RingMatrix& step) {
    residual_ = -gradient;
    const double target = relative * gradient.norm();
    double last_energy = 0.0;
    for (RingMatrix* sum : {&step, &direction_, &image_}) sum->setZero();
    for (int iteration = 1;; ++iteration) {
        precondition(residual_, solved_);
        const double energy = residual_.cwiseProduct(solved_).sum(),
                     kept = last_energy != 0.0 ? energy / last_energy : 0.0;
        last_energy = energy;
        direction_ = solved_ + kept * direction_;
        // The tangent's image of z = P⁻¹ r is r, and what P leaves out.
        image_ = residual_ + kept * image_;
        add_uneven(solved_, image_);
        const double curvature = direction_.cwiseProduct(image_).sum();
        if (!(curvature > 0.0)) return {iteration, End::not_convex};
        const double length = energy / curvature;
        step += length * direction_;
        residual_ -= length * image_;
        if (residual_.norm() <= target) return {iteration, End::solved};
        if (iteration >= kMaxInner) return {iteration, End::at_limit};
    }
}

}  // namespace graftwright
