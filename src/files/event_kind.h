// The kinds of an attempt's events that this program writes or counts, with their names in files: the one table.
// Any other `what` is kept as it came.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>

#include "files/attempt.h"

namespace graftwright {

enum class EventKind {
    setup,  // how the player sits: left-handed, examiner's view
    input,  // one for each input of the hand's devices, for replay
    driven,
    through_back,
    trauma,
    iris_caught,
    endothelial_touch,
    tied,
    abandoned,
    thread_broke,
    tore_out,
    cut_out,
    undone,
    run_bite,
    run_bite_out,
    run_opened,
    slack_worked,
    run_tied,
    run_cut_out,
    ring_check,
    leak_check,
    question,
    answer,
};

// Its name in a file.
[[nodiscard]] std::string_view event_name(EventKind kind);
[[nodiscard]] inline bool is(const Event& event, EventKind kind) { return event.what == event_name(kind); }

// A key of an event beside time and name, and its value as the file has it.
struct EventDetail {
    EventDetail(std::string_view of, std::size_t count) : key(of), json(std::to_string(count)) {}
    EventDetail(std::string_view of, bool flag) : key(of), json(flag ? "true" : "false") {}
    EventDetail(std::string_view of, const char* word) : key(of), json('"' + std::string(word) + '"') {}
    EventDetail(std::string_view of, double value, int decimals);
    std::string_view key;
    std::string json;
};

[[nodiscard]] Event event_of(double t_s, EventKind kind, std::initializer_list<EventDetail> details = {});

}  // namespace graftwright
