// Newton's descent with a line search, whoever finds the direction.
//
// A step is taken where the energy is lower (Armijo) and does not rise again half as steeply; close to the answer
// rounding hides that, and the slope along the step is then the better judge: of a convex energy it only grows, so a
// small one is near the minimum. Ends converged, out of steps, unable to get lower, or with the donor lost; the summary
// says which by residual.
#pragma once

#include <algorithm>
#include <cmath>
#include <utility>

#include "closure/closure_solver.h"

namespace graftwright {

// Relative residual below which the slope may judge a step.
inline constexpr double kCloseToTheAnswer = 1e-5;
// Jumps beyond this (mm) are no wound any more: the bites do not hold the donor, and under pressure nothing
// will bring it back. Far beyond any eye: plates of the handbook checks move by metres.
inline constexpr double kLostDonor = 1e6;

// Evaluation: has energy, gradient (RingMatrix) and load_norm. evaluate(edges, out) fills one;
// find_step(at, step, summary) sets a downhill step, false where it can't. What a descent needs beside is kept in
// `work`, so that the next one allocates nothing; it remembers nothing.
template <typename Evaluation>
struct DescentWork {
    Evaluation now, trial;
    RingMatrix step, next;
};
template <typename Evaluation, typename Evaluate, typename FindStep>
[[nodiscard]] SolveSummary descend(const SolveOptions& options, RingMatrix& edges, DescentWork<Evaluation>& work,
                                   Evaluate&& evaluate, FindStep&& find_step) {
    constexpr int kHalvings = 40;
    constexpr double kArmijo = 1e-4;
    SolveSummary summary;
    auto& [now, trial, step, next] = work;
    step.resize(kRingUnknowns, edges.cols());
    evaluate(edges, now);
    for (;; ++summary.iterations) {
        summary.residual = now.load_norm > 0.0 ? now.gradient.norm() / now.load_norm : now.gradient.norm();
        const bool done = summary.residual <= options.tolerance || summary.iterations >= options.max_iterations ||
                          !(edges.cwiseAbs().maxCoeff() < kLostDonor);
        if (done) {
            summary.converged = summary.residual <= std::max(options.tolerance, kGoodEnoughResidual);
            return summary;
        }
        if (!find_step(now, step, summary)) return summary;
        const double slope = now.gradient.cwiseProduct(step).sum();
        double length = 1.0;
        for (int halving = 0;; ++halving) {
            next = edges + length * step;
            evaluate(next, trial);
            const double slope_there = trial.gradient.cwiseProduct(step).sum();
            const bool lower = trial.energy <= now.energy + kArmijo * length * slope;
            const bool flatter = std::abs(slope_there) <= 0.5 * std::abs(slope);
            // Lower, but as steep on the valley's other side, it would leap to and fro: a strand drawn across a loose
            // donor is such a valley, all but straight on both sides.
            const bool overshot = !flatter && slope_there > 0.0;
            if ((lower && !overshot) || (flatter && summary.residual < kCloseToTheAnswer)) break;
            if (halving >= kHalvings) {
                summary.converged = summary.residual <= kGoodEnoughResidual;
                return summary;
            }
            length *= 0.5;
        }
        edges = next;
        std::swap(now, trial);
    }
}

}  // namespace graftwright
