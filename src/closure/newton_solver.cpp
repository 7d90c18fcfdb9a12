#include "closure/newton_solver.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <Eigen/Cholesky>
#include <Eigen/LU>

#include "closure/descent.h"

namespace graftwright {
namespace {

// By how much conjugate gradients lower the residual of a Newton step, and how much further than
// asked they go where that ends the solve.
constexpr double kInnerReduction = 1e-2, kInnerMargin = 0.3;
constexpr int kMaxInner = 400;
// While no more bites than this are tied, their crossing strands alone keep the donor from floating off:
// the preconditioner then takes them one by one.
constexpr Eigen::Index kFewBites = 6;

std::size_t harmonic(Eigen::Index column) { return static_cast<std::size_t>((column + 1) / 2); }

}  // namespace

NewtonSolver::NewtonSolver(const ClosureSystem& system, const WoundInterface& interface, const SolveOptions& options)
    : interface_(&interface),
      threads_(system, interface),
      options_(options),
      transform_(system.model().harmonics(), interface.points()) {
    const Eigen::Index columns = system.model().columns(), unknowns = kRingUnknowns * columns;
    const auto bites = static_cast<Eigen::Index>(system.size());
    const Eigen::Index low_rank = bites + 3 * std::min(bites, kFewBites);
    loops_.resize(unknowns, low_rank);
    solved_loops_.resize(unknowns, low_rank);
    small_inverse_.resize(low_rank, low_rank);
    drawn_.resize(low_rank);
    pull_.resize(low_rank);
    strands_.resize(columns, 2 * bites);
    for (Eigen::Index b = 0; b < bites; ++b) {
        strands_.col(2 * b) = threads_.crossing(static_cast<std::size_t>(b)).step_row;
        strands_.col(2 * b + 1) = threads_.crossing(static_cast<std::size_t>(b)).slip_row;
    }
    strand_stiffness_.setZero(3, bites);
    block_inverse_.resize(static_cast<std::size_t>(system.model().harmonics()) + 1);
    contact_.resize(6, interface.points());
    points_in_.resize(kRingUnknowns, interface.points());
    points_out_.resize(kRingUnknowns, interface.points());
    for (RingMatrix* buffer : {&residual_, &solved_, &direction_, &image_, &buffer_}) {
        buffer->resize(kRingUnknowns, columns);
    }
}

void NewtonSolver::evaluate(const ReducedSystem& reduced, const std::vector<Knot>& knots, const FibreState& fibres,
                            const RingMatrix& jump, Evaluation& out) {
    transform_.to_points(jump, points_in_);
    interface_->respond(points_in_, fibres, true, out.contact);
    out.threads = threads_.respond(reduced, knots, jump);
    transform_.to_harmonics(out.contact.force, interface_->arc(), buffer_);
    out.gradient.resize(kRingUnknowns, jump.cols());
    for (Eigen::Index column = 0; column < jump.cols(); ++column) {
        out.gradient.col(column).noalias() = reduced.stiffness[harmonic(column)] * jump.col(column);
    }
    out.energy = 0.5 * out.gradient.cwiseProduct(jump).sum() - reduced.pressure_force.cwiseProduct(jump).sum() +
                 out.contact.energy + out.threads.energy;
    out.gradient -= reduced.pressure_force + buffer_;
    out.load_norm = reduced.pressure_force.norm() + buffer_.norm();
    for (std::size_t b = 0; b < threads_.size(); ++b) {
        const double tension = out.threads.tension[static_cast<Eigen::Index>(b)];
        if (tension == 0.0) continue;
        buffer_ = tension * threads_.elongation_gradient(reduced, out.threads, b);
        out.gradient += buffer_;
        out.load_norm += buffer_.norm();
    }
}

void NewtonSolver::linearise(const ReducedSystem& reduced, const std::vector<Knot>& knots, const Evaluation& at) {
    contact_ = interface_->arc() * at.contact.tangent;
    std::vector<Eigen::Index> pulling;
    Eigen::Index tied = 0;
    for (std::size_t b = 0; b < knots.size(); ++b) {
        const auto i = static_cast<Eigen::Index>(b);
        if (at.threads.tension[i] <= 0.0) continue;
        ++tied;
        if (knots[b].hold == Hold::locked) pulling.push_back(i);
    }
    loop_count_ = static_cast<Eigen::Index>(pulling.size());
    if (loop_count_ > 0) {
        Eigen::MatrixXd flexibility = reduced.loop_compliance(pulling, pulling);
        for (Eigen::Index k = 0; k < loop_count_; ++k) {
            const auto b = static_cast<std::size_t>(pulling[static_cast<std::size_t>(k)]);
            flexibility(k, k) += 1.0 / knots[b].stiffness;
            loops_.col(k) = threads_.elongation_gradient(reduced, at.threads, b).reshaped();
        }
        // Columns scaled by L⁻¹ of the flexibility: the sum of their squares is the loops' tangent.
        const Eigen::LLT<Eigen::MatrixXd> factor(flexibility);
        factor.matrixU().solveInPlace<Eigen::OnTheRight>(loops_.leftCols(loop_count_));
    }
    // Crossing strands: T (1/c)(I − x xᵀ/c²) in (step, slip), the surface strand in slip alone.
    const double l = kCrossingLength;
    mean_step_ = mean_slip_ = 0.0;
    strand_stiffness_.setZero();
    for (std::size_t b = 0; b < knots.size(); ++b) {
        const auto i = static_cast<Eigen::Index>(b);
        const double tension = at.threads.tension[i];
        if (tension <= 0.0) continue;
        const double step = at.threads.step[b], slip = at.threads.slip[b];
        const double deep = std::sqrt(l * l + step * step + slip * slip), surface = std::hypot(l, slip);
        const double cube = deep * deep * deep;
        strand_stiffness_(0, i) = tension * (l * l + slip * slip) / cube;
        strand_stiffness_(1, i) = -tension * step * slip / cube;
        strand_stiffness_(2, i) = tension * ((l * l + step * step) / cube + l * l / (surface * surface * surface));
        mean_step_ += strand_stiffness_(0, i);
        mean_slip_ += strand_stiffness_(2, i);
    }
    const bool one_by_one = tied <= kFewBites;
    if (one_by_one) {
        mean_step_ = mean_slip_ = 0.0;
        for (Eigen::Index b = 0; b < static_cast<Eigen::Index>(knots.size()); ++b) {
            if (at.threads.tension[b] <= 0.0) continue;
            // Cholesky of the 2 × 2 stiffness: two columns.
            const double a = std::sqrt(strand_stiffness_(0, b)), c = strand_stiffness_(1, b) / a;
            const double d = std::sqrt(std::max(0.0, strand_stiffness_(2, b) - c * c));
            for (const auto& [on_step, on_slip] :
                 {std::pair<double, double>{a, c}, std::pair<double, double>{0.0, d}}) {
                buffer_.setZero();
                buffer_.row(2) = on_step * strands_.col(2 * b).transpose();
                buffer_.row(1) = on_slip * strands_.col(2 * b + 1).transpose();
                loops_.col(loop_count_++) = buffer_.reshaped();
            }
        }
        strand_stiffness_.setZero();
    }
}

void NewtonSolver::factor_preconditioner(const ReducedSystem& reduced) {
    const Eigen::Matrix<double, 6, 1> mean = contact_.rowwise().sum();
    Eigen::Matrix4d round = Eigen::Matrix4d::Zero();
    round(0, 0) = mean[0];
    round(0, 3) = round(3, 0) = mean[1];
    round(3, 3) = mean[2];
    round(1, 1) = mean[3] + mean_slip_;
    round(2, 2) = mean[5] + mean_step_;
    for (std::size_t m = 0; m < block_inverse_.size(); ++m) {
        block_inverse_[m] = (reduced.stiffness[m] + (m == 0 ? 1.0 : 0.5) * round).inverse();
    }
    if (loop_count_ == 0) return;
    const Eigen::Index columns = buffer_.cols();
    for (Eigen::Index k = 0; k < loop_count_; ++k) {
        Eigen::Map<const RingMatrix> loop(loops_.col(k).data(), kRingUnknowns, columns);
        Eigen::Map<RingMatrix> solved(solved_loops_.col(k).data(), kRingUnknowns, columns);
        for (Eigen::Index column = 0; column < columns; ++column) {
            solved.col(column).noalias() = block_inverse_[harmonic(column)] * loop.col(column);
        }
    }
    Eigen::MatrixXd small = loops_.leftCols(loop_count_).transpose() * solved_loops_.leftCols(loop_count_);
    small.diagonal().array() += 1.0;
    small_inverse_.topLeftCorner(loop_count_, loop_count_) =
        small.llt().solve(Eigen::MatrixXd::Identity(loop_count_, loop_count_));
}

void NewtonSolver::product(const ReducedSystem& reduced, const RingMatrix& x, RingMatrix& y) {
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
        y.col(column).noalias() += reduced.stiffness[harmonic(column)] * x.col(column);
    }
    if (loop_count_ > 0) {
        const Eigen::Map<const Eigen::VectorXd> flat(x.data(), x.size());
        drawn_.head(loop_count_).noalias() = loops_.leftCols(loop_count_).transpose() * flat;
        Eigen::Map<Eigen::VectorXd>(y.data(), y.size()).noalias() +=
            loops_.leftCols(loop_count_) * drawn_.head(loop_count_);
    }
    for (Eigen::Index b = 0; b < strand_stiffness_.cols(); ++b) {
        if (strand_stiffness_(0, b) == 0.0) continue;
        const double step = x.row(2).dot(strands_.col(2 * b)), slip = x.row(1).dot(strands_.col(2 * b + 1));
        y.row(2) += (strand_stiffness_(0, b) * step + strand_stiffness_(1, b) * slip) * strands_.col(2 * b).transpose();
        y.row(1) +=
            (strand_stiffness_(1, b) * step + strand_stiffness_(2, b) * slip) * strands_.col(2 * b + 1).transpose();
    }
}

