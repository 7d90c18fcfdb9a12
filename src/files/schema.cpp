#include "files/schema.h"

#include <utility>

#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validation_results.hpp>
#include <valijson/validator.hpp>

#include "files/schema_words.h"

namespace graftwright {
namespace {

struct CompiledSchema {
    Json json;
    valijson::Schema rules;

    explicit CompiledSchema(Json text) : json(std::move(text)) {
        const valijson::adapters::NlohmannJsonAdapter adapter(json);
        valijson::SchemaParser().populateSchema(adapter, rules);
    }
};

// Read once, never changed after.
const CompiledSchema& schema_of(FileKind kind) {
    static const CompiledSchema scenario(Json::parse(schema_text(FileKind::scenario)));
    static const CompiledSchema attempt(Json::parse(schema_text(FileKind::attempt)));
    static const CompiledSchema ring(Json::parse(schema_text(FileKind::ring)));
    static const CompiledSchema hand(Json::parse(schema_text(FileKind::hand)));
    switch (kind) {
        case FileKind::scenario:
            return scenario;
        case FileKind::attempt:
            return attempt;
        case FileKind::hand:
            return hand;
        case FileKind::ring:
            break;
    }
    return ring;
}

// An entry of the list of events, in the two kinds of file that have one.
const CompiledSchema& schema_of_event(FileKind kind) {
    static const CompiledSchema attempt(schema_of(FileKind::attempt).json["definitions"]["event"]);
    static const CompiledSchema hand(schema_of(FileKind::hand).json["definitions"]["event"]);
    return kind == FileKind::hand ? hand : attempt;
}

Findings validate(const CompiledSchema& schema, const Json& value, const std::string& base_pointer) {
    valijson::ValidationResults results;
    const valijson::adapters::NlohmannJsonAdapter adapter(value);
    valijson::Validator validator;  // strict types: "15" is no number
    if (validator.validate(schema.rules, adapter, &results)) return {};
    std::vector<SchemaError> errors;
    for (const valijson::ValidationResults::Error& error : results) {
        SchemaError ours{{}, error.description};
        for (std::size_t i = 1; i < error.context.size(); ++i) {  // 0 is "<root>"
            const std::string& step = error.context[i];
            ours.way.push_back(step.size() >= 2 ? step.substr(1, step.size() - 2) : step);
        }
        errors.push_back(std::move(ours));
    }
    return findings_from(errors, value, schema.json, base_pointer);
}

}  // namespace

Findings hold_against_schema(FileKind kind, Json& root) {
    const bool has_events =
        (kind == FileKind::attempt || kind == FileKind::hand) && root.is_object() && root.contains("events") && root["events"].is_array();
    if (!has_events) return validate(schema_of(kind), root, "");

    Json events = Json::array();
    root["events"].swap(events);
    Findings findings = validate(schema_of(kind), root, "");
    for (std::size_t i = 0; i < events.size() && findings.size() <= kMostFaults; ++i) {
        Findings of_event = validate(schema_of_event(kind), events[i], below(below("", "events"), i));
        findings.insert(findings.end(), of_event.begin(), of_event.end());
    }
    root["events"].swap(events);
    return findings;
}

}  // namespace graftwright
