// Caps held at their edge against 3-D solids: tests/data/reference/cap_*.json, made by tools/reference with the
// CalculiX version that each file names. Aim: within 5 % or 0.02 D (our choice). The solids' cylinder is settled to
// 0.001 D by its mesh and ours to 0.003 D (below), so that what is between them is the theory: a first-order shell
// leaves out terms of t/R beside one, 7 % here, and that bounds what dipoles do. (A thin shell, without shear, has
// 1.450 and 0.138 D where the solids have 1.371 and 0.045, and heights that are a fifth off.)
#include <algorithm>
#include <cmath>
#include <vector>

#include <catch2/catch.hpp>

#include "../scenes/condensed_harmonic.h"
#include "../scenes/reference_data.h"
#include "base/units.h"
#include "closure/wound_model.h"
#include "optics/central_fit.h"
#include "optics/deformed_donor.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr int kHarmonics = 48;
constexpr double kDiscRadius = 1.6;  // "fourth_disc_1.6" is CentralForm::full_quartic over it
const std::string kForm = "fourth_disc_1.6";

// The cap is a donor whose wound ring is the edge; the host beyond it is never asked.
WoundModel cap_of(const nlohmann::json& input, int elements = 28) {
    EyeShape shape;
    shape.mid_radius = input.at("R_mid_mm").get<double>();
    shape.wound_radius = input.at("edge_r_mm").get<double>();
    shape.limbus_radius = shape.wound_radius + 0.4;
    shape.donor_thickness = input.at("t_mm").get<double>();
    shape.donor_modulus = input.at("E_MPa").get<double>();
    shape.poisson_ratio = input.at("nu").get<double>();
    WoundModelOptions options;
    options.levels_mmHg = {0.0};
    options.harmonics = kHarmonics;
    options.points = 128;
    options.mesh.donor_elements = elements;
    return {shape, options};
}

using Displacement = std::vector<Eigen::VectorXd>;

Displacement unmoved(const WoundModel& model) {
    Displacement result(static_cast<std::size_t>(model.columns()));
    for (int m = 0; m <= kHarmonics; ++m) {
        const Eigen::VectorXd zero = Eigen::VectorXd::Zero(model.donor().interior_size(m) + kRingUnknowns);
        result[static_cast<std::size_t>(ring_column(m, Family::A))] = zero;
        result[static_cast<std::size_t>(ring_column(m, Family::B))] = zero;
    }
    return result;
}

Displacement under_pressure(const WoundModel& model, const nlohmann::json& input, bool stiffened) {
    const double p = mpa_from_mmhg(input.at("pressure_mmHg").get<double>());
    Displacement result = unmoved(model);
    const scenes::CondensedHarmonic condensed(model.donor(), 0, stiffened ? p : 0.0);
    result[0] = condensed.solution(Eigen::Vector4d::Zero(), p * model.donor().pressure_load());
    return result;
}

// Two opposite dipoles: at each angle a force outward along the meridian at the first radius, inward at the second,
// Gaussian of 0.15 mm around and 0.12 mm along the meridian. As in the solids, a force spread along the meridian keeps
// the direction it has at its centre.
Displacement under_dipoles(const WoundModel& model, const nlohmann::json& input) {
    const nlohmann::json& dipoles = input.at("dipoles");
    const double R = model.shape().mid_radius, along = 0.12, step = 0.2;
    Displacement result = unmoved(model);
    for (int m = 0; m <= kHarmonics; ++m) {
        for (const Family family : {Family::A, Family::B}) {
            if (m == 0 && family == Family::B) continue;
            Eigen::VectorXd& column = result[static_cast<std::size_t>(ring_column(m, family))];
            Eigen::VectorXd load = column;
            for (const nlohmann::json& degrees : dipoles.at("angles_deg")) {
                for (std::size_t end = 0; end < 2; ++end) {
                    const double centre = R * std::asin(dipoles.at("r_mm").at(end).get<double>() / R);
                    const double sign = end == 0 ? 1.0 : -1.0;
                    for (int i = -20; i <= 20; ++i) {
                        const double x = step * i;
                        const double weight = std::exp(-0.5 * x * x) * step / std::sqrt(2.0 * kPi);
                        const double pull = sign * dipoles.at("force_N").get<double>() * weight;
                        PointForce force;
                        force.s = centre + along * x;
                        force.theta = rad_from_deg(degrees.get<double>());
                        force.z = dipoles.at("fraction").get<double>() * model.shape().donor_thickness;
                        force.along_meridian = pull * std::cos(along * x / R);
                        force.along_normal = pull * std::sin(along * x / R);
                        force.spread = 0.15;
                        scenes::add_point_force(model.donor(), m, family, force, load);
                    }
                }
            }
            column = scenes::CondensedHarmonic(model.donor(), m, 0.0).solution(Eigen::Vector4d::Zero(), load);
        }
    }
    return result;
}

