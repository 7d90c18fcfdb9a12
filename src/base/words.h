// Words and numbers that every room says alike: counts, signs, places on the wound, units.
//
// For people: screens, reports, sentences. Tables that machines cut, CSV and JSON keep plain figures and '-'.
#pragma once

#include <array>
#include <charconv>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <string>
#include <string_view>

namespace graftwright {

// "1 bite", "16 bites"; `many` where an s does not do it.
[[nodiscard]] inline std::string counted(std::integral auto count, std::string_view one, std::string_view many = "") {
    std::string words = std::to_string(count) + " ";
    if (count != 1 && !many.empty()) return words.append(many);
    return words.append(one).append(count == 1 ? "" : "s");
}

// "−1.25", with a true minus sign and without a sign on what is shown as nought; `sign`: "+1.25" too. "–" where
// the value is none.
[[nodiscard]] inline std::string shown_number(double value, int decimals, bool sign = false) {
    if (!std::isfinite(value)) return "–";
    char digits[400];  // the largest double has 309 before the point
    const auto end = std::to_chars(digits, digits + sizeof digits, std::abs(value), std::chars_format::fixed, decimals);
    const std::string text(digits, end.ptr);
    if (text.find_first_of("123456789") == std::string::npos) return text;
    return (value < 0.0 ? "−" : sign ? "+" : "") + text;
}

// "281°", [0, 360).
[[nodiscard]] inline std::string whole_deg(double deg) {
    const long whole = std::lround(deg) % 360;
    return std::to_string(whole < 0 ? whole + 360 : whole) + "°";
}

// "6:30" of the clock face as an examiner facing the eye reads it, to the half hour: 90° is 12:00, 0° is 3:00.
[[nodiscard]] inline std::string clock_hour(double deg) {
    constexpr double kTurn_deg = 360.0, kHalfHour_deg = 15.0;
    const double from_twelve = std::fmod(std::fmod(90.0 - deg, kTurn_deg) + kTurn_deg, kTurn_deg);
    const long halves = std::lround(from_twelve / kHalfHour_deg) % 24;
    return std::to_string(halves / 2 == 0 ? 12 : halves / 2) + (halves % 2 == 0 ? ":00" : ":30");
}

// How a place on the wound is called: "6:30 (257°)".
[[nodiscard]] inline std::string place_words(double deg) { return clock_hour(deg) + " (" + whole_deg(deg) + ")"; }

// Units as people and files write them.
enum class Unit {
    none,
    dioptre,
    mm,
    um,
    um_rms,
    mmHg,
    uL_per_min,
    degree,
    degree_rms,
    place,  // degrees of the wound, beside their clock hour
    of_thickness,
    of_the_thickness,
    of_its_mean,
    points,
    of_100
};
inline constexpr std::array<const char*, 15> kUnitNames{
    "",      "D",     "mm",        "µm",           "µm RMS",           "mmHg",        "µL/min",
    "°",     "° RMS", "clock (°)", "of thickness", "of the thickness", "of its mean", "points",
    "of 100"};
static_assert(kUnitNames.size() == static_cast<std::size_t>(Unit::of_100) + 1);
[[nodiscard]] constexpr const char* name_of(Unit unit) { return kUnitNames[static_cast<std::size_t>(unit)]; }

// A number and its unit: "3 D", "5°", and the number alone where there is none.
[[nodiscard]] inline std::string with_unit(const std::string& number, const std::string& unit) {
    return number + (unit.empty() || unit.starts_with("°") ? "" : " ") + unit;
}
[[nodiscard]] inline std::string with_unit(const std::string& number, Unit unit) {
    return with_unit(number, std::string(name_of(unit)));
}

}  // namespace graftwright
