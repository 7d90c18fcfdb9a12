#include "game/console.h"

#include <algorithm>

#include "files/rules.h"

namespace graftwright {
namespace {

using enum Command;

constexpr int kColumns = 4;
constexpr double kGap = 6.0, kRowHeight = 36.0;
constexpr int kRows = 5;                                  // that fit at full height
constexpr double kClosedGap = 5.0, kLowRowHeight = 29.0;  // where there is a sixth

struct Entry {
    Command command;
    const char* label;
    bool lit = false;
    bool enabled = true;
};

std::vector<Entry> common(const Snapshot& shot) {
    return {{fine, "Fine steps", shot.fine}, {pause, shot.paused ? "Go on" : "Pause", shot.paused},
            {flip_view, "Turn view", shot.layout.examiner_view}};
}

std::vector<Entry> lip(const Snapshot& shot) {
    return {{forceps, shot.forceps ? "Let lip go" : "Hold lip", shot.forceps},
            {evert_more, "Lift lip", false, shot.forceps},
            {evert_less, "Lower lip", false, shot.forceps}};
}

std::vector<Entry> answer_entries(const QuestionView& question) {
    const bool last = question.step == question.steps;
    std::vector<Entry> list{{primary, last ? "Give answer" : "Next step"}};
    const bool somewhere = std::any_of(question.choices.begin(), question.choices.end(),
                                       [](const QuestionView::Choice& choice) { return choice.at.has_value(); });
    if (somewhere) {
        list.push_back({left, "Anticlockwise"});
        list.push_back({right, "Clockwise"});
    } else {
        list.push_back({looser, "Loosen it", question.under_hand == 0});
        list.push_back({tighter, "Tighten it", question.under_hand == 1});
    }
    if (question.two_sorts) list.push_back({up, "Bite or place"});
    if (question.several) list.push_back({cut_out, "Take / leave"});
    list.push_back({ring_check, "Ring check"});
    list.push_back({leak_check, "Leak check"});
    list.push_back({back, question.step > 1 ? "Step before" : "Look again"});
    return list;
}

std::vector<Entry> entries(const Snapshot& shot) {
    const bool any = !shot.bites.empty();
    switch (shot.stage) {
    case Stage::aim: {
        std::vector<Entry> list{{primary, "Set needle down"}};
        for (const Entry& entry : lip(shot)) list.push_back(entry);
        for (const Entry& entry : {Entry{left, "Anticlockwise"}, Entry{right, "Clockwise"}, Entry{up, "Outward"},
                                   Entry{down, "Inward"}, Entry{skew_more, "Skew +"}, Entry{skew_less, "Skew -"},
                                   Entry{next_bite, "Select bite", false, any}, Entry{cut_out, "Cut out", false, any},
                                   Entry{undo, "Undo", false, any && shot.aid("undo")}, Entry{ring_check, "Ring check"},
                                   Entry{leak_check, "Leak check"}, Entry{refill, "Refill"}})
            list.push_back(entry);
        if (shot.scenario->task.pattern != Pattern::interrupted) {
            const auto open = std::count_if(shot.bites.begin(), shot.bites.end(),
                                            [](const LaidBite& laid) { return laid.slack; });
            list.push_back({running_thread, "Running", shot.running, open == 0});
            list.push_back({tie_run, "Tie run", false, open >= static_cast<std::ptrdiff_t>(kLeastBitesOfARun)});
            if (open > 0) list.push_back({back, "Draw back"});
        }
        list.push_back({finish, asks_a_question(shot.scenario->kind) ? "Answer" : "Finish", false, any});
        return list;
    }
    case Stage::approach_donor:
    case Stage::approach_host: {
        const bool host = shot.stage == Stage::approach_host;
        std::vector<Entry> list{{primary, "Drive"}};
        for (const Entry& entry : lip(shot)) list.push_back(entry);
        list.push_back({down, "Steeper"});
        list.push_back({up, "Flatter"});
        list.push_back({left, host ? "Tip deeper" : "Tip inward"});
        list.push_back({right, host ? "Tip higher" : "Tip outward"});
        list.push_back({back, "Give up bite"});
        return list;
    }
    case Stage::drive_donor:
    case Stage::drive_host: {
        std::vector<Entry> list{{primary, shot.stage == Stage::drive_donor ? "Re-grasp" : "Pull through"}};
        for (const Entry& entry : lip(shot)) list.push_back(entry);
        for (const Entry& entry : {Entry{turn_forward, "Turn on"}, Entry{turn_back, "Turn back"},
                                   Entry{push_out, "Push out"}, Entry{push_in, "Push in"}, Entry{up, "Raise"},
                                   Entry{down, "Press"}, Entry{back, "Back out"}})
            list.push_back(entry);
        return list;
    }
    case Stage::tie: {
        const bool run = shot.tie && shot.tie->worked_mN, locked = shot.tie && shot.tie->kind == KnotKind::locked;
        std::vector<Entry> list{{primary, locked && shot.tie->throws.size() >= 3 ? "Cut ends" : "Next throw"},
                                {tighter, "Tighter"},
                                {looser, "Looser"},
                                {let_go, "Let go"},
                                {throw_clockwise, "Throw right"},
                                {throw_counter, "Throw left"},
                                {turns_more, "More turns"},
                                {turns_less, "Fewer turns"}};
        if (run) list.push_back({work_round, "Work round", false, !locked});
        list.push_back({back, run ? "Open run" : "Give up bite", false, !run || !locked});
        return list;
    }
    case Stage::bury: return {{bury_donor, "To the donor"}, {bury_host, "To the host"}};
    case Stage::look: return {{primary, "Go on"}, {cut_out, "Cut last out"}};
    case Stage::ring_check: return {{back, "Back"}};
    case Stage::leak_check: {
        const LeakView leak = shot.leak.value_or(LeakView{});
        return {{wash, "Wash", leak.saline},    {sweep, "Sweep", leak.swept}, {dry, "Dry", leak.dry},
                {stain, "Stain", leak.stained}, {raise_pressure, "Pressure +"}, {lower_pressure, "Pressure -"},
                {back, "Back"}};
    }
    case Stage::answer: return answer_entries(shot.question.value_or(QuestionView{}));
    case Stage::solving:
    case Stage::debrief: return {};
    }
    return {};
}

}  // namespace

std::vector<ConsoleButton> console_buttons(const Snapshot& shot, const KeyBindings& keys) {
    std::vector<ConsoleButton> buttons;
    std::vector<Entry> list = entries(shot);
    if (list.empty()) return buttons;
    for (const Entry& entry : common(shot)) list.push_back(entry);
    const Rect console = shot.layout.console();
    const double width = (console.width - (kColumns + 1) * kGap) / kColumns;
    const bool low = static_cast<int>(list.size()) > kRows * kColumns;
    const double height = low ? kLowRowHeight : kRowHeight, pitch = height + (low ? kClosedGap : kGap);
    int cell = 0;
    for (const Entry& entry : list) {
        ConsoleButton button;
        button.command = entry.command;
        button.label = entry.label;
        button.key = keys.key_of(entry.command);
        button.lit = entry.lit;
        button.asked = shot.lesson && std::find(shot.lesson->press.begin(), shot.lesson->press.end(), entry.command) !=
                                          shot.lesson->press.end();
        button.enabled = entry.enabled && (!shot.paused || entry.command == pause);
        button.place = {console.x + kGap + (width + kGap) * (cell % kColumns),
                        console.y + kConsoleButtonsTop + pitch * (cell / kColumns), width, height};
        buttons.push_back(std::move(button));
        ++cell;
    }
    return buttons;
}

}  // namespace graftwright
