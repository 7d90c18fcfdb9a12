// Solves the wound for the game: the bites so far → LiveWound, and the scorecard at the end.
//
// The closure is the one that `score` ties: same scenario model, same tying order; only what has not
// changed since the last question is kept (the closure after all bites but the last). A question is a
// plain value, an answer immutable; the same question gets the same bits whatever was asked before.
// WoundService decides where the work is done: in line when the answer is taken, or on a thread.
#pragma once

#include <memory>
#include <vector>

#include "base/on_threads.h"
#include "game/live_wound.h"
#include "score/scenario_model.h"

namespace graftwright {

struct WoundQuestion {
    int tick = 0;
    std::vector<Bite> bites;     // in tying order; the last may still be drawn to its tension
    std::vector<Run> runs;       // tied after the bites; of the last the knot may still be drawn
    double pressure_mmHg = 0.0;  // 0: left at tying pressure
    bool map = false;            // at the ring check, which asks anew: replays keep the ticks of their answers
};

class LiveSolver {
  public:
    explicit LiveSolver(std::shared_ptr<const ScenarioModel> model);
    ~LiveSolver();
    [[nodiscard]] std::shared_ptr<const LiveWound> solve(const WoundQuestion& question);
    [[nodiscard]] std::shared_ptr<const Debrief> debrief(const Attempt& attempt, int threads);

  private:
    struct Kept;
    std::shared_ptr<const ScenarioModel> model_;
    std::unique_ptr<Kept> kept_;
};

// One question or debrief at a time; ask again only after take.
class WoundService {
  public:
    virtual ~WoundService() = default;
    virtual void ask(const WoundQuestion& question) = 0;
    virtual void ask_debrief(const Attempt& attempt) = 0;
    // Is the answer to the last question there? In line: always.
    [[nodiscard]] virtual bool ready() const = 0;
    // The answer, waiting for it where need be; exactly once a question.
    [[nodiscard]] virtual std::shared_ptr<const LiveWound> take() = 0;
    [[nodiscard]] virtual std::shared_ptr<const Debrief> take_debrief() = 0;

  protected:
    WoundService() = default;
    WoundService(const WoundService&) = delete;
    WoundService& operator=(const WoundService&) = delete;
};

[[nodiscard]] std::unique_ptr<WoundService> make_inline_service(std::shared_ptr<const ScenarioModel> model);
// A worker thread; no lock is held across a solve. What the work throws, take() throws. Without a thread to be had it
// works as the inline one does.
[[nodiscard]] std::unique_ptr<WoundService> make_worker_service(std::shared_ptr<const ScenarioModel> model,
                                                                const ThreadStart& start = start_thread);

}  // namespace graftwright
