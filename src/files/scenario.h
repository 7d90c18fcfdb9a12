// A scenario: the eye, the donor button, the thread, the task and the marks to pass.
//
// One struct per object of the file, one member per key, under the key's own name (so in the file's
// interface units: mm, µm, mN, kPa, mmHg, degrees, dioptres). The initial value of a member is the
// value that a missing optional key takes. Ranges and reasons: levels/FORMAT.md.
// Angles counter-clockwise as an examiner facing the eye sees them, 0° = 3 o'clock, 90° = 12
// o'clock. Holds what the file says, checks nothing and computes nothing: see reader.h.
#pragma once

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "files/attempt.h"

namespace graftwright {

enum class ScenarioKind { closure, depth, radial, opposite, tension, read_rings, find_leak, remove };
enum class Side { right, left };  // only names the nasal and temporal halves
enum class Pattern { interrupted, running, double_running, combined };

struct Eye {
    Side side = Side::right;
    double bed_diameter_mm = 7.75;                 // mean of the long and the short diameter
    double bed_ovality_mm = 0.0;                   // long minus short diameter
    double bed_ovality_axis_deg = 0.0;             // direction of the long diameter
    std::array<double, 2> bed_shift_mm{0.0, 0.0};  // x toward 0°, y toward 90°, from the pupil's centre
    double rim_thickness_um = 620.0;
    double limbus_diameter_mm = 11.8;
    double anterior_radius_mm = 7.8;
    double modulus_kPa = 1000.0;
    double pressure_mmHg = 15.0;
    friend bool operator==(const Eye&, const Eye&) = default;
};

struct Graft {
    double diameter_mm = 8.0;     // mean of the long and the short diameter
    double ovality_mm = 0.0;      // long minus short diameter
    double ovality_axis_deg = 0;  // in the donor's own frame, its 12-o'clock mark at 90
    double thickness_um = 550.0;
    double modulus_kPa = 1000.0;
    friend bool operator==(const Graft&, const Graft&) = default;
};

struct ThreadSpec {
    double diameter_um = 25.0;
    double modulus_GPa = 2.5;
    double break_mN = 190.0;
    friend bool operator==(const ThreadSpec&, const ThreadSpec&) = default;
};

// What is already in place when the level opens.
struct Start {
    std::vector<Bite> bites;
    std::vector<Run> runs;
    friend bool operator==(const Start&, const Start&) = default;
};

// What a level shows, or allows, beside the eye itself.
enum class Aid { clock, depth, tension, rings, numbers, twin, undo };

struct Hand {
    double tremor_um = 0.0;
    std::vector<Aid> aids{Aid::clock, Aid::depth, Aid::tension, Aid::rings, Aid::numbers, Aid::twin, Aid::undo};
    bool lesson = false;  // the controls are taught step by step, each waiting for the hand
    [[nodiscard]] bool has(Aid aid) const { return std::find(aids.begin(), aids.end(), aid) != aids.end(); }
    friend bool operator==(const Hand&, const Hand&) = default;
};

struct Task {
    Pattern pattern = Pattern::interrupted;
    int bites = 16;
    std::optional<double> time_limit_s;  // empty: no limit
    Hand hand;
    friend bool operator==(const Task&, const Task&) = default;
};

// Limits to meet; an empty one is not asked. The first five and the gape are the wound's, the others the
// hand's: they look at the bites that the hand laid, those of the level's start excepted.
struct PassMarks {
    std::optional<double> cylinder_D = 3.0;
    std::optional<double> flattening_D = 3.0;
    std::optional<double> leak_pressure_mmHg = 30.0;
    std::optional<double> hoa_rms_um;
    std::optional<double> step_um = 60.0;
    std::optional<double> posterior_gape_um{};
    std::optional<double> least_depth_fraction{};  // of the local thickness, both sides
    std::optional<double> most_depth_fraction{};
    std::optional<double> depth_difference{};  // donor against host, of the thickness
    std::optional<double> least_bite_mm{};     // both sides
    std::optional<double> most_bite_mm{};
    std::optional<double> radial_error_deg{};
    std::optional<double> spacing_error_deg{};
    std::optional<double> opposite_error_deg{};  // against the bite across, the larger at the two edges
    std::optional<double> tension_range{};       // as locked, largest less smallest over the median
    std::optional<double> trauma_count{};        // trauma, iris caught, endothelial touch
    friend bool operator==(const PassMarks&, const PassMarks&) = default;
};

struct Scenario {
    std::string id;  // required in a file
    std::string title;
    std::string briefing;
    std::vector<std::string> teaches;
    ScenarioKind kind = ScenarioKind::closure;
    int order = 10;  // place in the course
    Eye eye;
    Graft graft;
    ThreadSpec thread;
    Start start;
    Task task;
    PassMarks pass;
    friend bool operator==(const Scenario&, const Scenario&) = default;
};

}  // namespace graftwright
