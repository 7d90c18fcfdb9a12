#include "screens_fixture.h"

#include <algorithm>
#include <functional>
#include <map>
#include <memory>

#include "../scenes/made_up_runs.h"
#include "base/check.h"
#include "files/reader.h"
#include "game/live_solver.h"

namespace graftwright {
namespace {

const std::string kLevels = GRAFTWRIGHT_SOURCE_DIR "/levels";

AttemptInScenario shipped(const std::string& name) {
    Result<AttemptInScenario> read = read_attempt_file(kLevels + "/attempts/" + name + ".json", "", kLevels);
    GRAFTWRIGHT_CHECK(read.ok(), "shipped attempts can be read");
    return read.take();
}

Snapshot finished(const Scenario& scenario, const Attempt& attempt) {
    LiveSolver solver(std::make_shared<const ScenarioModel>(scenario));
    Snapshot shot;
    shot.scenario = std::make_shared<const Scenario>(scenario);
    shot.stage = Stage::debrief;
    shot.time_s = 1900.0;
    shot.debrief = solver.debrief(attempt, 2);
    return shot;
}

Scenario invented_level(const char* id, const char* title, ScenarioKind kind, int bites, const char* briefing) {
    Scenario level;
    level.id = id;
    level.title = title;
    level.kind = kind;
    level.task.bites = bites;
    level.briefing = briefing;
    level.teaches = {"One thing at a time: here only what the title says counts."};
    return level;
}

}  // namespace

const Snapshot& scored(std::string_view attempt) {
    static std::map<std::string, Snapshot, std::less<>> kept;
    const auto found = kept.find(attempt);
    if (found != kept.end()) return found->second;
    const AttemptInScenario read = shipped(std::string(attempt));
    return kept.emplace(attempt, finished(read.scenario, read.attempt)).first->second;
}

Snapshot with_run(const std::string& attempt, std::size_t single) {
    AttemptInScenario read = shipped(attempt);
    scenes::make_run(read.attempt.bites, read.attempt.runs, single);
    return finished(read.scenario, read.attempt);
}

Snapshot without_closure() {
    AttemptInScenario read = shipped("second_cardinal_off");
    read.attempt.bites.resize(2);
    return finished(read.scenario, read.attempt);
}

Snapshot answered(const std::string& level, const DrillAnswer& answer) {
    Result<Scenario> read = find_scenario(level, "", kLevels);
    GRAFTWRIGHT_CHECK(read.ok(), "shipped levels can be read");
    const Scenario scenario = read.take();
    Attempt attempt;
    attempt.scenario = level;
    attempt.trainee = "heron";
    attempt.bites = scenario.start.bites;
    attempt.events.push_back(answer_event(60.0, answer));
    return finished(scenario, attempt);
}

LevelDraft draft_of(const std::string& id) {
    const Result<Scenario> level = find_scenario(id, "", kLevels);
    GRAFTWRIGHT_CHECK(level.ok(), "shipped levels can be read");
    return copy_of_level(level.value(), {});
}

LevelDraft draft_with_run(const std::string& id, std::size_t single) {
    LevelDraft draft = draft_of(id);
    Start& start = draft.form.scenario.start;
    scenes::make_run(start.bites, start.runs, single);
    return draft;
}

EditorNews news_of(const LevelDraft& draft) {
    EditorNews news;
    const Result<Scenario> read = checked(draft);
    news.forecast.sound = news.forecast.current = read.ok();
    if (!read.ok()) {
        news.faults = read.faults();
        return news;
    }
    news.forecast.forecast =
        std::make_shared<const Forecast>(Forecast{without_words(read.value()), best_closure(read.value())});
    return news;
}

StartModel course_with_broken_levels() {
    StartModel model;
    for (const char* id : {"sixteen", "small-donor"}) {
        Result<Scenario> level = find_scenario(id, "", kLevels);
        GRAFTWRIGHT_CHECK(level.ok(), "shipped levels can be read");
        model.levels.push_back({level.take(), std::string(id) + ".json", {}, std::nullopt, false});
    }
    model.levels[0].best = 62.0;
    model.levels.push_back(
        {invented_level("depth", "Nine tenths deep", ScenarioKind::depth, 4,
                        "Four bites, and only their depth counts. Roll the lip up before you enter."),
         "depth.json",
         {},
         91.0,
         true});
    model.levels.push_back({invented_level("opposite", "Twelve and six", ScenarioKind::opposite, 2,
                                           "Put the second bite where the first one asks for it."),
                            "opposite.json",
                            {},
                            std::nullopt,
                            false});
    model.levels.push_back({invented_level("rings", "Which bite is tight?", ScenarioKind::read_rings, 16,
                                           "Sixteen bites are in place. Read the rings and name the tight one."),
                            "rings.json",
                            {},
                            std::nullopt,
                            false});
    model.levels.push_back({invented_level("leak", "Find the leak", ScenarioKind::find_leak, 16,
                                           "The chamber does not hold. Wash, dry, stain, press, and look."),
                            "leak.json",
                            {},
                            std::nullopt,
                            false});
    model.levels.push_back({{},
                            "night-shift.json",
                            {{"night-shift.json", 12, "\"bed_diameter_mm\" is 7,75; a number was expected"},
                             {"night-shift.json", 31, "unknown key \"aid\"; did you mean \"aids\"?"}},
                            std::nullopt,
                            false});
    model.levels.push_back({{},
                            "old.json",
                            {{"old.json", 1, "version 3 is not known; this program reads version 1"}},
                            std::nullopt,
                            false});
    model.interrupted = {Interrupted{"journal.jsonl", "Sixteen single bites", "heron", 7, 760.0}};
    model.settings.trainee = "heron";
    return model;
}

}  // namespace graftwright
