// Making a level: a form in groups, beside it the eye from above and the predicted best closure.
//
// Plain in, plain out: it changes the draft it is given and says what was asked for; files, checking and
// predicting are the level editor's (level_editor.h). Faults stand beside their field, those of other groups
// are counted on the groups' buttons. Leaving with a changed draft asks first.
#pragma once

#include <string>

#include "game/level_draft.h"
#include "view/editor/forecast.h"
#include "view/kit/ui.h"

namespace graftwright {

struct EditorNews {
    Faults faults;  // of the draft, as `check` says them
    ForecastNews forecast;
    std::string notice;  // what became of the last wish; "" nothing
    bool notice_warns = false;
};

enum class EditorChoice { none, try_it, save, save_and_leave, leave };

class LevelEditorScreen {
  public:
    enum class Group { level, eye, donor, thread, task, pass, start };

    // Between Widgets::begin and draw.
    [[nodiscard]] EditorChoice draw(Ui& ui, LevelDraft& draft, const EditorNews& news);
    // For a draft that is shown anew.
    void reset(bool examiner_view);
    void show(Group group) { group_ = group; }
    void ask() { asking_ = true; }  // whether to leave
    void choose_bite(std::size_t bite) { bite_ = bite; }

  private:
    [[nodiscard]] EditorChoice draw_head(Ui& ui, const LevelDraft& draft, const EditorNews& news);
    [[nodiscard]] EditorChoice draw_question(Ui& ui, const LevelDraft& draft, const EditorNews& news);
    void draw_groups(Ui& ui, const Faults& faults);
    void draw_form(Ui& ui, LevelDraft& draft, const EditorNews& news);
    void draw_start(Ui& ui, LevelDraft& draft, const EditorNews& news);
    void draw_start_tools(Ui& ui, LevelDraft& draft);
    void draw_bite_rows(Ui& ui, LevelDraft& draft, const Faults& faults);
    void draw_bite(Ui& ui, LevelDraft& draft, const EditorNews& news);
    void draw_picture(Ui& ui, const Scenario& scenario);

    Group group_ = Group::level;
    bool examiner_view_ = true, asking_ = false;
    std::size_t bite_ = 0;
    std::string ring_ = "16";  // as typed
};

}  // namespace graftwright
