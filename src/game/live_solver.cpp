#include "game/live_solver.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>
#include <variant>

#include "base/point.h"
#include "base/units.h"
#include "leak/wound_test.h"
#include "optics/deformed_donor.h"
#include "optics/ring_reflection.h"
#include "score/bites_in_order.h"
#include "score/ideal_twin.h"
#include "score/measured_closure.h"
#include "score/scorecard_table.h"

namespace graftwright {
namespace {

constexpr std::size_t kRingAngles = 96;  // lights around a ring: its image bends nowhere sharper
constexpr int kShadePoints = 33;         // slopes for shading, across the donor
constexpr double kShadeReach_mm = 3.4;

// Closed polylines of the images, in the field's frame.
std::vector<std::vector<Point>> ring_images(const AnteriorSurface& surface, Point pupil) {
    std::vector<std::vector<Point>> rings;
    for (const MirroredRing& ring : mirror_rings(surface, standard_keratoscope(), kRingAngles)) {
        std::vector<Point> line;
        for (const auto& place : ring)
            if (place) line.push_back({pupil.x + place->image_x, pupil.y + place->image_y});
        if (line.size() > kRingAngles / 2) rings.push_back(std::move(line));
    }
    return rings;
}

template <typename Value>
SurfaceMap square_map(const AnteriorSurface& surface, int n, double reach, Value value) {
    SurfaceMap map{n, reach, std::vector<float>(static_cast<std::size_t>(n * n))};
    const double limit = std::min(reach, surface.radius_covered());
    for (int j = 0; j < n; ++j)
        for (int i = 0; i < n; ++i) {
            const double x = (2.0 * i / (n - 1) - 1.0) * reach, y = (2.0 * j / (n - 1) - 1.0) * reach;
            map.value[static_cast<std::size_t>(j * n + i)] =
                std::hypot(x, y) <= limit ? value(x, y) : std::numeric_limits<float>::quiet_NaN();
        }
    return map;
}

void read_surface(LiveWound& wound, const AnteriorSurface& surface, Point pupil) {
    wound.rings = ring_images(surface, pupil);
    wound.keratometry = read_keratometry(surface);
    wound.slope_x = square_map(surface, kShadePoints, kShadeReach_mm,
                               [&](double x, double y) { return static_cast<float>(surface.sample(x, y).slope_x); });
    wound.slope_y = square_map(surface, kShadePoints, kShadeReach_mm,
                               [&](double x, double y) { return static_cast<float>(surface.sample(x, y).slope_y); });
}

void read_wound(LiveWound& wound, const Closure& closure) {
    const WoundInterface& interface = closure.interface();
    const PointJumps jumps = interface.at_points(closure.state().jump());
    for (const SealPlace& place : seal_profile(closure)) {
        wound.seal_mmHg.push_back(place.seal_mmHg);
        wound.step_um.push_back(place.step_um);
    }
    for (int j = 0; j < interface.points(); ++j) {
        wound.gap_back_um.push_back(std::max(0.0, um_from_mm(interface.gap(jumps, j, 0))));
        wound.gap_front_um.push_back(std::max(0.0, um_from_mm(interface.gap(jumps, j, kFibres - 1))));
    }
}

bool is_knot(const CourseStep& step) {
    return std::holds_alternative<TieBite>(step) || std::holds_alternative<TieRun>(step);
}

// The donor as it was cut, for the rings before the third knot.
class UndeformedFront final : public AnteriorSurface {
  public:
    UndeformedFront(double radius, double reach) : radius_(radius), reach_(reach) {}
    [[nodiscard]] SurfaceSample sample(double x, double y) const override {
        const double z = std::sqrt(radius_ * radius_ - x * x - y * y);
        SurfaceSample at;
        at.height = z - radius_;
        at.slope_x = -x / z;
        at.slope_y = -y / z;
        at.curv_xx = -(1.0 + at.slope_x * at.slope_x) / z;
        at.curv_yy = -(1.0 + at.slope_y * at.slope_y) / z;
        at.curv_xy = -at.slope_x * at.slope_y / z;
        return at;
    }
    [[nodiscard]] double radius_covered() const override { return reach_; }

