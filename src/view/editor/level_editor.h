// The level editor at work: its screen, the draft, the user's own folder, the prediction beside.
//
// Opened from the start screen; draw() and heed() once a frame. A draft that is changed is laid aside on the disk
// within a second, so that a window that closes loses nothing: the next "Make a level" takes it up again.
#pragma once

#include <string>
#include <vector>

#include "game/forecaster.h"
#include "game/level_draft.h"
#include "game/user_files.h"
#include "view/editor/editor_screen.h"

namespace graftwright {

class LevelEditor {
  public:
    enum class Wish { stay, try_it, leave };

    explicit LevelEditor(const UserFiles& files) : files_(files) {}

    // A new level, or the one left unsaved.
    void open_new(std::vector<Level> levels, bool examiner_view);
    // An own level itself, a shipped one as a copy; why not, "" where it is open.
    [[nodiscard]] std::string open(const Level& level, std::vector<Level> levels, bool examiner_view);
    [[nodiscard]] EditorChoice draw(Ui& ui) { return screen_.draw(ui, draft_, news_); }
    // After each draw: checks what was changed, lays it aside when the hand rests, does what was chosen.
    [[nodiscard]] Wish heed(EditorChoice choice);
    // What is to be tried: the draft as checked.
    [[nodiscard]] const Scenario& trial() const { return trial_; }
    void lay_aside();

    [[nodiscard]] const LevelDraft& draft() const { return draft_; }
    [[nodiscard]] LevelEditorScreen& screen() { return screen_; }
    [[nodiscard]] const EditorNews& news() const { return news_; }

  private:
    void begin(LevelDraft draft, std::vector<Level> levels, bool examiner_view);
    void check();
    [[nodiscard]] Wish act_on(EditorChoice choice);
    [[nodiscard]] ForecastNews forecast_news();
    [[nodiscard]] bool save();
    void forget_aside();

    UserFiles files_;
    std::vector<Level> levels_;
    LevelDraft draft_;
    ScenarioForm checked_form_;
    Result<Scenario> read_{Scenario{}};
    Scenario trial_;
    std::shared_ptr<const Forecast> shown_;  // the last prediction that was of this draft
    LevelEditorScreen screen_;
    EditorNews news_;
    std::string aside_;  // text that lies aside; "" none
    int frames_since_change_ = 0;
    bool open_ = false;
    Forecaster forecaster_;
};

}  // namespace graftwright
