// A level in the window, from opening it to the debrief: its run, its sounds, and what is kept of it.
//
// A level in the making (no path) is a trial: no journal, no attempt, nothing in the logbook. A scripted hand and a
// window that measures its frames have no journal either.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include <SFML/Graphics/RenderWindow.hpp>

#include "base/point.h"
#include "game/journals.h"
#include "game/level_run.h"
#include "game/settings.h"
#include "game/user_files.h"
#include "view/debrief/debrief_screen.h"
#include "view/field/game_view.h"
#include "view/practice/practice.h"
#include "view/window/pause_screen.h"
#include "view/window/play_window.h"
#include "view/window/sound.h"

namespace graftwright {

class LevelPlay {
  public:
    // What the window has besides; all outlive this.
    struct Around {
        const PlayOptions& options;
        const UserFiles& files;
        const Journals& journals;
        const Settings& settings;
        Practice& practice;
        Sound& sound;
    };
    // What the pause screen or the debrief was asked for in a frame.
    struct Asked {
        PauseChoice pause = PauseChoice::none;
        DebriefChoice debrief = DebriefChoice::none;
    };
    enum class Wish { stay, leave, keys, quit };

    explicit LevelPlay(const Around& around) : around_(around) {}

    void open(const Scenario& scenario, const std::string& path);
    // Plays the journal of an interrupted attempt again and goes on where it ended; why not, or "".
    [[nodiscard]] std::string go_on(const std::string& journal);
    void take_event(const sf::Event& event, Point pointer);
    // One frame: ticks, their sounds, and a finished attempt kept; the picture; what was asked for over it. After
    // `leave` nothing is played any more.
    void advance(double frame_s);
    [[nodiscard]] Asked draw(sf::RenderWindow& window, Ui& ui);
    [[nodiscard]] Wish heed(const Asked& asked);

    [[nodiscard]] bool running() const { return run_ != nullptr; }
    [[nodiscard]] bool trial() const { return path_.empty(); }
    [[nodiscard]] double gl_ms() const { return gl_ms_; }  // of the last frame, in the library's draw calls

    // A trainee's label as it is written into attempts.
    [[nodiscard]] static std::string label(const Settings& settings);

  private:
    void begin(const Scenario& scenario, const std::string& path, const GameOptions& game,
               std::vector<Input> script);
    void leave(bool abandoned);
    void set_paused(bool paused, Point pointer);
    [[nodiscard]] bool replaying() const { return replay_.open && !run_->timeline().empty(); }
    void draw_replay(sf::RenderWindow& window, Ui& ui);
    void keep_attempt();
    void enter_in_logbook(const Attempt& attempt);
    void write_report();
    void hear(const Snapshot& before, const Snapshot& after);
    [[nodiscard]] std::string kept_words() const;
    [[nodiscard]] GameOptions game_options(const std::string& path) const;

    Around around_;
    GameView view_;
    DebriefScreen debrief_;
    ReplayUi replay_;
    std::unique_ptr<LevelRun> run_;
    Scenario level_;
    std::string path_, kept_path_, kept_in_;
    std::vector<Input> inputs_;
    Point pointer_;
    double gl_ms_ = 0.0;
};

}  // namespace graftwright