  private:
    double radius_, reach_;
};

}  // namespace

// What stays from question to question: loads by bite and span, and the closure before the last knot.
struct LiveSolver::Kept {
    struct PlannedThread {
        BitePath from, to;  // of a single bite both the same
        bool span = false;
        double turn = 0.0;
        std::shared_ptr<const ThreadLoads> loads;
    };
    std::vector<PlannedThread> planned;
    std::vector<Bite> tied;  // with their tensions
    std::vector<Run> tied_runs;
    double turn = 0.0;
    std::optional<ClosureState> state;  // after all of these, removals done but those of the end

    [[nodiscard]] std::shared_ptr<const ThreadLoads> known(const PlannedThread& wanted) const {
        const auto it = std::find_if(planned.begin(), planned.end(), [&](const PlannedThread& one) {
            return one.span == wanted.span && one.turn == wanted.turn && one.from == wanted.from && one.to == wanted.to;
        });
        return it == planned.end() ? nullptr : it->loads;
    }
    // The threads of a question in the order of the mechanics; those not seen before are worked out, the others
    // forgotten.
    [[nodiscard]] PlannedClosure plan(const ScenarioModel& model, const WoundQuestion& question) {
        const double turn_now = donor_turn(question.bites, question.runs);
        std::vector<PlannedThread> wanted;
        for (const Bite& bite : question.bites) wanted.push_back({bite, bite, false, turn_now, nullptr});
        for (const Run& run : question.runs)
            for (std::size_t k = 0; k < run.bites.size(); ++k)
                wanted.push_back({run.bites[k], run.bites[(k + 1) % run.bites.size()], true, turn_now, nullptr});
        std::vector<std::pair<BiteGeometry, BiteGeometry>> new_spans;
        for (PlannedThread& one : wanted) {
            one.loads = known(one);
            if (one.loads) continue;
            if (one.span)
                new_spans.emplace_back(bite_geometry(one.from, turn_now), bite_geometry(one.to, turn_now));
            else
                one.loads = make_bite_loads(model.wound(), bite_geometry(one.from, turn_now));
        }
        const auto spans = make_span_loads(model.wound(), new_spans);
        auto next = spans.begin();
        for (PlannedThread& one : wanted)
            if (!one.loads) one.loads = *next++;
        planned = std::move(wanted);
        PlannedClosure closure;
        closure.donor_turn = turn_now;
        std::size_t t = 0;
        for (const Bite& bite : question.bites) closure.bites.push_back({bite, planned[t++].loads});
        for (const Run& run : question.runs) {
            closure.runs.push_back({run, {}});
            for (std::size_t k = 0; k < run.bites.size(); ++k) closure.runs.back().spans.push_back(planned[t++].loads);
        }
        return closure;
    }
    // Takes the whole course, from the state before the last knot, which may still be drawn, where that is known.
    [[nodiscard]] bool walk(const PreparedClosure& prepared, const WoundQuestion& question, Closure& closure) {
        WoundQuestion before_last{0, question.bites, question.runs};  // the last knot is a run's where there is one
        if (question.runs.empty())
            before_last.bites.pop_back();
        else
            before_last.runs.pop_back();
        const std::vector<CourseStep> course = closure_course(prepared.bites, prepared.runs);
        const auto last_knot = std::find_if(course.rbegin(), course.rend(), is_knot).base() - 1;
        const auto take = [&](const CourseStep& step) { return closure.take(step); };
        if (state && turn == prepared.donor_turn && tied == before_last.bites && tied_runs == before_last.runs) {
            closure.take_over(*state);
        } else {
            state.reset();
            if (!std::all_of(course.begin(), last_knot, take)) return false;
            std::size_t threads = before_last.bites.size();
            for (const Run& run : before_last.runs) threads += run.bites.size();
            state = closure.state();
            state->knots.resize(threads);
            state->tension.conservativeResize(static_cast<Eigen::Index>(threads));
            tied = std::move(before_last.bites);
            tied_runs = std::move(before_last.runs);
            turn = prepared.donor_turn;
        }
        return std::all_of(last_knot, course.end(), take);
    }
};

LiveSolver::LiveSolver(std::shared_ptr<const ScenarioModel> model)
    : model_(std::move(model)), kept_(std::make_unique<Kept>()) {}
LiveSolver::~LiveSolver() = default;

std::shared_ptr<const LiveWound> LiveSolver::solve(const WoundQuestion& question) {
    auto wound = std::make_shared<LiveWound>();
    wound->tick = question.tick;
    wound->pressure_mmHg = std::max(question.pressure_mmHg, mmhg_from_mpa(kTyingPressure));
    const std::vector<Bite>& bites = question.bites;
    const std::vector<Run>& runs = question.runs;
    const Eigen::Vector2d pupil = model_->pupil();
    if (bites_in_eye(bites, runs) < kBitesThatHoldAChamber) {
        const EyeShape& shape = model_->wound().shape();
        const UndeformedFront front(model_->scenario().eye.anterior_radius_mm, 0.95 * shape.wound_radius);
        read_surface(*wound, front, {pupil.x(), pupil.y()});
        wound->keratometry.reset();
        wound->reason = "fewer than three bites do not hold a filled chamber";
        return wound;
    }
    wound->rigid = false;

    const PreparedClosure prepared(*model_, kept_->plan(*model_, question));
    Closure closure = prepared.closure();
    bool ok = kept_->walk(prepared, question, closure);
    if (ok && question.pressure_mmHg > 0.0) ok = closure.fill_in_steps(mpa_from_mmhg(question.pressure_mmHg));
    wound->converged = ok;
    if (!ok) {
        wound->reason = closure.status().reason;
        return wound;
    }
    const ClosureState& state = closure.state();
    read_tensions(prepared.system, state.tension, wound->tension_mN, wound->span_mN);
    read_wound(*wound, closure);
    const DeformedDonor front(model_->wound(),
                              model_->wound().donor_displacement(state.pressure, state.donor_edge(), prepared.paths(),
                                                                 state.tension, kOpticalHarmonics),
                              pupil);
    read_surface(*wound, front, {pupil.x(), pupil.y()});
    return wound;
}

namespace {

std::shared_ptr<const LiveWound> picture_of(const ClosureMeasures& measures, double pressure_mmHg, Point pupil) {
    auto wound = std::make_shared<LiveWound>();
    wound->rigid = false;
    wound->pressure_mmHg = pressure_mmHg;
    wound->converged = measures.status.converged && measures.front;
    if (!wound->converged) {
        wound->reason = measures.status.reason;
        return wound;
    }
    wound->tension_mN = measures.tension_mN;
    wound->span_mN = measures.span_mN;
    for (const SealPlace& place : measures.profile) {
        wound->seal_mmHg.push_back(place.seal_mmHg);
        wound->step_um.push_back(place.step_um);
        wound->gap_back_um.push_back(place.posterior_gape_um);
        wound->gap_front_um.push_back(place.gap_um);
    }
    read_surface(*wound, *measures.front, pupil);
    return wound;
}

}  // namespace

std::shared_ptr<const Debrief> LiveSolver::debrief(const Attempt& attempt, int threads) {
    auto debrief = std::make_shared<Debrief>();
    debrief->attempt = attempt;
    ScoreOptions options;
    options.threads = threads;
    debrief->card = score_attempt(*model_, attempt, options);
    debrief->advice = debrief->card.converged() ? advice(attempt, debrief->card)
                                                : "This wound finds no balance: " + debrief->card.reason() + ".";
    if (model_->scenario().kind != ScenarioKind::closure) debrief->drill = judge_drill(*model_, attempt);
    const double pressure = model_->scenario().eye.pressure_mmHg;
    const Point pupil{model_->pupil().x(), model_->pupil().y()};
    debrief->wound = picture_of(debrief->card.attempt, pressure, pupil);
    if (debrief->card.ideal) debrief->twin = picture_of(*debrief->card.ideal, pressure, pupil);
    if (debrief->drill && debrief->drill->before) debrief->posed = picture_of(*debrief->drill->before, pressure, pupil);
    if (debrief->drill && debrief->drill->after)
        debrief->answered = picture_of(*debrief->drill->after, pressure, pupil);
    const Scorecard& card = debrief->card;
    if (!card.converged()) return debrief;
    const double radius_mm = map_radius_mm(model_->scenario(), attempt, card, Curvature::axial);
    debrief->map = curvature_map(*card.attempt.front, Curvature::axial, radius_mm);
    if (card.ideal) debrief->twin_map = curvature_map(*card.ideal->front, Curvature::axial, radius_mm);
    return debrief;
}

}  // namespace graftwright
