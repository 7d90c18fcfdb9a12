// One attempt from the first aim to the debrief: a pure state machine on a fixed tick of 1/240 s.
//
// Actions in, Snapshot out; no window, no clock. Hand, needle, thread and donor move on the tick. The
// wound is asked at one tick and adopted kSolveTicks later, whatever the machine: where the answer is
// late the session waits (can_step() is false), so a slow and a fast machine make the same attempt to the
// bit. A fewer-than-three-bites wound is asked like any other and answered with the rigid donor.
//
// A running thread is laid bite by bite into the open run (slack: it tethers and holds nothing), tied as a whole
// and only then part of the attempt. Bites are counted as in score/bites_in_order.h, those of the open run last.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "game/action.h"
#include "game/bite_in_hand.h"
#include "game/chamber.h"
#include "game/live_solver.h"
#include "game/question_in_hand.h"
#include "game/snapshot.h"

namespace graftwright {

inline constexpr int kSolveTicks = 12;      // a question acts this much later: 50 ms
inline constexpr int kOldPictureTicks = 36;  // 150 ms

class Session {
  public:
    // started: a label for the attempt (ISO 8601 by custom).
    Session(std::shared_ptr<const ScenarioModel> model, std::unique_ptr<WoundService> service, std::string trainee,
            std::string started);

    [[nodiscard]] bool can_step() const;
    void step(const std::vector<Action>& actions);

    [[nodiscard]] int tick() const { return tick_; }
    [[nodiscard]] Stage stage() const { return stage_; }
    [[nodiscard]] bool over() const { return stage_ == Stage::debrief; }
    // What the view draws; layout and buttons are the caller's.
    [[nodiscard]] Snapshot snapshot() const;
    // The attempt so far: bites that were finished, and the events of the hand.
    [[nodiscard]] const Attempt& attempt() const { return attempt_; }
    void record(Event event);  // a caller's own event (inputs, for replay)
    [[nodiscard]] const std::shared_ptr<const Debrief>& debrief() const { return debrief_; }
    [[nodiscard]] double aim_deg() const { return bite_.aim_deg(); }

  private:
    // What lies in the eye beside the file's own numbers.
    struct Laid {
        std::size_t tether = 0;
        bool tethered = false, buried_in_host = false, from_start = false;
    };
    struct LaidRun {
        std::vector<std::size_t> tethers;  // one a bite
        bool buried_in_host = false, from_start = false;
    };
    // Where a bite counted in order is kept: a single one, one of a tied run, or one of the open run.
    struct BitePlace {
        enum class In { single, tied_run, open_run } in = In::single;
        std::size_t run = 0, number = 0;
    };

    void act(const Action& action);
    void act_anywhere(const Action& action);
    void act_in_aim(const Action& action);
    void act_in_approach(const Action& action);
    void act_in_drive(const Action& action);
    void act_in_tie(const Action& action);
    void act_in_bury(const Action& action);
    void act_in_check(const Action& action);
    void act_in_answer(const Action& action);
    void accept_answer();
    void select_near(Point field);
    void use_forceps(std::optional<Point> at);
    void lay_throw(bool clockwise);
    void move_hand();
    void drive();
    void tie();
    void heed(DriveEvent event);
    void pull_through();
    void finish_bite(bool in_host);
    void draw_together(Point donor_edge, Point host_edge);
    void heed_knot();
    static void shorten(BitePath& bite, double cut_mm);
    void lose_bite(const char* what, const std::string& words);
    void cut_out_selected();
    void undo();
    void finish();  // to the question where the drill asks one, else to the end
    void end();
    void go(Stage stage);
    void say(std::string words, bool warning = false);
    void note(const char* what, const std::string& detail_json = "");
    void count_trauma(double before_uJ, double after_uJ);
    void remember();
    void ask_and_adopt();
    [[nodiscard]] WoundQuestion question() const;
    [[nodiscard]] std::size_t in_place() const;

