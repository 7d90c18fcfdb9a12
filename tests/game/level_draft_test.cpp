// Levels in the making: opened, changed, saved, never over another's.
#include "game/level_draft.h"

#include <filesystem>
#include <fstream>
#include <unistd.h>

#include <catch2/catch.hpp>

#include "../files/any_scenario.h"
#include "base/whole_file.h"
#include "files/reader.h"
#include "files/writer.h"
#include "study/best_closure.h"

namespace graftwright {
namespace {

namespace fs = std::filesystem;
const std::string kLevels = GRAFTWRIGHT_SOURCE_DIR "/levels";

class ScratchFolder {
  public:
    ScratchFolder() : path_((fs::temp_directory_path() / ("graftwright_draft" + std::to_string(::getpid()))).string()) {
        fs::remove_all(path_);
        fs::create_directories(path_);
    }
    ~ScratchFolder() { fs::remove_all(path_); }
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    [[nodiscard]] const std::string& path() const { return path_; }

  private:
    std::string path_;
};

std::vector<Level> course() { return read_levels(kLevels).value(); }

const Scenario& shipped(const std::vector<Level>& levels, const std::string& id) {
    for (const Level& level : levels)
        if (level.scenario && level.scenario->id == id) return *level.scenario;
    throw std::runtime_error("no level " + id);
}

std::string text_of(const std::string& path) { return read_text_file(path).value(); }

// Sixteen even bites, one of them off its mark and tight: what a teacher would pose.
LevelDraft puzzle(const std::vector<Level>& levels) {
    LevelDraft draft = new_level(levels);
    draft.form.scenario.id = "which-is-wrong";
    start_with_even_ring(draft, 8);
    draft.form.scenario.task.bites = 8;
    Bite& wrong = draft.form.scenario.start.bites[1];
    wrong.host_deg += 11.0;
    wrong.tension_mN = 26.0;
    return draft;
}

}  // namespace

TEST_CASE("draft: every shipped level goes through the form and back without a change", "[game][form]") {
    int count = 0;
    for (const Level& level : course()) {
        INFO(level.path);
        REQUIRE(level.scenario);
        Result<LevelDraft> opened = open_level(level.path);
        REQUIRE(opened.ok());
        LevelDraft draft = opened.take();
        CHECK(draft.text() == write_scenario(*level.scenario));
        CHECK_FALSE(draft.changed());
        const Result<Scenario> again = checked(draft);
        REQUIRE(again.ok());
        CHECK(again.value() == *level.scenario);
        ++count;
    }
    CHECK(count >= 16);
}

TEST_CASE("draft: any level opened and saved unchanged is what the writer writes, byte for byte",
          "[game][form][property]") {
    const ScratchFolder folder;
    CHECK(rc::check("open, save: the writer's bytes", [&] {
        const Scenario scenario = test::any_scenario();
        const std::string path = folder.path() + "/any.json";
        write_whole(path, write_scenario(scenario));
        Result<LevelDraft> opened = open_level(path);
        RC_ASSERT(opened.ok());
        LevelDraft draft = opened.take();
        RC_ASSERT(save_level(draft, folder.path(), {}).ok());
        RC_ASSERT(text_of(path) == write_scenario(scenario));
        RC_ASSERT(read_scenario(text_of(path), path).value() == scenario);
    }));
}

TEST_CASE("draft: a new level and a copy are sound and have ids of their own", "[game][form]") {
    std::vector<Level> levels = course();
    const LevelDraft fresh = new_level(levels);
    CHECK(checked(fresh).ok());
    CHECK_FALSE(fresh.changed());
    for (const Level& level : levels) CHECK(level.scenario->order < fresh.form.scenario.order);
    const LevelDraft copy = copy_of_level(shipped(levels, "sixteen"), levels);
    CHECK(copy.form.scenario.id == "my-sixteen");
    CHECK(copy.path.empty());
    levels.push_back({"/x/my-sixteen.json", copy.form.scenario, {}, true});
    CHECK(copy_of_level(shipped(levels, "sixteen"), levels).form.scenario.id == "my-sixteen-2");
}

TEST_CASE("draft: the ideal of a new level's form passes every mark that the form asks", "[game][form]") {
    const BestClosure best = best_closure(checked(new_level(course())).value());
    REQUIRE(best.reason == "");
    CHECK(best.ideal_marks.size() >= 4);
    for (const std::vector<PassMark>& marks : {best.ideal_marks, best.hand_marks})
        for (const PassMark& mark : marks) {
            INFO(mark.name() << ": " << mark.measured << " " << name_of(mark.unit()) << ", asked " << mark.limit);
            CHECK(mark.met());
        }
    CHECK(best.ideal_passes);
    CHECK(best.hand_passes);
    CHECK_FALSE(best.asks_too_much_leak());
}

TEST_CASE("draft: saving never writes over another level nor over a file that changed meanwhile", "[game][form]") {
    const ScratchFolder folder;
    const std::vector<Level> levels = course();
    LevelDraft draft = new_level(levels);

    draft.form.scenario.id = "sixteen";
    Result<std::string> saved = save_level(draft, folder.path(), levels);
    REQUIRE_FALSE(saved.ok());
    CHECK(saved.faults().front().place == "/id");
    CHECK_FALSE(fs::exists(folder.path() + "/sixteen.json"));

    write_whole(folder.path() + "/theirs.json", "anything");
    draft.form.scenario.id = "theirs";
    CHECK_FALSE(save_level(draft, folder.path(), levels).ok());
    CHECK(text_of(folder.path() + "/theirs.json") == "anything");

    draft.form.scenario.id = "../up";
    CHECK_FALSE(save_level(draft, folder.path(), levels).ok());
    CHECK_FALSE(fs::exists(folder.path() + "/../up.json"));

    draft.form.scenario.id = "mine";
    REQUIRE(save_level(draft, folder.path(), levels).ok());
    CHECK_FALSE(draft.changed());
    draft.form.scenario.title = "Again";
    CHECK(draft.changed());
    REQUIRE(save_level(draft, folder.path(), levels).ok());
    CHECK(read_scenario(text_of(draft.path), "").value().title == "Again");

    write_whole(draft.path, "of somebody else");
    CHECK_FALSE(save_level(draft, folder.path(), levels).ok());
    CHECK(text_of(draft.path) == "of somebody else");

    CHECK_FALSE(save_level(draft, folder.path() + "/not/there", levels).ok());
}

TEST_CASE("draft: a puzzle with one wrong bite in place is written and passes check", "[game][form]") {
    const ScratchFolder folder;
    const std::vector<Level> levels = course();
    LevelDraft draft = puzzle(levels);
    const Result<std::string> saved = save_level(draft, folder.path(), levels);
    REQUIRE(saved.ok());
    CHECK(check_file(saved.value(), kLevels).empty());
    const Scenario read = read_scenario(text_of(saved.value()), "").value();
    REQUIRE(read.start.bites.size() == 8);
    CHECK(read.start.bites[1].tension_mN == 26.0);
    CHECK(read.start.bites[1].host_deg == 281.0);
    CHECK(read.start.bites[0].host_deg == 90.0);
    CHECK(read.start.bites[0].tension_mN == 15.0);
    // Too tight for the thread: the form's words are `check`'s.
    draft.form.scenario.start.bites[1].tension_mN = 260.0;
    write_whole(folder.path() + "/broken.json", draft.text());
    const Faults by_check = check_file(folder.path() + "/broken.json", kLevels);
    const Result<Scenario> by_form = checked(draft);
    REQUIRE_FALSE(by_form.ok());
    REQUIRE(by_check.size() == by_form.faults().size());
    CHECK(by_check.front().message == by_form.faults().front().message);
    CHECK(by_check.front().line == by_form.faults().front().line);
    CHECK(by_form.faults().front().place == "/start/bites/1/tension_mN");
}

TEST_CASE("draft: a faulty one is saved as it is, listed with its reason, and taken up again", "[game][form]") {
    const ScratchFolder folder;
    const std::vector<Level> levels = course();
    LevelDraft draft = new_level(levels);
    draft.form.scenario.id = "half-made";
    draft.form.typed["/eye/rim_thickness_um"] = "6oo";
    REQUIRE(save_level(draft, folder.path(), levels).ok());

    const std::vector<Level> all = with_own_levels(levels, folder.path());
    CHECK(all.size() == levels.size() + 1);
    const Level& listed = all.back();
    CHECK(listed.own);
    REQUIRE(listed.faults.size() == 1);
    CHECK(listed.faults.front().message.find("\"6oo\"") != std::string::npos);

    Result<LevelDraft> again = open_level(listed.path);
    REQUIRE(again.ok());
    CHECK(again.value().form == draft.form);
    CHECK_FALSE(again.value().changed());
}

TEST_CASE("draft: an own level stands in its place in the course; a taken id is a fault", "[game][form]") {
    const ScratchFolder folder;
    const std::vector<Level> levels = course();
    Scenario own = shipped(levels, "eight");
    own.order = 85;
    own.id = "between";
    write_whole(folder.path() + "/between.json", write_scenario(own));
    own.id = "eight";
    write_whole(folder.path() + "/eight.json", write_scenario(own));
    const std::vector<Level> all = with_own_levels(levels, folder.path());
    REQUIRE(all.size() == levels.size() + 2);
    for (std::size_t i = 0; i + 1 < all.size(); ++i)
        if (all[i].scenario && all[i].scenario->id == "eight") CHECK(all[i + 1].scenario->id == "between");
    CHECK(all.back().own);
    CHECK_FALSE(all.back().scenario);
    CHECK(all.back().faults.front().message.find("\"eight\"") != std::string::npos);
    CHECK(with_own_levels(levels, folder.path() + "/none").size() == levels.size());
}

TEST_CASE("draft: what was typed for a bite goes and moves with it", "[game][form]") {
    LevelDraft draft = new_level({});
    start_with_even_ring(draft, 4);
    draft.form.typed = {
        {"/eye/modulus_kPa", "soft"}, {"/start/bites/1/tension_mN", "one"}, {"/start/bites/3/tension_mN", "three"}};
    remove_start_bite(draft, 1);
    CHECK(draft.form.typed == AsTyped{{"/eye/modulus_kPa", "soft"}, {"/start/bites/2/tension_mN", "three"}});
    CHECK(draft.form.scenario.start.bites.size() == 3);
    add_start_bite(draft);
    CHECK(draft.form.scenario.start.bites.back().host_deg == 270.0);  // the gap that was left
    start_with_even_ring(draft, 12);
    CHECK(draft.form.typed == AsTyped{{"/eye/modulus_kPa", "soft"}});
    CHECK(draft.form.scenario.start.bites.size() == 12);
}

TEST_CASE("draft: running threads stay as they stand, and a new bite keeps clear of them", "[game][form]") {
    LevelDraft draft = new_level({});
    Scenario& scenario = draft.form.scenario;
    scenario.task.pattern = Pattern::running;  // what the trainee is to lay is nothing to the ring
    Run run;
    for (const double deg : {0.0, 90.0, 180.0}) {
        RunBite bite;
        bite.host_deg = bite.graft_deg = deg;
        run.bites.push_back(bite);
    }
    scenario.start.runs = {run};
    add_start_bite(draft);
    REQUIRE(scenario.start.bites.size() == 1);
    CHECK(scenario.start.bites[0].host_deg == 270.0);
    start_with_even_ring(draft, 8);
    CHECK(scenario.start.bites.size() == 8);
    CHECK(scenario.start.runs == std::vector<Run>{run});
    CHECK(scenario.task.pattern == Pattern::running);
}

TEST_CASE("draft: a ring can be laid before the eye makes sense", "[game][form]") {
    LevelDraft draft = new_level({});
    draft.form.scenario.eye.limbus_diameter_mm = 500.0;
    start_with_even_ring(draft, 8);
    REQUIRE(draft.form.scenario.start.bites.size() == 8);
    CHECK(draft.form.scenario.start.bites[3].host_bite_mm == 1.1);
}

TEST_CASE("draft: one left unsaved is taken up as changed", "[game][form]") {
    const ScratchFolder folder;
    LevelDraft draft = new_level({});
    draft.form.scenario.title = "Unfinished";
    write_whole(folder.path() + "/unsaved.json", draft.text());
    const Result<LevelDraft> taken = take_up_unsaved(folder.path() + "/unsaved.json");
    REQUIRE(taken.ok());
    CHECK(taken.value().form == draft.form);
    CHECK(taken.value().changed());
    CHECK(taken.value().path.empty());
}

}  // namespace graftwright
