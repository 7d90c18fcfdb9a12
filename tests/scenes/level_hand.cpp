#include "level_hand.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "score/scorecard.h"

namespace graftwright::scenes {
namespace {

constexpr double kClear = 1.5;         // of the tremor
constexpr double kSeenSlip_deg = 2.0;  // a donor meant to slip by more was not held
constexpr double kDragged_mm = 0.4;    // pushed instead of turned, where the hand drags tissue

// Of a path alone: what the thread is drawn to is the caller's business.
MeantBite meant_by(const BitePath& bite, const Scenario& scenario) {
    MeantBite meant;
    meant.at_deg = bite.host_deg;
    meant.skew_deg = deg_from_rad(
        std::atan2(bite.host_skew_mm - bite.graft_skew_mm, bite.graft_bite_mm + bite.host_bite_mm));
    meant.donor_bite_mm = bite.graft_bite_mm;
    meant.host_bite_mm = bite.host_bite_mm;
    // Who knows that the hand trembles stays clear of the back by as much more.
    const double clear_um = kClear * scenario.task.hand.tremor_um;
    meant.depth_fraction = (bite.graft_depth_um - clear_um) / scenario.graft.thickness_um;
    meant.host_depth_fraction = (bite.host_depth_um - clear_um) / scenario.eye.rim_thickness_um;
    meant.hold = std::abs(std::remainder(bite.graft_deg - bite.host_deg, 360.0)) < kSeenSlip_deg;
    return meant;
}

class LevelHand {
  public:
    LevelHand(const std::shared_ptr<const ScenarioModel>& model, const InputNoise& noise)
        : scenario_(model->scenario()),
          game_(model, make_inline_service(model), GameOptions{}),
          hand_(game_, Device::mouse_and_wheel, noise),
          jitter_(noise.seed, 1),
          noise_(noise) {}

    void lay(const Attempt& plan) {
        std::size_t dragged = plan.events.size();
        for (std::size_t b = 0; b < plan.bites.size(); ++b) {
            if (b < scenario_.start.bites.size()) {
                if (plan.bites[b].removed && !scenario_.start.bites[b].removed && !after_the_runs(plan, b)) cut_out(b);
                continue;
            }
            MeantBite meant = meant_by(plan.bites[b], scenario_);
            meant.tension_mN = plan.bites[b].tension_mN;
            if (dragged > 0) {
                meant.push_mm = kDragged_mm;
                --dragged;
            }
            hand_.switch_running(false);
            lay(meant);
        }
        for (std::size_t r = scenario_.start.runs.size(); r < plan.runs.size(); ++r) lay(plan.runs[r], dragged);
        for (std::size_t b = 0; b < plan.bites.size(); ++b)
            if (after_the_runs(plan, b)) cut_out(b);
    }
    void answer(const DrillAnswer& wanted) {
        hand_.wait(30);
        hand_.ask(Command::finish);
        while (game_.session().stage() == Stage::answer) {
            pick(wanted);
            hand_.ask(Command::primary);
        }
    }
    [[nodiscard]] Attempt attempt() const { return game_.attempt(); }

