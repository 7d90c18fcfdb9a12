#include "closure/knots.h"

#include <algorithm>
#include <cmath>

namespace graftwright {

double crossing_elongation(double step, double slip) {
    const double l = kCrossingLength;
    return std::sqrt(l * l + step * step + slip * slip) - l + std::sqrt(l * l + slip * slip) - l;
}

Crossing make_crossing(const BiteGeometry& bite, const WoundModel& model, const WoundInterface& interface) {
    const double between = 0.5 * (bite.donor_theta + bite.host_theta);
    Crossing crossing;
    crossing.step_row = interface.even_row(between, kThreadSpread);
    crossing.slip_row = interface.odd_row(between, kThreadSpread);
    crossing.step0 =
        bite.donor_depth - bite.host_depth - 0.5 * (model.shape().donor_thickness - model.shape().rim_thickness);
    crossing.slip0 = model.shape().wound_radius * (bite.host_theta - bite.donor_theta);
    return crossing;
}

Threads::Threads(const ClosureSystem& system, const WoundInterface& interface)
    : size_(system.size()), runs_(system.runs()) {
    for (std::size_t b = 0; b < system.single_count(); ++b) {
        crossings_.push_back(make_crossing(system.threads()[b]->geometry, system.model(), interface));
        crossings_.back().first = static_cast<Eigen::Index>(b);
    }
    for (const RunOfSpans& run : runs_) add_run(system, interface, run);
    const auto count = static_cast<Eigen::Index>(crossings_.size());
    step_rows_.resize(system.model().columns(), count);
    slip_rows_.resize(system.model().columns(), count);
    for (Eigen::Index c = 0; c < count; ++c) {
        step_rows_.col(c) = crossings_[static_cast<std::size_t>(c)].step_row;
        slip_rows_.col(c) = crossings_[static_cast<std::size_t>(c)].slip_row;
    }
}

void Threads::add_run(const ClosureSystem& system, const WoundInterface& interface, const RunOfSpans& run) {
    for (std::size_t k = 0; k < run.count; ++k) {
        Crossing deep = make_crossing(system.threads()[run.span(k)]->geometry, system.model(), interface);
        deep.surface = false;
        deep.first = static_cast<Eigen::Index>(run.span(k));
        if (run.count > 1) deep.second = static_cast<Eigen::Index>(run.before(k));
        crossings_.push_back(std::move(deep));
    }
    for (std::size_t k = 0; k < run.count; ++k) {
        const SpanOnSurface& span = *system.threads()[run.span(k)]->span;
        Crossing surface;
        surface.deep = false;
        surface.step_row = Eigen::VectorXd::Zero(system.model().columns());
        // Oblique: its path lies as the bites lie, and only what the wound then slips across it bends it further.
        surface.slip_row = std::cos(span.obliquity) * interface.odd_row(span.crossing_theta, kThreadSpread);
        surface.first = static_cast<Eigen::Index>(run.span(k));
        crossings_.push_back(std::move(surface));
    }
}

void Threads::respond(const ReducedSystem& system, const std::vector<Knot>& knots, const RingMatrix& jump,
                      ThreadResponse& out) const {
    const auto count = static_cast<Eigen::Index>(size_), crossings = static_cast<Eigen::Index>(crossings_.size());
    const double l = kCrossingLength;
    ThreadResponse::Work& work = out.work;
    out.tension.setZero(count);
    out.step.resize(crossings_.size());
    out.slip.resize(crossings_.size());
    out.by_step.resize(crossings);
    out.by_slip.resize(crossings);
    out.pull.resize(crossings);
    out.unknown.resize(size_);
    out.slid.assign(size_, 0.0);
    for (Eigen::VectorXd* vector : {&work.right, &work.trial, &work.locked_tension}) vector->resize(count);
    work.locked.reserve(size_);
    work.active.reserve(size_);
    work.pulls.reserve(size_);
    work.flexibility.resize(count, count);
    work.factor.resize(count, count);
    work.v = jump.row(1).transpose();
    work.w = jump.row(2).transpose();
    out.by_step.noalias() = step_rows_.transpose() * work.w;  // for the moment: steps and slips
    out.by_slip.noalias() = slip_rows_.transpose() * work.v;
    Eigen::VectorXd& unloaded = work.unloaded;  // elongation at zero tension
    unloaded.noalias() = system.loop_force.transpose() * Eigen::Map<const Eigen::VectorXd>(jump.data(), jump.size());
    out.elongation.setZero(count);  // for the moment: of the crossing strands
    for (Eigen::Index c = 0; c < crossings; ++c) {
        const auto i = static_cast<std::size_t>(c);
        const Crossing& crossing = crossings_[i];
        const double step = out.step[i] = crossing.step0 + out.by_step[c];
        const double slip = out.slip[i] = crossing.slip0 + out.by_slip[c];
        const double deep = std::sqrt(l * l + step * step + slip * slip), surface = std::sqrt(l * l + slip * slip);
        out.by_step[c] = crossing.deep ? step / deep : 0.0;
        out.by_slip[c] = (crossing.deep ? slip / deep : 0.0) + (crossing.surface ? slip / surface : 0.0);
        const double longer = (crossing.deep ? deep - l : 0.0) + (crossing.surface ? surface - l : 0.0);
        out.elongation[crossing.first] += crossing.share() * longer;
        if (crossing.second >= 0) out.elongation[crossing.second] += crossing.share() * longer;
    }
    unloaded = out.elongation - system.pressure_shortening - unloaded;
    work.locked.clear();
    for (Eigen::Index b = 0; b < count; ++b) {
        const Knot& knot = knots[static_cast<std::size_t>(b)];
        if (knot.hold == Hold::drawn) out.tension[b] = knot.tie_tension;
        if (knot.hold == Hold::locked) work.locked.push_back(b);
    }
    const Eigen::MatrixXd& D = system.loop_compliance;
    out.elongation = unloaded;  // with the drawn threads alone
    out.elongation.noalias() -= D * out.tension;
    double spring_energy = 0.0;
    out.unknowns = 0;
    std::fill(out.unknown.begin(), out.unknown.end(), -1);
    if (!work.locked.empty()) {
        const auto locked = static_cast<Eigen::Index>(work.locked.size());
        for (Eigen::Index k = 0; k < locked; ++k) {
            const Eigen::Index b = work.locked[static_cast<std::size_t>(k)];
            const Knot& knot = knots[static_cast<std::size_t>(b)];
            for (Eigen::Index m = 0; m < locked; ++m) {
                work.flexibility(k, m) = D(b, work.locked[static_cast<std::size_t>(m)]);
            }
            work.flexibility(k, k) += 1.0 / knot.stiffness;
            work.right[k] = out.elongation[b] + knot.tie_tension / knot.stiffness - knot.tie_elongation;
        }
        if (runs_.empty()) {
            find_locked_tensions(out);
        } else {
            find_spans_tensions(knots, out);
        }
        for (Eigen::Index k = 0; k < locked; ++k) {
            const Eigen::Index b = work.locked[static_cast<std::size_t>(k)];
            const Knot& knot = knots[static_cast<std::size_t>(b)];
            const double tension = out.tension[b] = work.locked_tension[k], excess = tension - knot.tie_tension;
            spring_energy += 0.5 * excess * excess / knot.stiffness + tension * knot.tie_elongation;
        }
    }
    out.elongation = unloaded;
    out.elongation.noalias() -= D * out.tension;
    // Tᵀ u − ½ Tᵀ D T with D T = u − e.
    out.energy = 0.5 * out.tension.dot(unloaded + out.elongation) - spring_energy;
    for (Eigen::Index c = 0; c < crossings; ++c) {
        const Crossing& crossing = crossings_[static_cast<std::size_t>(c)];
        out.pull[c] = crossing.share() * out.tension[crossing.first];
        if (crossing.second >= 0) out.pull[c] += crossing.share() * out.tension[crossing.second];
    }
}

RingMatrix Threads::elongation_gradient(const ReducedSystem& system, const ThreadResponse& response,
                                        std::size_t thread) const {
    const auto b = static_cast<Eigen::Index>(thread);
    RingMatrix gradient(kRingUnknowns, step_rows_.rows());
    gradient.reshaped() = -system.loop_force.col(b);
    for (Eigen::Index c = 0; c < step_rows_.cols(); ++c) {
        const Crossing& crossing = crossings_[static_cast<std::size_t>(c)];
        if (crossing.first != b && crossing.second != b) continue;
        gradient.row(2) += crossing.share() * response.by_step[c] * step_rows_.col(c).transpose();
        gradient.row(1) += crossing.share() * response.by_slip[c] * slip_rows_.col(c).transpose();
    }
    return gradient;
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
