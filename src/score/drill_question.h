// What a question drill asks, as plain data, and what is answered.
//
// The window draws the steps one after another (words, then the choices) and hands the picks back; it needs
// no rule of its own. Nothing here knows the right answer: drill.h works it out from the bites in place.
// Angles counter-clockwise, 0° = 3 o'clock; hours as an examiner facing the eye reads them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "files/scenario.h"

namespace graftwright {

// Bites count from 0, in tying order. What a drill does not ask stays empty.
struct DrillAnswer {
    std::optional<std::size_t> bite;   // read-rings: this one
    std::optional<bool> loosen;        // read-rings: true loosen, false tighten
    std::optional<double> at_deg;      // find-leak: it leaks here
    std::optional<std::size_t> retie;  // find-leak: cut out this bite and lay it anew
    std::optional<double> add_at_deg;  // find-leak: lay one more bite here
    std::optional<double> tension_mN;  // find-leak: of the new bite; empty: like the others
    std::vector<std::size_t> remove;   // remove: take these out
    friend bool operator==(const DrillAnswer&, const DrillAnswer&) = default;
};

struct DrillChoice {
    std::string label;
    double deg = 0.0;   // where on the eye it belongs, for drawing
    DrillAnswer means;  // this choice alone
};
struct DrillStep {
    std::string words;
    bool several = false;  // any number may be picked; otherwise one
    std::vector<DrillChoice> choices;
};
struct DrillQuestion {
    std::vector<DrillStep> steps;  // empty where the kind asks nothing
};

[[nodiscard]] bool asks_a_question(ScenarioKind kind);
[[nodiscard]] DrillQuestion drill_question(const Scenario& scenario);
// The picks (indices into the choices) of each step put together; picks out of range are left out.
[[nodiscard]] DrillAnswer answer_from(const DrillQuestion& question,
                                      const std::vector<std::vector<std::size_t>>& picked);

// An answer among an attempt's events, so that it is saved and judged again: what "answer" with the keys
// bite, sense ("loosen", "tighten"), at_deg, retie, add_at_deg, tension_mN, remove; bites from 1.
[[nodiscard]] Event answer_event(double t_s, const DrillAnswer& answer);
// The last answer of an attempt; empty where there is none.
[[nodiscard]] std::optional<DrillAnswer> answer_in(const Attempt& attempt);

}  // namespace graftwright
