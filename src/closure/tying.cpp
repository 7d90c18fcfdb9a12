#include "closure/tying.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/units.h"
#include "closure/index.h"
#include "closure/newton_solver.h"

namespace graftwright {
namespace {

// Passes over lagged sets (friction bounds, wetted fibres), when they count as settled, and how much the last one may
// still have changed where they do not.
constexpr int kMaxPasses = 12;
constexpr double kSettled = 1e-4, kAlmostSettled = 1e-2;

std::string at_pressure(const char* what, double pressure) {
    return std::string(what) + " at " + std::to_string(std::lround(mmhg_from_mpa(pressure))) + " mmHg";
}

std::string beyond_the_model(const WoundModel& model, double pressure) {
    const auto words = [](double p) {
        return std::to_string(static_cast<int>(std::floor(mmhg_from_mpa(p) + 1e-6))) + " mmHg";
    };
    const double highest = model.highest_pressure();
    if (!model.limited()) return "this eye was prepared up to " + words(highest) + ": " + words(pressure) + " is more";
    return "so soft an eye is computed up to " + words(highest) + " (at " + words(highest / kStableShare) +
           " it would give way): " + words(pressure) + " is more";
}

}  // namespace

Closure::Closure(const ClosureSystem& system, const WoundInterface& interface, double thread_EA,
                 const SolveOptions& options)
    : Closure(system, interface, thread_EA, std::make_unique<NewtonSolver>(system, interface, options)) {}

Closure::Closure(const ClosureSystem& system, const WoundInterface& interface, double thread_EA,
                 std::unique_ptr<ClosureSolver> solver)
    : system_(&system),
      interface_(&interface),
      threads_(system, interface),
      solver_(std::move(solver)),
      transform_(system.model().harmonics(), interface.points()),
      points_(RingMatrix::Zero(kRingUnknowns, 2 * interface.points())) {
    state_.edges = RingMatrix::Zero(kRingUnknowns, 2 * system.model().columns());
    state_.fibres = interface.fresh_state();
    state_.tension = Eigen::VectorXd::Zero(Index(system.size()));
    state_.knots.resize(system.size());
    for (std::size_t b = 0; b < system.size(); ++b) {
        state_.knots[b].stiffness = thread_EA / system.threads()[b]->path.length;
    }
}

double Closure::wet_fibres(double pressure) {
    const auto jumps = jumps_now();
    FibreState& fibres = state_.fibres;
    double change = 0.0;
    for (int j = 0; j < interface_->points(); ++j) {
        // Fibre 0 is the hindmost; the innermost that presses with at least the chamber's pressure seals.
        int seal = 0;
        while (seal < kFibres && interface_->solid_pressure(jumps, j, seal) < pressure) ++seal;
        std::array<double, kFibres> target{};
        if (seal < kFibres) {
            std::fill_n(target.begin(), seal, pressure);
        } else {
            // Open through and through: the pressure falls along the film as its resistance adds up.
            std::array<double, kFibres> resistance{};
            double total = 0.0;
            for (int k = 0; k < kFibres; ++k) {
                const double film = std::max(kThinnestFilm, interface_->gap(jumps, j, k));
                at(resistance, k) = interface_->depth_weight(k) / (film * film * film);
                total += at(resistance, k);
            }
            double passed = 0.0;
            for (std::size_t k = 0; k < target.size(); ++k) {
                target[k] = pressure * (1.0 - (passed + 0.5 * resistance[k]) / total);
                passed += resistance[k];
            }
        }
        for (int k = 0; k < kFibres; ++k) {
            const double before = fibres.fluid(k, j);
            // Half way in an open film, whose drop depends on its own opening; at once otherwise.
            const double aim = at(target, k);
            const double now = seal < kFibres ? aim : 0.5 * (before + aim);
            change += interface_->depth_weight(k) * std::abs(now - before);
            fibres.fluid(k, j) = now;
        }
    }
    return pressure > 0.0 ? change / (pressure * interface_->wall() * interface_->points()) : 0.0;
}

bool Closure::settle(double pressure, bool friction, bool fluid) {
    const WoundModel& model = system_->model();
    if (pressure > model.highest_pressure() * (1.0 + 1e-9)) {  // there and back between MPa and mmHg rounds
        return fail(beyond_the_model(model, pressure));
    }
    const ReducedSystem& reduced = reduced_at(pressure);
    state_.pressure = pressure;
    const bool sliding = !system_->runs().empty();  // else no pass asks the threads
    for (int pass = 0; pass < kMaxPasses; ++pass) {
        const SolveSummary summary = solver_->minimise(reduced, state_.knots, state_.fibres, state_.edges);
        status_.iterations += summary.iterations;
        status_.most_iterations = std::max(status_.most_iterations, summary.iterations);
        status_.inner_iterations += summary.inner_iterations;
        status_.inner_limited += summary.inner_limited;
        status_.inner_curved += summary.inner_curved;
        status_.residual = std::max(status_.residual, summary.residual);
        if (!summary.converged) return fail(at_pressure("the wound found no balance", pressure));
        transform_.edges_to_points(state_.edges, points_);
        last_change_ = 0.0;
        if (sliding) {
            threads_.respond(reduced, state_.knots, state_.edges, points_, threads_now_);
            last_change_ = update_grips();
        }
        if (friction) last_change_ = std::max(last_change_, interface_->update_bounds(jumps_now(), state_.fibres));
        if (fluid) last_change_ = std::max(last_change_, wet_fibres(reduced.pressure));
        if (last_change_ < kSettled) break;
    }
    if (friction) interface_->carry_anchors(jumps_now(), state_.fibres);
    if (!sliding) threads_.respond(reduced, state_.knots, state_.edges, points_, threads_now_);
    state_.tension = threads_now_.tension;
    keep_slid();
    return true;
}

bool Closure::at_rest() {
    return last_change_ <= kAlmostSettled ||
           fail(at_pressure("friction and fluid in the wound found no rest", state_.pressure));
}

bool Closure::advance(double pressure, bool friction, bool fluid) {
    if (!settle(pressure, friction, fluid)) return false;
    status_.settled = status_.settled && last_change_ < kSettled;
    return true;
}

bool Closure::fail(std::string reason) {
    status_.converged = false;
    status_.reason = std::move(reason);
    return false;
}

double Closure::update_grips() {
    double change = 0.0, sum = 0.0;
    for (const RunOfSpans& run : system_->runs()) {
        if (!run.rubs() || state_.knots[run.first].hold != Hold::locked) continue;
        for (std::size_t k = 0; k < run.count; ++k) {
            double& grip = state_.knots[run.span(k)].grip;
            const double now =
                belt_grip(run.friction * system_->turning(run, k), threads_now_.tension[Index(run.before(k))],
                          threads_now_.tension[Index(run.span(k))]);
            change += std::abs(now - grip);
            sum += now;
            grip = now;
        }
    }
    return sum > 0.0 ? change / sum : 0.0;
}

void Closure::keep_slid() {
    for (const RunOfSpans& run : system_->runs()) {
        if (run.count < 2 || state_.knots[run.first].hold != Hold::locked) continue;
        for (std::size_t k = 0; k < run.count; ++k) {
            Knot& knot = state_.knots[run.span(k)];
            const auto b = Index(run.span(k));
            if (run.rubs()) {
                knot.tie_elongation +=
                    threads_now_.slid[run.span(k)] - threads_now_.slid[run.span((k + 1) % run.count)];
            } else if (threads_now_.tension[b] > 0.0) {
                // Its length is what its share of the common tension leaves it.
                knot.tie_elongation =
                    threads_now_.elongation[b] - (threads_now_.tension[b] - knot.tie_tension) / knot.stiffness;
            }
        }
    }
}

std::size_t Closure::bites_in_place() const {
    return static_cast<std::size_t>(std::count_if(state_.knots.begin(), state_.knots.end(),
                                                  [](const Knot& knot) { return knot.hold != Hold::open; }));
}

bool Closure::settle_as_tied() {
    const std::size_t in_place = bites_in_place();
    return advance(in_place >= kBitesThatHoldAChamber ? kTyingPressure : 0.0, in_place >= kBitesThatAnchorADonor,
                   false);
}

std::vector<CourseStep> closure_course(const std::vector<KnotPlan>& bites, const std::vector<RunPlan>& runs) {
    std::vector<CourseStep> course;
    Finish finish;
    for (std::size_t b = 0; b < bites.size(); ++b) {
        course.emplace_back(TieBite{b, bites[b].tension});
        CutOut now;
        for (std::size_t c = 0; c <= b; ++c)
            if (bites[c].removed && bites[c].removed_after == b + 1) now.bites.push_back(c);
        if (!now.bites.empty()) course.emplace_back(std::move(now));
        if (bites[b].removed && bites[b].removed_after == 0) finish.cut_out.push_back(b);
    }
    for (std::size_t r = 0; r < runs.size(); ++r) course.emplace_back(TieRun{r, runs[r]});
    course.emplace_back(std::move(finish));
    return course;
}

bool Closure::take(const CourseStep& next) {
    return std::visit([this](const auto& one) { return step(one); }, next);
}

bool Closure::tie(const std::vector<KnotPlan>& bites, const std::vector<RunPlan>& runs) {
    const std::vector<CourseStep> course = closure_course(bites, runs);
    return std::all_of(course.begin(), course.end(), [this](const CourseStep& next) { return take(next); });
}

bool Closure::step(const TieBite& one) {
    state_.knots[one.bite].hold = Hold::drawn;
    state_.knots[one.bite].tie_tension = one.tension;
    if (!settle_as_tied()) return false;
    lock(one.bite, 1);
    return true;
}

bool Closure::step(const TieRun& one) {
    const RunOfSpans& run = system_->runs()[one.run];
    std::vector<double> turning;
    for (std::size_t k = 0; k < run.count; ++k) turning.push_back(system_->turning(run, k));
    const std::vector<double> drawn = one.plan.even
                                          ? std::vector<double>(run.count, one.plan.tension)
                                          : drawn_tensions(one.plan.tension, one.plan.worked, run.friction, turning);
    for (std::size_t k = 0; k < run.count; ++k) {
        state_.knots[run.span(k)].hold = Hold::drawn;
        state_.knots[run.span(k)].tie_tension = drawn[k];
    }
    if (!settle_as_tied()) return false;
    lock(run.first, run.count);
    return true;
}

bool Closure::step(const CutOut& some) {
    if (some.bites.empty()) return true;
    for (const std::size_t bite : some.bites) state_.knots[bite].hold = Hold::open;
    return settle_as_tied();
}

bool Closure::step(const Finish& end) {
    if (bites_in_place() < kBitesThatHoldAChamber + end.cut_out.size())
        return fail("fewer than three bites do not hold a filled chamber");
    return step(CutOut{end.cut_out});
}

void Closure::take_over(const ClosureState& earlier) {
    const auto tied = std::ssize(earlier.knots);
    state_.edges = earlier.edges;
    state_.fibres = earlier.fibres;
    state_.pressure = earlier.pressure;
    std::copy(earlier.knots.begin(), earlier.knots.end(), state_.knots.begin());
    state_.tension.head(tied) = earlier.tension;
}

void Closure::lock(std::size_t first, std::size_t count) {
    threads_.respond(reduced_, state_.knots, state_.edges, points_, threads_now_);
    for (std::size_t b = first; b < first + count; ++b) {
        Knot& knot = state_.knots[b];
        knot.tie_elongation = threads_now_.elongation[Index(b)];
        knot.hold = Hold::locked;
    }
    update_grips();
}

const ReducedSystem& Closure::reduced_at(double pressure) {
    if (reduced_.host.empty() || reduced_.pressure != pressure) reduced_ = system_->at(pressure);
    return reduced_;
}

bool Closure::try_pressure(double pressure) { return settle(pressure, true, true); }

bool Closure::fill(double pressure) { return advance(pressure, true, true); }

bool Closure::fill_in_steps(double pressure) {
    const double from = state_.pressure;
    const int steps =
        std::max(1, static_cast<int>(std::ceil(std::abs(mmhg_from_mpa(pressure - from)) / kFillStep_mmHg - 1e-9)));
    for (int i = 1; i <= steps; ++i) {
        if (!fill(i == steps ? pressure : from + (pressure - from) * i / steps)) return false;
    }
    return true;
}

bool Closure::redraw(std::size_t bite, double tension) {
    state_.knots[bite].hold = Hold::drawn;
    state_.knots[bite].tie_tension = tension;
    if (!fill(state_.pressure)) return false;
    lock(bite, 1);
    return true;
}

bool Closure::prescribe(const std::vector<double>& tensions, double pressure) {
    for (std::size_t b = 0; b < tensions.size(); ++b) {
        state_.knots[b].hold = Hold::drawn;
        state_.knots[b].tie_tension = tensions[b];
    }
    for (int pass = 0; pass < kMaxPasses; ++pass) {
        if (!settle(pressure, false, false)) return false;
        // Held from the undeformed place wherever it presses.
        bool changed = false;
        for (int j = 0; j < interface_->points(); ++j) {
            for (int k = 0; k < kFibres; ++k) {
                const bool presses = interface_->solid_pressure(jumps_now(), j, k) > 0.0;
                changed = changed || presses != state_.fibres.held(k, j);
                state_.fibres.held(k, j) = presses;
                state_.fibres.bound(k, j) = 1e9;
            }
        }
        if (!changed) break;
    }
    return true;
}

double Closure::foundation_share() const {
    const auto& foundation = system_->model().foundation();
    const auto jump = state_.jump();
    double force = 0.0;
    for (Index column = 0; column < std::min<Index>(3, jump.cols()); ++column) {
        const Eigen::Vector4d pull = at(foundation, (column + 1) / 2) * jump.col(column);
        force += pull.head<3>().norm();
    }
    const double a = system_->model().shape().wound_radius;
    return force / (std::max(state_.pressure, kTyingPressure) * kPi * a * a);
}

}  // namespace graftwright
