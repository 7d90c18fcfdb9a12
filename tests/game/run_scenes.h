// Levels that ask for running threads, played beside a service that solves nothing and keeps what it was asked.
#pragma once

#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "game_scenes.h"

namespace graftwright::scenes {

struct Asked {
    std::vector<WoundQuestion> questions;
    std::vector<Attempt> attempts;
};

class NothingSolved final : public WoundService {
  public:
    explicit NothingSolved(std::shared_ptr<Asked> asked) : asked_(std::move(asked)) {}
    void ask(const WoundQuestion& question) override { asked_->questions.push_back(question); }
    void ask_debrief(const Attempt& attempt) override { asked_->attempts.push_back(attempt); }
    [[nodiscard]] bool ready() const override { return true; }
    [[nodiscard]] std::shared_ptr<const LiveWound> take() override {
        auto wound = std::make_shared<LiveWound>();
        wound->reason = "nothing is solved here";
        return wound;
    }
    [[nodiscard]] std::shared_ptr<const Debrief> take_debrief() override { return std::make_shared<Debrief>(); }

  private:
    std::shared_ptr<Asked> asked_;
};

// `singles` even bites in place at the start.
inline Scenario run_level(Pattern pattern, int bites, int singles = 0) {
    Scenario scenario = sixteen(bites);
    scenario.task.pattern = pattern;
    for (const double deg : tying_order_deg(singles)) {
        Bite bite;
        bite.graft_deg = bite.host_deg = deg;
        scenario.start.bites.push_back(bite);
    }
    return scenario;
}

inline Run even_run(int bites, double first_deg) {
    Run run;
    for (int i = 0; i < bites; ++i) {
        RunBite bite;
        bite.graft_deg = bite.host_deg = first_deg + 360.0 / bites * i;
        run.bites.push_back(bite);
    }
    return run;
}

// A run of even bites as a hand means it, counter-clockwise from `first_deg`.
inline MeantRun meant_run(int bites, double first_deg = 22.5) {
    MeantRun run;
    for (int i = 0; i < bites; ++i) {
        MeantBite bite;
        bite.at_deg = first_deg + 360.0 / bites * i;
        run.bites.push_back(bite);
    }
    return run;
}

// A game at such a level, and the hand that plays it.
struct RunTable {
    std::shared_ptr<const ScenarioModel> model;
    std::shared_ptr<Asked> asked = std::make_shared<Asked>();
    Game game;
    RobotHand hand;

    explicit RunTable(const Scenario& scenario, Device device = Device::keyboard, GameOptions options = {})
        : model(std::make_shared<const ScenarioModel>(scenario)),
          game(model, std::make_unique<NothingSolved>(asked), std::move(options)),
          hand(game, device) {}

    [[nodiscard]] const Attempt& attempt() const { return game.session().attempt(); }
    [[nodiscard]] Snapshot shot() const { return game.snapshot(); }
    [[nodiscard]] int noted(const std::string& what) const {
        int count = 0;
        for (const Event& event : attempt().events) count += event.what == what ? 1 : 0;
        return count;
    }
};

}  // namespace graftwright::scenes
