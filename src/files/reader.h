// From text to scenario, attempt or ring case, with every fault of the text at once.
//
// A text is read in four steps, each of which may end it with all the faults found so far:
//   1. size and nesting within limits, JSON grammar, no key twice in one object (document.h);
//   2. format and version;
//   3. the JSON Schema that ships in levels/ and is built into the program (schema.h);
//   4. rules that no schema can say (rules.h).
// Every fault carries file and line. Angles come out in [0, 360). Nothing here throws on bad input.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "files/attempt.h"
#include "files/hand_record.h"
#include "files/ring_case.h"
#include "files/scenario.h"

namespace graftwright {

// The text of a file; "-" is standard input. A file that can't be read is a fault, not an
// exception.
[[nodiscard]] Result<std::string> read_text_file(const std::string& path);

// file_name is only used in messages. A ring case's place is ring_case.h.
[[nodiscard]] Result<Scenario> read_scenario(std::string_view text, const std::string& file_name);
[[nodiscard]] Result<Attempt> read_attempt(std::string_view text, const std::string& file_name);
[[nodiscard]] Result<RingCase> read_ring_case(std::string_view text, const std::string& file_name);
[[nodiscard]] Result<HandRecord> read_hand_record(std::string_view text, const std::string& file_name);

// The same, and held against its scenario: depths against the thickness, tensions against the thread.
[[nodiscard]] Result<Attempt> read_attempt_for(const Scenario& scenario, std::string_view text,
                                               const std::string& file_name);

// The scenario with that id: a *.json of levels_dir, or one next to the attempt file. A shipped one
// wins; within a folder the first by name.
[[nodiscard]] Result<Scenario> find_scenario(const std::string& id, const std::string& attempt_path,
                                             const std::string& levels_dir);

// A level as it is named on a command line: by its file ("-": standard input) or by its id in levels_dir.
[[nodiscard]] Result<Scenario> read_level(const std::string& id_or_file, const std::string& levels_dir);

struct AttemptInScenario {
    Scenario scenario;
    Attempt attempt;
    std::string attempt_text;  // that it was read from
};

// All at once, as `score` needs it: the attempt's file, its scenario (scenario_path, or found by
// the attempt's id where that is ""), and the one held against the other.
[[nodiscard]] Result<AttemptInScenario> read_attempt_file(const std::string& attempt_path,
                                                          const std::string& scenario_path,
                                                          const std::string& levels_dir);

// What the `check` command does to one file, whichever of the three it is. An attempt is also held
// against its scenario, which has to be found. Empty: the file is sound.
[[nodiscard]] Faults check_file(const std::string& path, const std::string& levels_dir);

}  // namespace graftwright
