// Running threads in the standard eye (closure_scenes.h), beside single bites or alone.
#pragma once

#include "closure_scenes.h"

namespace graftwright::scenes {

// n equal bites in lay order, counter-clockwise.
[[nodiscard]] inline std::vector<BiteGeometry> equal_run(int count, double first_deg = 90.0) {
    std::vector<BiteGeometry> bites;
    for (int k = 0; k < count; ++k) bites.push_back(bite_at(first_deg + 360.0 * k / count));
    return bites;
}

struct RunOfBites {
    std::vector<BiteGeometry> bites;
    double friction = 0.0;
};

[[nodiscard]] inline std::vector<std::pair<BiteGeometry, BiteGeometry>> ends_of(const std::vector<BiteGeometry>& run) {
    std::vector<std::pair<BiteGeometry, BiteGeometry>> ends;
    for (std::size_t k = 0; k < run.size(); ++k) ends.emplace_back(run[k], run[(k + 1) % run.size()]);
    return ends;
}

[[nodiscard]] inline ClosureSystem system_of(const WoundModel& model, const std::vector<BiteGeometry>& singles,
                                             const std::vector<RunOfBites>& runs) {
    std::vector<std::shared_ptr<const ThreadLoads>> threads = make_bite_loads(model, singles);
    std::vector<RunOfSpans> spans;
    for (const RunOfBites& run : runs) {
        const auto loads = make_span_loads(model, ends_of(run.bites));
        spans.push_back({threads.size(), loads.size(), run.friction});
        threads.insert(threads.end(), loads.begin(), loads.end());
    }
    return {model, std::move(threads), std::move(spans)};
}

// The model must outlive the scene; scenes are not moved.
class RunScene {
  public:
    RunScene(const WoundModel& model, const std::vector<BiteGeometry>& singles, const std::vector<RunOfBites>& runs,
             SolverKind kind = SolverKind::newton)
        : system(system_of(model, singles, runs)),
          interface(model, {}, Eigen::VectorXd::Constant(model.points(), kInterference)),
          threads(system, interface),
          closure(system, interface, kThreadEA, solver_for(kind)),
          single_count(singles.size()) {}
    RunScene(const RunScene&) = delete;
    RunScene& operator=(const RunScene&) = delete;

    // Singles with 15 mN, runs drawn and worked round at their own.
    bool tie(double run_tension, std::optional<double> worked = std::nullopt) {
        return closure.tie(
            std::vector<KnotPlan>(single_count, KnotPlan{kTension, false}),
            std::vector<RunPlan>(system.runs().size(), RunPlan{run_tension, worked.value_or(run_tension)}));
    }
    [[nodiscard]] std::vector<double> spans(std::size_t run = 0) const {
        std::vector<double> tension;
        for (std::size_t k = 0; k < system.runs()[run].count; ++k)
            tension.push_back(closure.state().tension[static_cast<Eigen::Index>(system.runs()[run].span(k))]);
        return tension;
    }

    ClosureSystem system;
    WoundInterface interface;
    Threads threads;
    Closure closure;
    std::size_t single_count;

  private:
    [[nodiscard]] std::unique_ptr<ClosureSolver> solver_for(SolverKind kind) const {
        if (kind == SolverKind::dense) return std::make_unique<DenseSolver>(system, interface);
        return std::make_unique<NewtonSolver>(system, interface);
    }
};

}  // namespace graftwright::scenes
