// A scenario turned into mechanics: interface units become mm, N, MPa, rad here and nowhere else.
//
// Donor and rim share one sphere, mid-surface radius = anterior radius − half the donor's thickness, so
// that the donor's front has the anterior radius at zero pressure. Wound radius: half the bed's mean
// diameter. Interface stiffness k_c = E/(1 mm), E the mean of donor and rim, k_t = 0.3 k_c. Const after
// construction; threads may share one.
#pragma once

#include <vector>

#include <Eigen/Core>

#include "closure/wound_interface.h"
#include "files/scenario.h"
#include "score/bites_in_order.h"

namespace graftwright {

// Constants of the model that no scenario carries. Sources: DEVELOPERS.md, "Constants".
inline constexpr double kPoissonRatio = 0.45;  // design's choice; 0.42–0.49 in use (figures T2-12)
inline constexpr double kScleraRadius_mm = 11.5, kScleraThickness_mm = 0.8;
inline constexpr double kScleraOverRimModulus = 2.5;
inline constexpr double kContactStiffness_per_mm = 1.0;  // k_c over E
inline constexpr double kTangentialOverContact = 0.3;    // k_t over k_c

[[nodiscard]] EyeShape eye_shape(const Scenario& scenario);
// Radial interference (mm) at `points` angles: donor radius − bed radius, donor turned by `turn` (rad).
[[nodiscard]] Eigen::VectorXd interference(const Scenario& scenario, double turn, int points);
// The donor's turn in the eye (rad): median of host_deg − graft_deg, the short way round, over all bites.
[[nodiscard]] double donor_turn(const std::vector<OrderedBite>& bites);
[[nodiscard]] inline double donor_turn(const std::vector<Bite>& bites, const std::vector<Run>& runs = {}) {
    return donor_turn(bites_in_order(bites, runs));
}

class ScenarioModel {
  public:
    explicit ScenarioModel(const Scenario& scenario, const WoundModelOptions& options = standard_options());

    [[nodiscard]] static WoundModelOptions standard_options() { return {}; }
    [[nodiscard]] const Scenario& scenario() const { return scenario_; }
    [[nodiscard]] const WoundModel& wound() const { return wound_; }
    [[nodiscard]] InterfaceConstants interface_constants() const;
    [[nodiscard]] double thread_EA() const;  // N
    // The pupil's centre in the graft's frame, mm.
    [[nodiscard]] Eigen::Vector2d pupil() const;

  private:
    Scenario scenario_;
    WoundModel wound_;
};

}  // namespace graftwright
