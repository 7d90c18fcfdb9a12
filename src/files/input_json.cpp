#include "files/input_json.h"

#include <cmath>

#include <nlohmann/json.hpp>

#include "files/keys.h"

namespace graftwright {
namespace {

constexpr double kMostPixels = 1e5, kMostButtons = 31.0, kMostNotches = 1000.0;

}  // namespace

std::string input_json(const Input& input) {
    nlohmann::ordered_json object;
    for (const auto& [what, name] : names_of(HandDoes{}))
        if (what == input.what) object["do"] = name;
    if (input.what == HandDoes::wheel) {
        object["notches"] = input.notches;
    } else if (input.what == HandDoes::key) {
        object["key"] = input.key;
    } else {
        object["x"] = input.x;
        object["y"] = input.y;
        if (input.what != HandDoes::move) object["button"] = input.button;
    }
    return object.dump();
}

std::optional<Input> input_from_json(const std::string& text) {
    const nlohmann::json object = nlohmann::json::parse(text, nullptr, false);
    if (!object.is_object()) return std::nullopt;
    Input input;
    bool known = false;
    const auto does = object.find("do");
    if (does == object.end() || !does->is_string()) return std::nullopt;
    for (const auto& [what, name] : names_of(HandDoes{}))
        if (*does == name) {
            input.what = what;
            known = true;
        }
    if (!known) return std::nullopt;
    // 0 where it is missing or no number; what no device gives makes the whole input none.
    const auto number = [&](const char* key, double most) {
        const auto found = object.find(key);
        const double value = found != object.end() && found->is_number() ? found->get<double>() : 0.0;
        known = known && std::abs(value) <= most;
        return known ? value : 0.0;
    };
    input.x = number("x", kMostPixels);
    input.y = number("y", kMostPixels);
    input.button = static_cast<int>(number("button", kMostButtons));
    input.notches = number("notches", kMostNotches);
    if (const auto key = object.find("key"); key != object.end() && key->is_string()) input.key = *key;
    return known ? std::optional(input) : std::nullopt;
}

}  // namespace graftwright
