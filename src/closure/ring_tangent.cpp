#include "closure/ring_tangent.h"

#include <algorithm>
#include <cmath>

#include <Eigen/LU>

#include "base/check.h"
#include "files/rules.h"

namespace graftwright {
namespace {

constexpr int kMaxInner = 400;
// While no more crossings than this are tied, their strands alone keep the donor from floating off:
// the preconditioner then takes them one by one.
constexpr Eigen::Index kFewBites = 6;

// Most loops, and strands one by one, of a closure: no allocation.
constexpr int kMostLoops = static_cast<int>(kMostBites + 2 * kFewBites);
using SmallMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::ColMajor, kMostLoops, kMostLoops>;

std::size_t harmonic(Eigen::Index column) { return static_cast<std::size_t>((column + 1) / 2); }

Eigen::Map<const Eigen::VectorXd> flat(const RingMatrix& x) { return {x.data(), x.size()}; }
Eigen::Map<Eigen::VectorXd> flat(RingMatrix& x) { return {x.data(), x.size()}; }

}  // namespace

RingTangent::RingTangent(const ClosureSystem& system, const WoundInterface& interface, const Threads& threads)
    : interface_(&interface), threads_(&threads), transform_(system.model().harmonics(), interface.points()) {
    const Eigen::Index columns = system.model().columns(), unknowns = kRingUnknowns * columns;
    GRAFTWRIGHT_CHECK(system.size() <= kMostBites, "no more bites than a file may hold");
    const auto crossings = static_cast<Eigen::Index>(threads.crossings().size());
    const Eigen::Index low_rank = static_cast<Eigen::Index>(system.size()) + 2 * std::min(crossings, kFewBites);
    loops_.resize(unknowns, low_rank);
    solved_loops_.resize(unknowns, low_rank);
    for (Eigen::MatrixXd* small : {&flexibility_, &woodbury_, &small_inverse_}) small->resize(low_rank, low_rank);
    for (Eigen::VectorXd* small : {&drawn_, &pull_, &next_pull_}) small->resize(low_rank);
    strand_stiffness_.setZero(crossings, 3);
    for (Eigen::VectorXd* row : {&v_, &w_}) row->resize(columns);
    for (Eigen::VectorXd* by_crossing : {&slip_, &step_, &on_slip_, &on_step_}) by_crossing->resize(crossings);
    block_inverse_.resize(static_cast<std::size_t>(system.model().harmonics()) + 1);
    contact_.resize(6, interface.points());
    points_in_.resize(kRingUnknowns, interface.points());
    points_out_.resize(kRingUnknowns, interface.points());
    for (RingMatrix* buffer : {&residual_, &solved_, &direction_, &image_}) buffer->resize(kRingUnknowns, columns);
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
    for (std::size_t i = 0; i < threads_->crossings().size(); ++i) {
        const Crossing& crossing = threads_->crossings()[i];
        const auto c = static_cast<Eigen::Index>(i);
        for (const Eigen::Index thread : {crossing.first, crossing.second}) {
            const Eigen::Index k = thread < 0 ? -1 : threads.unknown[static_cast<std::size_t>(thread)];
            if (k < 0) continue;
            Eigen::Map<RingMatrix> loop(loops_.col(k).data(), kRingUnknowns, v_.size());
            loop.row(2) += crossing.share() * threads.by_step[c] * threads_->step_rows().col(c).transpose();
            loop.row(1) += crossing.share() * threads.by_slip[c] * threads_->slip_rows().col(c).transpose();
        }
    }
}

void RingTangent::add_strands(const ThreadResponse& threads) {
    // T (1/c)(I − x xᵀ/c²) in (step, slip) for a deep strand, a surface strand in slip alone.
    const double l = kCrossingLength;
    Eigen::Index tied = 0;
    strand_stiffness_.setZero();
    for (std::size_t c = 0; c < threads_->crossings().size(); ++c) {
        const auto i = static_cast<Eigen::Index>(c);
        const double tension = threads.pull[i];
        if (tension <= 0.0) continue;
        ++tied;
        const Crossing& crossing = threads_->crossings()[c];
        const double step = threads.step[c], slip = threads.slip[c];
        const double deep = std::sqrt(l * l + step * step + slip * slip), surface = std::hypot(l, slip);
        const double cube = deep * deep * deep;
        if (crossing.deep) {
            strand_stiffness_(i, 0) = tension * (l * l + slip * slip) / cube;
            strand_stiffness_(i, 1) = -tension * step * slip / cube;
            strand_stiffness_(i, 2) = tension * (l * l + step * step) / cube;
        }
        if (crossing.surface) strand_stiffness_(i, 2) += tension * l * l / (surface * surface * surface);
    }
    strands_apart_ = tied > kFewBites;
    mean_step_ = mean_slip_ = 0.0;
    if (strands_apart_) {
        mean_step_ = strand_stiffness_.col(0).sum();
        mean_slip_ = strand_stiffness_.col(2).sum();
        return;
    }
    for (Eigen::Index b = 0; b < strand_stiffness_.rows(); ++b) {
        if (threads.pull[b] <= 0.0) continue;
        // Cholesky of the 2 × 2 stiffness: two columns, each with a flexibility of its own.
        const double a = std::sqrt(strand_stiffness_(b, 0)), c = a > 0.0 ? strand_stiffness_(b, 1) / a : 0.0;
        const double d = std::sqrt(std::max(0.0, strand_stiffness_(b, 2) - c * c));
        const auto add = [&](double on_step, double on_slip) {
            const Eigen::Index k = loop_count_++;
            loops_.col(k).setZero();
            Eigen::Map<RingMatrix> loop(loops_.col(k).data(), kRingUnknowns, v_.size());
            loop.row(2) = on_step * threads_->step_rows().col(b).transpose();
            loop.row(1) = on_slip * threads_->slip_rows().col(b).transpose();
            flexibility_.row(k).head(k).setZero();
            flexibility_.col(k).head(k).setZero();
            flexibility_(k, k) = 1.0;
        };
        add(a, c);
        add(0.0, d);
    }
}

void RingTangent::factor_preconditioner() {
    const Eigen::Matrix<double, 6, 1> mean = contact_.rowwise().sum();
    Eigen::Matrix4d round = Eigen::Matrix4d::Zero();
    round(0, 0) = mean[0];
    round(0, 3) = round(3, 0) = mean[1];
    round(3, 3) = mean[2];
    round(1, 1) = mean[3] + mean_slip_;
    round(2, 2) = mean[5] + mean_step_;
    for (std::size_t m = 0; m < block_inverse_.size(); ++m) {
        block_inverse_[m] = (reduced_->stiffness[m] + (m == 0 ? 1.0 : 0.5) * round).inverse();
    }
    const Eigen::Index n = loop_count_;
    if (n == 0) return;
    for (Eigen::Index k = 0; k < n; ++k) {
        Eigen::Map<const RingMatrix> loop(loops_.col(k).data(), kRingUnknowns, v_.size());
        Eigen::Map<RingMatrix> solved(solved_loops_.col(k).data(), kRingUnknowns, v_.size());
        for (Eigen::Index column = 0; column < v_.size(); ++column) {
            solved.col(column).noalias() = block_inverse_[harmonic(column)] * loop.col(column);
        }
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

void RingTangent::product(const RingMatrix& x, RingMatrix& y) {
    transform_.to_points(x, points_in_);
    for (int j = 0; j < interface_->points(); ++j) {
        const double u = points_in_(0, j), v = points_in_(1, j), w = points_in_(2, j), b = points_in_(3, j);
        points_out_(0, j) = contact_(0, j) * u + contact_(1, j) * b;
        points_out_(3, j) = contact_(1, j) * u + contact_(2, j) * b;
        points_out_(1, j) = contact_(3, j) * v + contact_(4, j) * w;
        points_out_(2, j) = contact_(4, j) * v + contact_(5, j) * w;
    }
    transform_.to_harmonics(points_out_, 1.0, y);
    for (Eigen::Index column = 0; column < x.cols(); ++column) {
        y.col(column).noalias() += reduced_->stiffness[harmonic(column)] * x.col(column);
    }
    if (loop_count_ > 0) flat(y).noalias() += loops_.leftCols(loop_count_) * pull_.head(loop_count_);
    if (!strands_apart_) return;
    v_ = x.row(1).transpose();
    w_ = x.row(2).transpose();
    step_.noalias() = threads_->step_rows().transpose() * w_;
    slip_.noalias() = threads_->slip_rows().transpose() * v_;
    const auto& k = strand_stiffness_;
    on_step_ = (k.col(0) * step_.array() + k.col(1) * slip_.array()).matrix();
    on_slip_ = (k.col(1) * step_.array() + k.col(2) * slip_.array()).matrix();
    w_.noalias() = threads_->step_rows() * on_step_;
    v_.noalias() = threads_->slip_rows() * on_slip_;
    y.row(2) += w_.transpose();
    y.row(1) += v_.transpose();
}

void RingTangent::precondition(const RingMatrix& r, RingMatrix& z) {
    for (Eigen::Index column = 0; column < r.cols(); ++column) {
        z.col(column).noalias() = block_inverse_[harmonic(column)] * r.col(column);
    }
    const Eigen::Index n = loop_count_;
    if (n == 0) return;
    drawn_.head(n).noalias() = solved_loops_.leftCols(n).transpose() * flat(r);
    next_pull_.head(n).noalias() = small_inverse_.topLeftCorner(n, n) * drawn_.head(n);
    flat(z).noalias() -= solved_loops_.leftCols(n) * next_pull_.head(n);
}

int RingTangent::solve(const RingMatrix& gradient, double relative, RingMatrix& step) {
    const Eigen::Index n = loop_count_;
    residual_ = -gradient;
    step.setZero();
    const double target = relative * gradient.norm();
    precondition(residual_, solved_);
    direction_ = solved_;
    pull_.head(n) = next_pull_.head(n);
    double energy = residual_.cwiseProduct(solved_).sum();
    for (int iteration = 1;; ++iteration) {
        product(direction_, image_);
        const double curvature = direction_.cwiseProduct(image_).sum();
        if (!(curvature > 0.0)) return iteration;  // rounding: the step so far is still downhill
        const double length = energy / curvature;
        step += length * direction_;
        residual_ -= length * image_;
        if (residual_.norm() <= target || iteration >= kMaxInner) return iteration;
        precondition(residual_, solved_);
        const double next = residual_.cwiseProduct(solved_).sum();
        direction_ = solved_ + (next / energy) * direction_;
        pull_.head(n) = next_pull_.head(n) + (next / energy) * pull_.head(n);
        energy = next;
    }
}

}  // namespace graftwright
