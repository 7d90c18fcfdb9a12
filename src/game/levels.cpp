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

namespace {

void sort_by_course(std::vector<Level>& levels) {
    std::sort(levels.begin(), levels.end(), [](const Level& a, const Level& b) {
        const auto key = [](const Level& level) {
            return std::make_tuple(!level.scenario, level.scenario ? level.scenario->order : 0,
                                   level.scenario ? level.scenario->id : level.path);
        };
        return key(a) < key(b);
    });
}

}  // namespace

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
    sort_by_course(levels);
    return levels;
}

std::vector<Level> with_own_levels(std::vector<Level> course, const std::string& own_folder) {
    Result<std::vector<Level>> own = read_levels(own_folder);
    if (!own.ok()) return course;
    for (Level& level : own.take()) {
        level.own = true;
        const auto same = [&](const Level& other) {
            return level.scenario && other.scenario && other.scenario->id == level.scenario->id;
        };
        if (std::any_of(course.begin(), course.end(), same)) {
            level.faults = {{level.path, 0, "id is \"" + level.scenario->id + "\", expected one that no other level has",
                             "/id"}};
            level.scenario.reset();
        }
        course.push_back(std::move(level));
    }
    sort_by_course(course);
    return course;
}

}  // namespace graftwright
