// The linear part of a closure: one wound model with one set of threads, at any chamber pressure.
//
// A thread is a single bite's loop, or a span of a running thread (run_path.h). For both edges x = (j, d)
// (wound_model.h) and thread tensions T the elastic energy with its loads is
//   ½ xᵀ K x − xᵀ (F_p + Σ T_b G_b) − ½ Tᵀ D T − dᵀ T,
// and the elongation of thread b (without its crossing strands) is
//   e_b = −G_bᵀ x − (D T)_b − d_b:  pulling a loop draws tissue in and shortens it.
// mm, N, MPa.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "closure/run_path.h"
#include "closure/wound_model.h"

namespace graftwright {

// One thread condensed onto the wound at every pressure level. Shared: re-solving a closure with one
// bite changed re-uses the others.
struct ThreadLoads {
    BiteGeometry geometry;  // of a span: of the bite that it leaves
    ThreadPath path;
    WoundLoad load;
    std::optional<SpanOnSurface> span;  // empty: a single bite
};

[[nodiscard]] std::vector<std::shared_ptr<const ThreadLoads>> make_bite_loads(const WoundModel& model,
                                                                              const std::vector<BiteGeometry>& bites);
[[nodiscard]] inline std::shared_ptr<const ThreadLoads> make_bite_loads(const WoundModel& model,
                                                                        const BiteGeometry& bite) {
    return make_bite_loads(model, std::vector<BiteGeometry>{bite}).front();
}

// Spans from one bite to the next.
[[nodiscard]] std::vector<std::shared_ptr<const ThreadLoads>> make_span_loads(
    const WoundModel& model, const std::vector<std::pair<BiteGeometry, BiteGeometry>>& ends);

// A running thread among a system's threads: its spans stand side by side, the knot in the last one. Bite k lies
// between span k−1 and span k.
struct RunOfSpans {
    std::size_t first = 0, count = 0;
    double friction = 0.0;  // thread against tissue

    [[nodiscard]] std::size_t span(std::size_t k) const { return first + k; }                          // leaves bite k
    [[nodiscard]] std::size_t before(std::size_t k) const { return first + (k + count - 1) % count; }  // enters it
    // Is friction what keeps its spans' tensions apart? Else all are one.
    [[nodiscard]] bool rubs() const { return friction > 0.0 && count > 1; }
};

struct ReducedSystem {
    double pressure = 0.0;
    std::vector<Eigen::Matrix4d> donor, host;   // K_d and K_h by harmonic
    std::array<Eigen::Matrix4d, 2> foundation;  // under the jumps of harmonics 0 and 1
    RingMatrix pressure_force;                  // F_p
    Eigen::MatrixXd loop_force;                 // G_b as columns, flattened component by component
    Eigen::MatrixXd loop_compliance;            // D
    Eigen::VectorXd pressure_shortening;        // d

    // out = K · edges, of both.
    void stretch(const RingMatrix& edges, RingMatrix& out) const;
};

class ClosureSystem {
  public:
    // The model must outlive the system.
    ClosureSystem(const WoundModel& model, std::vector<std::shared_ptr<const ThreadLoads>> threads,
                  std::vector<RunOfSpans> runs = {});

    [[nodiscard]] const WoundModel& model() const { return *model_; }
    [[nodiscard]] const std::vector<std::shared_ptr<const ThreadLoads>>& threads() const { return threads_; }
    [[nodiscard]] const std::vector<RunOfSpans>& runs() const { return runs_; }
    [[nodiscard]] std::size_t size() const { return threads_.size(); }
    // Threads before the first run's: loops of single bites.
    [[nodiscard]] std::size_t single_count() const { return runs_.empty() ? size() : runs_.front().first; }
    // By how much the thread bends at bite k of a run (rad).
    [[nodiscard]] double turning(const RunOfSpans& run, std::size_t k) const;
    [[nodiscard]] ReducedSystem at(double pressure) const;

  private:
    const WoundModel* model_;
    std::vector<std::shared_ptr<const ThreadLoads>> threads_;
    std::vector<RunOfSpans> runs_;
    // A lane a level. Compliance of each pair, row by row of the lower triangle; of each thread with the pressure, per
    // MPa.
    std::vector<Lanes> compliance_, pressure_coupling_;
};

}  // namespace graftwright
