// One finished attempt as the logbook keeps it: the file's own text, what it was scored to, and when.
//
// Units as in the formats: D, mmHg, µm, mN, degrees, fractions of the thickness. Times are UTC,
// "2026-03-01T09:30:00Z". No clock is read here: whoever enters an attempt says when that is.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "files/scenario.h"
#include "logbook/metrics.h"
#include "score/bite_metrics.h"
#include "score/scorecard.h"

namespace graftwright {

struct BiteRow {
    // In the order of bites_in_order, from 1; a level's own bites count but are no hand's, and have no row.
    int bite = 1;
    std::optional<double> tension_mN, share_D, share_axis_deg, share_leak_mmHg;
    std::optional<double> depth_fraction_graft, depth_fraction_host, radial_error_deg, spacing_error_deg, bite_ratio;
    std::string flags;  // by name, separated by spaces; another version's may be among them
    [[nodiscard]] bool removed() const { return flags.find(meaning_of(BiteFlag::removed).name) != std::string::npos; }
    friend bool operator==(const BiteRow&, const BiteRow&) = default;
};

// The numbers of a bite under their names in the database, in CSV and in JSON. Append only.
struct BiteField {
    const char* name;
    std::optional<double> BiteRow::*value;
};
inline constexpr std::array<BiteField, 9> kBiteFields{{
    {"tension_mN", &BiteRow::tension_mN},
    {"share_D", &BiteRow::share_D},
    {"share_axis_deg", &BiteRow::share_axis_deg},
    {"share_leak_mmHg", &BiteRow::share_leak_mmHg},
    {"depth_fraction_graft", &BiteRow::depth_fraction_graft},
    {"depth_fraction_host", &BiteRow::depth_fraction_host},
    {"radial_error_deg", &BiteRow::radial_error_deg},
    {"spacing_error_deg", &BiteRow::spacing_error_deg},
    {"bite_ratio", &BiteRow::bite_ratio},
}};

struct Entry {
    long long number = 0;       // given by the logbook that holds it
    std::string id;             // fingerprint of attempt text and scenario: the same attempt in any logbook
    std::string trainee;        // a label of the trainee's own choice, may be ""
    std::string scenario;       // the level's id …
    std::string scenario_hash;  // … and the fingerprint of all it says, so that a changed level is another
    std::string program;        // version that scored it
    std::string at_utc;         // the attempt's own `started` where it is UTC in ISO 8601, else when it was entered
    int bites = 0;
    bool converged = false;
    bool passed = false;
    Measures measures;
    std::string skills;  // letters_of(judge_skills(card))
    std::vector<BiteRow> per_bite;
    std::string attempt_text;
    friend bool operator==(const Entry&, const Entry&) = default;
};

struct EntryStamp {
    std::string program;      // version of this program
    std::string entered_utc;  // now
};

// A name that a logbook can't keep as it is (not UTF-8, control characters, more than 200 characters): why
// not, as a sentence; "" where it can.
[[nodiscard]] std::string name_fault(const std::string& trainee);

// The nearest name that can be kept: without what is not UTF-8, without control characters, cut where it is too long.
[[nodiscard]] std::string nearest_name(const std::string& wanted);

// attempt_text is the file that the attempt was read from. drill_passed: a drill's verdict (score/drill.h), which
// then says whether the attempt passed, and a drill
// has no total and no parts of one. A fault: a name that can't be kept.
[[nodiscard]] Result<Entry> make_entry(const Scenario& scenario, const Attempt& attempt,
                                       const std::string& attempt_text, const Scorecard& card, const EntryStamp& stamp,
                                       std::optional<bool> drill_passed = {});

}  // namespace graftwright
