#include "closure/knots.h"

#include <algorithm>
#include <cmath>

#include "closure/index.h"

namespace graftwright {

Threads::Threads(const ClosureSystem& system, const WoundInterface& interface)
    : size_(system.size()), runs_(system.runs()), interface_(&interface) {
    for (std::size_t b = 0; b < system.single_count(); ++b) {
        crossings_.push_back(bite_crossing(system.threads()[b]->geometry, system.model(), interface));
        crossings_.back().first = Index(b);
    }
    for (const RunOfSpans& run : runs_) add_run(system, interface, run);
}

void Threads::add_run(const ClosureSystem& system, const WoundInterface& interface, const RunOfSpans& run) {
    for (std::size_t k = 0; k < run.count; ++k) {
        Crossing deep = bite_crossing(system.threads()[run.span(k)]->geometry, system.model(), interface, true);
        deep.first = Index(run.span(k));
        if (run.count > 1) deep.second = Index(run.before(k));
        crossings_.push_back(std::move(deep));
    }
    for (std::size_t k = 0; k < run.count; ++k) {
        crossings_.push_back(span_crossing(*system.threads()[run.span(k)]->span, system.model(), interface));
        crossings_.back().first = Index(run.span(k));
    }
}

// A response that has been used before keeps its memory: nothing is allocated then.
void Threads::begin(ThreadResponse& out) const {
    const auto count = Index(size_);
    ThreadResponse::Work& work = out.work;
    out.tension.setZero(count);
    out.elongation.setZero(count);
    out.ends.resize(crossings_.size());
    out.by_end.resize(crossings_.size());
    out.pull.resize(Index(crossings_.size()));
    out.unknowns = 0;
    out.unknown.assign(size_, -1);
    out.slid.assign(size_, 0.0);
    for (Eigen::VectorXd* vector : {&work.right, &work.trial, &work.locked_tension}) vector->resize(count);
    work.locked.reserve(size_);
    work.active.reserve(size_);
    work.pulls.reserve(size_);
    work.flexibility.resize(count, count);
    work.factor.resize(count, count);
}

void Threads::find_unloaded(const ReducedSystem& system, const RingMatrix& edges, const RingMatrix& points,
                            ThreadResponse& out) const {
    Eigen::VectorXd& unloaded = out.work.unloaded;
    unloaded.noalias() = system.loop_force.transpose() * Eigen::Map<const Eigen::VectorXd>(edges.data(), edges.size());
    // For the moment `elongation` is the crossing strands'.
    for (std::size_t c = 0; c < crossings_.size(); ++c) {
        const Crossing& crossing = crossings_[c];
        out.ends[c] = crossing.ends(points);
        const double longer = crossing.share() * crossing.elongation(out.ends[c], out.by_end[c]);
        out.elongation[crossing.first] += longer;
        if (crossing.second >= 0) out.elongation[crossing.second] += longer;
    }
    unloaded = out.elongation - system.pressure_shortening - unloaded;
}

double Threads::pull_locked(const ReducedSystem& system, const std::vector<Knot>& knots, ThreadResponse& out) const {
    ThreadResponse::Work& work = out.work;
    const auto locked = Index(work.locked.size());
    for (Index k = 0; k < locked; ++k) {
        const Index b = at(work.locked, k);
        const Knot& knot = at(knots, b);
        for (Index m = 0; m < locked; ++m) work.flexibility(k, m) = system.loop_compliance(b, at(work.locked, m));
        work.flexibility(k, k) += 1.0 / knot.stiffness;
        work.right[k] = out.elongation[b] + knot.tie_tension / knot.stiffness - knot.tie_elongation;
    }
    if (runs_.empty()) {
        find_locked_tensions(out);
    } else {
        find_spans_tensions(knots, out);
    }
    double energy = 0.0;
    for (Index k = 0; k < locked; ++k) {
        const Index b = at(work.locked, k);
        const Knot& knot = at(knots, b);
        const double tension = out.tension[b] = work.locked_tension[k], excess = tension - knot.tie_tension;
        energy += 0.5 * excess * excess / knot.stiffness + tension * knot.tie_elongation;
    }
    return energy;
}

void Threads::respond(const ReducedSystem& system, const std::vector<Knot>& knots, const RingMatrix& edges,
                      const RingMatrix& points, ThreadResponse& out) const {
    begin(out);
    find_unloaded(system, edges, points, out);
    ThreadResponse::Work& work = out.work;
    work.locked.clear();
    for (std::size_t b = 0; b < size_; ++b) {
        const auto thread = Index(b);
        if (knots[b].hold == Hold::drawn) out.tension[thread] = knots[b].tie_tension;
        if (knots[b].hold == Hold::locked) work.locked.push_back(thread);
    }
    const auto elongate = [&] {
        out.elongation = work.unloaded;
        out.elongation.noalias() -= system.loop_compliance * out.tension;
    };
    elongate();  // by the drawn threads alone
    const double spring_energy = work.locked.empty() ? 0.0 : pull_locked(system, knots, out);
    elongate();
    // Tᵀ u − ½ Tᵀ D T with D T = u − e.
    out.energy = 0.5 * out.tension.dot(work.unloaded + out.elongation) - spring_energy;
    for (Index c = 0; c < out.pull.size(); ++c) {
        const Crossing& crossing = at(crossings_, c);
        out.pull[c] = crossing.share() * out.tension[crossing.first];
        if (crossing.second >= 0) out.pull[c] += crossing.share() * out.tension[crossing.second];
    }
}

RingMatrix Threads::elongation_gradient(const ReducedSystem& system, const ThreadResponse& response,
                                        std::size_t thread) const {
    Eigen::MatrixXd gradient = -system.loop_force.col(Index(thread));
    std::vector<Index> alone(size_, -1);
    alone[thread] = 0;
    add_crossings(response, alone, gradient);
    return gradient.reshaped(kRingUnknowns, gradient.rows() / kRingUnknowns);
}

void Threads::add_crossings(const ThreadResponse& response, const std::vector<Index>& unknown,
                            Eigen::MatrixXd& gradients) const {
    for (std::size_t c = 0; c < crossings_.size(); ++c) {
        const Crossing& crossing = crossings_[c];
        for (const Index thread : {crossing.first, crossing.second}) {
            const Index k = thread < 0 ? -1 : at(unknown, thread);
            if (k < 0) continue;
            Eigen::Map<RingMatrix> gradient(gradients.col(k).data(), kRingUnknowns, gradients.rows() / kRingUnknowns);
            crossing.add_to_edges(crossing.share() * response.by_end[c], gradient);
        }
    }
}

double belt_grip(double friction_angle, double before, double behind) {
    return std::tanh(0.5 * friction_angle) * (before + behind);
}

std::vector<double> drawn_tensions(double knot, double worked, double friction, const std::vector<double>& turning) {
    const std::size_t n = turning.size();
    std::vector<double> tension(n, knot);
    // Span k from the knot's own, span n − 1: onward through bites 0 … k, backward through bites n − 1 … k + 1.
    std::vector<double> onward(n), backward(n);
    for (std::size_t k = 0; k + 1 < n; ++k) onward[k] = (k > 0 ? onward[k - 1] : 0.0) + turning[k];
    for (std::size_t k = n - 1; k-- > 0;) backward[k] = (k + 2 < n ? backward[k + 1] : 0.0) + turning[k + 1];
    for (std::size_t k = 0; k + 1 < n; ++k) {
        const bool by_the_first = onward[k] <= backward[k];
        const double way = std::min(onward[k], backward[k]), next = by_the_first ? turning[k] : turning[k + 1];
        const double pulled = knot * std::exp(-friction * way), by_hand = worked * std::exp(-friction * next);
        // No tighter than the knot's own span lets it be.
        tension[k] = std::min(std::max(pulled, by_hand), knot * std::exp(friction * way));
    }
    return tension;
}

}  // namespace graftwright