  private:
    // Temporary single bites are cut out once the running thread holds.
    static bool after_the_runs(const Attempt& plan, std::size_t b) {
        return !plan.runs.empty() && plan.bites[b].removed && plan.bites[b].removed_after == 0;
    }
    void lay(const Run& run, std::size_t& dragged) {
        hand_.switch_running(true);
        for (const RunBite& path : run.bites) {
            MeantBite meant = meant_by(path, scenario_);
            if (dragged > 0) {
                meant.push_mm = kDragged_mm;
                --dragged;
            }
            lay(meant);
        }
        MeantRun meant;
        meant.tension_mN = run.tension_mN;
        meant.worked_mN = run.worked_mN;
        hand_.tie_run(meant);
    }
    // A bite that came to nothing is tried again, a little shorter in the rim.
    void lay(MeantBite meant) {
        constexpr int kTries = 3;
        const std::size_t before = laid();
        for (int i = 0; i < kTries && laid() == before; ++i) {
            hand_.bite(meant);
            for (int k = 0; k < 6 && game_.session().stage() != Stage::aim; ++k) {
                hand_.ask(Command::back);
                hand_.wait(400);
            }
            meant.host_bite_mm *= 0.85;
        }
    }
    // Single bites and those of runs, the open one's too.
    [[nodiscard]] std::size_t laid() const { return game_.snapshot().bites.size(); }
    void cut_out(std::size_t bite) {
        hand_.wait(30);
        hand_.cut_out(bite);
    }
    void click(const Snapshot& shot, Point at) {
        const Point canvas = shot.layout.field_to_canvas(at);
        const double dx = noise_.jitter_px * (2.0 * jitter_.uniform() - 1.0);
        const double dy = noise_.jitter_px * (2.0 * jitter_.uniform() - 1.0);
        using Kind = HandDoes;
        hand_.wait(noise_.delay_ticks);
        game_.step({{Kind::press, canvas.x + dx, canvas.y + dy, 0, 0.0, ""}});
        game_.step({{Kind::release, canvas.x + dx, canvas.y + dy, 0, 0.0, ""}});
        hand_.wait(1);
    }
    void pick(const DrillAnswer& wanted) {
        const DrillQuestion question = drill_question(scenario_);
        const Snapshot shot = game_.snapshot();
        const QuestionView& view = *shot.question;
        const std::vector<DrillChoice>& choices = question.steps[static_cast<std::size_t>(view.step - 1)].choices;
        if (view.several) {
            for (const std::size_t bite : wanted.remove)
                for (std::size_t c = 0; c < choices.size(); ++c)
                    if (choices[c].means.remove == std::vector{bite}) click(shot, *view.choices[c].at);
            // Somebody who would take nothing out must pick something: the game takes no empty answer.
            if (wanted.remove.empty()) click(shot, *view.choices.front().at);
            return;
        }
        std::size_t best = 0;
        double least = 1e9;
        for (std::size_t c = 0; c < choices.size(); ++c) {
            const double off = distance(choices[c].means, wanted);
            if (off < least) {
                least = off;
                best = c;
            }
        }
        if (view.choices[best].at)
            click(shot, *view.choices[best].at);
        else
            hand_.ask(choices[best].means.loosen.value_or(true) ? Command::looser : Command::tighter);
    }
    // How far a choice is from what is wanted of its step; 1e9: it speaks of something else.
    static double distance(const DrillAnswer& choice, const DrillAnswer& wanted) {
        const auto apart = [](const auto& a, const auto& b) {
            return a && b ? std::abs(std::remainder(static_cast<double>(*a) - static_cast<double>(*b), 360.0)) : 1e9;
        };
        const auto same = [](const auto& a, const auto& b) { return a && a == b ? 0.0 : 1e9; };
        return std::min({same(choice.bite, wanted.bite), same(choice.loosen, wanted.loosen),
                         same(choice.retie, wanted.retie), apart(choice.at_deg, wanted.at_deg),
                         apart(choice.add_at_deg, wanted.add_at_deg)});
    }

    const Scenario& scenario_;
    Game game_;
    RobotHand hand_;
    RandomStream jitter_;
    InputNoise noise_;
};

}  // namespace

Attempt play_plan(const std::shared_ptr<const ScenarioModel>& model, const Attempt& plan, const InputNoise& noise) {
    LevelHand hand(model, noise);
    hand.lay(plan);
    return hand.attempt();
}

PlayedLevel play_level(const std::shared_ptr<const ScenarioModel>& model, const DrillJudge* judge, const HandSkill& skill,
                       const InputNoise& noise) {
    const Scenario& scenario = model->scenario();
    RandomStream random(noise.seed, 2);
    LevelHand hand(model, noise);
    PlayedLevel played;
    if (asks_a_question(scenario.kind))
        hand.answer(simulated_answer(scenario, *judge, skill, random));
    else
        hand.lay(simulated_attempt(scenario, skill, random));
    played.attempt = hand.attempt();
    if (scenario.kind != ScenarioKind::closure) {
        const DrillVerdict verdict = judge->judge(played.attempt);
        played.passed = verdict.passed;
        played.why = verdict.sentence;
        return played;
    }
    ScoreOptions options;
    options.shares = false;
    options.threads = 1;
    const Scorecard card = score_attempt(*model, played.attempt, options);
    played.passed = card.score && card.score->passed;
    if (!card.converged()) {
        played.why = card.reason();
    } else if (card.score) {
        for (const PassMark& mark : card.score->marks)
            if (!mark.met() && played.why.empty()) played.why = mark_words(mark);
    }
    return played;
}

}  // namespace graftwright::scenes
