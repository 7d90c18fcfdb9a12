// The first screen: what this is and is not, the course, who plays and how, and the way in.
//
// Plain in, plain out: it shows a StartModel and returns a StartChoice each frame; it reads no files.
// Levels that could not be read are listed too, with every fault of their file.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/rect.h"
#include "base/result.h"
#include "files/scenario.h"
#include "logbook/trainee_page.h"
#include "view/kit/ui.h"

namespace graftwright {

// What the first screen, every report and every picture say about this program, in full.
inline constexpr const char* kCautionTitle = "Training only";
inline constexpr const char* kCautionText =
    "Graftwright is not a medical device and is not validated on patients. It certifies nobody and takes no "
    "patient's data. It never serves to choose a suture to place, adjust or remove in a person: supervising "
    "surgeons and local protocols come first.";

struct LevelEntry {
    Scenario scenario;           // where it could be read
    std::string file;            // its name, for the broken ones
    Faults faults;               // all of them; empty: sound
    std::optional<double> best;  // best total so far, 0 … 100
    bool passed = false;
    long long attempts = 0;  // finished ones
    std::string path = {};   // its file
    bool own = false;        // of the user's making
};

struct StartSettings {
    std::string trainee;  // a label of the trainee's own choice
    bool left_handed = false;
    bool examiner_view = false;  // false: surgeon's, 6 o'clock at the top
    bool reduced_motion = false;
    bool sound = true;
    friend bool operator==(const StartSettings&, const StartSettings&) = default;
};

// An attempt whose journal was not closed.
struct Interrupted {
    std::string path;  // of its journal
    std::string level_title;
    std::string trainee;
    int bites_tied = 0;
    double clock_s = 0.0;
};

struct StartModel {
    std::vector<LevelEntry> levels;        // in the order of the course, broken ones last
    StartSettings settings;                // taken over when the screen is first shown
    std::vector<Interrupted> interrupted;  // one is offered, "Another" goes to the next
    std::string selected_id;               // level shown first; "" the first one
    bool sound_available = true;
    std::vector<std::string> notices;  // what went wrong elsewhere, a line each at the foot
};

// Best total and whether it was ever passed, into the entries of the course.
void fill_in(StartModel& model, const std::vector<LevelCount>& results);

struct StartChoice {
    enum class What { none, play, go_on, set_aside, keys, practice, make_level, change_level, quit };
    What what = What::none;
    std::string level_id;    // play
    std::string path;        // change_level: the level's; go_on, set_aside: the journal's
    StartSettings settings;  // as they now are, whatever was chosen
};

class StartScreen {
  public:
    // Between Widgets::begin and draw.
    [[nodiscard]] StartChoice draw(Ui& ui, const StartModel& model);
    // Takes the model's settings and selection anew at the next draw.
    void reset() { fresh_ = true; }

  private:
    void draw_head(Ui& ui) const;
    void draw_interrupted(Ui& ui, const std::vector<Interrupted>& attempts, StartChoice& choice);
    void draw_levels(Ui& ui, const StartModel& model, const Rect& place, StartChoice& choice);
    void draw_row(Ui& ui, const LevelEntry& level, std::size_t index, StartChoice& choice);
    void draw_level(Ui& ui, const LevelEntry& level, const Rect& place, StartChoice& choice) const;
    void draw_settings(Ui& ui, const StartModel& model, const Rect& place, StartChoice& choice);

    bool fresh_ = true;
    bool focus_list_ = false;
    std::size_t selected_ = 0, offered_ = 0;
    StartSettings settings_;
};

}  // namespace graftwright
