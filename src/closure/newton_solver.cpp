#include "closure/newton_solver.h"

#include <algorithm>
#include <cmath>

#include "closure/index.h"

namespace graftwright {
namespace {

// By how much conjugate gradients lower the residual of a Newton step, and how much further than
// asked they go where that ends the solve.
constexpr double kInnerReduction = 1e-3, kInnerMargin = 0.3;

}  // namespace

NewtonSolver::NewtonSolver(const ClosureSystem& system, const WoundInterface& interface, const SolveOptions& options)
    : interface_(&interface),
      threads_(system, interface),
      options_(options),
      transform_(system.model().harmonics(), interface.points()),
      tangent_(system, interface, threads_),
      points_(kRingUnknowns, 2 * interface.points()),
      forces_(kRingUnknowns, 2 * interface.points()),
      contact_force_(kRingUnknowns, system.model().columns()),
      crossing_force_(kRingUnknowns, 2 * system.model().columns()) {
    force_norm_.resize(Index(system.size()));
    // Of all ends alike: a Gaussian's.
    if (!threads_.crossings().empty()) end_norm_ = threads_.crossings().front().host.even.norm();
}

void NewtonSolver::evaluate(const ReducedSystem& reduced, const std::vector<Knot>& knots, const FibreState& fibres,
                            const RingMatrix& edges, Evaluation& out) {
    const Index columns = edges.cols() / 2;
    transform_.edges_to_points(edges, points_);
    interface_->respond(points_.leftCols(interface_->points()), fibres, true, out.contact);
    threads_.respond(reduced, knots, edges, points_, out.threads);
    transform_.to_harmonics(out.contact.force, interface_->arc(), contact_force_);
    out.gradient.resize(kRingUnknowns, edges.cols());
    reduced.stretch(edges, out.gradient);
    out.energy = 0.5 * out.gradient.cwiseProduct(edges).sum() - reduced.pressure_force.cwiseProduct(edges).sum() +
                 out.contact.energy + out.threads.energy;
    out.gradient -= reduced.pressure_force;
    out.gradient.leftCols(columns) -= contact_force_;
    out.load_norm = reduced.pressure_force.norm() + contact_force_.norm();
    add_threads(reduced, out);
}

void NewtonSolver::add_threads(const ReducedSystem& reduced, Evaluation& out) {
    const ThreadResponse& threads = out.threads;
    Eigen::Map<Eigen::VectorXd>(out.gradient.data(), out.gradient.size()).noalias() -=
        reduced.loop_force * threads.tension;
    forces_.setZero();
    for (std::size_t c = 0; c < threads.by_end.size(); ++c) {
        const double pull = threads.pull[Index(c)];
        if (pull == 0.0) continue;
        threads_.crossings()[c].add_to_points(pull * threads.by_end[c], forces_);
        out.load_norm += pull * threads.by_end[c].norm() * end_norm_;
    }
    transform_.edges_to_harmonics(forces_, crossing_force_);
    out.gradient += crossing_force_;
    out.load_norm += threads.tension.dot(force_norm_);
}

SolveSummary NewtonSolver::minimise(const ReducedSystem& reduced, const std::vector<Knot>& knots,
                                    const FibreState& fibres, RingMatrix& edges) {
    for (Index b = 0; b < force_norm_.size(); ++b) force_norm_[b] = reduced.loop_force.col(b).norm();
    return descend(
        options_, edges, work_,
        [&](const RingMatrix& at, Evaluation& out) { evaluate(reduced, knots, fibres, at, out); },
        [&](const Evaluation& at, RingMatrix& step, SolveSummary& summary) {
            tangent_.linearise(reduced, knots, at.threads, at.contact);
            const double to_the_end = kInnerMargin * options_.tolerance / summary.residual;
            const RingTangent::Solve inner = tangent_.solve(at.gradient, std::max(kInnerReduction, to_the_end), step);
            summary.inner_iterations += inner.iterations;
            summary.inner_limited += inner.end == RingTangent::End::at_limit;
            summary.inner_curved += inner.end == RingTangent::End::not_convex;
            return true;
        });
}

}  // namespace graftwright
