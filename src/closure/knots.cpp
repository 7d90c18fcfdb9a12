#include "closure/knots.h"

#include <cmath>

#include <Eigen/Cholesky>

namespace graftwright {
namespace {

// max over T ≥ 0 of Tᵀ r − ½ Tᵀ A T, A symmetric positive definite (work.flexibility, work.right): Lawson–Hanson's
// active set on the normal equations. Ends after finitely many exchanges; 3n + 10 rounds are never reached in
// practice and keep a bug from hanging. Into work.locked_tension.
void find_nonnegative_tensions(ThreadResponse::Work& work) {
    const auto n = static_cast<Eigen::Index>(work.locked.size());
    const Eigen::Ref<const Eigen::VectorXd> r(work.right.head(n));
    Eigen::Ref<Eigen::VectorXd> tension(work.locked_tension.head(n));
    tension.setZero();
    work.pulls.assign(static_cast<std::size_t>(n), true);
    const double tiny = 1e-14 * r.cwiseAbs().maxCoeff();
    for (Eigen::Index round = 0; round < 3 * n + 10; ++round) {
        work.active.clear();
        for (Eigen::Index i = 0; i < n; ++i) {
            if (work.pulls[static_cast<std::size_t>(i)]) work.active.push_back(i);
        }
        const auto count = static_cast<Eigen::Index>(work.active.size());
        Eigen::Ref<Eigen::MatrixXd> matrix(work.factor.topLeftCorner(count, count));
        Eigen::Ref<Eigen::VectorXd> trial(work.trial.head(count));
        for (Eigen::Index k = 0; k < count; ++k) {
            const Eigen::Index i = work.active[static_cast<std::size_t>(k)];
            trial[k] = r[i];
            for (Eigen::Index l = 0; l <= k; ++l) {
                matrix(k, l) = work.flexibility(i, work.active[static_cast<std::size_t>(l)]);
            }
        }
        Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>>(matrix).solveInPlace(trial);
        bool exchanged = false;
        for (Eigen::Index k = 0; k < count; ++k) {
            if (trial[k] < 0.0) {
                work.pulls[static_cast<std::size_t>(work.active[static_cast<std::size_t>(k)])] = false;
                exchanged = true;
            }
        }
        if (exchanged) continue;
        tension.setZero();
        for (Eigen::Index k = 0; k < count; ++k) tension[work.active[static_cast<std::size_t>(k)]] = trial[k];
        // The slack thread that most wants to pull comes back, one at a time.
        Eigen::Index wanted = -1;
        double most = tiny;
        for (Eigen::Index i = 0; i < n; ++i) {
            if (work.pulls[static_cast<std::size_t>(i)]) continue;
            const double want = r[i] - work.flexibility.col(i).head(n).dot(tension);
            if (want > most) {
                most = want;
                wanted = i;
            }
        }
        if (wanted < 0) return;
        work.pulls[static_cast<std::size_t>(wanted)] = true;
    }
}

}  // namespace

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

Threads::Threads(const ClosureSystem& system, const WoundInterface& interface) {
    const Eigen::Index columns = system.model().columns(), count = static_cast<Eigen::Index>(system.size());
    step_rows_.resize(columns, count);
    slip_rows_.resize(columns, count);
    for (Eigen::Index b = 0; b < count; ++b) {
        const auto& bite = system.bites()[static_cast<std::size_t>(b)];
        crossings_.push_back(make_crossing(bite->geometry, system.model(), interface));
        step_rows_.col(b) = crossings_.back().step_row;
        slip_rows_.col(b) = crossings_.back().slip_row;
    }
}

void Threads::respond(const ReducedSystem& system, const std::vector<Knot>& knots, const RingMatrix& jump,
                      ThreadResponse& out) const {
    const auto count = static_cast<Eigen::Index>(size());
    const double l = kCrossingLength;
    ThreadResponse::Work& work = out.work;
    out.tension.setZero(count);
    out.step.resize(size());
    out.slip.resize(size());
    out.by_step.resize(count);
    out.by_slip.resize(count);
    for (Eigen::VectorXd* vector : {&work.right, &work.trial, &work.locked_tension}) vector->resize(count);
    work.locked.reserve(size());
    work.active.reserve(size());
    work.pulls.reserve(size());
    work.flexibility.resize(count, count);
    work.factor.resize(count, count);
    work.v = jump.row(1).transpose();
    work.w = jump.row(2).transpose();
    out.elongation.noalias() = step_rows_.transpose() * work.w;  // for the moment: steps and slips
    out.by_slip.noalias() = slip_rows_.transpose() * work.v;
    Eigen::VectorXd& unloaded = work.unloaded;  // elongation at zero tension
    unloaded.noalias() = system.loop_force.transpose() * Eigen::Map<const Eigen::VectorXd>(jump.data(), jump.size());
    work.locked.clear();
    for (Eigen::Index b = 0; b < count; ++b) {
        const auto i = static_cast<std::size_t>(b);
        const double step = out.step[i] = crossings_[i].step0 + out.elongation[b];
        const double slip = out.slip[i] = crossings_[i].slip0 + out.by_slip[b];
        const double deep = std::sqrt(l * l + step * step + slip * slip), surface = std::sqrt(l * l + slip * slip);
        out.by_step[b] = step / deep;
        out.by_slip[b] = slip / deep + slip / surface;
        unloaded[b] = crossing_elongation(step, slip) - system.pressure_shortening[b] - unloaded[b];
        if (knots[i].hold == Hold::drawn) out.tension[b] = knots[i].tie_tension;
        if (knots[i].hold == Hold::locked) work.locked.push_back(b);
    }
    const Eigen::MatrixXd& D = system.loop_compliance;
    out.elongation = unloaded;  // with the drawn threads alone
    out.elongation.noalias() -= D * out.tension;
    double spring_energy = 0.0;
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
        find_nonnegative_tensions(work);
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
}

RingMatrix Threads::elongation_gradient(const ReducedSystem& system, const ThreadResponse& response,
                                        std::size_t bite) const {
    const auto b = static_cast<Eigen::Index>(bite);
    RingMatrix gradient(kRingUnknowns, step_rows_.rows());
    gradient.reshaped() = -system.loop_force.col(b);
    gradient.row(2) += response.by_step[b] * step_rows_.col(b).transpose();
    gradient.row(1) += response.by_slip[b] * slip_rows_.col(b).transpose();
    return gradient;
}

}  // namespace graftwright
