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
    object["do"] = name_of(input.what);
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
    const auto does = object.find("do");
    if (does == object.end() || !does->is_string()) return std::nullopt;
    const auto what = choice_named<HandDoes>(does->get_ref<const std::string&>());
    if (!what) return std::nullopt;
    input.what = *what;
    bool possible = true;
    // 0 where it is missing or no number; what no device gives makes the whole input none.
    const auto number = [&](const char* key, double most) {
        const auto found = object.find(key);
        const double value = found != object.end() && found->is_number() ? found->get<double>() : 0.0;
        possible = possible && std::abs(value) <= most;
        return possible ? value : 0.0;
    };
    input.x = number("x", kMostPixels);
    input.y = number("y", kMostPixels);
    input.button = static_cast<int>(number("button", kMostButtons));
    input.notches = number("notches", kMostNotches);
    if (const auto key = object.find("key"); key != object.end() && key->is_string()) input.key = *key;
    return possible ? std::optional(input) : std::nullopt;
}

}  // namespace graftwright
