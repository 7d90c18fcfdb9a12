#include "app/did_you_mean.h"

#include <algorithm>

#include "base/nearest_word.h"

namespace graftwright {
namespace {

bool is_among(const std::string& word, const std::vector<std::string>& words) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

// Long options of this command and of those above it.
std::vector<std::string> option_names(const CLI::App* app) {
    std::vector<std::string> names;
    for (; app != nullptr; app = app->get_parent())
        for (const CLI::Option* option : app->get_options())
            for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    return names;
}

}  // namespace

std::vector<std::string> command_names(const CLI::App& app) {
    std::vector<std::string> names;
    for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
        names.push_back(command->get_name());
    return names;
}

std::optional<std::string> meant_by(const CLI::App& app, const std::vector<std::string>& words) {
    const CLI::App* command = &app;
    for (const std::string& word : words) {
        const std::vector<std::string> commands = command_names(*command);
        if (word.starts_with("--")) {
            const std::string name = word.substr(0, word.find('='));
            const std::vector<std::string> options = option_names(command);
            if (!is_among(name, options)) return nearest_word(name, options);
        } else if (is_among(word, commands)) {
            command = command->get_subcommand(word);
        } else if (!commands.empty() && !word.starts_with('-')) {
            if (std::optional<std::string> nearest = nearest_word(word, commands)) return nearest;
        }
    }
    return std::nullopt;
}

}  // namespace graftwright
