// The window's side of practising: keeps finished attempts, knows the course's results, shows "My practice".
//
// Puts the logbook's keeper and the trainee's screen together, so that the window needs a line each.
#pragma once

#include <string>
#include <vector>

#include "game/levels.h"
#include "view/practice/logbook_keeper.h"
#include "view/practice/trainee_screen.h"

namespace graftwright {

class Practice {
  public:
    // place "": the file in the user's own folder, `usual`.
    Practice(const std::string& place, const std::string& usual, const std::string& program,
             const std::vector<Level>& levels);

    void keep(FinishedAttempt attempt);
    // A trainee's results as far as they are known; asks for them only where the trainee changed or something was kept.
    [[nodiscard]] const std::vector<LevelCount>& results_of(const std::string& trainee);
    // Takes what the logbook has answered; once a frame, whatever screen is shown.
    void update();
    // Of the attempt handed in last, for the debrief: "" as long as nothing is known.
    [[nodiscard]] const std::string& kept_words() const { return kept_words_; }
    // For the foot of the first screen; "" nothing.
    [[nodiscard]] std::string notice() const { return opened_words_.empty() ? fault_words_ : opened_words_; }

    void open(const std::string& trainee);
    // Between Widgets::begin and draw.
    [[nodiscard]] TraineeChoice draw(Ui& ui) { return screen_.draw(ui, model_); }
    // What was chosen there. True: back to the first screen.
    [[nodiscard]] bool heed(const TraineeChoice& choice);
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

}  // namespace graftwright
