#include "files/from_json.h"

#include <cmath>
#include <limits>

#include "base/angle.h"
#include "files/keys.h"

namespace graftwright {
namespace {

void take(const Json& value, double& member) {
    if (value.is_number()) member = value.get<double>();
}
void take(const Json& value, std::optional<double>& member) {
    if (value.is_number())
        member = value.get<double>();
    else if (value.is_null())
        member.reset();
}
void take(const Json& value, int& member) {
    if (!value.is_number_integer()) return;
    const double wide = value.get<double>();
    if (std::fabs(wide) <= std::numeric_limits<int>::max()) member = static_cast<int>(wide);
}
void take(const Json& value, bool& member) {
    if (value.is_boolean()) member = value.get<bool>();
}
void take(const Json& value, std::string& member) {
    if (value.is_string()) member = value.get<std::string>();
}
void take(const Json& value, std::array<double, 2>& member) {
    if (!value.is_array() || value.size() != 2) return;
    take(value[0], member[0]);
    take(value[1], member[1]);
}
template <typename Choice>
requires std::is_enum_v<Choice>
void take(const Json& value, Choice& member) {
    if (value.is_string()) member = choice_named<Choice>(value.get_ref<const std::string&>()).value_or(member);
}
template <typename Choice>
requires std::is_enum_v<Choice>
void take(const Json& value, std::vector<Choice>& member) {  // unknown names are left out
    if (!value.is_array()) return;
    member.clear();
    for (const Json& item : value) {
        if (!item.is_string()) continue;
        if (const auto known = choice_named<Choice>(item.get_ref<const std::string&>())) member.push_back(*known);
    }
}
template <typename Item>
void take(const Json& value, std::vector<Item>& member);
template <typename Object>
requires std::is_class_v<Object>
void take(const Json& value, Object& member);

struct FromJson {
    const Json& object;

    template <typename Member>
    void operator()(const char* name, Member& member) const {
        const auto found = object.find(name);
        if (found != object.end()) take(*found, member);
    }
    void angle(const char* name, double& member) const {
        (*this)(name, member);
        member = one_turn_deg(member);
    }
};

template <typename Item>
void take(const Json& value, std::vector<Item>& member) {
    if (!value.is_array()) return;
    member.clear();
    for (const Json& item : value) take(item, member.emplace_back());
}
template <typename Object>
requires std::is_class_v<Object>
void take(const Json& value, Object& member) {
    if (value.is_object()) each_key(FromJson{value}, member);
}

Event event_from(const Json& value) {
    Event event;
    if (!value.is_object()) return event;
    Json rest = value;
    FromJson keys{value};
    keys("t_s", event.t_s);
    keys("what", event.what);
    rest.erase("t_s");
    rest.erase("what");
    if (!rest.empty()) event.detail_json = rest.dump();
    return event;
}

}  // namespace

Scenario scenario_from(const Json& root) {
    Scenario scenario;
    take(root, scenario);
    return scenario;
}

Attempt attempt_from(const Json& root) {
    Attempt attempt;
    take(root, attempt);
    if (root.is_object() && root.contains("events") && root["events"].is_array())
        for (const Json& value : root["events"]) attempt.events.push_back(event_from(value));
    return attempt;
}

HandRecord hand_from(const Json& root) {
    HandRecord hand;
    take(root, hand);
    return hand;
}

RingCase ring_case_from(const Json& root) {
    RingCase ring;
    take(root, ring);
    return ring;
}

}  // namespace graftwright