CentralFit fit(const WoundModel& model, const Displacement& displacement) {
    return fit_central_curvature(DeformedDonor(model, displacement), kDiscRadius).value();
}

struct ProfileError {
    double u = 0.0, w = 0.0, largest_u = 0.0, largest_w = 0.0;
};

// Mid-surface along the 0° meridian.
ProfileError profile_error(const nlohmann::json& recorded, const WoundModel& model, const Displacement& displacement) {
    ProfileError error;
    for (const nlohmann::json& row : recorded.at("results").at("mid_profile_on_0_deg_s_u_w_mm")) {
        const double s = std::min(row.at(0).get<double>(), model.donor().meridian().wound_s());
        double u = 0.0, w = 0.0;
        for (int m = 0; m <= kHarmonics; ++m) {
            const Eigen::VectorXd& column = displacement[static_cast<std::size_t>(ring_column(m, Family::A))];
            const FieldAmplitudes f = model.donor().fields(m, s, column);
            u += f.value[0];
            w += f.value[2];
        }
        const double solid_u = row.at(1).get<double>(), solid_w = row.at(2).get<double>();
        error.u = std::max(error.u, std::abs(u - solid_u));
        error.w = std::max(error.w, std::abs(w - solid_w));
        error.largest_u = std::max(error.largest_u, std::abs(solid_u));
        error.largest_w = std::max(error.largest_w, std::abs(solid_w));
    }
    return error;
}

}  // namespace

TEST_CASE("cap: the fit reads the unloaded sphere as it reads the solids' mesh", "[optics][reference]") {
    const nlohmann::json recorded = scenes::reference_case("cap_pressure");
    const WoundModel model = cap_of(recorded.at("input"));
    const scenes::RecordedCurvature solid = scenes::recorded_curvature(recorded, kForm, "undeformed");
    const CentralFit shell = fit(model, unmoved(model));
    CHECK_THAT(shell.mean_D, WithinAbs(solid.mean_D, 2e-3));
    CHECK(shell.cylinder_D < 1e-6);
}

// Measured: mean K +0.009 D, apex +0.6 %, along the meridian 1.1 % (w) and 5 % (u) of the largest at worst, next to the
// edge, where the solid's thickness is clamped too.
TEST_CASE("cap: under pressure it bulges as the 3-D solid", "[optics][reference]") {
    const nlohmann::json recorded = scenes::reference_case("cap_pressure");
    const WoundModel model = cap_of(recorded.at("input"));
    const Displacement moved = under_pressure(model, recorded.at("input"), false);
    CHECK_THAT(fit(model, moved).mean_D, WithinAbs(scenes::recorded_curvature(recorded, kForm).mean_D, 0.02));
    const double apex = model.donor().fields(0, 0.0, moved[0]).value[2];
    CHECK_THAT(apex, WithinRel(recorded.at("results").at("apex_mid_mm").get<double>(), 0.01));
    const ProfileError error = profile_error(recorded, model, moved);
    CHECK(error.w < 0.015 * error.largest_w);
    CHECK(error.u < 0.055 * error.largest_u);
}

