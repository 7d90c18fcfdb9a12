#include "game/levels.h"

#include <algorithm>
#include <filesystem>
#include <tuple>

#include "files/reader.h"

namespace graftwright {

std::string Level::name() const {
    if (scenario && !scenario->title.empty()) return scenario->title;
    return scenario ? scenario->id : std::filesystem::path(path).filename().string();
}

Result<std::vector<Level>> read_levels(const std::string& folder) {
    namespace fs = std::filesystem;
    std::error_code error;
    std::vector<Level> levels;
    for (fs::directory_iterator file(folder, error), end; !error && file != end; file.increment(error)) {
        const std::string name = file->path().filename().string();
        if (!name.ends_with(".json") || name.ends_with(".schema.json")) continue;
        Level level;
        level.path = file->path().string();
        const Result<std::string> text = read_text_file(level.path);
        const Result<Scenario> read = text.ok() ? read_scenario(text.value(), level.path) : Result<Scenario>(text.faults());
        if (read.ok())
            level.scenario = read.value();
        else
            level.faults = read.faults();
        levels.push_back(std::move(level));
    }
    if (error) return Fault{folder, 0, "the folder of levels can't be read: " + error.message()};
    std::sort(levels.begin(), levels.end(), [](const Level& a, const Level& b) {
        const auto key = [](const Level& level) {
            return std::make_tuple(!level.scenario, level.scenario ? level.scenario->order : 0,
                                   level.scenario ? level.scenario->id : level.path);
        };
        return key(a) < key(b);
    });
    return levels;
}

}  // namespace graftwright
