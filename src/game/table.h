// The table that the stages act on: the eye with its donor, chamber and threads, what the hand holds, what was said.
//
// Plain data and the few things that more than one stage does with it. Field frame, mm; ticks of 1/240 s.
#pragma once

#include <initializer_list>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/point.h"
#include "files/event_kind.h"
#include "game/action.h"
#include "game/bite_in_hand.h"
#include "game/chamber.h"
#include "game/laid_threads.h"
#include "game/live_solver.h"
#include "game/snapshot.h"
#include "game/tying.h"

namespace graftwright {

struct Table {
    Table(std::shared_ptr<const ScenarioModel> scenario_model, std::string trainee, std::string started);

    std::shared_ptr<const ScenarioModel> model;
    int tick = 0, active_ticks = 0;  // active: the attempt's clock, which stands in pauses
    int open_ticks = 0;              // of those, until the fourth bite

    DonorAfloat donor;
    double eversion_deg = 0.0;  // of the lip, while the forceps hold it
    Chamber chamber;
    LaidThreads threads;
    std::shared_ptr<const LiveWound> wound;  // as last solved …
    std::optional<WoundQuestion> shown;      // … for this question

    Point pointer;
    BiteInHand bite;             // aimed, then driven
    std::optional<Tying> tying;  // from the first throw on, until the knot is buried
    std::optional<std::size_t> selected;
    int looked_at = 0;  // 0, 2, 4: bites at which the game has asked for a look

    double trauma_uJ = 0.0, bite_trauma_uJ = 0.0;
    int iris_caught = 0, endothelial_touches = 0;

    std::string notice;
    bool warning = false;
    int notice_until = 0;

    [[nodiscard]] const Scenario& scenario() const { return model->scenario(); }
    // Toward those that the level asks for: the open run's too, one being tied not when it is a run's.
    [[nodiscard]] int bites_counted() const;
    [[nodiscard]] double gap_mm(double deg) const;  // of the wound's front

    // What the hand may do at any stage.
    void act(const Action& action);
    void select_near(Point field);
    void cut_out_selected();
    void draw_run_bite_back();
    // The bite in hand comes to nothing.
    void lose_bite(EventKind how, const std::string& words);

    [[nodiscard]] double time_s() const { return static_cast<double>(active_ticks) / kTicksPerSecond; }
    void pass_time(int ticks);
    void say(std::string words, bool warn = false);
    void note(EventKind kind, std::initializer_list<EventDetail> details = {});

    // table_picture.cpp
    void show(Snapshot& shot) const;
    [[nodiscard]] LaidBite laid_as(const BitePath& path) const;  // where it lies in the field now
    [[nodiscard]] LaidBite laid_bite(std::size_t b) const;

  private:
    void use_forceps(std::optional<Point> at);
    [[nodiscard]] LaidBite laid_run_bite(const LaidThreads::Place& place) const;
    [[nodiscard]] double run_tension_mN(std::size_t run, std::size_t number) const;
    [[nodiscard]] std::vector<LaidSpan> laid_spans() const;
};

// The start of a level: the donor in its bed with the level's bites tethered.
[[nodiscard]] AfloatShape afloat_shape(const Scenario& scenario);

}  // namespace graftwright
