#include "closure/newton_solver.h"

#include <algorithm>
#include <cmath>

namespace graftwright {
namespace {

// By how much conjugate gradients lower the residual of a Newton step, and how much further than
// asked they go where that ends the solve.
constexpr double kInnerReduction = 1e-3, kInnerMargin = 0.3;

std::size_t harmonic(Eigen::Index column) { return static_cast<std::size_t>((column + 1) / 2); }

}  // namespace

NewtonSolver::NewtonSolver(const ClosureSystem& system, const WoundInterface& interface, const SolveOptions& options)
    : interface_(&interface),
      threads_(system, interface),
      options_(options),
      transform_(system.model().harmonics(), interface.points()),
      tangent_(system, interface, threads_),
      points_(kRingUnknowns, interface.points()),
      contact_force_(kRingUnknowns, system.model().columns()),
      step_square_(threads_.step_rows().colwise().squaredNorm().transpose()),
      slip_square_(threads_.slip_rows().colwise().squaredNorm().transpose()) {
    const auto bites = static_cast<Eigen::Index>(system.size());
    for (Eigen::VectorXd* vector : {&force_square_, &force_step_, &force_slip_, &by_bite_}) vector->resize(bites);
    row_.resize(system.model().columns());
}

void NewtonSolver::evaluate(const ReducedSystem& reduced, const std::vector<Knot>& knots, const FibreState& fibres,
                            const RingMatrix& jump, Evaluation& out) {
    transform_.to_points(jump, points_);
    interface_->respond(points_, fibres, true, out.contact);
    threads_.respond(reduced, knots, jump, out.threads);
    transform_.to_harmonics(out.contact.force, interface_->arc(), contact_force_);
    out.gradient.resize(kRingUnknowns, jump.cols());
    for (Eigen::Index column = 0; column < jump.cols(); ++column) {
        out.gradient.col(column).noalias() = reduced.stiffness[harmonic(column)] * jump.col(column);
    }
    out.energy = 0.5 * out.gradient.cwiseProduct(jump).sum() - reduced.pressure_force.cwiseProduct(jump).sum() +
                 out.contact.energy + out.threads.energy;
    out.gradient -= reduced.pressure_force + contact_force_;
    out.load_norm = reduced.pressure_force.norm() + contact_force_.norm();
    add_threads(reduced, out);
}

void NewtonSolver::add_threads(const ReducedSystem& reduced, Evaluation& out) {
    const ThreadResponse& threads = out.threads;
    Eigen::Map<Eigen::VectorXd>(out.gradient.data(), out.gradient.size()).noalias() -=
        reduced.loop_force * threads.tension;
    by_bite_ = threads.tension.cwiseProduct(threads.by_step);
    row_.noalias() = threads_.step_rows() * by_bite_;
    out.gradient.row(2) += row_.transpose();
    by_bite_ = threads.tension.cwiseProduct(threads.by_slip);
    row_.noalias() = threads_.slip_rows() * by_bite_;
    out.gradient.row(1) += row_.transpose();
    for (Eigen::Index b = 0; b < threads.tension.size(); ++b) {
        const double by_step = threads.by_step[b], by_slip = threads.by_slip[b];
        const double square = force_square_[b] - 2.0 * (by_step * force_step_[b] + by_slip * force_slip_[b]) +
                              by_step * by_step * step_square_[b] + by_slip * by_slip * slip_square_[b];
        out.load_norm += threads.tension[b] * std::sqrt(std::max(0.0, square));
    }
}

SolveSummary NewtonSolver::minimise(const ReducedSystem& reduced, const std::vector<Knot>& knots,
                                    const FibreState& fibres, RingMatrix& jump) {
    for (Eigen::Index b = 0; b < force_square_.size(); ++b) {
        Eigen::Map<const RingMatrix> force(reduced.loop_force.col(b).data(), kRingUnknowns, jump.cols());
        force_square_[b] = reduced.loop_force.col(b).squaredNorm();
        force_step_[b] = force.row(2).transpose().dot(threads_.step_rows().col(b));
        force_slip_[b] = force.row(1).transpose().dot(threads_.slip_rows().col(b));
    }
    return descend(
        options_, jump, work_,
        [&](const RingMatrix& at, Evaluation& out) { evaluate(reduced, knots, fibres, at, out); },
        [&](const Evaluation& at, RingMatrix& step, SolveSummary& summary) {
            tangent_.linearise(reduced, knots, at.threads, at.contact);
            const double to_the_end = kInnerMargin * options_.tolerance / summary.residual;
            summary.inner_iterations += tangent_.solve(at.gradient, std::max(kInnerReduction, to_the_end), step);
            return true;
        });
}

}  // namespace graftwright
