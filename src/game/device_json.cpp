#include "game/device_json.h"

#include <array>
#include <cmath>
#include <utility>

#include <nlohmann/json.hpp>

namespace graftwright {
namespace {

using Kind = DeviceEvent::Kind;
constexpr std::array<std::pair<Kind, const char*>, 5> kKinds{{{Kind::move, "move"},
                                                              {Kind::press, "press"},
                                                              {Kind::release, "release"},
                                                              {Kind::wheel, "wheel"},
                                                              {Kind::key, "key"}}};
constexpr double kMostPixels = 1e5, kMostButtons = 31.0, kMostNotches = 1000.0;

}  // namespace

std::string device_json(const DeviceEvent& event) {
    nlohmann::ordered_json object;
    for (const auto& [kind, name] : kKinds)
        if (kind == event.kind) object["do"] = name;
    if (event.kind == Kind::wheel) {
        object["notches"] = event.notches;
    } else if (event.kind == Kind::key) {
        object["key"] = event.key;
    } else {
        object["x"] = event.x;
        object["y"] = event.y;
        if (event.kind != Kind::move) object["button"] = event.button;
    }
    return object.dump();
}

std::optional<DeviceEvent> device_from_json(const std::string& text) {
    const nlohmann::json object = nlohmann::json::parse(text, nullptr, false);
    if (!object.is_object()) return std::nullopt;
    DeviceEvent event;
    bool known = false;
    const auto what = object.find("do");
    if (what == object.end() || !what->is_string()) return std::nullopt;
    for (const auto& [kind, name] : kKinds)
        if (*what == name) {
            event.kind = kind;
            known = true;
        }
    if (!known) return std::nullopt;
    // 0 where it is missing or no number; what no device gives makes the whole event none.
    const auto number = [&](const char* key, double most) {
        const auto found = object.find(key);
        const double value = found != object.end() && found->is_number() ? found->get<double>() : 0.0;
        known = known && std::abs(value) <= most;
        return known ? value : 0.0;
    };
    event.x = number("x", kMostPixels);
    event.y = number("y", kMostPixels);
    event.button = static_cast<int>(number("button", kMostButtons));
    event.notches = number("notches", kMostNotches);
    if (const auto key = object.find("key"); key != object.end() && key->is_string()) event.key = *key;
    return known ? std::optional(event) : std::nullopt;
}

}  // namespace graftwright
