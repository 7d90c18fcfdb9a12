// Which key of a file is which member of a struct: said once, for reading and writing alike.
// Private to this room.
//
// each_key(keys, value) calls keys(name, member) for every plain member, keys.angle(name, member)
// for an angle that may come in any turn.
#pragma once

#include <array>
#include <concepts>
#include <optional>
#include <string_view>
#include <type_traits>
#include <utility>

#include "files/attempt.h"
#include "files/hand_record.h"
#include "files/ring_case.h"
#include "files/scenario.h"

namespace graftwright {

template <typename Choice>
using ChoiceNames = std::pair<Choice, std::string_view>;

inline constexpr auto names_of(ScenarioKind) {
    using enum ScenarioKind;
    return std::array{
        ChoiceNames<ScenarioKind>{closure, "closure"},     ChoiceNames<ScenarioKind>{depth, "depth"},
        ChoiceNames<ScenarioKind>{radial, "radial"},       ChoiceNames<ScenarioKind>{opposite, "opposite"},
        ChoiceNames<ScenarioKind>{tension, "tension"},     ChoiceNames<ScenarioKind>{read_rings, "read-rings"},
        ChoiceNames<ScenarioKind>{find_leak, "find-leak"}, ChoiceNames<ScenarioKind>{ScenarioKind::remove, "remove"}};
}
inline constexpr auto names_of(Side) {
    return std::array{ChoiceNames<Side>{Side::right, "right"}, ChoiceNames<Side>{Side::left, "left"}};
}
inline constexpr auto names_of(Pattern) {
    return std::array{ChoiceNames<Pattern>{Pattern::interrupted, "interrupted"},
                      ChoiceNames<Pattern>{Pattern::running, "running"},
                      ChoiceNames<Pattern>{Pattern::double_running, "double-running"},
                      ChoiceNames<Pattern>{Pattern::combined, "combined"}};
}

inline constexpr auto names_of(Aid) {
    using enum Aid;
    return std::array{ChoiceNames<Aid>{clock, "clock"},     ChoiceNames<Aid>{depth, "depth"},
                      ChoiceNames<Aid>{tension, "tension"}, ChoiceNames<Aid>{rings, "rings"},
                      ChoiceNames<Aid>{numbers, "numbers"}, ChoiceNames<Aid>{twin, "twin"},
                      ChoiceNames<Aid>{undo, "undo"}};
}
inline constexpr auto names_of(HandDoes) {
    using enum HandDoes;
    return std::array{ChoiceNames<HandDoes>{move, "move"}, ChoiceNames<HandDoes>{press, "press"},
                      ChoiceNames<HandDoes>{release, "release"}, ChoiceNames<HandDoes>{wheel, "wheel"},
                      ChoiceNames<HandDoes>{key, "key"}};
}

// The name of a choice in files, "" where it has none; and the choice of a name.
template <typename Choice>
[[nodiscard]] constexpr std::string_view name_of(Choice wanted) {
    for (const auto& [choice, name] : names_of(Choice{}))
        if (choice == wanted) return name;
    return "";
}
template <typename Choice>
[[nodiscard]] constexpr std::optional<Choice> choice_named(std::string_view wanted) {
    for (const auto& [choice, name] : names_of(Choice{}))
        if (name == wanted) return choice;
    return std::nullopt;
}

// One each_key for const and plain values: Of<Value> is what remains without const.
template <typename Value, typename Plain>
concept Of = std::same_as<std::remove_const_t<Value>, Plain>;

template <typename Keys, typename Path>
void path_keys(Keys&& keys, Path& path) {
    keys.angle("graft_deg", path.graft_deg);
    keys.angle("host_deg", path.host_deg);
    keys("graft_skew_mm", path.graft_skew_mm);
    keys("host_skew_mm", path.host_skew_mm);
    keys("graft_bite_mm", path.graft_bite_mm);
    keys("host_bite_mm", path.host_bite_mm);
    keys("graft_depth_um", path.graft_depth_um);
    keys("host_depth_um", path.host_depth_um);
    keys("graft_entry_deg", path.graft_entry_deg);
    keys("host_exit_deg", path.host_exit_deg);
}
template <typename Keys, Of<Bite> B>
void each_key(Keys&& keys, B& bite) {
    path_keys(keys, bite);
    keys("tension_mN", bite.tension_mN);
    keys("throws", bite.throws);
    keys("removed", bite.removed);
    keys("removed_after", bite.removed_after);
}
template <typename Keys, Of<RunBite> B>
void each_key(Keys&& keys, B& bite) {
    path_keys(keys, bite);
}
template <typename Keys, Of<Run> R>
void each_key(Keys&& keys, R& run) {
    keys("bites", run.bites);
    keys("tension_mN", run.tension_mN);
    keys("friction", run.friction);
    keys("worked_mN", run.worked_mN);
}
// Without the events: their free keys make them a matter of their own.
template <typename Keys, Of<Attempt> A>
void each_key(Keys&& keys, A& attempt) {
    keys("scenario", attempt.scenario);
    keys("trainee", attempt.trainee);
    keys("started", attempt.started);
    keys("bites", attempt.bites);
    keys("runs", attempt.runs);
    keys("events_version", attempt.events_version);
}
template <typename Keys, Of<Eye> E>
void each_key(Keys&& keys, E& eye) {
    keys("side", eye.side);
    keys("bed_diameter_mm", eye.bed_diameter_mm);
    keys("bed_ovality_mm", eye.bed_ovality_mm);
    keys.angle("bed_ovality_axis_deg", eye.bed_ovality_axis_deg);
    keys("bed_shift_mm", eye.bed_shift_mm);
    keys("rim_thickness_um", eye.rim_thickness_um);
    keys("limbus_diameter_mm", eye.limbus_diameter_mm);
    keys("anterior_radius_mm", eye.anterior_radius_mm);
    keys("modulus_kPa", eye.modulus_kPa);
    keys("pressure_mmHg", eye.pressure_mmHg);
}
template <typename Keys, Of<Graft> G>
void each_key(Keys&& keys, G& graft) {
    keys("diameter_mm", graft.diameter_mm);
    keys("ovality_mm", graft.ovality_mm);
    keys.angle("ovality_axis_deg", graft.ovality_axis_deg);
    keys("thickness_um", graft.thickness_um);
    keys("modulus_kPa", graft.modulus_kPa);
}
template <typename Keys, Of<ThreadSpec> T>
void each_key(Keys&& keys, T& thread) {
    keys("diameter_um", thread.diameter_um);
    keys("modulus_GPa", thread.modulus_GPa);
    keys("break_mN", thread.break_mN);
}
template <typename Keys, Of<Start> S>
void each_key(Keys&& keys, S& start) {
    keys("bites", start.bites);
    keys("runs", start.runs);
}
template <typename Keys, Of<Hand> H>
void each_key(Keys&& keys, H& hand) {
    keys("tremor_um", hand.tremor_um);
    keys("aids", hand.aids);
    keys("lesson", hand.lesson);
}
template <typename Keys, Of<Task> T>
void each_key(Keys&& keys, T& task) {
    keys("pattern", task.pattern);
    keys("bites", task.bites);
    keys("time_limit_s", task.time_limit_s);
    keys("hand", task.hand);
}
template <typename Keys, Of<PassMarks> P>
void each_key(Keys&& keys, P& pass) {
    keys("cylinder_D", pass.cylinder_D);
    keys("flattening_D", pass.flattening_D);
    keys("leak_pressure_mmHg", pass.leak_pressure_mmHg);
    keys("hoa_rms_um", pass.hoa_rms_um);
    keys("step_um", pass.step_um);
    keys("posterior_gape_um", pass.posterior_gape_um);
    keys("least_depth_fraction", pass.least_depth_fraction);
    keys("most_depth_fraction", pass.most_depth_fraction);
    keys("depth_difference", pass.depth_difference);
    keys("least_bite_mm", pass.least_bite_mm);
    keys("most_bite_mm", pass.most_bite_mm);
    keys("radial_error_deg", pass.radial_error_deg);
    keys("spacing_error_deg", pass.spacing_error_deg);
    keys("opposite_error_deg", pass.opposite_error_deg);
    keys("tension_range", pass.tension_range);
    keys("trauma_count", pass.trauma_count);
}
template <typename Keys, Of<Scenario> S>
void each_key(Keys&& keys, S& scenario) {
    keys("id", scenario.id);
    keys("title", scenario.title);
    keys("briefing", scenario.briefing);
    keys("teaches", scenario.teaches);
    keys("kind", scenario.kind);
    keys("order", scenario.order);
    keys("eye", scenario.eye);
    keys("graft", scenario.graft);
    keys("thread", scenario.thread);
    keys("start", scenario.start);
    keys("task", scenario.task);
    keys("pass", scenario.pass);
}
template <typename Keys, Of<HandInput> H>
void each_key(Keys&& keys, H& input) {
    keys("t_s", input.t_s);
    keys("do", input.what);
    keys("x", input.x);
    keys("y", input.y);
    keys("button", input.button);
    keys("notches", input.notches);
    keys("key", input.key);
    keys("times", input.times);
}
template <typename Keys, Of<HandRecord> H>
void each_key(Keys&& keys, H& hand) {
    keys("scenario", hand.scenario);
    keys("trainee", hand.trainee);
    keys("started", hand.started);
    keys("left_handed", hand.left_handed);
    keys("examiner_view", hand.examiner_view);
    keys("events", hand.events);
}
template <typename Keys, Of<RingSclera> S>
void each_key(Keys&& keys, S& sclera) {
    keys("R_mm", sclera.R_mm);
    keys("t_mm", sclera.t_mm);
    keys("E_MPa", sclera.E_MPa);
}
template <typename Keys, Of<RingBite> B>
void each_key(Keys&& keys, B& bite) {
    keys.angle("deg", bite.deg);
    keys("graft_mm", bite.graft_mm);
    keys("host_mm", bite.host_mm);
    keys("depth_fraction", bite.depth_fraction);
    keys("tension_mN", bite.tension_mN);
    keys("host_deg", bite.host_deg);
    keys("host_depth_fraction", bite.host_depth_fraction);
    keys("graft_skew_mm", bite.graft_skew_mm);
    keys("host_skew_mm", bite.host_skew_mm);
}
template <typename Keys, Of<RingCase> C>
void each_key(Keys&& keys, C& ring) {
    keys("R_mid_mm", ring.R_mid_mm);
    keys("t_graft_mm", ring.t_graft_mm);
    keys("t_rim_mm", ring.t_rim_mm);
    keys("E_MPa", ring.E_MPa);
    keys("nu", ring.nu);
    keys("wound_r_mm", ring.wound_r_mm);
    keys("limbus_r_mm", ring.limbus_r_mm);
    keys("sclera", ring.sclera);
    keys("kc_MPa_per_mm", ring.kc_MPa_per_mm);
    keys("kt_MPa_per_mm", ring.kt_MPa_per_mm);
    keys("interference_mm", ring.interference_mm);
    keys("pressure_mmHg", ring.pressure_mmHg);
    keys("stiffening", ring.stiffening);
    keys("bites", ring.bites);
}

}  // namespace graftwright
