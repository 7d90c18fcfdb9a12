// What the schema says of a key; see fields.h.
#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "base/check.h"
#include "files/document.h"
#include "files/fields.h"
#include "files/schema.h"
#include "files/schema_words.h"

namespace graftwright {
namespace {

const Json& scenario_schema() {
    static const Json schema = Json::parse(schema_text(FileKind::scenario));
    return schema;
}

const Json& followed(const Json& node) {
    const auto reference = node.find("$ref");
    if (reference == node.end()) return node;
    return scenario_schema().at(Json::json_pointer(reference->get<std::string>().substr(1)));
}

bool is_index(std::string_view step) {
    return !step.empty() && std::all_of(step.begin(), step.end(), [](char c) { return c >= '0' && c <= '9'; });
}

std::vector<std::string> steps_of(std::string_view place) {
    std::vector<std::string> steps;
    for (std::size_t at = 0; at < place.size();) {
        const std::size_t end = std::min(place.find('/', at + 1), place.size());
        steps.emplace_back(place.substr(at + 1, end - at - 1));
        at = end;
    }
    return steps;
}

// "bed_ovality_axis_deg" as "Bed ovality axis".
std::string name_of_key(std::string key, const std::string& unit) {
    if (!unit.empty() && key.find('_') != key.npos) {
        static const std::vector<std::string> kUnits{"_mm", "_um", "_deg", "_kPa", "_GPa", "_mN", "_mmHg", "_D", "_s"};
        for (const std::string& ending : kUnits)
            if (key.ends_with(ending)) {
                key.resize(key.size() - ending.size());
                break;
            }
    }
    std::replace(key.begin(), key.end(), '_', ' ');
    key.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(key.front())));
    return key;
}

// A form shows what is not asked by a tick, so it need not be told about null.
std::string without_null(std::string meaning) {
    for (const std::string_view words : {"; null: not asked", "null: none"}) {
        const std::size_t at = meaning.find(words);
        if (at != meaning.npos) meaning.erase(at, words.size());
    }
    return meaning;
}

bool has_type(const Json& node, const char* type) {
    const auto found = node.find("type");
    if (found == node.end()) return false;
    return found->is_string() ? *found == type : std::find(found->begin(), found->end(), type) != found->end();
}

void take_range(const Json& node, FieldFacts& facts) {
    const bool above = node.contains("exclusiveMinimum");
    const double low = node.at(above ? "exclusiveMinimum" : "minimum").get<double>();
    const double high = node.at("maximum").get<double>();
    facts.range = fmt::format("{}{} to {}", above ? "above " : "", number_words(low), number_words(high));
    facts.standard = 0.5 * (low + high);
}

void take_default(const Json& node, FieldFacts& facts) {
    const auto found = node.find("default");
    if (found == node.end()) return;
    if (found->is_null()) {
        facts.default_words = "none";
        if (node.contains("examples")) facts.standard = node.at("examples").front().get<double>();
    } else if (found->is_number()) {
        facts.standard = found->get<double>();
        facts.default_words = number_words(facts.standard);
    } else if (found->is_string()) {
        facts.default_words = found->get<std::string>();
    }
}

FieldFacts facts_of(const std::string& key, const Json& node) {
    FieldFacts facts;
    facts.unit = node.value("unit", "");
    if (facts.unit == "–") facts.unit.clear();
    facts.title = node.value("title", name_of_key(key, node.value("unit", "")));
    facts.meaning = without_null(node.value("description", ""));
    facts.why = node.value("why", "");
    facts.whole = has_type(node, "integer");
    facts.number = facts.whole || has_type(node, "number");
    if (facts.number) take_range(node, facts);
    take_default(node, facts);
    const Json& named = node.contains("items") ? node.at("items") : node;
    if (named.contains("enum")) facts.choices = named.at("enum").get<std::vector<std::string>>();
    return facts;
}

// Of an entry of a list of numbers: the list's words, the entry's range.
FieldFacts facts_at(const std::vector<std::string>& steps) {
    const Json* node = &scenario_schema();
    const Json* list = nullptr;
    std::string key;
    std::size_t index = 0;
    for (const std::string& step : steps) {
        if (is_index(step)) {
            list = node;
            index = static_cast<std::size_t>(std::stoul(step));
            node = &followed(node->at("items"));
        } else {
            list = nullptr;
            key = step;
            GRAFTWRIGHT_CHECK(node->contains("properties") && node->at("properties").contains(step),
                              "a place that the schema knows");
            node = &followed(node->at("properties").at(step));
        }
    }
    if (list == nullptr) return facts_of(key, *node);
    FieldFacts facts = facts_of(key, *list);
    const FieldFacts entry = facts_of(key, *node);
    facts.number = entry.number;
    facts.range = entry.range;
    facts.standard = list->contains("default") ? list->at("default").at(index).get<double>() : entry.standard;
    facts.default_words = number_words(facts.standard);
    return facts;
}

}  // namespace

const FieldFacts& field_facts(std::string_view place) {
    static std::map<std::string, FieldFacts, std::less<>> known;  // asked each frame, by one thread
    const auto found = known.find(place);
    if (found != known.end()) return found->second;
    return known.emplace(std::string(place), facts_at(steps_of(place))).first->second;
}

}  // namespace graftwright
