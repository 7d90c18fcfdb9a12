#include "view/editor/editor_screen.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/words.h"
#include "view/editor/form.h"
#include "view/editor/picture.h"
#include "view/editor/places.h"

namespace graftwright {
namespace {

using Group = LevelEditorScreen::Group;

struct GroupWords {
    Group group;
    const char* name;
    std::vector<const char*> objects;  // of the file, in the form's order
    const char* about;
};
const std::array<GroupWords, 7>& groups() {
    static const std::array<GroupWords, 7> all{
        {{Group::level, "Level", {""}, "What it is called and what it is for."},
         {Group::eye, "Eye", {"/eye"}, "The host: its bed, its rim, its pressure."},
         {Group::donor, "Donor", {"/graft"}, "The button that is sewn in."},
         {Group::thread, "Thread", {"/thread"}, "One monofilament for all bites."},
         {Group::task, "Task", {"/task", "/task/hand"}, "What the trainee is to do, and with what help."},
         {Group::pass, "To pass", {"/pass"}, "Tick what is asked; what is not ticked does not count."},
         {Group::start, "Start", {"/start"}, "Bites that lie in the eye when the level opens."}}};
    return all;
}
const GroupWords& words_of(Group group) { return groups()[static_cast<std::size_t>(group)]; }

// The group in whose rows a fault's place stands; the file's own keys are the level's.
Group group_of(const std::string& place) {
    const auto within = [&](const char* object) { return place.starts_with(object); };
    if (within("/eye")) return Group::eye;
    if (within("/graft")) return Group::donor;
    if (within("/thread")) return Group::thread;
    if (within("/task")) return Group::task;
    if (within("/pass")) return Group::pass;
    if (within("/start")) return Group::start;
    return Group::level;
}

std::size_t faults_in(const Faults& faults, Group group) {
    return static_cast<std::size_t>(std::count_if(faults.begin(), faults.end(),
                                                  [&](const Fault& fault) { return group_of(fault.place) == group; }));
}

bool has_a_field(Scenario& scenario, Group group, const std::string& place) {
    for (const char* object : words_of(group).objects)
        for (const Field& field : fields_of(scenario, object))
            if (place == field.place || place.starts_with(field.place + "/")) return true;
    return false;
}

std::string where_it_lies(const LevelDraft& draft) {
    if (draft.path.empty()) return "not saved yet";
    return draft.changed() ? "changed since it was saved" : "saved";
}

}  // namespace

void LevelEditorScreen::reset(bool examiner_view) {
    *this = {};
    examiner_view_ = examiner_view;
}

EditorChoice LevelEditorScreen::draw(Ui& ui, LevelDraft& draft, const EditorNews& news) {
    if (asking_) return draw_question(ui, draft, news);
    ui.begin_screen("level editor");
    const EditorChoice choice = draw_head(ui, draft, news);
    draw_groups(ui, news.faults);
    if (group_ == Group::start)
        draw_start(ui, draft, news);
    else
        draw_form(ui, draft, news);
    draw_picture(ui, draft.form.scenario);
    ui.begin_panel("forecast panel", editor_places::kForecast, tone::panel, 16.0);
    draw_level_forecast(ui, news.forecast);
    ui.end_panel();
    ui.end_screen();
    return choice;
}

EditorChoice LevelEditorScreen::draw_head(Ui& ui, const LevelDraft& draft, const EditorNews& news) {
    constexpr double kButton = 112.0, kTop = 22.0;
    EditorChoice choice = EditorChoice::none;
    ui.text_at(editor_places::kEdge, 12.0, "Making a level", Face::title);
    const std::string state = fmt::format("{}.json, {}", draft.form.scenario.id, where_it_lies(draft));
    const std::string words = news.notice.empty() ? state : news.notice;
    constexpr double kWordsWidth = 820.0;
    ui.text_at(editor_places::kEdge + 2.0, 55.0, ui.shortened(words, Face::body, kWordsWidth), Face::body,
               news.notice_warns ? tone::warning : tone::quiet);
    ui.note("editor notice");
    const double right = kCanvasWidth - editor_places::kEdge;
    ui.move_to(right - 3.0 * kButton - 16.0, kTop);
    if (ui.button("Try it", ButtonKind::primary, kButton)) choice = EditorChoice::try_it;
    ui.move_to(right - 2.0 * kButton - 8.0, kTop);
    if (ui.button("Save", ButtonKind::plain, kButton)) choice = EditorChoice::save;
    ui.move_to(right - kButton, kTop);
    if (ui.button("Leave", ButtonKind::plain, kButton)) {
        if (draft.changed())
            asking_ = true;
        else
            choice = EditorChoice::leave;
    }
    return choice;
}

EditorChoice LevelEditorScreen::draw_question(Ui& ui, const LevelDraft& draft, const EditorNews& news) {
    constexpr double kWidth = 460.0, kHeight = 292.0, kButton = kWidth - 44.0;
    EditorChoice choice = EditorChoice::none;
    ui.begin_screen("leave the editor");
    ui.begin_panel("leave panel", {(kCanvasWidth - kWidth) / 2.0, (kCanvasHeight - kHeight) / 2.0, kWidth, kHeight},
                   tone::panel, 22.0, false);
    ui.text("This level is not saved", Face::heading);
    const std::size_t faults = news.faults.size();
    ui.wrapped(faults == 0 ? fmt::format("“{}” has changes that lie in no file yet.", draft.form.scenario.title)
                           : fmt::format("It has {}. Saved as it is, it is listed with them and can be mended "
                                         "later.",
                                         counted(faults, "fault")),
               Face::body, tone::quiet);
    ui.gap(6.0);
    if (ui.button("Go on with it", ButtonKind::primary, kButton, 44.0)) asking_ = false;
    if (ui.button("Save and leave", ButtonKind::plain, kButton)) choice = EditorChoice::save_and_leave;
    if (ui.button("Leave without saving", ButtonKind::plain, kButton)) choice = EditorChoice::leave;
    ui.wrapped("Then what was changed is gone.", Face::small, tone::quiet);
    ui.end_panel();
    ui.end_screen();
    if (choice != EditorChoice::none) asking_ = false;
    return choice;
}

void LevelEditorScreen::draw_groups(Ui& ui, const Faults& faults) {
    constexpr double kBetween = 4.0;
    const Rect& row = editor_places::kGroups;
    const double each =
        (row.width - kBetween * static_cast<double>(groups().size() - 1)) / static_cast<double>(groups().size());
    for (std::size_t i = 0; i < groups().size(); ++i) {
        const GroupWords& words = groups()[i];
        const std::size_t wrong = faults_in(faults, words.group);
        const std::string shown = wrong == 0 ? words.name : fmt::format("{} !{}", words.name, wrong);
        const bool on = words.group == group_;
        ui.move_to(row.x + static_cast<double>(i) * (each + kBetween), row.y);
        if (ui.button((shown + "##group " + words.name).c_str(), on ? ButtonKind::primary : ButtonKind::plain, each,
                      row.height))
            group_ = words.group;
        ui.note(std::string("group ") + words.name);
    }
}

void LevelEditorScreen::draw_form(Ui& ui, LevelDraft& draft, const EditorNews& news) {
    const GroupWords& words = words_of(group_);
    ui.begin_panel(words.name, editor_places::kForm, tone::panel, editor_places::kInset);
    ui.text(words.about, Face::body, tone::quiet);
    ui.gap(2.0);
    LevelForm form(ui, draft.form, news.faults, editor_places::kRowWidth);
    for (const Fault& fault : news.faults)
        if (group_of(fault.place) == group_ && !has_a_field(draft.form.scenario, group_, fault.place))
            warning_line(ui, fault.message);
    for (const char* object : words.objects) form.draw_object(object);
    ui.end_panel();
}

void LevelEditorScreen::draw_picture(Ui& ui, const Scenario& scenario) {
    const Rect& place = editor_places::kPicture;
    ui.begin_panel("eye panel", place, tone::panel, 12.0, false);
    ui.text_at(place.x + 14.0, place.y + 10.0, examiner_view_ ? "Examiner's view" : "Surgeon's view", Face::strong);
    ui.text_at(place.x + 14.0, place.y + 31.0, examiner_view_ ? "12 o'clock on top" : "6 o'clock on top", Face::small,
               tone::quiet);
    ui.move_to(place.x + place.width - 96.0, place.y + 10.0);
    if (ui.button("Turn##picture", ButtonKind::plain, 84.0, 30.0)) examiner_view_ = !examiner_view_;
    LevelPicture how;
    how.examiner_view = examiner_view_;
    if (group_ == Group::start && bite_ < scenario.start.bites.size()) how.chosen_bite = bite_;
    draw_level_picture(ui, {place.x + 12.0, place.y + 8.0, place.width - 24.0, place.height - 16.0}, scenario, how);
    ui.end_panel();
}

}  // namespace graftwright
