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
      step_norm_(threads_.step_rows().colwise().norm().transpose()),
      slip_norm_(threads_.slip_rows().colwise().norm().transpose()) {
    force_norm_.resize(static_cast<Eigen::Index>(system.size()));
    by_crossing_.resize(step_norm_.size());
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
    by_crossing_ = threads.pull.cwiseProduct(threads.by_step);
    row_.noalias() = threads_.step_rows() * by_crossing_;
    out.gradient.row(2) += row_.transpose();
    out.load_norm += by_crossing_.cwiseAbs().dot(step_norm_);
    by_crossing_ = threads.pull.cwiseProduct(threads.by_slip);
    row_.noalias() = threads_.slip_rows() * by_crossing_;
    out.gradient.row(1) += row_.transpose();
    out.load_norm += by_crossing_.cwiseAbs().dot(slip_norm_) + threads.tension.dot(force_norm_);
}

SolveSummary NewtonSolver::minimise(const ReducedSystem& reduced, const std::vector<Knot>& knots,
                                    const FibreState& fibres, RingMatrix& jump) {
    for (Eigen::Index b = 0; b < force_norm_.size(); ++b) force_norm_[b] = reduced.loop_force.col(b).norm();
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
