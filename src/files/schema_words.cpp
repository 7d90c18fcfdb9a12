#include "files/schema_words.h"

#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "base/nearest_word.h"
#include "files/syntax_words.h"

namespace graftwright {
namespace {

std::string joined(const Json& list) {
    std::string words;
    for (const Json& item : list) {
        if (!words.empty()) words += ", ";
        words += item.is_string() ? item.get<std::string>() : item.dump();
    }
    return words;
}

bool allows(const Json& node, const char* type) {
    const auto found = node.find("type");
    if (found == node.end()) return true;
    if (found->is_string()) return *found == type;
    return std::find(found->begin(), found->end(), type) != found->end();
}

std::string range_words(const Json& node) {
    const bool above = node.contains("exclusiveMinimum");
    const Json low = above ? node["exclusiveMinimum"] : node.value("minimum", Json());
    const Json high = node.value("maximum", Json());
    if (low.is_null() || high.is_null()) return "";
    if (above)
        return fmt::format(" above {} and up to {}", number_words(low.get<double>()), number_words(high.get<double>()));
    return fmt::format(" from {} to {}", number_words(low.get<double>()), number_words(high.get<double>()));
}

// What a node of the schema asks for.
std::string expected(const Json& node) {
    if (node.contains("const")) return node["const"].dump();
    if (node.contains("enum")) return "one of " + joined(node["enum"]);
    if (node.contains("expected")) return node["expected"].get<std::string>();
    const std::string or_null = allows(node, "null") ? " or null" : "";
    if (node.contains("type")) {
        if (allows(node, "integer")) return "a whole number" + range_words(node) + or_null;
        if (allows(node, "number")) return "a number" + range_words(node) + or_null;
        if (allows(node, "boolean")) return "true or false";
        if (allows(node, "object")) return "an object in { }";
        if (allows(node, "array")) {
            const Json least = node.value("minItems", Json());
            const Json most = node.value("maxItems", Json());
            if (!least.is_null() && least == most) return "a list of " + least.dump() + " in [ ]";
            if (!least.is_null() && !most.is_null())
                return "a list of " + least.dump() + " to " + most.dump() + " entries in [ ]";
            if (!most.is_null()) return "a list of at most " + most.dump() + " entries in [ ]";
            return "a list in [ ]";
        }
        if (node.contains("minLength"))
            return fmt::format("a text of {} to {} characters in \" quotes", node["minLength"].dump(),
                               node["maxLength"].dump());
        if (node.contains("maxLength"))
            return fmt::format("a text of at most {} characters in \" quotes", node["maxLength"].dump());
        return "a text in \" quotes";
    }
    return "another value";
}

const Json& followed(const Json& node, const Json& schema) {
    const auto found = node.find("$ref");
    if (found == node.end()) return node;
    const std::string target = found->get<std::string>().substr(1);  // without '#'
    return schema.at(Json::json_pointer(target));
}

// The way walked in the file and in the schema at once.
struct Spot {
    const Json* value;
    const Json* node;  // of the schema; nullptr where it says nothing
    std::string pointer;
};

Spot spot_at(const std::vector<std::string>& way, const Json& root, const Json& schema,
             const std::string& base_pointer) {
    Spot spot{&root, &schema, base_pointer};
    for (const std::string& step : way) {
        const bool list = spot.value->is_array();
        if (list) {
            spot.value = &spot.value->at(static_cast<std::size_t>(std::stoull(step)));
        } else {
            spot.value = &spot.value->at(step);
        }
        spot.pointer = below(spot.pointer, step);
        if (spot.node == nullptr) continue;
        if (list && spot.node->contains("items")) {
            spot.node = &followed(spot.node->at("items"), schema);
        } else if (!list && spot.node->contains("properties") && spot.node->at("properties").contains(step)) {
            spot.node = &followed(spot.node->at("properties").at(step), schema);
        } else {
            spot.node = nullptr;
        }
    }
    return spot;
}

std::string in_place(const std::string& pointer, const std::string& what) {
    const std::string where = place_name(pointer);
    return where.empty() ? what : where + ": " + what;
}

Finding unknown_key(const Spot& spot, const std::string& key) {
    const Json& known = spot.node->at("properties");
    std::string nearest;
    std::size_t distance = 4;  // more letters apart than 3 is no slip of the finger
    Json names = Json::array();
    for (const auto& [name, node] : known.items()) {
        names.push_back(name);
        const std::size_t apart = key.size() > 64 ? 99 : edit_distance(key, name);
        if (apart < distance) {
            distance = apart;
            nearest = name;
        }
    }
    const std::string wanted = nearest.empty() ? "one of " + joined(names) : "perhaps " + in_quotes(nearest);
    return {below(spot.pointer, key), in_place(spot.pointer, "unknown key " + in_quotes(key) + ", expected " + wanted),
            true, nearest.empty() ? "" : below(spot.pointer, nearest)};
}

// The key of "Missing required property 'id'."
std::string named_in(const std::string& sentence) {
    const std::size_t first = sentence.find('\'');
    const std::size_t last = sentence.rfind('\'');
    return first < last ? sentence.substr(first + 1, last - first - 1) : "";
}

void add_missing(const Spot& spot, const std::string& key, Findings& findings) {
    const Json required = spot.node->value("required", Json::array());
    if (std::find(required.begin(), required.end(), key) == required.end()) return;  // of a choice
    std::string wanted = "it here";
    if (spot.node->contains("properties") && spot.node->at("properties").contains(key))
        wanted = expected(spot.node->at("properties").at(key));
    findings.push_back({spot.pointer,
                        in_place(spot.pointer, "key " + in_quotes(key) + " is missing, expected " + wanted), false,
                        below(spot.pointer, key)});
}

void add_unknown(const Spot& spot, Findings& findings) {
    for (const auto& [key, value] : spot.value->items())
        if (!spot.node->at("properties").contains(key) && findings.size() <= kMostFaults)
            findings.push_back(unknown_key(spot, key));
}

// Of several keys one must be there; rules about the first of them are void without it.
void add_none_of_choice(const Spot& spot, Findings& findings) {
    std::string keys;
    std::string first;
    for (const Json& choice : spot.node->at("anyOf"))
        for (const Json& key : choice.at("required")) {
            const std::string name = key.get<std::string>();
            if (first.empty()) first = name;
            keys += (keys.empty() ? "" : " nor ") + in_quotes(name);
        }
    findings.push_back({spot.pointer, in_place(spot.pointer, "neither key " + keys + " is there, expected one of them"),
                        false, below(spot.pointer, first)});
}

std::string wrong_value(const Spot& spot) {
    const std::string where = place_name(spot.pointer);
    const std::string what = where.empty() ? "the file" : where;
    const bool holds = spot.value->is_structured();
    return fmt::format("{} {} {}, expected {}", what, holds ? "holds" : "is", value_words(*spot.value),
                       spot.node != nullptr ? expected(*spot.node) : "another value");
}

}  // namespace

std::string number_words(double value) { return fmt::format("{}", value); }

std::string value_words(const Json& value) {
    if (value.is_string()) return in_quotes(value.get_ref<const std::string&>());
    if (value.is_object()) return "an object";
    if (value.is_array()) return fmt::format("a list of {}", value.size());
    if (value.is_number()) return number_words(value.get<double>());
    return value.dump();
}

std::string place_name(const std::string& pointer) {
    static const std::map<std::string, std::string> kOneOf{{"bites", "bite"}, {"runs", "run"}, {"events", "event"}};
    const Json::json_pointer whole(pointer);
    std::vector<std::string> steps;
    for (Json::json_pointer rest = whole; !rest.empty(); rest.pop_back()) steps.insert(steps.begin(), rest.back());
    std::string name;
    bool counted = false;  // the last step was "bite 3"
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const bool indexed =
            i + 1 < steps.size() && !steps[i + 1].empty() &&
            std::all_of(steps[i + 1].begin(), steps[i + 1].end(), [](char c) { return c >= '0' && c <= '9'; });
        const auto one = kOneOf.find(steps[i]);
        const bool first_or_list = indexed && one != kOneOf.end();
        if (!name.empty()) name += first_or_list ? ", " : counted ? ": " : ".";
        counted = first_or_list;
        if (first_or_list) {
            name += fmt::format("{} {}", one->second, std::stoull(steps[++i]) + 1);
        } else if (indexed) {
            name += fmt::format("{}[{}]", steps[i], steps[i + 1]);
            ++i;
        } else {
            name += steps[i];
        }
    }
    return name;
}

Findings findings_from(const std::vector<SchemaError>& errors, const Json& root, const Json& schema,
                       const std::string& base_pointer) {
    Findings findings;
    std::set<std::string> done;  // one sentence for one value, one for the keys of one object
    for (const SchemaError& error : errors) {
        const auto says = [&](const char* part) { return error.sentence.find(part) != std::string::npos; };
        if (findings.size() > kMostFaults) break;
        const Spot spot = spot_at(error.way, root, schema, base_pointer);
        if (says("Missing required property")) {
            if (spot.node != nullptr) add_missing(spot, named_in(error.sentence), findings);
        } else if (says("Object contains a property")) {
            if (done.insert("keys of " + spot.pointer).second) add_unknown(spot, findings);
        } else if (says("anyOf")) {
            add_none_of_choice(spot, findings);
        } else if (!says("Failed to validate")) {
            if (done.insert(spot.pointer).second)
                findings.push_back({spot.pointer, wrong_value(spot), false, spot.pointer});
        }
    }
    if (findings.empty())  // an error whose sentence we do not know is still an error
        findings.push_back({base_pointer,
                            "the file does not keep to its schema in levels/, "
                            "expected a file that does"});
    return findings;
}

}  // namespace graftwright
