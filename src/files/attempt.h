// An attempt: what a hand did in one scenario, bite by bite.
//
// One struct per object of the file, one member per key, under the key's own name and in the file's
// interface units. `bites` lists every bite in the eye in tying order, a level's starting bites
// first; a removed bite was tied in its place in the order and cut out when `removed_after` bites
// had been tied (0: after the last knot). Runs
// are tied after the bites, in order. Angles counter-clockwise, 0° = 3 o'clock, 90° = 12 o'clock;
// after reading they lie in [0, 360). Ranges and reasons: levels/FORMAT.md. Holds what the file
// says, checks nothing and computes nothing: see reader.h.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace graftwright {

// The thread's way through both edges at one place.
struct BitePath {
    double graft_deg = 90.0;      // where the path crosses the donor's edge, in the donor's own frame
    double host_deg = 90.0;       // where it crosses the host's edge
    double graft_skew_mm = 0.0;   // sideways offset of the entry from the radial line, + counter-clockwise
    double host_skew_mm = 0.0;    // the same for the exit
    double graft_bite_mm = 1.1;   // along the surface, wound to entry
    double host_bite_mm = 1.1;    // along the surface, wound to exit
    double graft_depth_um = 500;  // at the wound face, from the front; the thickness = through and through
    double host_depth_um = 560;
    double graft_entry_deg = 90;  // path against the surface; 90 = quarter ellipse, atan(depth/bite) =
    double host_exit_deg = 90;    // straight, anything flatter is taken as straight
    friend bool operator==(const BitePath&, const BitePath&) = default;
};

// An interrupted bite: one loop with its own knot.
struct Bite : BitePath {
    double tension_mN = 15.0;      // what the lock kept
    std::string throws = "3-1-1";  // turns of each throw of the knot
    bool removed = false;
    int removed_after = 0;         // cut out when this many bites had been tied; 0: after the last knot
    friend bool operator==(const Bite&, const Bite&) = default;
};

// A bite of a running thread: no tension and no knot of its own.
struct RunBite : BitePath {
    friend bool operator==(const RunBite&, const RunBite&) = default;
};

// A closed running thread, in lay order; the knot lies between the last and the first bite.
struct Run {
    std::vector<RunBite> bites;
    double tension_mN = 12.0;  // at the knot
    double friction = 0.1;     // thread against tissue
    // Tension at which the slack was worked round the wound, span by span toward the knot, before the knot was
    // tied; empty: at tension_mN; 0: not at all, the thread was drawn at its ends alone.
    std::optional<double> worked_mN{};
    friend bool operator==(const Run&, const Run&) = default;
};

// One line of the timed hand record. Scoring counts the whats "trauma", "iris_caught" and
// "endothelial_touch"; every other what and key is kept as it came.
struct Event {
    double t_s = 0.0;  // since the start of the attempt
    std::string what;
    std::string detail_json;  // the event's other keys as one JSON object, "" where it has none
    friend bool operator==(const Event&, const Event&) = default;
};

struct Attempt {
    std::string scenario = "sixteen";  // id of a shipped level, or of one next to the attempt file
    std::string trainee;
    std::string started;  // ISO 8601 by custom; a label, never interpreted
    std::vector<Bite> bites;
    std::vector<Run> runs;
    int events_version = 1;  // shape of the records below
    std::vector<Event> events;
    friend bool operator==(const Attempt&, const Attempt&) = default;
};

}  // namespace graftwright
