// The question of a drill, as the hand answers it.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "game/session.h"

namespace graftwright {

void Session::finish() {
    const Scenario& scenario = model_->scenario();
    if (warned_of_open_run()) return;
    const bool by_hand = !as_the_level_began();
    // Threads that were taken out by hand are the answer.
    const bool asks = asks_a_question(scenario.kind) && !(scenario.kind == ScenarioKind::remove && by_hand);
    if (!asks || in_place() == 0) {
        end();
        return;
    }
    asking_.emplace(scenario, scenario.kind == ScenarioKind::find_leak && by_hand);
    note("question");
    go(Stage::answer);
}

// A bite's thread lies over the host where its number stands; a place of the wound on the bed's edge.
std::vector<std::optional<Point>> Session::choice_places() const {
    std::vector<std::optional<Point>> places;
    for (const DrillChoice& choice : asking_->step().choices) {
        std::optional<Point> at;
        if (const std::optional<std::size_t> bite = bite_of(choice); bite && *bite < bites_laid()) {
            at = laid_bite(*bite).exit;
        } else if (is_place(choice)) {
            const double radius = bed_radius_mm(model_->scenario(), choice.deg), rad = rad_from_deg(choice.deg);
            at = Point{radius * std::cos(rad), radius * std::sin(rad)};
        }
        places.push_back(at);
    }
    return places;
}

void Session::act_in_answer(const Action& action) {
    if (action.kind == Action::Kind::select) {
        asking_->point_at(action.at, choice_places());
        asking_->toggle();
        return;
    }
    switch (action.command) {
    case Command::left:
        // A wheel may come several notches at once, or turned back.
        for (long i = std::max(1L, std::lround(std::abs(action.amount))); i > 0; --i)
            asking_->go_round(action.amount < 0.0 ? -1 : 1);
        break;
    case Command::right: asking_->go_round(-1); break;
    case Command::up:
    case Command::down: asking_->other_sort(); break;
    case Command::looser: asking_->choose(true); break;
    case Command::tighter: asking_->choose(false); break;
    case Command::cut_out: asking_->toggle(); break;
    case Command::ring_check:
        back_to_ = Stage::answer;
        go(Stage::ring_check);
        note("ring_check");
        break;
    case Command::leak_check:
        back_to_ = Stage::answer;
        chamber_.begin_check();
        go(Stage::leak_check);
        note("leak_check");
        break;
    case Command::back:
        if (!asking_->back()) {
            asking_.reset();
            go(Stage::aim);
        }
        break;
    case Command::primary: accept_answer(); break;
    default: break;
    }
}

void Session::accept_answer() {
    if (!asking_->accept()) {
        say("Pick at least one, or go back.", true);
        return;
    }
    if (!asking_->answered()) return;
    record(answer_event(static_cast<double>(active_ticks_) / kTicksPerSecond, asking_->answer()));
    end();
}

std::string Session::aim_prompt() const {
    const Scenario& scenario = model_->scenario();
    if (as_the_level_began()) {
        switch (scenario.kind) {
        case ScenarioKind::read_rings: return "Look at the rings as often as you like, here and in the ring check; then answer.";
        case ScenarioKind::find_leak: return "Find where it leaks with the leak check. Then answer, or mend it by hand first.";
        case ScenarioKind::remove: return "Look at rings and seal; then say which bites come out, or cut them out by hand.";
        default: break;
        }
    }
    if (scenario.task.pattern != Pattern::interrupted) return run_prompt();
    if (static_cast<int>(in_place()) >= scenario.task.bites)
        return "All bites are in. Check the rings and the seal, then finish.";
    return fmt::format("Bite {}: hold the lip, aim across the wound, set the needle down.", in_place() + 1);
}

}  // namespace graftwright
