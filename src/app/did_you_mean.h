// What a mistyped command line may have meant.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>

namespace graftwright {

// The commands under this one.
[[nodiscard]] std::vector<std::string> command_names(const CLI::App& app);
// For the first command or --option in these words that there is not: the nearest one that there is. Empty where all
// are known or nothing is near.
[[nodiscard]] std::optional<std::string> meant_by(const CLI::App& app, const std::vector<std::string>& words);

}  // namespace graftwright
