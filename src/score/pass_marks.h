// What an attempt has to reach: each mark's name, unit and sense in one table, and a mark as it was measured.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/words.h"

namespace graftwright {

enum class Mark {
    cylinder,
    flattening,
    leak_pressure,
    irregularity,
    step,
    posterior_gape,
    // the hand's
    least_depth,
    greatest_depth,
    depth_difference,
    shortest_bite,
    longest_bite,
    off_radius,
    off_mark,
    off_opposite,
    tension_range,
    harms,
    // a drill's
    bites_in_place,
    cylinder_over_best,
    off_weakest_place,
    leak_after_repair,
    cylinder_after_repair,
    leak_after_removal,
    cylinder_after_removal
};

struct MarkInfo {
    Mark mark;
    const char* name;
    Unit unit;
    bool at_least;  // true: measured must reach the limit; false: must not exceed it
};
inline constexpr std::array<MarkInfo, 23> kMarks{{
    {Mark::cylinder, "cylinder", Unit::dioptre, false},
    {Mark::flattening, "flattening", Unit::dioptre, false},
    {Mark::leak_pressure, "leak pressure", Unit::mmHg, true},
    {Mark::irregularity, "irregularity", Unit::um, false},
    {Mark::step, "step", Unit::um, false},
    {Mark::posterior_gape, "posterior gape", Unit::um, false},
    {Mark::least_depth, "least depth", Unit::of_the_thickness, true},
    {Mark::greatest_depth, "greatest depth", Unit::of_the_thickness, false},
    {Mark::depth_difference, "depth, donor against host", Unit::of_the_thickness, false},
    {Mark::shortest_bite, "shortest bite", Unit::mm, true},
    {Mark::longest_bite, "longest bite", Unit::mm, false},
    {Mark::off_radius, "off the radius", Unit::degree, false},
    {Mark::off_mark, "off its mark", Unit::degree, false},
    {Mark::off_opposite, "off opposite", Unit::degree, false},
    {Mark::tension_range, "tension as locked, range over the median", Unit::none, false},
    {Mark::harms, "trauma, iris caught, endothelial touch", Unit::none, false},
    {Mark::bites_in_place, "bites in place", Unit::none, true},
    {Mark::cylinder_over_best, "cylinder more than with the best bite", Unit::dioptre, false},
    {Mark::off_weakest_place, "off the weakest place", Unit::degree, false},
    {Mark::leak_after_repair, "leak pressure after the repair", Unit::mmHg, true},
    {Mark::cylinder_after_repair, "cylinder after the repair", Unit::dioptre, false},
    {Mark::leak_after_removal, "leak pressure afterwards", Unit::mmHg, true},
    {Mark::cylinder_after_removal, "cylinder afterwards", Unit::dioptre, false},
}};

static_assert([] {
    for (std::size_t i = 0; i < kMarks.size(); ++i)
        if (kMarks[i].mark != static_cast<Mark>(i)) return false;
    return true;
}());  // in the order of the marks

[[nodiscard]] constexpr const MarkInfo& info(Mark mark) { return kMarks[static_cast<std::size_t>(mark)]; }

struct PassMark {
    Mark mark = Mark::cylinder;
    double limit = 0.0;
    double measured = 0.0;

    [[nodiscard]] std::string name() const { return info(mark).name; }
    [[nodiscard]] Unit unit() const { return info(mark).unit; }
    [[nodiscard]] bool at_least() const { return info(mark).at_least; }
    [[nodiscard]] bool met() const { return at_least() ? measured >= limit : measured <= limit; }
};

// A mark needs a limit that is asked and something that was measured.
inline void ask(std::vector<PassMark>& marks, Mark mark, std::optional<double> limit, std::optional<double> measured) {
    if (limit && measured) marks.push_back({mark, *limit, *measured});
}

}  // namespace graftwright
