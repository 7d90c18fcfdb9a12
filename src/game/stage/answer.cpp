// Answer: a drill's question, answered with the hand.
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "base/point.h"
#include "base/units.h"
#include "game/stage/stages.h"

namespace graftwright::stage {
namespace {

// A bite's thread lies over the host where its number stands; a place of the wound on the bed's edge.
std::vector<std::optional<Point>> choice_places(const Table& table, const DrillStep& step) {
    std::vector<std::optional<Point>> places;
    for (const DrillChoice& choice : step.choices) {
        std::optional<Point> at;
        if (const std::optional<std::size_t> bite = bite_of(choice); bite && *bite < table.threads.count()) {
            at = table.laid_bite(*bite).exit;
        } else if (is_place(choice)) {
            at = polar(bed_radius_mm(table.scenario(), choice.deg), rad_from_deg(choice.deg));
        }
        places.push_back(at);
    }
    return places;
}

// A wheel may come several notches at once, or turned back.
void go_round(QuestionInHand& asking, double notches) {
    for (long i = std::max(1L, std::lround(std::abs(notches))); i > 0; --i) asking.go_round(notches < 0.0 ? -1 : 1);
}

Next accept(Table& table, QuestionInHand& asking) {
    if (!asking.accept()) {
        table.say("Pick at least one, or go back.", true);
        return {};
    }
    if (!asking.answered()) return {};
    table.threads.attempt.events.push_back(answer_event(table.time_s(), asking.answer()));
    return end(table);
}

}  // namespace

void Answer::select(Table& table, Point field) {
    asking.point_at(field, choice_places(table, asking.step()));
    asking.toggle();
}

Next Answer::act(Table& table, const Action& action) {
    switch (action.command) {
        case Command::left:
            go_round(asking, action.amount);
            break;
        case Command::right:
            asking.go_round(-1);
            break;
        case Command::up:
        case Command::down:
            asking.other_sort();
            break;
        case Command::looser:
            asking.choose(true);
            break;
        case Command::tighter:
            asking.choose(false);
            break;
        case Command::cut_out:
            asking.toggle();
            break;
        case Command::ring_check:
            return RingCheck(table, std::move(asking));
        case Command::leak_check:
            return LeakCheck(table, std::move(asking));
        case Command::back:
            if (!asking.back()) return Aim();
            break;
        case Command::primary:
            return accept(table, asking);
        default:
            break;
    }
    return {};
}

void Answer::ask(const Table& table, WoundQuestion& question) const {
    question.pressure_mmHg = table.scenario().eye.pressure_mmHg;
}

void Answer::show(const Table& table, Snapshot& shot) const {
    using enum Command;
    const QuestionView question = asking.view(choice_places(table, asking.step()));
    shot.title = "Answer";
    shot.prompt = question.words;
    shot.wheel = left;
    shot.pointer_does = PointerDoes::choose;
    offer(shot, {{primary, question.step == question.steps ? "Give answer" : "Next step"}});
    const bool somewhere = std::any_of(question.choices.begin(), question.choices.end(),
                                       [](const QuestionView::Choice& choice) { return choice.at.has_value(); });
    if (somewhere)
        offer(shot, {{left, "Anticlockwise"}, {right, "Clockwise"}});
    else
        offer(shot,
              {{looser, "Loosen it", question.under_hand == 0}, {tighter, "Tighten it", question.under_hand == 1}});
    if (question.two_sorts) offer(shot, {{up, "Bite or place"}});
    if (question.several) offer(shot, {{cut_out, "Take / leave"}});
    offer(shot, {{ring_check, "Ring check"},
                 {leak_check, "Leak check"},
                 {back, question.step > 1 ? "Step before" : "Look again"}});
    shot.question = question;
}

}  // namespace graftwright::stage
