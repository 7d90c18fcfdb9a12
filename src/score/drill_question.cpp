#include "score/drill_question.h"

#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/angle.h"
#include "base/words.h"
#include "files/event_kind.h"

namespace graftwright {
namespace {

constexpr int kHalfHours = 24;  // choices for a place: every half hour, 15° apart

DrillChoice choice(std::string label, double deg, DrillAnswer means) {
    return {std::move(label), deg, std::move(means)};
}

// One choice for each bite in place.
template <typename Means, typename Label>
std::vector<DrillChoice> of_bites(const std::vector<Bite>& bites, Label label, Means means) {
    std::vector<DrillChoice> choices;
    for (std::size_t b = 0; b < bites.size(); ++b) {
        if (bites[b].removed) continue;
        DrillAnswer answer;
        means(answer, b);
        choices.push_back(choice(label(b), bites[b].host_deg, answer));
    }
    return choices;
}

DrillStep ring_bites(const std::vector<Bite>& bites) {
    const auto label = [&](std::size_t b) { return fmt::format("Bite at {}", place_words(bites[b].host_deg)); };
    return {"Look at the rings: which bite is not like the others?", false,
            of_bites(bites, label, [](DrillAnswer& answer, std::size_t b) { answer.bite = b; })};
}

DrillStep loosen_or_tighten() {
    DrillAnswer loosen, tighten;
    loosen.loosen = true;
    tighten.loosen = false;
    return {"What does it need?", false, {choice("Loosen it", 0.0, loosen), choice("Tighten it", 0.0, tighten)}};
}

// Every half hour, from 12 o'clock clockwise as a clock reads.
template <typename Means>
std::vector<DrillChoice> of_hours(const char* before, Means means) {
    std::vector<DrillChoice> choices;
    for (int i = 0; i < kHalfHours; ++i) {
        const double deg = hour_deg(0.5 * i);
        DrillAnswer answer;
        means(answer, deg);
        choices.push_back(choice(before + place_words(deg), deg, answer));
    }
    return choices;
}

DrillStep repairs(const std::vector<Bite>& bites) {
    DrillStep step{"How will you close it?", false, {}};
    const auto label = [&](std::size_t b) {
        return fmt::format("Cut out the bite at {} and lay it anew", place_words(bites[b].host_deg));
    };
    step.choices = of_bites(bites, label, [](DrillAnswer& answer, std::size_t b) { answer.retie = b; });
    for (DrillChoice& more :
         of_hours("One more bite at ", [](DrillAnswer&answer, double deg) { answer.add_at_deg = deg; }))
        step.choices.push_back(std::move(more));
    return step;
}

template <typename Value>
void take(const std::optional<Value>& from, std::optional<Value>& to) {
    if (from) to = from;
}

std::optional<std::size_t> bite_from(const nlohmann::json& object, const char* key) {
    const auto found = object.find(key);
    if (found == object.end() || !found->is_number_integer() || found->get<std::int64_t>() < 1) return std::nullopt;
    return static_cast<std::size_t>(found->get<std::int64_t>() - 1);
}
std::optional<double> number_from(const nlohmann::json& object, const char* key) {
    const auto found = object.find(key);
    return found != object.end() && found->is_number() ? std::optional(found->get<double>()) : std::nullopt;
}

DrillAnswer answer_of(const nlohmann::json& object) {
    DrillAnswer answer;
    answer.bite = bite_from(object, "bite");
    const nlohmann::json sense = object.value("sense", nlohmann::json());
    if (sense == "loosen" || sense == "tighten") answer.loosen = sense == "loosen";
    answer.at_deg = number_from(object, "at_deg");
    answer.retie = bite_from(object, "retie");
    answer.add_at_deg = number_from(object, "add_at_deg");
    answer.tension_mN = number_from(object, "tension_mN");
    const nlohmann::json remove = object.value("remove", nlohmann::json());
    for (const nlohmann::json& bite : remove.is_array() ? remove : nlohmann::json::array())
        if (bite.is_number_integer() && bite.get<std::int64_t>() >= 1)
            answer.remove.push_back(static_cast<std::size_t>(bite.get<std::int64_t>() - 1));
    return answer;
}

}  // namespace

bool asks_a_question(ScenarioKind kind) {
    return kind == ScenarioKind::read_rings || kind == ScenarioKind::find_leak || kind == ScenarioKind::remove;
}

DrillQuestion drill_question(const Scenario& scenario) {
    const std::vector<Bite>& bites = scenario.start.bites;
    switch (scenario.kind) {
        case ScenarioKind::read_rings:
            return {{ring_bites(bites), loosen_or_tighten()}};
        case ScenarioKind::find_leak:
            return {{{"Where does it leak?", false,
                      of_hours("", [](DrillAnswer& answer, double deg) { answer.at_deg = deg; })},
                     repairs(bites)}};
        case ScenarioKind::remove: {
            const auto label = [&](std::size_t b) { return fmt::format("Bite at {}", place_words(bites[b].host_deg)); };
            return {{{"Which bites will you take out today?", true,
                      of_bites(bites, label, [](DrillAnswer& answer, std::size_t b) { answer.remove = {b}; })}}};
        }
        default:
            return {};
    }
}

DrillAnswer answer_from(const DrillQuestion& question, const std::vector<std::vector<std::size_t>>& picked) {
    DrillAnswer answer;
    for (std::size_t s = 0; s < std::min(picked.size(), question.steps.size()); ++s)
        for (const std::size_t pick : picked[s]) {
            if (pick >= question.steps[s].choices.size()) continue;
            const DrillAnswer& part = question.steps[s].choices[pick].means;
            take(part.bite, answer.bite);
            take(part.loosen, answer.loosen);
            take(part.at_deg, answer.at_deg);
            take(part.retie, answer.retie);
            take(part.add_at_deg, answer.add_at_deg);
            take(part.tension_mN, answer.tension_mN);
            answer.remove.insert(answer.remove.end(), part.remove.begin(), part.remove.end());
        }
    return answer;
}

Event answer_event(double t_s, const DrillAnswer& answer) {
    nlohmann::json object = nlohmann::json::object();
    if (answer.bite) object["bite"] = *answer.bite + 1;
    if (answer.loosen) object["sense"] = *answer.loosen ? "loosen" : "tighten";
    if (answer.at_deg) object["at_deg"] = *answer.at_deg;
    if (answer.retie) object["retie"] = *answer.retie + 1;
    if (answer.add_at_deg) object["add_at_deg"] = *answer.add_at_deg;
    if (answer.tension_mN) object["tension_mN"] = *answer.tension_mN;
    for (const std::size_t bite : answer.remove) object["remove"].push_back(bite + 1);
    return {t_s, std::string(event_name(EventKind::answer)), object.empty() ? "" : object.dump()};
}

std::optional<DrillAnswer> answer_in(const Attempt& attempt) {
    for (auto event = attempt.events.rbegin(); event != attempt.events.rend(); ++event) {
        if (!is(*event, EventKind::answer)) continue;
        const nlohmann::json object =
            nlohmann::json::parse(event->detail_json.empty() ? "{}" : event->detail_json, nullptr, false);
        return object.is_object() ? answer_of(object) : DrillAnswer{};
    }
    return std::nullopt;
}

}  // namespace graftwright
