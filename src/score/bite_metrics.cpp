#include "score/bite_metrics.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "base/statistics.h"
#include "base/units.h"
#include "score/ideal_twin.h"
#include "score/scenario_model.h"

namespace graftwright {
namespace {

double radial_error_deg(const Scenario& scenario, const Bite& bite, double turn) {
    const double wound = 0.5 * scenario.eye.bed_diameter_mm;
    const double inner = wound - bite.graft_bite_mm, outer = wound + bite.host_bite_mm;
    const double host = rad_from_deg(bite.host_deg);
    const double graft = host + turn_between_rad(host, rad_from_deg(bite.graft_deg) + turn);
    const double entry = graft + bite.graft_skew_mm / inner, exit = host + bite.host_skew_mm / outer;
    const double x = outer * std::cos(exit) - inner * std::cos(entry),
                 y = outer * std::sin(exit) - inner * std::sin(entry);
    return deg_from_rad(turn_between_rad(0.5 * (graft + host), std::atan2(y, x)));
}

}  // namespace

std::vector<BiteMetrics> bite_metrics(const Scenario& scenario, const std::vector<OrderedBite>& bites,
                                      const std::vector<double>& tension_mN) {
    const double turn = donor_turn(bites);
    const std::vector<double> slots = slots_deg(bites);
    std::vector<double> usual_tension(bites.size(), 0.0);  // of each bite's pattern
    if (!tension_mN.empty()) {
        for (const std::vector<std::size_t>& pattern : patterns_in_eye(bites)) {
            std::vector<double> tensions;
            for (const std::size_t b : pattern) tensions.push_back(tension_mN[b]);
            for (const std::size_t b : pattern) usual_tension[b] = median(tensions);
        }
    }
    std::vector<BiteMetrics> all;
    for (std::size_t b = 0; b < bites.size(); ++b) {
        const OrderedBite& bite = bites[b];
        BiteMetrics m;
        m.depth_fraction_graft = bite.graft_depth_um / scenario.graft.thickness_um;
        m.depth_fraction_host = bite.host_depth_um / scenario.eye.rim_thickness_um;
        m.radial_error_deg = radial_error_deg(scenario, bite, turn);
        m.spacing_error_deg = turn_between_deg(slots[b], bite.host_deg);
        m.bite_ratio = bite.host_bite_mm / bite.graft_bite_mm;
        const auto flag = [&](bool raised, BiteFlag which) {
            if (raised) m.flags.push_back(which);
        };
        flag(bite.removed, BiteFlag::removed);
        flag(m.depth_fraction_graft >= 1.0 || m.depth_fraction_host >= 1.0, BiteFlag::enters_chamber);
        flag(m.depth_fraction_graft < kShallowest.value, BiteFlag::shallow_graft);
        flag(m.depth_fraction_host < kShallowest.value, BiteFlag::shallow_host);
        flag(m.depth_fraction_graft > kDeepest.value, BiteFlag::deep_graft);
        flag(m.depth_fraction_host > kDeepest.value, BiteFlag::deep_host);
        flag(std::abs(m.depth_fraction_graft - m.depth_fraction_host) > kDepthMismatch.value, BiteFlag::depths_differ);
        flag(bite.graft_bite_mm < kShortest.value, BiteFlag::short_graft);
        flag(bite.host_bite_mm < kShortest.value, BiteFlag::short_host);
        flag(bite.graft_bite_mm > kLongest.value, BiteFlag::long_graft);
        flag(bite.host_bite_mm > kLongest.value, BiteFlag::long_host);
        flag(m.bite_ratio < kLeastRatio.value || m.bite_ratio > kMostRatio.value, BiteFlag::ratio);
        flag(std::abs(m.radial_error_deg) > kRadialError_deg.value, BiteFlag::not_radial);
        flag(std::abs(m.spacing_error_deg) > kSpacingError_deg.value, BiteFlag::off_slot);
        if (!tension_mN.empty() && !bite.removed) flag(tension_mN[b] > scenario.thread.break_mN, BiteFlag::would_break);
        if (!tension_mN.empty() && !bite.removed && usual_tension[b] > 0.0) {
            flag(tension_mN[b] < kLoose.value * usual_tension[b], BiteFlag::loose);
            flag(tension_mN[b] > kTight.value * usual_tension[b], BiteFlag::tight);
        }
        all.push_back(std::move(m));
    }
    return all;
}

std::vector<BiteMetrics> bite_metrics(const Scenario& scenario, const std::vector<Bite>& bites,
                                      const std::vector<double>& tension_mN) {
    return bite_metrics(scenario, bites_in_order(bites), tension_mN);
}

std::vector<double> spacings_mm(const Scenario& scenario, const std::vector<Bite>& bites) {
    std::vector<double> angles;
    for (const Bite& bite : bites) {
        if (!bite.removed) angles.push_back(bite.host_deg);
    }
    std::sort(angles.begin(), angles.end());
    std::vector<double> spacings;
    for (std::size_t k = 0; k < angles.size(); ++k) {
        const double next = k + 1 < angles.size() ? angles[k + 1] : angles.front() + 360.0;
        spacings.push_back(rad_from_deg(next - angles[k]) * 0.5 * scenario.eye.bed_diameter_mm);
    }
    return spacings;
}

}  // namespace graftwright
