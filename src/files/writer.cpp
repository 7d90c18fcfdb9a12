#include "files/writer.h"

#include <cmath>

#include <nlohmann/json.hpp>

#include "files/fields.h"
#include "files/keys.h"

namespace graftwright {
namespace {

using OrderedJson = nlohmann::ordered_json;  // keys in the order of FORMAT.md

OrderedJson tree(double value) {
    constexpr double kExactIntegers = 9007199254740992.0;  // 2^53; 15 reads better than 15.0
    if (std::trunc(value) == value && std::fabs(value) <= kExactIntegers) return static_cast<std::int64_t>(value);
    return value;
}
OrderedJson tree(int value) { return value; }
OrderedJson tree(bool value) { return value; }
OrderedJson tree(const std::string& value) { return value; }
OrderedJson tree(const std::optional<double>& value) { return value ? tree(*value) : OrderedJson(nullptr); }
OrderedJson tree(const std::array<double, 2>& value) { return OrderedJson::array({tree(value[0]), tree(value[1])}); }
template <typename Choice>
requires std::is_enum_v<Choice> OrderedJson tree(Choice value) { return name_of(value); }
template <typename Item>
OrderedJson tree(const std::vector<Item>& values);
template <typename Object>
requires std::is_class_v<Object> OrderedJson tree(const Object& value);

struct ToJson {
    OrderedJson& object;

    template <typename Member>
    void operator()(const char* name, const Member& member) const {
        object[name] = tree(member);
    }
    void angle(const char* name, double member) const { object[name] = tree(member); }
};

template <typename Item>
OrderedJson tree(const std::vector<Item>& values) {
    OrderedJson list = OrderedJson::array();
    for (const Item& value : values) list.push_back(tree(value));
    return list;
}
template <typename Object>
requires std::is_class_v<Object> OrderedJson tree(const Object& value) {
    OrderedJson object = OrderedJson::object();
    each_key(ToJson{object}, value);
    return object;
}

OrderedJson tree(const Event& event) {
    OrderedJson object{{"t_s", tree(event.t_s)}, {"what", event.what}};
    if (event.detail_json.empty()) return object;
    const OrderedJson rest = OrderedJson::parse(event.detail_json, nullptr, false);
    if (rest.is_object())
        for (const auto& [key, value] : rest.items())
            if (key != "t_s" && key != "what") object[key] = value;
    return object;
}

// A text that is not UTF-8 (a name from a command line) loses the odd bytes rather than the file.
std::string one_line(const OrderedJson& value) {
    return value.dump(-1, ' ', false, OrderedJson::error_handler_t::replace);
}

bool flat(const OrderedJson& value) {
    if (!value.is_structured()) return true;
    for (const OrderedJson& item : value)
        if (item.is_structured() && !item.empty()) return false;
    return true;
}

// What holds no further objects stands on one line: one bite, one line.
void lay_out(const OrderedJson& value, const std::string& indent, std::string& text) {
    if (flat(value)) {
        text += one_line(value);
        return;
    }
    const bool list = value.is_array();
    const std::string deeper = indent + "  ";
    text += list ? "[" : "{";
    bool first = true;
    for (const auto& [key, item] : value.items()) {
        text += first ? "\n" : ",\n";
        first = false;
        text += deeper;
        if (!list) text += one_line(key) + ": ";
        lay_out(item, deeper, text);
    }
    text += "\n" + indent + (list ? "]" : "}");
}

template <typename Value>
OrderedJson file_tree(const char* format, const Value& value) {
    OrderedJson root{{"format", format}, {"version", 1}};
    each_key(ToJson{root}, value);
    return root;
}

}  // namespace

std::string write_scenario(const Scenario& scenario) {
    std::string text;
    lay_out(file_tree("graftwright-scenario", scenario), "", text);
    return text + "\n";
}

std::string write_form(const ScenarioForm& form) {
    OrderedJson root = file_tree("graftwright-scenario", form.scenario);
    for (const auto& [place, entry] : form.typed) {
        const OrderedJson::json_pointer pointer(place);
        if (!root.contains(pointer)) continue;
        const std::optional<double> number = number_in(entry);
        root[pointer] = number ? tree(*number) : OrderedJson(entry);
    }
    std::string text;
    lay_out(root, "", text);
    return text + "\n";
}

std::string write_attempt(const Attempt& attempt) {
    OrderedJson root = file_tree("graftwright-attempt", attempt);
    root["events"] = OrderedJson::array();
    for (const Event& event : attempt.events) root["events"].push_back(tree(event));
    std::string text;
    lay_out(root, "", text);
    return text + "\n";
}

std::string write_hand(const HandRecord& hand) {
    OrderedJson root = file_tree("graftwright-hand", hand);
    const OrderedJson silent = tree(HandInput{});
    for (OrderedJson& event : root["events"])
        for (const auto& [key, nothing] : silent.items())
            if (key != "t_s" && key != "do" && event[key] == nothing) event.erase(key);
    std::string text;
    lay_out(root, "", text);
    return text + "\n";
}

}  // namespace graftwright
