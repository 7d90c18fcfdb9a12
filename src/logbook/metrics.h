// What a logbook keeps of an attempt as numbers: names, units and which way is better.
//
// One table; the columns of the database, the exports and the curves all follow it. A number that an attempt
// does not have (no closure, nothing asked) is empty, never zero. Append only: columns are stored by name.
#pragma once

#include <array>
#include <cstddef>
#include <optional>

#include "base/words.h"

namespace graftwright {

enum class Metric : std::size_t {
    total,
    optics,
    seal,
    apposition,
    technique,
    optics_of,  // what the part could have earned in this scenario
    seal_of,
    apposition_of,
    technique_of,
    cylinder_D,
    steep_axis_deg,
    mean_D,
    flattening_D,  // ideal mean − mean
    hoa_rms_um,
    leak_pressure_mmHg,
    max_step_um,
    max_posterior_gape_um,
    ideal_cylinder_D,
    ideal_leak_pressure_mmHg,
    depth_mean,          // of both sides, as a fraction of the thickness
    depth_spread,        // standard deviation of the same
    spacing_spread_deg,  // standard deviation of the distance to the even slots
    radial_error_deg,    // root mean square
    tension_spread,      // standard deviation over mean of the single bites, chamber filled
    count
};
inline constexpr std::size_t kMetricCount = static_cast<std::size_t>(Metric::count);

using Measures = std::array<std::optional<double>, kMetricCount>;

[[nodiscard]] inline std::optional<double>& at(Measures& m, Metric which) { return m[static_cast<std::size_t>(which)]; }
[[nodiscard]] inline const std::optional<double>& at(const Measures& m, Metric which) {
    return m[static_cast<std::size_t>(which)];
}

enum class Better { higher, lower, neither };

struct MetricInfo {
    Metric metric;
    const char* column;  // in the database, in CSV and in JSON
    const char* name;
    Unit unit;
    Better better;
    int decimals;
    bool curve;  // a trainee's page draws it
};

inline constexpr std::array<MetricInfo, kMetricCount> kMetrics{{
    {Metric::total, "total", "score", Unit::of_100, Better::higher, 0, true},
    {Metric::optics, "optics", "optics", Unit::points, Better::higher, 1, true},
    {Metric::seal, "seal", "seal", Unit::points, Better::higher, 1, true},
    {Metric::apposition, "apposition", "apposition", Unit::points, Better::higher, 1, true},
    {Metric::technique, "technique", "technique", Unit::points, Better::higher, 1, true},
    {Metric::optics_of, "optics_of", "optics, of", Unit::points, Better::neither, 1, false},
    {Metric::seal_of, "seal_of", "seal, of", Unit::points, Better::neither, 1, false},
    {Metric::apposition_of, "apposition_of", "apposition, of", Unit::points, Better::neither, 1, false},
    {Metric::technique_of, "technique_of", "technique, of", Unit::points, Better::neither, 1, false},
    {Metric::cylinder_D, "cylinder_D", "cylinder", Unit::dioptre, Better::lower, 2, true},
    {Metric::steep_axis_deg, "steep_axis_deg", "steep axis", Unit::degree, Better::neither, 0, false},
    {Metric::mean_D, "mean_D", "mean power", Unit::dioptre, Better::neither, 2, false},
    {Metric::flattening_D, "flattening_D", "flattening", Unit::dioptre, Better::neither, 2, true},
    {Metric::hoa_rms_um, "hoa_rms_um", "irregularity", Unit::um_rms, Better::lower, 2, true},
    {Metric::leak_pressure_mmHg, "leak_pressure_mmHg", "leak pressure", Unit::mmHg, Better::higher, 1, true},
    {Metric::max_step_um, "max_step_um", "largest step", Unit::um, Better::lower, 0, true},
    {Metric::max_posterior_gape_um, "max_posterior_gape_um", "posterior gape", Unit::um, Better::lower, 0, true},
    {Metric::ideal_cylinder_D, "ideal_cylinder_D", "ideal cylinder", Unit::dioptre, Better::neither, 2, false},
    {Metric::ideal_leak_pressure_mmHg, "ideal_leak_pressure_mmHg", "ideal leak pressure", Unit::mmHg, Better::neither,
     1, false},
    {Metric::depth_mean, "depth_mean", "mean depth", Unit::of_thickness, Better::neither, 3, true},
    {Metric::depth_spread, "depth_spread", "spread of depth", Unit::of_thickness, Better::lower, 3, true},
    {Metric::spacing_spread_deg, "spacing_spread_deg", "spread of spacing", Unit::degree, Better::lower, 2, true},
    {Metric::radial_error_deg, "radial_error_deg", "off the radius", Unit::degree_rms, Better::lower, 2, true},
    {Metric::tension_spread, "tension_spread", "spread of tension", Unit::of_its_mean, Better::lower, 3, true},
}};

[[nodiscard]] constexpr const MetricInfo& info(Metric which) { return kMetrics[static_cast<std::size_t>(which)]; }

}  // namespace graftwright
