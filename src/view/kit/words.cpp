#include "view/kit/words.h"

#include <algorithm>

#include <fmt/format.h>

namespace graftwright::words {

std::string number(double value, int decimals) { return shown_number(value, decimals); }

std::string clock(double seconds) {
    const auto whole = static_cast<long>(std::max(0.0, seconds));
    return fmt::format("{:02}:{:02}", whole / 60, whole % 60);
}

std::string_view stage(Stage stage) {
    switch (stage) {
        case Stage::aim:
            return "Aim";
        case Stage::approach_donor:
            return "Approach";
        case Stage::drive_donor:
            return "Drive: donor";
        case Stage::approach_host:
            return "Re-grasp";
        case Stage::drive_host:
            return "Drive: rim";
        case Stage::tie:
            return "Tie";
        case Stage::bury:
            return "Bury the knot";
        case Stage::look:
            return "Look";
        case Stage::ring_check:
            return "Ring check";
        case Stage::leak_check:
            return "Leak check";
        case Stage::answer:
            return "Answer";
        case Stage::solving:
            return "Working it out";
        case Stage::debrief:
            return "Debrief";
    }
    return "";
}

}  // namespace graftwright::words
