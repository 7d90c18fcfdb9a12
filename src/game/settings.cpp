#include "game/settings.h"

#include <filesystem>

#include <nlohmann/json.hpp>

#include "base/whole_file.h"
#include "files/reader.h"

namespace graftwright {
namespace {

constexpr const char* kSettingsFormat = "graftwright-settings";
constexpr int kSettingsVersion = 1;

}  // namespace

Result<Settings> read_settings(const std::string& path) {
    Settings settings;
    std::error_code none;
    if (!std::filesystem::exists(path, none)) return settings;
    if (!std::filesystem::is_regular_file(path, none)) return Fault{path, 0, "can't be read"};
    const Result<std::string> text = read_text_file(path);
    if (!text.ok()) return Fault{path, 0, "can't be read"};
    const nlohmann::json root = nlohmann::json::parse(text.value(), nullptr, false);
    const auto is = [&](const char* key, const nlohmann::json& value) {
        const auto found = root.find(key);
        return found != root.end() && *found == value;
    };
    if (!root.is_object() || !is("format", kSettingsFormat)) return Fault{path, 0, "can't be understood"};
    if (!is("version", kSettingsVersion)) return Fault{path, 0, "was written by another version of the program"};
    const auto flag = [&](const char* key, bool& to) {
        if (const auto found = root.find(key); found != root.end() && found->is_boolean()) to = *found;
    };
    if (const auto found = root.find("trainee"); found != root.end() && found->is_string()) settings.trainee = *found;
    flag("left_handed", settings.left_handed);
    flag("examiner_view", settings.examiner_view);
    flag("reduced_motion", settings.reduced_motion);
    flag("sound", settings.sound);
    if (const auto keys = root.find("keys"); keys != root.end() && keys->is_object())
        for (const auto& [key, command] : keys->items())
            if (command.is_string() && command_from_name(command.get<std::string>()) != Command::none)
                settings.keys.bind(key, command_from_name(command.get<std::string>()));
    return settings;
}

void write_settings(const std::string& path, const Settings& settings) {
    nlohmann::ordered_json root{{"format", kSettingsFormat},
                                {"version", kSettingsVersion},
                                {"trainee", settings.trainee},
                                {"left_handed", settings.left_handed},
                                {"examiner_view", settings.examiner_view},
                                {"reduced_motion", settings.reduced_motion},
                                {"sound", settings.sound}};
    // Only what differs from the shipped keys, so that new commands find theirs.
    nlohmann::ordered_json keys = nlohmann::ordered_json::object();
    const KeyBindings shipped;
    for (const KeyBinding& binding : settings.keys.all())
        if (shipped.command(binding.key) != binding.command)
            keys[binding.key] = std::string(command_name(binding.command));
    root["keys"] = keys;
    write_whole(path, root.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n");
}

}  // namespace graftwright
