// The level editor by mouse and keys, down to the file it writes.
#include "view/editor/level_editor.h"

#include <filesystem>
#include <unistd.h>

#include <SFML/Graphics.hpp>
#include <catch2/catch.hpp>

#include "base/whole_file.h"
#include "files/reader.h"
#include "files/writer.h"
#include "screens_fixture.h"
#include "stand.h"
#include "view/kit/wrapped_entry.h"

namespace graftwright {
namespace {

namespace fs = std::filesystem;
using Group = LevelEditorScreen::Group;
const std::string kLevels = GRAFTWRIGHT_SOURCE_DIR "/levels";
constexpr int kAnswer = 8;  // frames until an event has come through

// A window's worth of widgets, a user's folder of its own, the editor on it.
class Bench {
  public:
    Bench() : folder_((fs::temp_directory_path() / ("graftwright_editor" + std::to_string(::getpid()))).string()) {
        fs::remove_all(folder_);
        files = std::make_unique<UserFiles>(folder_);
        editor = std::make_unique<LevelEditor>(*files);
        levels = read_levels(kLevels).value();
    }
    ~Bench() { fs::remove_all(folder_); }
    Bench(const Bench&) = delete;
    Bench& operator=(const Bench&) = delete;

    void open(const std::string& id, Group group) {
        for (const Level& level : levels)
            if (level.scenario->id == id) REQUIRE(editor->open(level, levels, true) == "");
        editor->screen().show(group);
        run();
    }
    LevelEditor::Wish run(int frames = kAnswer) {
        LevelEditor::Wish wish = LevelEditor::Wish::stay;
        for (int i = 0; i < frames && wish == LevelEditor::Wish::stay; ++i)
            wish = editor->heed(stand.frame([&](Ui& ui) { return editor->draw(ui); }));
        return wish;
    }
    LevelEditor::Wish click(const std::string& name) {
        INFO("click " << name);
        const Rect place = stand.widgets.ui().place_of(name);
        REQUIRE(place.width > 0.0);
        stand.click(place);
        return run();
    }
    void key(sf::Keyboard::Key code, bool control = false) {
        stand.key(code, control);
        run();
    }
    // Clears a field and types into it.
    void retype(const std::string& name, const std::u32string& words) {
        click(name);
        key(sf::Keyboard::A, true);
        key(sf::Keyboard::Delete);
        type(words);
    }
    void type(const std::u32string& words) {
        stand.type(words);
        run();
    }
    void wait_for_forecast() {
        for (int i = 0; i < 2000 && !editor->news().forecast.current; ++i) {
            run(1);
            sf::sleep(sf::milliseconds(5));
        }
        REQUIRE(editor->news().forecast.current);
    }
    [[nodiscard]] bool shown(const std::string& name) { return stand.widgets.ui().place_of(name).width > 0.0; }
    [[nodiscard]] const Scenario& scenario() const { return editor->draft().form.scenario; }

    std::vector<Level> levels;
    std::unique_ptr<UserFiles> files;
    Stand stand;
    std::unique_ptr<LevelEditor> editor;