// Large displacements and neo-Hookean tissue against the shell stiffened by N = pR/2. Measured: apex +1.3 %, mean K
// +0.045 D, beyond the aim: near the clamped edge the tension is less than pR/2. What stiffening does to mean K has the
// right sign and size: +0.27 D here, +0.23 D in the solids.
TEST_CASE("cap: under pressure it stiffens as the 3-D solid with large displacements", "[optics][reference]") {
    const nlohmann::json recorded = scenes::reference_case("cap_pressure_large");
    const WoundModel model = cap_of(recorded.at("input"));
    const Displacement moved = under_pressure(model, recorded.at("input"), true);
    const double solid = scenes::recorded_curvature(recorded, kForm).mean_D;
    CHECK_THAT(fit(model, moved).mean_D, WithinAbs(solid, 0.05));
    const double apex = model.donor().fields(0, 0.0, moved[0]).value[2];
    CHECK_THAT(apex, WithinRel(recorded.at("results").at("apex_mid_mm").get<double>(), 0.02));

    const double solid_gain = solid - scenes::recorded_curvature(scenes::reference_case("cap_pressure"), kForm).mean_D;
    const double gain =
        fit(model, moved).mean_D - fit(model, under_pressure(model, recorded.at("input"), false)).mean_D;
    CHECK_THAT(gain, WithinRel(solid_gain, 0.2));
}

// Found on the outer surface: mean K +0.018 D, cylinder 1.300 against 1.371 D, 5.1 % low; on the mid-surface mean K
// +0.012 D, cylinder 0.021 against 0.045 D.
TEST_CASE("cap: force dipoles bend it as the 3-D solid, at the surface much and in the middle little",
          "[optics][reference]") {
    const nlohmann::json outer = scenes::reference_case("cap_dipoles_outer");
    const WoundModel model = cap_of(outer.at("input"));
    const Displacement moved = under_dipoles(model, outer.at("input"));
    const CentralFit shell = fit(model, moved);
    const scenes::RecordedCurvature solid = scenes::recorded_curvature(outer, kForm);
    CHECK_THAT(shell.mean_D, WithinAbs(solid.mean_D, 0.02));
    const double left_out = model.shape().donor_thickness / model.shape().mid_radius;  // t/R
    CHECK_THAT(shell.cylinder_D, WithinRel(solid.cylinder_D, left_out));
    // Across the dipoles; 0° and 180° are one axis.
    CHECK(std::abs(std::remainder(shell.steep_axis_deg - solid.steep_axis_deg, 180.0)) < 0.1);
    const ProfileError error = profile_error(outer, model, moved);
    CHECK(error.w < 0.05 * error.largest_w);
    CHECK(error.u < 0.05 * error.largest_u);

    const nlohmann::json middle = scenes::reference_case("cap_dipoles_mid");
    const CentralFit shell_mid = fit(model, under_dipoles(model, middle.at("input")));
    const scenes::RecordedCurvature solid_mid = scenes::recorded_curvature(middle, kForm);
    CHECK_THAT(shell_mid.mean_D, WithinAbs(solid_mid.mean_D, 0.02));
    // In the middle a dipole's two ways to bend the cap all but cancel; what is left out of each does not.
    CHECK_THAT(shell_mid.cylinder_D, WithinAbs(solid_mid.cylinder_D, left_out * solid.cylinder_D));
}

TEST_CASE("cap: half the elements move its curvature by far less than 0.01 D", "[optics][property]") {
    const nlohmann::json input = scenes::reference_case("cap_dipoles_outer").at("input");
    const WoundModel coarse = cap_of(input, 14), fine = cap_of(input, 28);
    const CentralFit a = fit(coarse, under_dipoles(coarse, input)), b = fit(fine, under_dipoles(fine, input));
    CHECK_THAT(a.mean_D, WithinAbs(b.mean_D, 0.002));
    CHECK_THAT(a.cylinder_D, WithinAbs(b.cylinder_D, 0.003));
}
