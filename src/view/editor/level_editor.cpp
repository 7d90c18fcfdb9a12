#include "view/editor/level_editor.h"

#include <filesystem>
#include <stdexcept>
#include <utility>

#include <fmt/format.h>

#include "base/whole_file.h"

namespace graftwright {
namespace {

constexpr int kFramesToRest = 30;  // half a second: while somebody types, nothing is written

// A level left unsaved that another is opened instead of: it is listed among the user's own from now on.
void keep_former(const UserFiles& files) {
    namespace fs = std::filesystem;
    std::error_code error;
    if (!fs::exists(files.unsaved_level(), error)) return;
    const std::string stem = files.levels() + "/left-unsaved";
    std::string path = stem + ".json";
    for (int n = 2; fs::exists(path, error); ++n) path = fmt::format("{}-{}.json", stem, n);
    fs::rename(files.unsaved_level(), path, error);
}

}  // namespace

void LevelEditor::open_new(std::vector<Level> levels, bool examiner_view) {
    std::string notice;
    LevelDraft draft = new_level(levels);
    bool damaged = false;
    std::error_code none;
    if (std::filesystem::exists(files_.unsaved_level(), none)) {
        Result<LevelDraft> unsaved = take_up_unsaved(files_.unsaved_level());
        damaged = !unsaved.ok();
        if (damaged) {
            notice = put_aside("The level left unsaved", files_.unsaved_level(), "can't be read");
        } else {
            draft = unsaved.take();
            notice = "This is the level that was left unsaved.";
        }
    }
    begin(std::move(draft), std::move(levels), examiner_view);
    news_.notice = notice;
    news_.notice_warns = damaged;
}

std::string LevelEditor::open(const Level& level, std::vector<Level> levels, bool examiner_view) {
    keep_former(files_);
    if (!level.own) {
        if (!level.scenario) return level.faults.front().text();
        begin(copy_of_level(*level.scenario, levels), std::move(levels), examiner_view);
        news_.notice = fmt::format("A copy of “{}”; the level itself stays as it is.", level.name());
        return "";
    }
    Result<LevelDraft> draft = open_level(level.path);
    if (!draft.ok()) return draft.faults().back().text();
    begin(draft.take(), std::move(levels), examiner_view);
    return "";
}

void LevelEditor::begin(LevelDraft draft, std::vector<Level> levels, bool examiner_view) {
    draft_ = std::move(draft);
    levels_ = std::move(levels);
    screen_.reset(examiner_view);
    news_ = {};
    aside_.clear();
    open_ = true;
    shown_ = nullptr;
    check();
    news_.forecast = forecast_news();
}

void LevelEditor::check() {
    checked_form_ = draft_.form;
    read_ = checked(draft_);
    news_.faults = read_.ok() ? Faults{} : read_.faults();
    frames_since_change_ = 0;
    if (read_.ok()) forecaster_.ask(read_.value());
}

ForecastNews LevelEditor::forecast_news() {
    const std::shared_ptr<const Forecast> latest = forecaster_.latest();
    const bool current = latest && read_.ok() && latest->level == without_words(read_.value());
    if (current) shown_ = latest;
    return {shown_, current, read_.ok()};
}

LevelEditor::Wish LevelEditor::heed(EditorChoice choice) {
    if (!(draft_.form == checked_form_)) {
        check();
        news_.notice.clear();
        news_.notice_warns = false;
    }
    if (++frames_since_change_ == kFramesToRest) lay_aside();
    const Wish wish = act_on(choice);
    news_.forecast = forecast_news();
    return wish;
}

LevelEditor::Wish LevelEditor::act_on(EditorChoice choice) {
    switch (choice) {
        case EditorChoice::try_it:
            if (read_.ok()) {
                lay_aside();
                trial_ = read_.value();
                return Wish::try_it;
            }
            news_.notice = "It can be tried when its faults are mended; their groups are marked.";
            news_.notice_warns = true;
            break;
        case EditorChoice::save:
            (void)save();
            break;
        case EditorChoice::save_and_leave:
            if (!save()) break;
            open_ = false;
            return Wish::leave;
        case EditorChoice::leave:
            forget_aside();
            open_ = false;
            return Wish::leave;
        case EditorChoice::none:
            break;
    }
    return Wish::stay;
}

bool LevelEditor::save() {
    const Result<std::string> path = save_level(draft_, files_.levels(), levels_);
    news_.notice_warns = !path.ok() || !news_.faults.empty();
    if (!path.ok()) {
        news_.notice = "Not saved: " + path.faults().front().message;
        return false;
    }
    news_.notice = "Saved in " + path.value();
    if (!news_.faults.empty()) news_.notice += ", with its faults";
    forget_aside();
    return true;
}

void LevelEditor::lay_aside() {
    if (!open_) return;
    const std::string text = draft_.text();
    if (text == draft_.opened_text || text == aside_) return;
    try {
        write_whole(files_.unsaved_level(), text);
        aside_ = text;
    } catch (const std::runtime_error& error) {
        news_.notice = error.what();  // a full disk stops no work
        news_.notice_warns = true;
    }
}

void LevelEditor::forget_aside() {
    std::error_code error;
    std::filesystem::remove(files_.unsaved_level(), error);
    aside_.clear();
}

}  // namespace graftwright
