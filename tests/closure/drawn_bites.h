// Bites drawn at random (rapidcheck), within what levels/FORMAT.md allows in the standard eye.
#pragma once

#include <algorithm>
#include <cstdint>
#include <rapidcheck.h>

#include "../scenes/closure_scenes.h"

namespace graftwright::drawn {

// Over the whole range from the first case on: rapidcheck's own ranges begin narrow.
[[nodiscard]] inline double between(double low, double high) {
    const auto step = *rc::gen::resize(rc::kNominalSize, rc::gen::inRange<std::int64_t>(0, std::int64_t{1} << 40));
    return low + (high - low) * static_cast<double>(step) / static_cast<double>(std::int64_t{1} << 40);
}

// Any bite of the format at about this place: skew to 2 mm, entry angles above 0, depth down to 1 µm, lengths
// as far as the donor's centre and the limbus allow.
[[nodiscard]] inline BiteGeometry any_bite(const WoundModel& model, double deg) {
    const double longest_donor = std::min(3.0, 0.9 * model.donor().meridian().outer_length());
    const double longest_host = std::min(3.0, model.host().meridian().outer_length());
    BiteGeometry bite;
    bite.donor_theta = rad_from_deg(deg);
    bite.host_theta = bite.donor_theta + rad_from_deg(between(-5.0, 5.0));
    bite.donor_skew = between(-2.0, 2.0);
    bite.host_skew = between(-2.0, 2.0);
    bite.donor_length = between(0.2, longest_donor);
    bite.host_length = between(0.2, longest_host);
    bite.donor_depth = between(1e-3, model.shape().donor_thickness);
    bite.host_depth = between(1e-3, model.shape().rim_thickness);
    bite.donor_entry = rad_from_deg(between(1.0, 90.0));
    bite.host_exit = rad_from_deg(between(1.0, 90.0));
    return bite;
}

// A bite of a hand that has practised, about half as good as the demonstrations'.
[[nodiscard]] inline BiteGeometry practised_bite(const WoundModel& model, double deg) {
    BiteGeometry bite;
    bite.donor_theta = rad_from_deg(deg + between(-3.0, 3.0));
    bite.host_theta = rad_from_deg(deg + between(-3.0, 3.0));
    bite.donor_skew = between(-0.2, 0.2);
    bite.host_skew = between(-0.2, 0.2);
    bite.donor_length = between(0.75, 1.4);
    bite.host_length = between(0.75, 1.4);
    bite.donor_depth = model.shape().donor_thickness * between(0.5, 1.0);
    bite.host_depth = model.shape().rim_thickness * between(0.5, 1.0);
    bite.donor_entry = rad_from_deg(between(60.0, 90.0));
    bite.host_exit = rad_from_deg(between(60.0, 90.0));
    return bite;
}

}  // namespace graftwright::drawn
