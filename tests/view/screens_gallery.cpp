// Draws every screen from the fixtures, as PNG files to look at, and a group's page as HTML:
//     xvfb-run -a -s "-screen 0 2560x1600x24 -nolisten tcp" graftwright_screens_gallery OUTDIR
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <string>

#include <SFML/Graphics/Image.hpp>
#include <SFML/Graphics/RenderTexture.hpp>
#include <SFML/Window/Context.hpp>
#include <fmt/format.h>

#include "practice_fixture.h"
#include "report/group_page.h"
#include "screens_fixture.h"
#include "view/debrief/debrief_screen.h"
#include "view/kit/widgets.h"
#include "view/window/keys_screen.h"
#include "view/window/pause_screen.h"

namespace graftwright {
namespace {

constexpr int kFrames = 4;  // sizes of tables and scroll bars settle in the first ones

bool shoot(const std::string& folder, const std::string& name, sf::Vector2u size,
           const std::function<void(Ui&)>& draw) {
    sf::RenderTexture page;
    if (!page.create(size.x, size.y)) return false;
    Widgets widgets;
    for (int frame = 0; frame < kFrames; ++frame) {
        if (!page.setActive(true)) return false;
        page.clear(sf::Color(70, 90, 100));
        widgets.begin(1.0F / 60.0F, size);
        draw(widgets.ui());
        widgets.draw(page);
        page.display();
    }
    sf::Image image = page.getTexture().copyToImage();
    for (unsigned y = 0; y < size.y; ++y) {
        for (unsigned x = 0; x < size.x; ++x) {
            sf::Color colour = image.getPixel(x, y);
            colour.a = 255;
            image.setPixel(x, y, colour);
        }
    }
    return image.saveToFile(fmt::format("{}/{}_{}x{}.png", folder, name, size.x, size.y));
}

bool shoot_debrief(const std::string& folder, const std::string& name, sf::Vector2u size, const Snapshot& shot,
                   const std::function<void(DebriefScreen&)>& prepare) {
    DebriefScreen screen;
    prepare(screen);
    const std::string saved = "Kept in /home/heron/.local/share/graftwright/attempts/2026-03-02T10-47-00-sixteen.json";
    return shoot(folder, name, size, [&](Ui& ui) { static_cast<void>(screen.draw(ui, shot, saved)); });
}

bool shoot_start(const std::string& folder, sf::Vector2u size) {
    bool ok = true;
    const StartModel course = course_with_broken_levels();
    StartScreen start;
    ok &= shoot(folder, "start", size, [&](Ui& ui) { static_cast<void>(start.draw(ui, course)); });
    StartModel broken = course;
    broken.interrupted.clear();
    std::rotate(broken.levels.begin(), broken.levels.end() - 2, broken.levels.end());
    broken.notices = {
        "The journal of an attempt can't be understood; it is kept as /home/trainee/journal.jsonl.aside-1."};
    broken.sound_available = false;
    StartScreen start_broken;
    ok &= shoot(folder, "start_broken", size, [&](Ui& ui) { static_cast<void>(start_broken.draw(ui, broken)); });
    return ok;
}

bool shoot_practice(const std::string& folder, sf::Vector2u size) {
    using Page = TraineeScreen::Page;
    std::filesystem::remove(folder + "/group.sqlite");
    Logbook logbook = group_logbook(folder);
    std::ofstream(folder + "/group.html") << group_page_html(logbook.group_summary(false));
    bool ok = true;
    const auto page = [&](const std::string& name, const TraineeModel& model, Page which) {
        TraineeScreen screen;
        screen.show(which);
        ok &= shoot(folder, name, size, [&](Ui& ui) { static_cast<void>(screen.draw(ui, model)); });
    };
    const TraineeModel all = trainee_model(logbook, "heron", ""), one = trainee_model(logbook, "heron", "sixteen");
    page("practice_progress", all, Page::progress);
    page("practice_sixteen", one, Page::progress);
    page("practice_hand", one, Page::hand);
    page("practice_skills", all, Page::skills);
    page("practice_first_steps", trainee_model(logbook, "dipper", ""), Page::progress);
    page("practice_nobody", trainee_model(logbook, "nobody", ""), Page::progress);
    TraineeModel away = all;
    away.page.reset();
    away.fault = "logbook postgresql://odo@clinic/unit: could not connect to server: Connection refused";
    page("practice_away", away, Page::progress);
    return ok;
}

bool shoot_editor(const std::string& folder, const std::string& name, sf::Vector2u size, LevelDraft draft,
                  const EditorNews& news, const std::function<void(LevelEditorScreen&)>& prepare) {
    LevelEditorScreen screen;
    screen.reset(false);
    prepare(screen);
    return shoot(folder, name, size, [&](Ui& ui) { static_cast<void>(screen.draw(ui, draft, news)); });
}

LevelDraft faulty_draft() {
    LevelDraft draft = draft_of("teachers-puzzle");
    draft.form.scenario.eye.bed_diameter_mm = 17.75;
    draft.form.typed["/eye/rim_thickness_um"] = "6oo";
    draft.form.scenario.eye.bed_shift_mm = {0.4, -0.2};
    draft.form.typed["/start/bites/2/tension_mN"] = "1s";
    draft.form.scenario.start.bites[2].graft_deg = 900.0;
    return draft;
}

bool shoot_editors(const std::string& folder, sf::Vector2u size) {
    using Group = LevelEditorScreen::Group;
    const LevelDraft puzzle = draft_of("teachers-puzzle"), oval = draft_of("oval-bed"), faulty = faulty_draft();
    const EditorNews of_puzzle = news_of(puzzle), of_oval = news_of(oval);
    EditorNews of_faulty = news_of(faulty);
    of_faulty.forecast.forecast = of_puzzle.forecast.forecast;
    bool ok = true;
    const std::pair<const char*, Group> pages[] = {
        {"level", Group::level}, {"eye", Group::eye},   {"donor", Group::donor}, {"thread", Group::thread},
        {"task", Group::task},   {"pass", Group::pass}, {"start", Group::start}};
    for (const auto& [name, group] : pages) {
        const std::string page = std::string("editor_") + name;
        const bool bare = group == Group::eye || group == Group::pass;
        ok &= shoot_editor(folder, page, size, bare ? oval : puzzle, bare ? of_oval : of_puzzle,
                           [group = group](LevelEditorScreen& s) {
                               s.show(group);
                               s.choose_bite(1);
                           });
    }
    for (const auto& [name, group] :
         {std::pair{"editor_faults_eye", Group::eye}, {"editor_faults_start", Group::start}})
        ok &= shoot_editor(folder, name, size, faulty, of_faulty, [group = group](LevelEditorScreen& s) {
            s.show(group);
            s.choose_bite(2);
        });
    const LevelDraft mixed = draft_with_run("selective-removal", 8), alone = draft_with_run("selective-removal", 0);
    EditorNews of_mixed;
    ok &= shoot_editor(folder, "editor_start_mixed", size, mixed, of_mixed,
                       [](LevelEditorScreen& s) { s.show(Group::start); });
    ok &= shoot_editor(folder, "editor_start_run", size, alone, of_mixed,
                       [](LevelEditorScreen& s) { s.show(Group::start); });
    ok &= shoot_editor(folder, "editor_leave", size, faulty, of_faulty, [](LevelEditorScreen& s) { s.ask(); });
    return ok;
}

bool shoot_all(const std::string& folder, sf::Vector2u size) {
    using Page = DebriefScreen::Page;
    bool ok = shoot_start(folder, size) && shoot_practice(folder, size) && shoot_editors(folder, size);
    KeyBindings bindings;
    KeysScreen keys;
    bindings.bind("F", Command::finish);
    ok &= shoot(folder, "keys", size, [&](Ui& ui) { static_cast<void>(keys.draw(ui, bindings)); });
    ok &=
        shoot(folder, "pause", size, [&](Ui& ui) { static_cast<void>(draw_pause_screen(ui, "Sixteen single bites")); });
    ReplayUi replay{true, true, 400.0, 1900.0};
    ok &= shoot(folder, "replay", size, [&](Ui& ui) { DebriefScreen::draw_replay(ui, replay, {}); });

    const Snapshot& off = scored("second_cardinal_off");
    ok &= shoot_debrief(folder, "debrief_result", size, off, [](DebriefScreen&) {});
    ok &= shoot_debrief(folder, "debrief_rings", size, off, [](DebriefScreen& s) { s.show_rings(true); });
    ok &= shoot_debrief(folder, "debrief_twin", size, off, [](DebriefScreen& s) { s.show_twin(true); });
    ok &= shoot_debrief(folder, "debrief_bites", size, off, [](DebriefScreen& s) { s.show(Page::bites); });
    ok &= shoot_debrief(folder, "debrief_sections", size, off, [](DebriefScreen& s) { s.show(Page::sections); });
    ok &= shoot_debrief(folder, "debrief_marks", size, off, [](DebriefScreen& s) { s.show(Page::marks); });
    ok &= shoot_debrief(folder, "debrief_even", size, scored("even_sixteen"), [](DebriefScreen&) {});
    ok &= shoot_debrief(folder, "debrief_tight_pair", size, scored("tight_pair"), [](DebriefScreen&) {});
    const Snapshot mixed = with_run("second_cardinal_off", 8), alone = with_run("even_sixteen", 0);
    ok &= shoot_debrief(folder, "debrief_mixed_result", size, mixed, [](DebriefScreen&) {});
    ok &= shoot_debrief(folder, "debrief_mixed_bites", size, mixed, [](DebriefScreen& s) { s.show(Page::bites); });
    ok &=
        shoot_debrief(folder, "debrief_mixed_sections", size, mixed, [](DebriefScreen& s) { s.show(Page::sections); });
    ok &= shoot_debrief(folder, "debrief_run_result", size, alone, [](DebriefScreen&) {});
    ok &= shoot_debrief(folder, "debrief_run_bites", size, alone, [](DebriefScreen& s) { s.show(Page::bites); });
    ok &= shoot_debrief(folder, "debrief_no_closure", size, without_closure(), [](DebriefScreen&) {});
    DrillAnswer rings;
    rings.bite = 3;
    rings.loosen = true;
    ok &=
        shoot_debrief(folder, "debrief_answer_rings", size, answered("rings-too-tight", rings), [](DebriefScreen&) {});
    DrillAnswer leak;
    leak.at_deg = 210.0;
    leak.retie = 7;
    ok &= shoot_debrief(folder, "debrief_answer_leak", size, answered("find-the-leak", leak), [](DebriefScreen&) {});
    DrillAnswer removal;
    removal.remove = {1, 2};
    ok &= shoot_debrief(folder, "debrief_answer_removal", size, answered("selective-removal", removal),
                        [](DebriefScreen&) {});
    return ok;
}

}  // namespace
}  // namespace graftwright

int main(int argc, char** argv) {
    if (argc != 2) {
        std::fputs("usage: graftwright_screens_gallery OUTDIR\n", stderr);
        return 2;
    }
    if (std::getenv("DISPLAY") == nullptr) {
        std::fputs("no display; run it under xvfb-run\n", stderr);
        return 3;
    }
    const sf::Context display;  // a display whose last client leaves may close
    const bool ok = graftwright::shoot_all(argv[1], {1280, 800}) && graftwright::shoot_all(argv[1], {2560, 1440});
    return ok ? 0 : 1;
}
