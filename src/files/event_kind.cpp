#include "files/event_kind.h"

#include <array>
#include <utility>

#include <fmt/format.h>

#include "base/check.h"

namespace graftwright {

std::string_view event_name(EventKind kind) {
    using enum EventKind;
    static constexpr std::array<std::pair<EventKind, std::string_view>, 23> kNames{{
        {setup, "setup"},
        {input, "input"},
        {driven, "driven"},
        {through_back, "through_back"},
        {trauma, "trauma"},
        {iris_caught, "iris_caught"},
        {endothelial_touch, "endothelial_touch"},
        {tied, "tied"},
        {abandoned, "abandoned"},
        {thread_broke, "thread_broke"},
        {tore_out, "tore_out"},
        {cut_out, "cut_out"},
        {undone, "undone"},
        {run_bite, "run_bite"},
        {run_bite_out, "run_bite_out"},
        {run_opened, "run_opened"},
        {slack_worked, "slack_worked"},
        {run_tied, "run_tied"},
        {run_cut_out, "run_cut_out"},
        {ring_check, "ring_check"},
        {leak_check, "leak_check"},
        {question, "question"},
        {answer, "answer"},
    }};
    for (const auto& [known, name] : kNames)
        if (known == kind) return name;
    GRAFTWRIGHT_CHECK(false, "every kind of event has a name");
    return "";
}

EventDetail::EventDetail(std::string_view of, double value, int decimals)
    : key(of), json(fmt::format("{:.{}f}", value, decimals)) {}

Event event_of(double t_s, EventKind kind, std::initializer_list<EventDetail> details) {
    std::string json;
    for (const EventDetail& detail : details)
        json += fmt::format("{}\"{}\":{}", json.empty() ? "{" : ",", detail.key, detail.json);
    return {t_s, std::string(event_name(kind)), json.empty() ? "" : json + "}"};
}

}  // namespace graftwright
