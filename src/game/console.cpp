#include "game/console.h"

#include <algorithm>
#include <utility>

#include "base/rect.h"
#include "files/limits.h"

namespace graftwright {
namespace {

using enum Command;

constexpr int kColumns = 4;
constexpr double kGap = 6.0, kRowHeight = 36.0;
constexpr int kRows = 5;                                  // that fit at full height
constexpr double kClosedGap = 5.0, kLowRowHeight = 29.0;  // where there is a sixth

// What can be asked for at every stage.
std::vector<Offer> common(const Snapshot& shot) {
    return {{fine, "Fine steps", shot.fine},
            {pause, shot.paused ? "Go on" : "Pause", shot.paused},
            {flip_view, "Turn view", shot.layout.examiner_view}};
}

}  // namespace

std::vector<ConsoleButton> console_buttons(const Snapshot& shot, const KeyBindings& keys) {
    std::vector<ConsoleButton> buttons;
    std::vector<Offer> list = shot.offers;
    if (list.empty()) return buttons;
    for (const Offer& offer : common(shot)) list.push_back(offer);
    const Rect console = shot.layout.console();
    const double width = (console.width - (kColumns + 1) * kGap) / kColumns;
    const bool low = static_cast<int>(list.size()) > kRows * kColumns;
    const double height = low ? kLowRowHeight : kRowHeight, pitch = height + (low ? kClosedGap : kGap);
    int cell = 0;
    for (const Offer& offer : list) {
        ConsoleButton button;
        button.command = offer.command;
        button.label = offer.label;
        button.key = keys.key_of(offer.command);
        button.lit = offer.lit;
        button.asked = shot.lesson && std::find(shot.lesson->press.begin(), shot.lesson->press.end(), offer.command) !=
                                          shot.lesson->press.end();
        button.enabled = offer.enabled && (!shot.paused || offer.command == pause);
        button.place = {console.x + kGap + (width + kGap) * (cell % kColumns),
                        console.y + kConsoleButtonsTop + pitch * (cell / kColumns), width, height};
        buttons.push_back(std::move(button));
        ++cell;
    }
    return buttons;
}

}  // namespace graftwright
