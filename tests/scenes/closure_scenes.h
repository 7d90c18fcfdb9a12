// A ready ring of bites in a standard eye, for the tests of closure, leak and whoever stands on them.
//
// Bed 7.75 mm, donor 8.0 mm (interference 0.125 mm), both walls 0.55 mm, E 1 MPa, 15 mN a bite, 10-0 nylon
// of 25 µm at 2.5 GPa. The number of harmonics is a parameter: 32 (and 128 points) are enough for whatever
// is not about resolution, and quick. mm, N, MPa, rad.
#pragma once

#include <cmath>
#include <map>
#include <memory>
#include <utility>
#include <vector>

#include "closure/newton_solver.h"
#include "closure/tying.h"
#include "dense_solver.h"

namespace graftwright::scenes {

inline constexpr int kQuickHarmonics = 32;
inline constexpr double kInterference = 0.125;
inline constexpr double kTension = 15e-3;
inline constexpr double kThreadEA = 2500.0 * kPi / 4.0 * 0.025 * 0.025;

[[nodiscard]] inline EyeShape standard_eye() {
    EyeShape shape;
    shape.mid_radius = 7.8 - 0.5 * 0.55;
    shape.wound_radius = 0.5 * 7.75;
    shape.donor_thickness = shape.rim_thickness = 0.55;
    return shape;
}

[[nodiscard]] inline WoundModelOptions with_harmonics(int harmonics) {
    WoundModelOptions options;
    options.harmonics = harmonics;
    options.points = 4 * harmonics;
    return options;
}

// Made once in a program for each number of harmonics.
[[nodiscard]] inline const WoundModel& standard_model(int harmonics = kQuickHarmonics) {
    static std::map<int, std::unique_ptr<const WoundModel>> models;
    std::unique_ptr<const WoundModel>& model = models[harmonics];
    if (!model) model = std::make_unique<const WoundModel>(standard_eye(), with_harmonics(harmonics));
    return *model;
}

[[nodiscard]] inline WoundInterface standard_interface() {
    const WoundModel& model = standard_model();
    return {model, {}, Eigen::VectorXd::Constant(model.points(), kInterference)};
}

// Every place opened by `gap` (closed where negative): no bend, no slip.
[[nodiscard]] inline PointJumps opened_by(const WoundInterface& interface, double gap) {
    PointJumps jumps = PointJumps::Zero(kRingUnknowns, interface.points());
    jumps.row(0).setConstant(kInterference + gap);
    return jumps;
}

// The design's ideal bite: 1.1 mm on either side, at 92 % of the depth.
[[nodiscard]] inline BiteGeometry bite_at(double deg) {
    BiteGeometry bite;
    bite.donor_theta = bite.host_theta = rad_from_deg(deg);
    bite.donor_depth = bite.host_depth = 0.92 * 0.55;
    return bite;
}

// n equal bites in a tying order of common practice: each next one opposite the last, or half-way
// into the widest space left (n a power of two).
[[nodiscard]] inline std::vector<BiteGeometry> equal_bites(int count, double first_deg = 90.0) {
    std::vector<BiteGeometry> bites;
    for (int i = 0; i < count; ++i) {
        double turn = 0.0, half = 0.5;  // bits of i, the lowest first
        for (int rest = i; rest > 0; rest /= 2, half *= 0.5) turn += half * (rest % 2);
        bites.push_back(bite_at(first_deg + 360.0 * turn));
    }
    return bites;
}

enum class SolverKind { newton, dense };  // the interactive one, the plain reference

struct SceneOptions {
    InterfaceConstants constants;  // k_c 1 MPa/mm, k_t 0.3 MPa/mm, µ 0.3
    double interference = kInterference;
    double thread_EA = kThreadEA;
    SolverKind solver = SolverKind::newton;
    SolveOptions solve;
};

// Bites, wound and threads in one place. The model must outlive the scene; scenes are not moved.
class Scene {
  public:
    Scene(const WoundModel& model, std::vector<BiteGeometry> bites, const SceneOptions& options = {})
        : Scene(model, std::move(bites), Eigen::VectorXd::Constant(model.points(), options.interference), options) {}
    // Interference point by point.
    Scene(const WoundModel& model, std::vector<BiteGeometry> bites, const Eigen::VectorXd& interference,
          const SceneOptions& options)
        : system(model, make_bite_loads(model, bites)),
          interface(model, options.constants, interference),
          closure(system, interface, options.thread_EA, solver_for(options)) {}
    Scene(const Scene&) = delete;
    Scene& operator=(const Scene&) = delete;

    // All bites with one tension, in order.
    bool tie(double tension = kTension) {
        return closure.tie(std::vector<KnotPlan>(system.size(), KnotPlan{tension, false}));
    }
    [[nodiscard]] PointJumps jumps() const { return interface.at_points(closure.state().jump()); }
    [[nodiscard]] std::vector<const ThreadPath*> paths() const {
        std::vector<const ThreadPath*> result;
        for (const auto& bite : system.threads()) result.push_back(&bite->path);
        return result;
    }
    // Up to a harmonic.
    [[nodiscard]] std::vector<Eigen::VectorXd> donor_displacement(int harmonic) const {
        const ClosureState& state = closure.state();
        return system.model().donor_displacement(state.pressure, state.donor_edge(), paths(), state.tension, harmonic);
    }

    ClosureSystem system;
    WoundInterface interface;
    Closure closure;

  private:
    [[nodiscard]] std::unique_ptr<ClosureSolver> solver_for(const SceneOptions& options) const {
        if (options.solver == SolverKind::dense) {
            return std::make_unique<DenseSolver>(system, interface, options.solve);
        }
        return std::make_unique<NewtonSolver>(system, interface, options.solve);
    }
};

// Mean and astigmatic change of the donor's middle surface by its sagitta on the 3 mm ring, in dioptres
// (corneal convention): what stands in for the keratometer (optics/) where only its changes matter.
//   w = w0 + (A cos 2θ + B sin 2θ) at r:   M = −337.5 · 2 (w0 − w_apex)/r²,   J0, J45 = −337.5 · 2 (A, B)/r²
struct SagittaPower {
    double M = 0.0, J0 = 0.0, J45 = 0.0;
    [[nodiscard]] double cylinder() const { return 2.0 * std::hypot(J0, J45); }
    [[nodiscard]] double steep_axis_deg() const {
        const double deg = deg_from_rad(0.5 * std::atan2(J45, J0));
        return deg < 0.0 ? deg + 180.0 : deg;
    }
};

// displacement: WoundModel::donor_displacement up to harmonic 2 at least.
[[nodiscard]] inline SagittaPower sagitta_power(const ShellSide& donor,
                                                const std::vector<Eigen::VectorXd>& displacement) {
    constexpr double ring = 1.5;
    const auto w = [&](int m, Family family, double s) {
        return donor.fields(m, s, displacement[static_cast<std::size_t>(ring_column(m, family))]).value[2];
    };
    const double factor = -kKeratometricDioptreMm * 2.0 / (ring * ring);
    return {factor * (w(0, Family::A, ring) - w(0, Family::A, 0.0)), factor * w(2, Family::A, ring),
            factor * w(2, Family::B, ring)};
}

[[nodiscard]] inline SagittaPower sagitta_power(const Scene& scene) {
    return sagitta_power(scene.system.model().donor(), scene.donor_displacement(2));
}

}  // namespace graftwright::scenes
