// The window's side of practising: keeps finished attempts, fills the course with results, shows "My practice".
//
// Puts the logbook's keeper and the trainee's screen together, so that the window needs a line each.
#pragma once

#include <string>
#include <vector>

#include "game/levels.h"
#include "view/logbook_keeper.h"
#include "view/start_screen.h"
#include "view/trainee_screen.h"

namespace graftwright {

class Practice {
  public:
    // place "": the file in the user's own folder, `usual`.
    Practice(const std::string& place, const std::string& usual, const std::string& program,
             const std::vector<Level>& levels);

    void keep(FinishedAttempt attempt);
    // Whose results the first screen shows; asks only where that changed or something was kept.
    void show_results_of(const std::string& trainee, StartModel& model);
    // Takes what the logbook has answered; once a frame, whatever screen is shown.
    void update();
    // Of the attempt handed in last, for the debrief: "" as long as nothing is known.
    [[nodiscard]] const std::string& kept_words() const { return kept_words_; }
    // For the foot of the first screen; "" nothing.
    [[nodiscard]] std::string notice() const { return opened_words_.empty() ? fault_words_ : opened_words_; }

    void open(const std::string& trainee);
    // Between Widgets::begin and draw. True: back to the first screen.
    [[nodiscard]] bool draw(Ui& ui);
    // At the end: why an attempt is not in the logbook, or "".
    [[nodiscard]] std::string finish() { return keeper_.finish(); }

  private:
    void ask_page();

    LogbookKeeper keeper_;
    TraineeScreen screen_;
    TraineeModel model_;
    std::vector<LevelCount> results_;
    std::string results_of_;
    bool results_asked_ = false;
    std::string kept_words_, fault_words_, opened_words_;
};

// Best total and whether it was ever passed, into the entries of the course.
void fill_in(StartModel& model, const std::vector<LevelCount>& results);

}  // namespace graftwright
