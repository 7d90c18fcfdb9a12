// The linear part of a closure: one wound model with one set of bites, at any chamber pressure.
//
// For jumps j and thread tensions T the elastic energy with its loads is
//   ½ jᵀ S j − jᵀ (F_p + Σ T_b G_b) − ½ Tᵀ D T − dᵀ T,
// and the elongation of loop b (without its crossing strands) is
//   e_b = −G_bᵀ j − (D T)_b − d_b:  pulling a loop draws tissue in and shortens it.
// mm, N, MPa.
#pragma once

#include <memory>
#include <vector>

#include "closure/wound_model.h"

namespace graftwright {

// One bite condensed onto the wound at every pressure level. Shared: re-solving a closure with one
// bite changed re-uses the others.
struct BiteLoads {
    BiteGeometry geometry;
    ThreadPath path;
    WoundLoad load;
};

[[nodiscard]] std::vector<std::shared_ptr<const BiteLoads>> make_bite_loads(const WoundModel& model,
                                                                            const std::vector<BiteGeometry>& bites);
[[nodiscard]] inline std::shared_ptr<const BiteLoads> make_bite_loads(const WoundModel& model,
                                                                      const BiteGeometry& bite) {
    return make_bite_loads(model, std::vector<BiteGeometry>{bite}).front();
}

struct ReducedSystem {
    double pressure = 0.0;
    std::vector<Eigen::Matrix4d> stiffness;  // S by harmonic, foundation included
    RingMatrix pressure_force;               // F_p
    Eigen::MatrixXd loop_force;              // G_b as columns, flattened component by component
    Eigen::MatrixXd loop_compliance;         // D
    Eigen::VectorXd pressure_shortening;     // d
};

class ClosureSystem {
  public:
    // The model must outlive the system.
    ClosureSystem(const WoundModel& model, std::vector<std::shared_ptr<const BiteLoads>> bites);

    [[nodiscard]] const WoundModel& model() const { return *model_; }
    [[nodiscard]] const std::vector<std::shared_ptr<const BiteLoads>>& bites() const { return bites_; }
    [[nodiscard]] std::size_t size() const { return bites_.size(); }
    [[nodiscard]] ReducedSystem at(double pressure) const;

  private:
    const WoundModel* model_;
    std::vector<std::shared_ptr<const BiteLoads>> bites_;
    // A lane a level. Compliance of each pair, row by row of the lower triangle; of each bite with the pressure, per
    // MPa.
    std::vector<Lanes> compliance_, pressure_coupling_;
};

}  // namespace graftwright
