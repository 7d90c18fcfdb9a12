#include "score/scenario_model.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "base/check.h"
#include "base/statistics.h"
#include "base/units.h"

namespace graftwright {
namespace {

constexpr double kMPaPerGPa = 1e3;

}  // namespace

EyeShape eye_shape(const Scenario& scenario) {
    const Eye& eye = scenario.eye;
    EyeShape shape;
    shape.donor_thickness = mm_from_um(scenario.graft.thickness_um);
    shape.rim_thickness = mm_from_um(eye.rim_thickness_um);
    shape.mid_radius = eye.anterior_radius_mm - 0.5 * shape.donor_thickness;
    shape.wound_radius = 0.5 * eye.bed_diameter_mm;
    shape.limbus_radius = 0.5 * eye.limbus_diameter_mm;
    shape.donor_modulus = mpa_from_kpa(scenario.graft.modulus_kPa);
    shape.rim_modulus = mpa_from_kpa(eye.modulus_kPa);
    shape.poisson_ratio = kPoissonRatio;
    shape.sclera_radius = kScleraRadius_mm;
    shape.sclera_thickness = kScleraThickness_mm;
    shape.sclera_modulus = kScleraOverRimModulus * shape.rim_modulus;
    return shape;
}

Eigen::VectorXd interference(const Scenario& scenario, double turn, int points) {
    const Eye& eye = scenario.eye;
    const Graft& graft = scenario.graft;
    const double donor_axis = rad_from_deg(graft.ovality_axis_deg) + turn;
    const double bed_axis = rad_from_deg(eye.bed_ovality_axis_deg);
    Eigen::VectorXd delta(points);
    for (int j = 0; j < points; ++j) {
        const double theta = 2.0 * kPi * j / points;
        const double donor = 0.5 * graft.diameter_mm + 0.25 * graft.ovality_mm * std::cos(2.0 * (theta - donor_axis));
        const double bed = 0.5 * eye.bed_diameter_mm + 0.25 * eye.bed_ovality_mm * std::cos(2.0 * (theta - bed_axis));
        delta[j] = donor - bed;
    }
    return delta;
}

double donor_turn(const std::vector<OrderedBite>& bites) {
    std::vector<double> turns;
    const double first = bites.front().host_deg - bites.front().graft_deg;
    for (const OrderedBite& bite : bites) {
        // Relative to the first bite's, so that no pattern is torn apart at ±180°.
        turns.push_back(turn_between_deg(first, bite.host_deg - bite.graft_deg));
    }
    return rad_from_deg(turn_between_deg(0.0, first + median(turns)));
}

ScenarioModel::ScenarioModel(const Scenario& scenario, const WoundModelOptions& options)
    : scenario_(scenario), wound_(eye_shape(scenario), options) {}

InterfaceConstants ScenarioModel::interface_constants() const {
    InterfaceConstants constants;
    const EyeShape& shape = wound_.shape();
    constants.k_c = kContactStiffness_per_mm * 0.5 * (shape.donor_modulus + shape.rim_modulus);
    constants.k_t = kTangentialOverContact * constants.k_c;
    return constants;
}

double ScenarioModel::thread_EA() const {
    const double diameter = mm_from_um(scenario_.thread.diameter_um);
    return kMPaPerGPa * scenario_.thread.modulus_GPa * kPi / 4.0 * diameter * diameter;
}

Eigen::Vector2d ScenarioModel::pupil() const {
    return {-scenario_.eye.bed_shift_mm[0], -scenario_.eye.bed_shift_mm[1]};
}

}  // namespace graftwright