void NewtonSolver::apply_blocks(const RingMatrix& r, RingMatrix& z) const {
    for (Eigen::Index column = 0; column < r.cols(); ++column) {
        z.col(column).noalias() = block_inverse_[harmonic(column)] * r.col(column);
    }
}

void NewtonSolver::precondition(const RingMatrix& r, RingMatrix& z) {
    apply_blocks(r, z);
    if (loop_count_ == 0) return;
    const Eigen::Map<const Eigen::VectorXd> flat(r.data(), r.size());
    drawn_.head(loop_count_).noalias() = solved_loops_.leftCols(loop_count_).transpose() * flat;
    pull_.head(loop_count_).noalias() =
        small_inverse_.topLeftCorner(loop_count_, loop_count_) * drawn_.head(loop_count_);
    Eigen::Map<Eigen::VectorXd>(z.data(), z.size()).noalias() -=
        solved_loops_.leftCols(loop_count_) * pull_.head(loop_count_);
}

int NewtonSolver::conjugate_gradients(const ReducedSystem& reduced, const RingMatrix& gradient, double relative,
                                      RingMatrix& step) {
    residual_ = -gradient;
    step.setZero();
    const double target = relative * gradient.norm();
    precondition(residual_, solved_);
    direction_ = solved_;
    double energy = residual_.cwiseProduct(solved_).sum();
    for (int iteration = 1;; ++iteration) {
        product(reduced, direction_, image_);
        const double curvature = direction_.cwiseProduct(image_).sum();
        if (!(curvature > 0.0)) return iteration;  // rounding: the step so far is still downhill
        const double length = energy / curvature;
        step += length * direction_;
        residual_ -= length * image_;
        if (residual_.norm() <= target || iteration >= kMaxInner) return iteration;
        precondition(residual_, solved_);
        const double next = residual_.cwiseProduct(solved_).sum();
        direction_ = solved_ + (next / energy) * direction_;
        energy = next;
    }
}

SolveSummary NewtonSolver::minimise(const ReducedSystem& reduced, const std::vector<Knot>& knots,
                                    const FibreState& fibres, RingMatrix& jump) {
    return descend<Evaluation>(
        options_, jump, [&](const RingMatrix& at, Evaluation& out) { evaluate(reduced, knots, fibres, at, out); },
        [&](const Evaluation& at, RingMatrix& step, SolveSummary& summary) {
            linearise(reduced, knots, at);
            factor_preconditioner(reduced);
            const double to_the_end = kInnerMargin * options_.tolerance / summary.residual;
            summary.inner_iterations +=
                conjugate_gradients(reduced, at.gradient, std::max(kInnerReduction, to_the_end), step);
            return true;
        });
}

}  // namespace graftwright