    // session_run.cpp, session_cut.cpp, session_run_picture.cpp
    void take_up_runs(const std::vector<Run>& runs);
    void switch_running_thread();
    [[nodiscard]] bool may_set_needle_down();
    void lay_run_bite(const Bite& bite);
    void draw_run_bite_back();
    void begin_run_knot();
    void open_run_again();
    void work_slack_round();
    void draw_run_together();
    void finish_run(bool in_host);
    void lose_run(const char* what, const std::string& words);
    void cut_run_out(std::size_t run);
    [[nodiscard]] bool warned_of_open_run();
    void restore_runs(std::vector<Run> runs, std::vector<LaidRun> laid, std::vector<RunBite> open);
    [[nodiscard]] bool as_the_level_began() const;
    [[nodiscard]] std::size_t bites_laid() const;  // removed ones and those of the open run counted
    [[nodiscard]] int bites_counted() const;       // toward those that the level asks for
    [[nodiscard]] BitePlace place_of(std::size_t b) const;
    [[nodiscard]] double run_tension_mN(std::size_t run, std::size_t number) const;
    [[nodiscard]] LaidBite laid_run_bite(const BitePlace& place) const;
    [[nodiscard]] std::vector<LaidSpan> laid_spans() const;
    [[nodiscard]] std::string run_prompt() const;
    [[nodiscard]] KnotLimits limits_of(const std::vector<BitePath>& bites) const;
    [[nodiscard]] double gap_at(double deg) const;
    [[nodiscard]] Point tremor() const;
    [[nodiscard]] std::string prompt() const;
    [[nodiscard]] std::string aim_prompt() const;
    [[nodiscard]] std::vector<std::optional<Point>> choice_places() const;
    [[nodiscard]] LaidBite laid_bite(std::size_t b) const;
    [[nodiscard]] LaidBite laid_as(const Bite& bite) const;

    std::shared_ptr<const ScenarioModel> model_;
    std::unique_ptr<WoundService> service_;
    Attempt attempt_;
    std::vector<Laid> laid_;  // beside attempt_.bites
    struct Before {
        std::vector<Bite> bites;
        std::vector<Laid> laid;
        std::vector<Run> runs;
        std::vector<LaidRun> laid_runs;
        std::vector<RunBite> open_run;
    };
    std::vector<Before> history_;

    bool running_ = false;            // latch: the next bite belongs to a running thread
    std::vector<LaidRun> laid_runs_;  // beside attempt_.runs
    std::vector<RunBite> open_run_;   // laid, not tied; kept while its knot is tied
    std::optional<Run> tying_run_;
    bool open_run_warned_ = false;

    Stage stage_ = Stage::aim, back_to_ = Stage::aim;
    int tick_ = 0, active_ticks_ = 0, open_ticks_ = 0;
    bool paused_ = false, fine_ = false, twin_ = false;
    DonorAfloat donor_;
    double eversion_deg_ = 0.0;
    BiteInHand bite_;
    std::optional<Bite> tying_;
    std::optional<KnotInHand> knot_;
    KnotLimits knot_limits_;
    double hand_mN_ = 0.0;
    int next_turns_ = 3;
    Chamber chamber_;
    Point pointer_;
    std::optional<std::size_t> selected_;
    std::optional<QuestionInHand> asking_;
    int looked_at_ = 0;  // 0, 2, 4: bites at which the game has asked for a look
    double trauma_uJ_ = 0.0, drive_trauma_uJ_ = 0.0;
    int iris_caught_ = 0, endothelial_touches_ = 0;
    std::string notice_;
    bool warning_ = false;
    int notice_until_ = 0;

    std::shared_ptr<const LiveWound> wound_;
    std::optional<WoundQuestion> asked_;  // outstanding
    std::optional<WoundQuestion> shown_;  // the one that wound_ answers
    std::shared_ptr<const Debrief> debrief_;
    bool debrief_asked_ = false;
};

// The start of a level: the donor in its bed with the level's bites tethered.
[[nodiscard]] AfloatShape afloat_shape(const Scenario& scenario);

}  // namespace graftwright
