#include "files/fields.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "base/check.h"
#include "files/from_json.h"
#include "files/keys.h"
#include "files/reader.h"
#include "files/schema_words.h"
#include "files/writer.h"

namespace graftwright {
namespace {

template <typename Enum>
Choice choice_of(Enum& member) {
    return {[&member] { return std::string(name_of(member)); },
            [&member](const std::string& wanted) { member = choice_named<Enum>(wanted).value_or(member); }};
}

template <typename Enum>
ChoiceSet set_of(std::vector<Enum>& members) {
    return {[&members](const std::string& name) {
                return std::any_of(members.begin(), members.end(),
                                   [&](Enum one) { return one == choice_named<Enum>(name); });
            },
            [&members](const std::string& name, bool on) {
                const std::optional<Enum> choice = choice_named<Enum>(name);
                if (choice) std::erase(members, *choice);
                if (choice && on) members.push_back(*choice);
            }};
}

struct Collect {
    std::string object;
    std::vector<Field>& fields;

    template <typename Member>
    void operator()(const char* name, Member& member) const {
        const std::string place = below(object, name);
        if constexpr (std::is_enum_v<Member>) {
            fields.push_back({place, choice_of(member)});
        } else if constexpr (std::is_same_v<Member, std::vector<Aid>>) {
            fields.push_back({place, set_of(member)});
        } else if constexpr (std::is_same_v<Member, std::array<double, 2>>) {
            for (std::size_t i = 0; i < 2; ++i) fields.push_back({below(place, i), &member[i]});
        } else if constexpr (std::is_constructible_v<FieldMember, Member*>) {
            fields.push_back({place, &member});
        }
    }
    void angle(const char* name, double& member) const { (*this)(name, member); }
};

std::size_t index_in(std::string_view object, std::string_view list) {
    std::size_t index = 0;
    const std::string_view digits = object.substr(list.size());
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), index);
    GRAFTWRIGHT_CHECK(error == std::errc() && end == digits.data() + digits.size(), "an entry of a list");
    return index;
}

std::vector<Field> number_fields(Scenario& scenario) {
    std::vector<std::string> objects{"", "/eye", "/graft", "/thread", "/task", "/task/hand", "/pass"};
    for (std::size_t b = 0; b < scenario.start.bites.size(); ++b) objects.push_back(below("/start/bites", b));
    std::vector<Field> numbers;
    for (const std::string& object : objects)
        for (Field& field : fields_of(scenario, object))
            if (!std::holds_alternative<std::string*>(field.member) && field_facts(field.place).number)
                numbers.push_back(std::move(field));
    return numbers;
}

// What the file says in a number's place where the form's number says something else.
void take_odd_entries(const Json& root, ScenarioForm& form) {
    const Json written = Json::parse(write_scenario(form.scenario));
    for (const Field& field : number_fields(form.scenario)) {
        const Json::json_pointer place(field.place);
        if (!root.contains(place)) continue;
        const Json& value = root.at(place);
        if (value.is_string())
            form.typed[field.place] = value.get<std::string>();
        else if (value.is_number() && value != written.at(place))
            form.typed[field.place] = number_words(value.get<double>());
    }
}

// Everything that `root` says, `held` says too.
bool holds_all(const Json& held, const Json& root) {
    if (root.is_object()) {
        for (const auto& [key, value] : root.items())
            if (!held.is_object() || !held.contains(key) || !holds_all(held.at(key), value)) return false;
        return true;
    }
    if (!root.is_array()) return held == root;
    if (!held.is_array() || held.size() != root.size()) return false;
    for (std::size_t i = 0; i < root.size(); ++i)
        if (!holds_all(held[i], root[i])) return false;
    return true;
}

}  // namespace

std::vector<Field> fields_of(Scenario& scenario, const std::string& object) {
    std::vector<Field> fields;
    const Collect collect{object, fields};
    constexpr std::string_view kBites = "/start/bites/";
    if (object.empty()) each_key(collect, scenario);
    if (object == "/eye") each_key(collect, scenario.eye);
    if (object == "/graft") each_key(collect, scenario.graft);
    if (object == "/thread") each_key(collect, scenario.thread);
    if (object == "/task") each_key(collect, scenario.task);
    if (object == "/task/hand") each_key(collect, scenario.task.hand);
    if (object == "/pass") each_key(collect, scenario.pass);
    if (object.starts_with(kBites)) each_key(collect, scenario.start.bites.at(index_in(object, kBites)));
    return fields;
}

std::string entry_of(const ScenarioForm& form, const Field& field) {
    const auto odd = form.typed.find(field.place);
    if (odd != form.typed.end()) return odd->second;
    if (const auto* number = std::get_if<double*>(&field.member)) return number_words(**number);
    if (const auto* whole = std::get_if<int*>(&field.member)) return std::to_string(**whole);
    if (const auto* perhaps = std::get_if<std::optional<double>*>(&field.member))
        return **perhaps ? number_words(***perhaps) : "";
    return "";
}

std::optional<double> number_in(std::string_view entry) {
    const std::size_t first = entry.find_first_not_of(' ');
    if (first == entry.npos) return std::nullopt;
    entry = entry.substr(first, entry.find_last_not_of(' ') + 1 - first);
    double value = 0.0;
    const auto [end, error] = std::from_chars(entry.data(), entry.data() + entry.size(), value);
    if (error != std::errc() || end != entry.data() + entry.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

void enter(ScenarioForm& form, const Field& field, const std::string& entry) {
    const std::optional<double> number = number_in(entry);
    form.typed.erase(field.place);
    if (const auto* whole = std::get_if<int*>(&field.member)) {
        if (number && std::trunc(*number) == *number && std::abs(*number) <= std::numeric_limits<int>::max())
            **whole = static_cast<int>(*number);
        else
            form.typed[field.place] = entry;
        return;
    }
    if (!number)
        form.typed[field.place] = entry;
    else if (const auto* plain = std::get_if<double*>(&field.member))
        **plain = *number;
    else if (const auto* perhaps = std::get_if<std::optional<double>*>(&field.member))
        **perhaps = *number;
}

Result<ScenarioForm> read_form(std::string_view text, const std::string& file_name) {
    const Result<Scenario> sound = read_scenario(text, file_name);
    if (sound.ok()) return ScenarioForm{sound.value(), {}};
    const Result<Json> root = parse_document(text, file_name);
    if (!root.ok()) return root.faults();
    ScenarioForm form{scenario_from(root.value()), {}};
    take_odd_entries(root.value(), form);
    if (holds_all(Json::parse(write_form(form)), root.value())) return form;
    Faults faults = sound.faults();
    faults.push_back({file_name, 0, "the form can't hold all that the file says, expected it mended in a text editor"});
    return faults;
}

}  // namespace graftwright
