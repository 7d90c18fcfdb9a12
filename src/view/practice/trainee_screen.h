// "My practice": what a trainee's attempts add up to. Curves, the hand's spread, and a learning curve a skill.
//
// Plain in, plain out: it shows a TraineeModel and returns a TraineeChoice each frame; no database here. Three
// pages: progress (each number over the attempts), hand (bites of the latest attempts as dots), skills (CUSUM).
// It says what "competent" means where it says the word, and that it certifies nobody.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/rect.h"
#include "files/scenario.h"
#include "logbook/trainee_page.h"
#include "view/kit/ui.h"

namespace graftwright {

// A level of the course, in its order.
struct LevelTitle {
    std::string id, title;
    std::optional<PassMarks> limits;  // empty: a drill
};

struct TraineeModel {
    std::string trainee;
    std::string scenario;                     // asked for; "": all levels
    std::shared_ptr<const TraineePage> page;  // null: being read, or see fault
    std::string fault;                        // why there is none
    std::string place;                        // where the logbook is, for people
    bool on_server = false;
    std::vector<LevelTitle> course;
    [[nodiscard]] const LevelTitle* level(const std::string& id) const;
};

struct TraineeChoice {
    enum class What { none, level, done };
    What what = What::none;
    std::string scenario;  // level: the one to show, "" for all
};

class TraineeScreen {
  public:
    enum class Page { progress, hand, skills };

    // Between Widgets::begin and draw.
    [[nodiscard]] TraineeChoice draw(Ui& ui, const TraineeModel& model);
    void show(Page page) { page_ = page; }

  private:
    void draw_head(Ui& ui, const TraineeModel& model);
    void draw_levels(Ui& ui, const TraineeModel& model, const Rect& place, TraineeChoice& choice) const;
    void draw_body(Ui& ui, const TraineeModel& model, const Rect& place) const;

    Page page_ = Page::progress;
};

// The three pages, each into a rectangle of the canvas.
void draw_progress(Ui& ui, const Rect& place, const TraineePage& page, const PassMarks* marks);
void draw_hand(Ui& ui, const Rect& place, const TraineePage& page);
void draw_skills(Ui& ui, const Rect& place, const TraineePage& page);

}  // namespace graftwright
