#include "score/verification.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "base/units.h"
#include "leak/wound_test.h"
#include "optics/central_fit.h"
#include "optics/deformed_donor.h"

namespace graftwright {
namespace {

constexpr double kFitRadius = 1.6;  // mm

EyeShape ring_shape(const RingCase& ring) {
    EyeShape shape;
    shape.mid_radius = ring.R_mid_mm;
    shape.wound_radius = ring.wound_r_mm;
    shape.limbus_radius = ring.limbus_r_mm;
    shape.donor_thickness = ring.t_graft_mm;
    shape.rim_thickness = ring.t_rim_mm;
    shape.donor_modulus = shape.rim_modulus = ring.E_MPa;
    shape.poisson_ratio = ring.nu;
    shape.sclera_radius = ring.sclera.R_mm;
    shape.sclera_thickness = ring.sclera.t_mm;
    shape.sclera_modulus = ring.sclera.E_MPa;
    shape.pressure_stiffens = ring.stiffening;
    return shape;
}

}  // namespace

BiteGeometry ring_bite(const RingCase& ring, const RingBite& bite) {
    BiteGeometry geometry;
    geometry.host_theta = rad_from_deg(bite.host_deg.value_or(bite.deg));
    geometry.donor_theta = geometry.host_theta + turn_between_rad(geometry.host_theta, rad_from_deg(bite.deg));
    geometry.donor_skew = bite.graft_skew_mm;
    geometry.host_skew = bite.host_skew_mm;
    geometry.donor_length = bite.graft_mm;
    geometry.host_length = bite.host_mm;
    geometry.donor_depth = bite.depth_fraction * ring.t_graft_mm;
    geometry.host_depth = bite.host_depth_fraction.value_or(bite.depth_fraction) * ring.t_rim_mm;
    return geometry;
}

WoundModel ring_model(const RingCase& ring, int harmonics) {
    WoundModelOptions options;
    options.harmonics = harmonics;
    options.points = 4 * harmonics;
    options.levels_mmHg = {ring.pressure_mmHg};
    return {ring_shape(ring), options};
}

WoundInterface ring_interface(const RingCase& ring, const WoundModel& model) {
    return {model,
            {ring.kc_MPa_per_mm, ring.kt_MPa_per_mm, 0.0},
            Eigen::VectorXd::Constant(model.points(), ring.interference_mm)};
}

RingResult solve_ring(const RingCase& ring, int harmonics) {
    const WoundModel model = ring_model(ring, harmonics);
    std::vector<BiteGeometry> bites;
    std::vector<double> tensions;
    for (const RingBite& bite : ring.bites) {
        bites.push_back(ring_bite(ring, bite));
        tensions.push_back(newton_from_mn(bite.tension_mN));
    }
    const auto loads = make_bite_loads(model, bites);
    const ClosureSystem system(model, loads);
    const WoundInterface interface = ring_interface(ring, model);
    Closure closure(system, interface, 1.0);  // tensions are prescribed: the thread's stiffness is not used
    closure.prescribe(tensions, mpa_from_mmhg(ring.pressure_mmHg));
    return ring_result(closure);
}

RingResult ring_result(const Closure& closure) {
    RingResult result;
    result.status = closure.status();
    if (!result.status.converged) return result;

    const WoundModel& model = closure.system().model();
    const WoundInterface& interface = closure.interface();
    std::vector<const ThreadPath*> paths;
    for (const auto& thread : closure.system().threads()) paths.push_back(&thread->path);
    const ClosureState& state = closure.state();
    const DeformedDonor surface(
        model, model.donor_displacement(state.pressure, state.donor_edge(), paths, state.tension, kOpticalHarmonics));
    if (const auto fit = fit_central_curvature(surface, kFitRadius)) {
        result.mean_D = fit->mean_D;
        result.cylinder_D = fit->cylinder_D;
        result.steep_axis_deg = fit->steep_axis_deg;
    }
    const PointJumps jumps = interface.at_points(state.jump());
    double least = sealing_pressure(interface, jumps, 0), contact = 0.0, area = 0.0;
    for (int k = 0; k < kFibres; ++k) area += interface.depth_weight(k);
    for (int j = 0; j < interface.points(); ++j) {
        least = std::min(least, sealing_pressure(interface, jumps, j));
        for (int k = 0; k < kFibres; ++k) {
            contact += interface.depth_weight(k) * interface.solid_pressure(jumps, j, k) / (area * interface.points());
        }
    }
    result.least_seal_kPa = kpa_from_mpa(least);
    result.mean_u_mm = jumps.row(0).mean();
    result.mean_v_mm = jumps.row(1).mean();
    result.mean_bs_rad = jumps.row(3).mean();
    result.mean_contact_kPa = kpa_from_mpa(contact);
    return result;
}

}  // namespace graftwright