  private:
    std::string folder_;
};

std::string text_of(const std::string& path) { return read_text_file(path).value(); }

}  // namespace

TEST_CASE("editor: a number typed is in the draft, one out of range has its fault beside its field", "[view][form]") {
    Bench bench;
    bench.open("sixteen", Group::eye);
    CHECK_FALSE(bench.shown("fault /eye/bed_diameter_mm"));
    bench.retype("##/eye/bed_diameter_mm", U"7.6");
    CHECK(bench.scenario().eye.bed_diameter_mm == 7.6);
    CHECK(bench.editor->news().faults.empty());

    bench.retype("##/eye/bed_diameter_mm", U"76");
    REQUIRE(bench.editor->news().faults.size() == 1);
    CHECK(bench.shown("fault /eye/bed_diameter_mm"));
    const Rect field = bench.stand.widgets.ui().place_of("##/eye/bed_diameter_mm");
    const Rect fault = bench.stand.widgets.ui().place_of("fault /eye/bed_diameter_mm");
    CHECK(fault.y > field.y);
    CHECK(fault.y < bench.stand.widgets.ui().place_of("##/eye/bed_ovality_mm").y);

    // The same words as `check` has for the file.
    CHECK(bench.click("Save") == LevelEditor::Wish::stay);
    const std::string path = bench.files->levels() + "/my-sixteen.json";
    const Faults by_check = check_file(path, kLevels);
    REQUIRE(by_check.size() == 1);
    CHECK(by_check.front().message == bench.editor->news().faults.front().message);
}

TEST_CASE("editor: what is no number stays in its field, and the draft is not lost with it", "[view][form]") {
    Bench bench;
    bench.open("sixteen", Group::eye);
    bench.retype("##/eye/rim_thickness_um", U"6oo");
    CHECK(bench.shown("fault /eye/rim_thickness_um"));
    CHECK(bench.editor->draft().form.typed.at("/eye/rim_thickness_um") == "6oo");
    CHECK(bench.scenario().eye.rim_thickness_um == 620.0);
    CHECK(bench.click("group Donor") == LevelEditor::Wish::stay);
    CHECK(bench.click("group Eye") == LevelEditor::Wish::stay);
    CHECK(bench.editor->draft().form.typed.at("/eye/rim_thickness_um") == "6oo");
    bench.retype("##/eye/rim_thickness_um", U"600");
    CHECK(bench.editor->draft().form.typed.empty());
    CHECK(bench.scenario().eye.rim_thickness_um == 600.0);
}

TEST_CASE("editor: a mark is asked and not asked by its tick", "[view][form]") {
    Bench bench;
    bench.open("sixteen", Group::pass);
    bench.click("##asked /pass/cylinder_D");
    CHECK_FALSE(bench.scenario().pass.cylinder_D);
    CHECK_FALSE(bench.shown("##/pass/cylinder_D"));
    bench.click("##asked /pass/cylinder_D");
    CHECK(bench.scenario().pass.cylinder_D == 3.0);
    bench.click("##asked /pass/hoa_rms_um");
    CHECK(bench.scenario().pass.hoa_rms_um == 4.0);
    bench.retype("##/pass/hoa_rms_um", U"5.5");
    CHECK(bench.scenario().pass.hoa_rms_um == 5.5);
}

TEST_CASE("editor: choices and aids are made by mouse", "[view][form]") {
    Bench bench;
    bench.open("sixteen", Group::task);
    bench.click("twin##/task/hand/aids");
    CHECK_FALSE(bench.scenario().task.hand.has(Aid::twin));
    bench.click("twin##/task/hand/aids");
    CHECK(bench.scenario().task.hand.aids.back() == Aid::twin);
    bench.editor->screen().show(Group::eye);
    bench.run();
    bench.click("left##/eye/side");
    CHECK(bench.scenario().eye.side == Side::left);
    CHECK(bench.editor->news().faults.empty());
}

TEST_CASE("editor: an even ring with one bite made wrong is saved and passes check", "[view][form]") {
    Bench bench;
    bench.editor->open_new(bench.levels, false);
    bench.editor->screen().show(Group::start);
    bench.run();
    bench.retype("##ring", U"8");
    bench.click("Lay an even ring");
    REQUIRE(bench.scenario().start.bites.size() == 8);
    bench.click("##bite 2");
    bench.retype("##/start/bites/1/host_deg", U"281.5");
    CHECK(bench.scenario().start.bites[1].host_deg == 281.5);
    CHECK(bench.scenario().start.bites[0].host_deg == 90.0);
    bench.retype("##hour", U"5.5");  // the donor turns as far as the host
    CHECK(bench.scenario().start.bites[1].host_deg == 285.0);
    CHECK(bench.scenario().start.bites[1].graft_deg == 273.5);
    CHECK(bench.click("Save") == LevelEditor::Wish::stay);
    const std::string path = bench.files->levels() + "/my-level.json";
    REQUIRE(fs::exists(path));
    CHECK(check_file(path, kLevels).empty());
    CHECK(read_scenario(text_of(path), path).value() == bench.scenario());
    CHECK(text_of(path) == write_scenario(bench.scenario()));

    bench.click("Add a bite");
    CHECK(bench.scenario().start.bites.size() == 9);
    bench.click("Remove bite");
    CHECK(bench.scenario().start.bites.size() == 8);
    CHECK_FALSE(bench.editor->draft().changed());
}

TEST_CASE("editor: try it hands over the draft as it stands, unsaved; with faults it does not", "[view][form]") {
    Bench bench;
    bench.open("eight", Group::eye);
    bench.retype("##/eye/bed_ovality_mm", U"0.18");
    REQUIRE(bench.click("Try it") == LevelEditor::Wish::try_it);
    CHECK(bench.editor->trial() == bench.scenario());
    CHECK(bench.editor->trial().eye.bed_ovality_mm == 0.18);
    CHECK_FALSE(fs::exists(bench.files->levels() + "/my-eight.json"));
    CHECK(bench.editor->draft().changed());  // as it was, when the trial is over
    bench.retype("##/eye/bed_diameter_mm", U"1");
    CHECK(bench.click("Try it") == LevelEditor::Wish::stay);
    CHECK(bench.editor->news().notice_warns);
}

TEST_CASE("editor: leaving a changed draft asks, and each answer does what it says", "[view][form]") {
    Bench bench;
    const std::string path = bench.files->levels() + "/my-eight.json";
    bench.open("eight", Group::eye);
    CHECK(bench.click("Leave") == LevelEditor::Wish::leave);  // nothing was changed

    bench.open("eight", Group::eye);
    bench.retype("##/eye/bed_diameter_mm", U"1");
    CHECK(bench.click("Leave") == LevelEditor::Wish::stay);
    CHECK(bench.click("Go on with it") == LevelEditor::Wish::stay);
    CHECK(bench.scenario().eye.bed_diameter_mm == 1.0);
    bench.click("Leave");
    CHECK(bench.click("Leave without saving") == LevelEditor::Wish::leave);
    CHECK_FALSE(fs::exists(path));
    CHECK_FALSE(fs::exists(bench.files->unsaved_level()));

    bench.open("eight", Group::eye);
    bench.retype("##/eye/bed_diameter_mm", U"1");
    bench.click("Leave");
    CHECK(bench.click("Save and leave") == LevelEditor::Wish::leave);
    CHECK(text_of(path).find("\"bed_diameter_mm\": 1,") != std::string::npos);
    CHECK_FALSE(check_file(path, kLevels).empty());
}

TEST_CASE("editor: a draft is laid aside by itself and taken up by the next new level", "[view][form]") {
    Bench bench;
    bench.open("eight", Group::eye);
    bench.retype("##/eye/bed_ovality_mm", U"0.19");
    bench.run(40);  // the window closes here
    REQUIRE(fs::exists(bench.files->unsaved_level()));
    LevelEditor next(*bench.files);
    next.open_new(bench.levels, true);
    CHECK(next.draft().form == bench.editor->draft().form);
    CHECK(next.draft().changed());

    // Another level opened instead: the one left over is listed among the user's own.
    LevelEditor third(*bench.files);
    REQUIRE(third.open(bench.levels.front(), bench.levels, true) == "");
    CHECK(read_scenario(text_of(bench.files->levels() + "/left-unsaved.json"), "").value().eye.bed_ovality_mm == 0.19);
}

TEST_CASE("editor: a level left unsaved that can't be read is kept aside, and said", "[view][form]") {
    Bench bench;
    write_whole(bench.files->unsaved_level(), "{\"format\":5");
    bench.editor->open_new(bench.levels, true);
    CHECK(bench.editor->news().notice_warns);
    CHECK(bench.editor->news().notice.find(bench.files->unsaved_level() + ".aside-1") != std::string::npos);
    CHECK(text_of(bench.files->unsaved_level() + ".aside-1") == "{\"format\":5");
    bench.run(40);
    CHECK_FALSE(fs::exists(bench.files->unsaved_level()));
}

TEST_CASE("editor: a shipped id is refused when saving", "[view][form]") {
    Bench bench;
    bench.open("eight", Group::level);
    bench.retype("##/id", U"sixteen");
    bench.click("Save");
    CHECK(bench.editor->news().notice_warns);
    CHECK(bench.editor->news().notice.find("\"sixteen\"") != std::string::npos);
    CHECK_FALSE(fs::exists(bench.files->levels() + "/sixteen.json"));
    CHECK(text_of(kLevels + "/sixteen.json").find("\"sixteen\"") != std::string::npos);
}

TEST_CASE("editor: the prediction follows the form, and what is out of date says so", "[view][form]") {
    Bench bench;
    bench.open("eight", Group::eye);
    bench.wait_for_forecast();
    const double before = bench.editor->news().forecast.forecast->best.ideal->cylinder_D;
    CHECK(before == best_closure(bench.scenario()).ideal->cylinder_D);
    CHECK(forecast_state(bench.editor->news().forecast).find("as it stands") != std::string::npos);

    bench.retype("##/eye/bed_diameter_mm", U"1");
    CHECK_FALSE(bench.editor->news().forecast.current);
    CHECK(forecast_state(bench.editor->news().forecast).find("faults") != std::string::npos);
    CHECK(bench.editor->news().forecast.forecast->best.ideal->cylinder_D == before);

    bench.retype("##/eye/bed_diameter_mm", U"7.9");
    bench.wait_for_forecast();
    CHECK(bench.editor->news().forecast.forecast->best.ideal->cylinder_D != before);

    bench.open("sixteen", Group::eye);  // what is shown is never another level's
    if (const auto& shown = bench.editor->news().forecast.forecast) CHECK(shown->level.task.bites == 16);
    bench.wait_for_forecast();
    CHECK(bench.editor->news().forecast.forecast->level.task.bites == 16);
}

TEST_CASE("editor: the words below the prediction name the mark that even the ideal misses", "[view][form]") {
    LevelDraft draft = draft_of("sixteen");
    const auto words_of = [&] {
        std::string words;
        for (const ForecastLine& line : forecast_lines(*news_of(draft).forecast.forecast))
            words += (line.warns ? "! " : "") + line.words + "\n";
        return words;
    };
    CHECK(words_of() == "The ideal passes every mark that is set.\n");
    draft.form.scenario.pass.leak_pressure_mmHg = 50.0;
    CHECK(words_of().find("! The leak pressure asked is 0.96") != std::string::npos);
    draft.form.scenario.pass.step_um = 20.0;
    CHECK(words_of().find("! Even the ideal twin misses: step") != std::string::npos);
}

TEST_CASE("start: a level is made, a shipped one copied, an own one changed, by mouse", "[view][form]") {
    const auto chosen = [](bool own) {
        StartModel model = course_with_broken_levels();
        model.levels[0].own = own;
        model.levels[0].path = "/x/sixteen.json";
        Stand stand;
        StartScreen screen;
        StartChoice last;
        const auto frames = [&](int count) {
            for (int i = 0; i < count && last.what == StartChoice::What::none; ++i)
                last = stand.frame([&](Ui& ui) { return screen.draw(ui, model); });
        };
        std::vector<StartChoice> choices;
        for (const char* name : {"Make a level", own ? "Change it" : "Change a copy"}) {
            last = {};
            frames(4);
            const Rect place = stand.widgets.ui().place_of(name);
            REQUIRE(place.width > 0.0);
            stand.click(place);
            frames(8);
            choices.push_back(last);
        }
        return choices;
    };
    for (const bool own : {false, true}) {
        const std::vector<StartChoice> choices = chosen(own);
        CHECK(choices[0].what == StartChoice::What::make_level);
        CHECK(choices[1].what == StartChoice::What::change_level);
        CHECK(choices[1].path == "/x/sixteen.json");
    }
}

TEST_CASE("editor: a long text breaks at the field's edge and comes out unbroken", "[view][form]") {
    const Measure letters = [](std::string_view piece) { return static_cast<double>(piece.size()); };
    CHECK(broken_into_lines("one two three", 8.0, letters) == "one two\nthree");
    CHECK(broken_into_lines("one\ntwo", 8.0, letters) == "one¶\ntwo");
    CHECK(broken_into_lines("unbreakablylong one two six", 8.0, letters) == "unbreakablylong\none two\nsix");
    for (const char* text : {"", "one", "a  b ", " leading and trailing ", "two\n\nparagraphs of some length\n",
                             "unbreakablylong word", "ends with space \nand goes on"}) {
        INFO(text);
        CHECK(without_breaks(broken_into_lines(text, 8.0, letters)) == text);
    }

    Bench bench;
    bench.open("eight", Group::level);
    const std::string before = bench.scenario().briefing;
    bench.retype("##/briefing", U"A first line that is certainly longer than the field is wide, so that it breaks");
    bench.key(sf::Keyboard::Enter);
    bench.type(U"and a second");
    CHECK(bench.scenario().briefing ==
          "A first line that is certainly longer than the field is wide, so that it breaks\nand a second");
    CHECK(bench.scenario().briefing != before);
    for (int i = 0; i < 13; ++i) bench.key(sf::Keyboard::BackSpace);  // the words, then the line's end
    CHECK(bench.scenario().briefing ==
          "A first line that is certainly longer than the field is wide, so that it breaks");
}

}  // namespace graftwright
