#include "game/hand_script.h"

#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "game/device_json.h"

namespace graftwright {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kFormat = "graftwright-hand";
constexpr int kVersion = 1, kMostTimes = 1000, kTicksApart = 2;
constexpr double kLongest_s = 4 * 3600.0;
constexpr std::size_t kMostFaults = 50, kMostInputs = 1000000;

// Reads the one shape with all its faults; `place` names what is at fault.
class Reader {
  public:
    Reader(const Json& root, std::string file) : root_(root), file_(std::move(file)) {}

    HandScript read() {
        HandScript script;
        if (!root_.is_object()) {
            fault("expected one object");
            return script;
        }
        for (const auto& [key, value] : root_.items()) take(script, key, value);
        if (root_.value("format", "") != kFormat) fault(fmt::format("format is not \"{}\"", kFormat));
        if (!root_.contains("events")) fault("events is missing");
        return script;
    }
    Faults faults;

  private:
    void fault(std::string message) {
        if (faults.size() < kMostFaults) faults.push_back({file_, 0, std::move(message)});
    }
    void take(HandScript& script, const std::string& key, const Json& value) {
        const auto text = [&](std::string& to) {
            if (value.is_string()) to = value;
            else fault(key + ": expected text");
        };
        const auto flag = [&](bool& to) {
            if (value.is_boolean()) to = value;
            else fault(key + ": expected true or false");
        };
        if (key == "format") return;
        if (key == "version") {
            if (value != kVersion) fault(fmt::format("version is {}, expected {}", value.dump(), kVersion));
        } else if (key == "scenario") {
            text(script.scenario);
        } else if (key == "trainee") {
            text(script.trainee);
        } else if (key == "started") {
            text(script.started);
        } else if (key == "left_handed") {
            flag(script.left_handed);
        } else if (key == "examiner_view") {
            flag(script.examiner_view);
        } else if (key == "events") {
            if (value.is_array()) events(script, value);
            else fault("events: expected a list");
        } else {
            fault(fmt::format("\"{}\" is not a key of a hand", key));
        }
    }
    void events(HandScript& script, const Json& list) {
        int last = 0;
        for (std::size_t i = 0; i < list.size(); ++i) {
            const std::string place = fmt::format("event {}", i + 1);
            const auto device = device_from_json(list[i].dump());
            if (!device) {
                fault(place + ": expected \"do\": move, press, release, wheel or key");
                continue;
            }
            const Json time = list[i].value("t_s", Json());
            const Json times = list[i].value("times", Json(1));
            if (!time.is_number() || !(time >= 0.0) || time > kLongest_s) {
                fault(fmt::format("{}: t_s is {}, expected 0 to {:.0f} s", place, time.dump(), kLongest_s));
                continue;
            }
            if (!times.is_number_integer() || times < 1 || times > kMostTimes) {
                fault(fmt::format("{}: times is {}, expected 1 to {}", place, times.dump(), kMostTimes));
                continue;
            }
            for (const double value : {device->x, device->y, device->notches})
                if (!std::isfinite(value) || std::abs(value) > 1e5)
                    fault(place + ": a number is far outside the screen");
            int tick = std::max(1, static_cast<int>(std::ceil(time.get<double>() * kTicksPerSecond - 1e-9)));
            if (tick < last) fault(place + ": earlier than the event before it");
            for (int n = 0; n < times; ++n, tick += kTicksApart) script.inputs.push_back({tick, *device});
            last = script.inputs.back().tick;
            if (script.inputs.size() > kMostInputs) return fault("more than a million inputs");
        }
    }

    const Json& root_;
    std::string file_;
};

}  // namespace

Result<HandScript> read_hand_script(std::string_view text, const std::string& file_name) {
    const Json root = Json::parse(text, nullptr, false, true);
    if (root.is_discarded()) return Fault{file_name, 0, "this is not JSON"};
    Reader reader(root, file_name);
    HandScript script = reader.read();
    if (!reader.faults.empty()) return reader.faults;
    return script;
}

std::string write_hand_script(const HandScript& script) {
    const Json head{{"format", kFormat},          {"version", kVersion},
                    {"scenario", script.scenario}, {"trainee", script.trainee},
                    {"started", script.started},   {"left_handed", script.left_handed},
                    {"examiner_view", script.examiner_view}};
    std::string text = head.dump();
    text.back() = ',';
    text += "\n\"events\": [";
    const std::vector<TimedInput>& inputs = script.inputs;
    for (std::size_t i = 0; i < inputs.size();) {
        std::size_t n = 1;
        while (i + n < inputs.size() && n < kMostTimes && inputs[i + n].event == inputs[i].event &&
               inputs[i + n].tick == inputs[i].tick + static_cast<int>(n) * kTicksApart)
            ++n;
        Json event{{"t_s", static_cast<double>(inputs[i].tick) / kTicksPerSecond}};
        const Json device = Json::parse(device_json(inputs[i].event));
        event.insert(device.begin(), device.end());
        if (n > 1) event["times"] = n;
        text += (i == 0 ? "\n  " : ",\n  ") + event.dump();
        i += n;
    }
    return text + "\n]}\n";
}

}  // namespace graftwright
