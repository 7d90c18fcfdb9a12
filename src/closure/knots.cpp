#include "closure/knots.h"

#include <cmath>

#include <Eigen/Cholesky>

namespace graftwright {
namespace {

// max over T ≥ 0 of Tᵀ r − ½ Tᵀ A T, A symmetric positive definite: Lawson–Hanson's active set on
// the normal equations. Ends after finitely many exchanges; 3n + 10 rounds are never reached in
// practice and keep a bug from hanging.
Eigen::VectorXd nonnegative_tensions(const Eigen::MatrixXd& A, const Eigen::VectorXd& r) {
    const Eigen::Index n = r.size();
    Eigen::VectorXd tension = Eigen::VectorXd::Zero(n);
    std::vector<bool> pulls(static_cast<std::size_t>(n), true);
    const double tiny = 1e-14 * (r.size() > 0 ? r.cwiseAbs().maxCoeff() : 0.0);
    for (Eigen::Index round = 0; round < 3 * n + 10; ++round) {
        std::vector<Eigen::Index> active;
        for (Eigen::Index i = 0; i < n; ++i) {
            if (pulls[static_cast<std::size_t>(i)]) active.push_back(i);
        }
        const Eigen::VectorXd trial = Eigen::MatrixXd(A(active, active)).llt().solve(Eigen::VectorXd(r(active)));
        bool exchanged = false;
        for (std::size_t k = 0; k < active.size(); ++k) {
            if (trial[static_cast<Eigen::Index>(k)] < 0.0) {
                pulls[static_cast<std::size_t>(active[k])] = false;
                exchanged = true;
            }
        }
        if (exchanged) continue;
        tension.setZero();
        for (std::size_t k = 0; k < active.size(); ++k) tension[active[k]] = trial[static_cast<Eigen::Index>(k)];
        // The slack thread that most wants to pull comes back, one at a time.
        Eigen::Index wanted = -1;
        double most = tiny;
        for (Eigen::Index i = 0; i < n; ++i) {
            const double want = r[i] - A.row(i).dot(tension);
            if (!pulls[static_cast<std::size_t>(i)] && want > most) {
                most = want;
                wanted = i;
            }
        }
        if (wanted < 0) return tension;
        pulls[static_cast<std::size_t>(wanted)] = true;
    }
    return tension;
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
    for (const auto& bite : system.bites()) {
        crossings_.push_back(make_crossing(bite->geometry, system.model(), interface));
    }
}

ThreadResponse Threads::respond(const ReducedSystem& system, const std::vector<Knot>& knots,
                                const RingMatrix& jump) const {
    const auto count = static_cast<Eigen::Index>(size());
    ThreadResponse out;
    out.tension = Eigen::VectorXd::Zero(count);
    out.step.resize(size());
    out.slip.resize(size());
    Eigen::VectorXd unloaded(count);  // elongation at zero tension
    std::vector<Eigen::Index> locked;
    for (Eigen::Index b = 0; b < count; ++b) {
        const auto i = static_cast<std::size_t>(b);
        const Crossing& crossing = crossings_[i];
        out.step[i] = crossing.step0 + jump.row(2).dot(crossing.step_row);
        out.slip[i] = crossing.slip0 + jump.row(1).dot(crossing.slip_row);
        unloaded[b] = crossing_elongation(out.step[i], out.slip[i]) - system.pressure_shortening[b] -
                      system.loop_force[i].cwiseProduct(jump).sum();
        if (knots[i].hold == Hold::drawn) out.tension[b] = knots[i].tie_tension;
        if (knots[i].hold == Hold::locked) locked.push_back(b);
    }
    const Eigen::MatrixXd& D = system.loop_compliance;
    const Eigen::VectorXd with_drawn = unloaded - D * out.tension;
    double spring_energy = 0.0;
    if (!locked.empty()) {
        Eigen::MatrixXd A = D(locked, locked);
        Eigen::VectorXd r = with_drawn(locked);
        for (std::size_t k = 0; k < locked.size(); ++k) {
            const Knot& knot = knots[static_cast<std::size_t>(locked[k])];
            const auto row = static_cast<Eigen::Index>(k);
            A(row, row) += 1.0 / knot.stiffness;
            r[row] += knot.tie_tension / knot.stiffness - knot.tie_elongation;
        }
        const Eigen::VectorXd tension = nonnegative_tensions(A, r);
        for (std::size_t k = 0; k < locked.size(); ++k) {
            const auto row = static_cast<Eigen::Index>(k);
            out.tension[locked[k]] = tension[row];
            const Knot& knot = knots[static_cast<std::size_t>(locked[k])];
            const double excess = tension[row] - knot.tie_tension;
            spring_energy += 0.5 * excess * excess / knot.stiffness + tension[row] * knot.tie_elongation;
        }
    }
    out.elongation = unloaded - D * out.tension;
    out.energy = out.tension.dot(unloaded) - 0.5 * out.tension.dot(D * out.tension) - spring_energy;
    return out;
}

RingMatrix Threads::elongation_gradient(const ReducedSystem& system, const ThreadResponse& response,
                                        std::size_t bite) const {
    const double l = kCrossingLength, step = response.step[bite], slip = response.slip[bite];
    const double deep = std::sqrt(l * l + step * step + slip * slip), surface = std::sqrt(l * l + slip * slip);
    RingMatrix gradient = -system.loop_force[bite];
    gradient.row(2) += step / deep * crossings_[bite].step_row.transpose();
    gradient.row(1) += (slip / deep + slip / surface) * crossings_[bite].slip_row.transpose();
    return gradient;
}

}  // namespace graftwright
