#include "leak/wound_test.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"

namespace graftwright {
namespace {

PointJumps jumps_of(const Closure& closure) { return closure.interface().at_points(closure.state().jump()); }

bool sealed_now(const Closure& closure) {
    return sealed(closure.interface(), jumps_of(closure), closure.state().pressure);
}

double weakest_deg(const Closure& closure) {
    const PointJumps jumps = jumps_of(closure);
    int weakest = 0;
    for (int j = 1; j < closure.interface().points(); ++j) {
        if (sealing_pressure(closure.interface(), jumps, j) < sealing_pressure(closure.interface(), jumps, weakest)) {
            weakest = j;
        }
    }
    return deg_from_rad(closure.interface().theta(weakest));
}

// Pressure at which inflow, outflow through the eye's own channels and leak balance.
bool settle_chamber(Closure& closure, const ClosureState& last_sealed, double scenario_mmHg, WoundTest& result) {
    const double venous_mmHg = scenario_mmHg - kInflow_uL_min / kOutflowFacility;
    const auto own_outflow = [&](double mmHg) { return kOutflowFacility * std::max(0.0, mmHg - venous_mmHg); };
    double low = result.leak_pressure_mmHg, high = scenario_mmHg;
    while (high - low > 0.01) {
        const double middle = 0.5 * (low + high);
        closure.restore(last_sealed);
        if (!closure.try_pressure(mpa_from_mmhg(middle))) return false;
        const double out =
            own_outflow(middle) + outflow_uL_min(closure.interface(), jumps_of(closure), closure.state().pressure);
        (out > kInflow_uL_min ? high : low) = middle;
    }
    result.settled_pressure_mmHg = 0.5 * (low + high);
    result.leak_uL_min = kInflow_uL_min - own_outflow(result.settled_pressure_mmHg);
    return true;
}

}  // namespace

double sealing_pressure(const WoundInterface& interface, const PointJumps& jumps, int point) {
    double best = 0.0;
    for (int k = 0; k < kFibres; ++k) best = std::max(best, interface.solid_pressure(jumps, point, k));
    return best;
}

bool sealed(const WoundInterface& interface, const PointJumps& jumps, double pressure) {
    for (int j = 0; j < interface.points(); ++j) {
        if (sealing_pressure(interface, jumps, j) < pressure) return false;
    }
    return true;
}

double film_flow(double width, double gap, double length, double pressure, double viscosity) {
    return width * gap * gap * gap * pressure / (12.0 * viscosity * length);
}

double outflow_uL_min(const WoundInterface& interface, const PointJumps& jumps, double pressure) {
    double flow = 0.0;
    for (int j = 0; j < interface.points(); ++j) {
        if (sealing_pressure(interface, jumps, j) >= pressure) continue;
        double resistance = 0.0;  // of the films in series, per unit of flow
        for (int k = 0; k < kFibres; ++k) {
            const double film = std::max(kThinnestFilm, interface.gap(jumps, j, k));
            resistance += 1.0 / film_flow(interface.arc(), film, interface.depth_weight(k), 1.0, kAqueousViscosity);
        }
        flow += pressure / resistance;
    }
    return 60.0 * flow;  // mm³/s to µL/min
}

std::vector<SealPlace> seal_profile(const Closure& closure) {
    const WoundInterface& interface = closure.interface();
    const PointJumps jumps = jumps_of(closure);
    const EyeShape& shape = closure.system().model().shape();
    std::vector<SealPlace> profile;
    for (int j = 0; j < interface.points(); ++j) {
        SealPlace place;
        place.deg = deg_from_rad(interface.theta(j));
        place.seal_mmHg = mmhg_from_mpa(sealing_pressure(interface, jumps, j));
        double least = interface.gap(jumps, j, 0);
        for (int k = 1; k < kFibres; ++k) least = std::min(least, interface.gap(jumps, j, k));
        place.gap_um = um_from_mm(std::max(0.0, least));
        place.step_um = um_from_mm(jumps(2, j) + 0.5 * (shape.rim_thickness - shape.donor_thickness));
        const double back = jumps(0, j) - 0.5 * interface.wall() * jumps(3, j) - interface.interference()[j];
        place.posterior_gape_um = um_from_mm(std::max(0.0, back));
        profile.push_back(place);
    }
    return profile;
}

bool test_wound(Closure& closure, double scenario_pressure_mmHg, WoundTest& result) {
    const double cap_mmHg = std::min(kLeakCap_mmHg, mmhg_from_mpa(closure.system().model().highest_pressure()));
    ClosureState last_sealed = closure.state();
    double low = 0.0, high = mmhg_from_mpa(kTyingPressure);
    // Up in steps until some place opens.
    for (;;) {
        if (!closure.try_pressure(mpa_from_mmhg(high))) return false;
        if (!sealed_now(closure)) break;
        last_sealed = closure.state();
        low = high;
        if (low >= cap_mmHg) {
            result.leak_pressure_mmHg = cap_mmHg;
            result.capped = true;
            result.weakest_deg = weakest_deg(closure);
            result.leak_uL_min = 0.0;
            result.settled_pressure_mmHg = scenario_pressure_mmHg;
            return true;
        }
        high = std::min(cap_mmHg, low + kFillStep_mmHg);
    }
    result.weakest_deg = weakest_deg(closure);
    while (high - low > kLeakResolution_mmHg) {
        const double middle = 0.5 * (low + high);
        closure.restore(last_sealed);
        if (!closure.try_pressure(mpa_from_mmhg(middle))) return false;
        if (sealed_now(closure)) {
            last_sealed = closure.state();
            low = middle;
        } else {
            result.weakest_deg = weakest_deg(closure);
            high = middle;
        }
    }
    result.leak_pressure_mmHg = low;
    if (low >= scenario_pressure_mmHg) {
        result.leak_uL_min = 0.0;
        result.settled_pressure_mmHg = scenario_pressure_mmHg;
        return true;
    }
    return settle_chamber(closure, last_sealed, scenario_pressure_mmHg, result);
}

}  // namespace graftwright
