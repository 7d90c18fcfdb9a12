#include "view/words.h"

#include <cmath>

#include <fmt/format.h>

namespace graftwright::words {

std::string number(double value, int decimals) {
    if (!std::isfinite(value)) return "–";
    std::string text = fmt::format("{:.{}f}", std::abs(value), decimals);
    const bool negative = value < 0.0 && text.find_first_of("123456789") != std::string::npos;
    return negative ? "−" + text : text;
}

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

std::string hour(double deg) {
    constexpr double kMinutesPerDegree = 2.0;  // 720 minutes of the clock face in 360°
    const long minutes = std::lround(std::fmod((90.0 - deg) * kMinutesPerDegree + 1440.0, 720.0) / 30.0) * 30 % 720;
    return fmt::format("{}:{:02}", minutes < 60 ? 12 : minutes / 60, minutes % 60);
}

}  // namespace graftwright::words
