// The journal: what happens is on disk as it happens, so that a dead machine costs a second at most.
//
// JSON lines, each written and handed to the system at once: a head (format, version, scenario, trainee,
// started, view and hand), then {"tick": n, "input": {…}} for every input, {"tick": n, "bite": {…}} for
// every finished bite, {"tick": n} once a second, {"tick": n, "end": true} when the attempt is over or
// given up. Going on = playing the inputs again; a last line cut short is left out, a file that is no
// journal is a fault and stays as it is.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "files/attempt.h"
#include "game/device_event.h"

namespace graftwright {

struct JournalHead {
    std::string scenario;       // id
    std::string scenario_path;  // file it was read from
    std::string trainee, started;
    bool left_handed = false, examiner_view = false;
};

struct Journal {
    JournalHead head;
    std::vector<std::pair<int, DeviceEvent>> inputs;
    int last_tick = 0;
    std::size_t bites = 0;
    bool ended = false;
};

class JournalWriter {
  public:
    // Begins a new journal, or goes on with one of this head whose inputs are being played again up to
    // `resume_tick` (nothing is written before that). Throws std::runtime_error where the disk won't.
    JournalWriter(const std::string& path, const JournalHead& head, int resume_tick = 0);
    ~JournalWriter();
    JournalWriter(const JournalWriter&) = delete;
    JournalWriter& operator=(const JournalWriter&) = delete;

    void input(int tick, const DeviceEvent& event);
    void bite(int tick, const Bite& bite);
    void beat(int tick);
    void end(int tick);

  private:
    void line(int tick, const std::string& key, const std::string& json);
    struct File;
    std::unique_ptr<File> file_;
    int resume_tick_ = 0;
};

[[nodiscard]] Result<Journal> read_journal(const std::string& path);

}  // namespace graftwright
