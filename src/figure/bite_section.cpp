#include "figure/bite_section.h"

#include <algorithm>

#include "base/angle.h"
#include "base/units.h"
#include "closure/bite_path.h"
#include "score/bite_metrics.h"
#include "score/even_pattern.h"

namespace graftwright {

WoundAtBite wound_at(const std::vector<SealPlace>& profile, double deg) {
    if (profile.empty()) return {};
    const auto nearest = std::min_element(profile.begin(), profile.end(), [&](const SealPlace& a, const SealPlace& b) {
        return apart_deg(a.deg, deg) < apart_deg(b.deg, deg);
    });
    return {mm_from_um(nearest->step_um), mm_from_um(nearest->posterior_gape_um)};
}

BiteSection bite_section(const Scenario& scenario, const OrderedBite& bite, const WoundAtBite& wound, double half_mm) {
    constexpr int kSpans = 12;
    const double donor = mm_from_um(scenario.graft.thickness_um), host = mm_from_um(scenario.eye.rim_thickness_um);
    const double front = wound.step;  // the host's
    BiteSection cut;
    cut.donor = {{-half_mm, 0}, {0, 0}, {0, -donor}, {-half_mm, -donor}};
    cut.host = {{half_mm, front}, {0, front}, {wound.gape, front - host}, {half_mm, front - host}};
    for (std::size_t k = 0; k < 2; ++k) {
        const double share = k == 0 ? kShallowest.value : kDeepest.value;
        cut.taught[2 * k] = {{-half_mm, -share * donor}, {0, -share * donor}};
        cut.taught[2 * k + 1] = {{0, front - share * host}, {half_mm, front - share * host}};
    }
    for (const SectionPoint& p : needle_section(bite.graft_bite_mm, mm_from_um(bite.graft_depth_um),
                                                rad_from_deg(bite.graft_entry_deg), kSpans)) {
        cut.thread.push_back({-bite.graft_bite_mm * (1 - p.along), -p.depth});
    }
    auto way_out =
        needle_section(bite.host_bite_mm, mm_from_um(bite.host_depth_um), rad_from_deg(bite.host_exit_deg), kSpans);
    std::reverse(way_out.begin(), way_out.end());
    for (const SectionPoint& p : way_out) cut.thread.push_back({bite.host_bite_mm * (1 - p.along), front - p.depth});
    if (!bite.run) cut.strand = {cut.thread.front(), {0, 0}, {0, front}, cut.thread.back()};
    return cut;
}

}  // namespace graftwright
