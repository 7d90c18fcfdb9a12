// A level being played: inputs in, snapshots out, everything recorded.
//
// The same inputs at the same ticks give the same attempt to the bit, in a window or without one, on a
// slow machine or a fast one. Inputs are kept in the attempt's events ("input", for replay) and, where a
// journal is given, on disk as they come.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "game/input.h"
#include "game/input_map.h"
#include "game/journal.h"
#include "game/lesson.h"
#include "game/session.h"

namespace graftwright {

struct GameOptions {
    std::string trainee = "trainee";
    std::string started;  // ISO 8601 by custom
    bool left_handed = false, examiner_view = false;
    KeyBindings keys;
    std::shared_ptr<HeldFile> journal;  // null: none kept
    int resume_tick = 0;                // going on with that journal: nothing is written up to here
    std::string scenario_path;          // for the journal
};

class Game {
  public:
    Game(std::shared_ptr<const ScenarioModel> model, std::unique_ptr<WoundService> service, const GameOptions& options);

    [[nodiscard]] bool can_step() const { return session_.can_step(); }
    // One tick with the inputs that came since the last, whatever tick they say.
    void step(std::vector<Input> inputs);
    [[nodiscard]] Snapshot snapshot() const { return completed(session_.snapshot()); }
    // As of the last tick.
    [[nodiscard]] const Snapshot& last() const { return shot_; }
    [[nodiscard]] const Session& session() const { return session_; }
    [[nodiscard]] const std::vector<Input>& inputs() const { return inputs_; }
    // The attempt as it is saved: bites, events, inputs for replay.
    [[nodiscard]] Attempt attempt() const;
    // Why the disk has not all of the journal, as a short sentence; "": it has, or none is kept.
    [[nodiscard]] std::string journal_fault() const { return journal_ ? journal_->fault() : ""; }
    // The attempt is abandoned on purpose: its journal is closed.
    void give_up();

  private:
    // What the device and the lesson add to what the session shows.
    [[nodiscard]] Snapshot completed(Snapshot shot) const;

    Session session_;
    InputMap input_;
    std::unique_ptr<JournalWriter> journal_;
    std::optional<Lesson> lesson_;  // where the level teaches the controls
    std::vector<Input> inputs_;
    Snapshot shot_;  // as of the last tick: what the next inputs are meant for
    std::size_t bites_written_ = 0;
};

// Plays inputs to their end, without a window, and then `more_ticks`, or until the debrief. progress: told once a
// second of play; may be empty.
void play_inputs(Game& game, const std::vector<Input>& inputs, int more_ticks,
                 const std::function<void(std::size_t done_s, std::size_t all_s)>& progress = {});

}  // namespace graftwright
