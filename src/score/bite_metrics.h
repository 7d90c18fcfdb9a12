// What each bite looks like to a teacher with a ruler, and the limits it is held to.
//
// Every limit carries its source in words that are shown: what was published where, "common practice" where the
// trade says so without a source, "our choice" where we had to draw a line. Rows of levels/SOURCES.md: T3-31, T3-32
// (AAO BCSC and what else is taught), T8-01 (the Br J Ophthalmol table), T8-12 (geometry on it), T8-13 (no limit
// found).
#pragma once

#include <algorithm>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "files/scenario.h"
#include "score/bites_in_order.h"

namespace graftwright {

struct Limit {
    double value;
    const char* source;
};

// Depth as a fraction of the local thickness.
inline constexpr Limit kShallowest{0.85,
                                   "AAO BCSC and teaching pages: 0.90–0.95 best, 80–95 % taught; 0.85 our choice"};
inline constexpr Limit kDeepest{0.95, "AAO BCSC: 95 % of the thickness, not through"};
inline constexpr Limit kDepthMismatch{0.10, "our choice; equal depth on both sides is common practice"};
// Along the surface, each side, mm.
inline constexpr Limit kShortest{0.75, "Br J Ophthalmol table: 0.75–1.25 mm"};
inline constexpr Limit kLongest{1.25, "Br J Ophthalmol table: 0.75–1.25 mm"};
inline constexpr Limit kLengthRange{0.25, "Br J Ophthalmol table: longest − shortest ≤ 0.25 mm"};
inline constexpr Limit kSpacingRange{0.25, "Br J Ophthalmol table: widest − narrowest ≤ 0.25 mm"};
inline constexpr Limit kDepthRange{0.10, "Br J Ophthalmol table: deepest − shallowest ≤ 0.10 of the thickness"};
// Host bite over graft bite: equal or slightly longer.
inline constexpr Limit kLeastRatio{0.9, "common practice, no source: host equal or slightly longer"};
inline constexpr Limit kMostRatio{1.35, "common practice, no source; 1.25/1.0 mm our upper end"};
inline constexpr Limit kRadialError_deg{5.0, "our choice (no published limit found)"};
inline constexpr Limit kSpacingError_deg{3.6, "Br J Ophthalmol table: 0.25 mm of spacing, 3.6° on an 8 mm circle"};
inline constexpr Limit kTensionRange{0.4, "our choice; even tension is common practice, no source"};
// Final tension over the median of its pattern (the single bites, or the run).
inline constexpr Limit kLoose{0.5, "our choice"};
inline constexpr Limit kTight{1.5, "our choice"};

// What is wrong with a bite, in the order in which it is said. loose, tight and would_break (the filled chamber's
// tension against the thread's strength) are known once the closure is solved.
enum class BiteFlag {
    removed,
    enters_chamber,
    shallow_graft,
    shallow_host,
    deep_graft,
    deep_host,
    depths_differ,
    short_graft,
    short_host,
    long_graft,
    long_host,
    ratio,
    not_radial,
    off_slot,
    would_break,
    loose,
    tight
};

// What a flag says to people: the limit it stands for and where that comes from.
struct FlagMeaning {
    BiteFlag flag;
    const char* name;   // in files, "not-radial"
    const char* words;  // "not radial"
    std::string limit;  // "at most 5° off the radius"; "" where the flag is a fact and no limit
    const char* source;
};
// Of every flag, in their order.
[[nodiscard]] const std::vector<FlagMeaning>& flag_meanings();
[[nodiscard]] const FlagMeaning& meaning_of(BiteFlag flag);
// By its name in files; empty where none has it.
[[nodiscard]] std::optional<BiteFlag> flag_named(std::string_view name);
// The flags of a bite in those words, with commas.
[[nodiscard]] std::string flags_words(const std::vector<BiteFlag>& flags);

struct BiteMetrics {
    double depth_fraction_graft = 0.0, depth_fraction_host = 0.0;
    double radial_error_deg = 0.0;   // chord entry → exit against the radius, + counter-clockwise
    double spacing_error_deg = 0.0;  // host_deg − its slot
    double bite_ratio = 0.0;         // host / graft
    std::vector<BiteFlag> flags;     // in their order

    [[nodiscard]] bool has(BiteFlag flag) const { return std::find(flags.begin(), flags.end(), flag) != flags.end(); }
    [[nodiscard]] bool has_any(std::initializer_list<BiteFlag> of) const {
        return std::any_of(of.begin(), of.end(), [&](BiteFlag flag) { return has(flag); });
    }
};

// tension_mN: final, by bite; empty: not known.
[[nodiscard]] std::vector<BiteMetrics> bite_metrics(const Scenario& scenario, const std::vector<OrderedBite>& bites,
                                                    const std::vector<double>& tension_mN);
// The same of single bites alone.
[[nodiscard]] std::vector<BiteMetrics> bite_metrics(const Scenario& scenario, const std::vector<Bite>& bites,
                                                    const std::vector<double>& tension_mN);

// Distances (mm) between neighbouring bites of one pattern along the bed's mean circle, in order of angle, closing
// the circle. Removed bites do not count.
[[nodiscard]] std::vector<double> spacings_mm(const Scenario& scenario, const std::vector<Bite>& bites);

}  // namespace graftwright
