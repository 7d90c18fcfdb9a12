// The journal: what happens is on disk as it happens, so that a dead machine costs a second at most.
//
// JSON lines, each handed to the system at once: a head (format, version, scenario, trainee, started, view and
// hand), then {"tick": n, "input": {…}} for every input, {"tick": n, "bite": {…}} for every finished bite,
// {"tick": n} once a second, {"tick": n, "end": true} when the attempt is over or given up. Going on = playing
// the inputs again. A line that can't be one of these (cut short, a tick that goes back or leaps) is left out; a
// file without a sound head, or with nothing else that is sound, is a fault and stays as it is.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "files/attempt.h"
#include "files/hand_record.h"
#include "files/scenario.h"
#include "game/held_file.h"

namespace graftwright {

struct JournalHead {
    std::string scenario;       // id
    std::string scenario_path;  // file it was read from
    std::string level;          // level_fingerprint of it; "" in journals that have none
    std::string trainee, started;
    bool left_handed = false, examiner_view = false;
};

struct Journal {
    JournalHead head;
    std::vector<Input> inputs;
    int last_tick = 0;  // 0: nothing but a head
    std::size_t bites = 0;
    bool ended = false;
};

// Writes into a file that is held until the attempt has ended. A disk that won't stops no attempt: what it does
// not take waits, goes in with a later line, and fault() says so meanwhile.
class JournalWriter {
  public:
    // Begins a journal in an empty file, or goes on with one of this head whose inputs are being played again up
    // to `resume_tick` (nothing is written before that).
    JournalWriter(std::shared_ptr<HeldFile> file, const JournalHead& head, int resume_tick = 0);

    void input(const Input& input);
    void bite(int tick, const Bite& bite);
    void beat(int tick);
    void end(int tick);
    // Why the file has not all of it, as a short sentence; "": it has.
    [[nodiscard]] const std::string& fault() const { return fault_; }

  private:
    void line(int tick, const std::string& key, const std::string& json);
    void write(const std::string& text);

    std::shared_ptr<HeldFile> file_;
    std::string waiting_, fault_;
    int resume_tick_ = 0;
};

// Nothing in the file makes this throw or takes it longer than its size says.
[[nodiscard]] Result<Journal> read_journal(const std::string& path);

// Of all that the level says: a changed level has another.
[[nodiscard]] std::string level_fingerprint(const Scenario& scenario);

}  // namespace graftwright
