#include "files/reader.h"

#include <utility>

#include <fmt/format.h>

#include "files/from_json.h"
#include "files/rules.h"
#include "files/schema.h"
#include "files/schema_words.h"

namespace graftwright {
namespace {

const char* format_name(FileKind kind) {
    switch (kind) {
        case FileKind::scenario:
            return "graftwright-scenario";
        case FileKind::attempt:
            return "graftwright-attempt";
        case FileKind::hand:
            return "graftwright-hand";
        case FileKind::ring:
            break;
    }
    return "graftwright-ring";
}

// A file of another kind or a later version: its other faults would mean nothing.
Findings wrong_format(FileKind kind, const Json& root) {
    Findings findings;
    const std::string name = format_name(kind);
    const auto format = root.find("format");
    if (format != root.end() && *format != name)
        findings.push_back({"/format", fmt::format("format is {}, expected \"{}\"", value_words(*format), name)});
    const auto version = root.find("version");
    if (version != root.end() && *version != 1)
        findings.push_back({"/version", fmt::format("version is {}, expected 1, the one that this "
                                                    "program reads",
                                                    value_words(*version))});
    return findings;
}

// Steps 2 to 4 for one kind of file: `convert` makes the value, `rules` finds what is wrong with
// it.
template <typename Value, typename Convert, typename Rules>
Result<Value> read(FileKind kind, Json root, std::string_view text, const std::string& file_name,
                   const Convert& convert, const Rules& rules) {
    Findings findings = wrong_format(kind, root);
    if (!findings.empty()) return faults_from(findings, text, file_name);
    findings = hold_against_schema(kind, root);
    Value value = convert(root);
    const Findings broken = without_void(rules(value), findings);
    findings.insert(findings.end(), broken.begin(), broken.end());
    if (!findings.empty()) return faults_from(findings, text, file_name);
    return value;
}

Result<Scenario> scenario_of(Json root, std::string_view text, const std::string& file_name) {
    return read<Scenario>(FileKind::scenario, std::move(root), text, file_name, scenario_from,
                          [](const Scenario& scenario) { return rules_of(scenario); });
}

// scenario: nullptr where it is not known.
Result<Attempt> attempt_of(Json root, const Scenario* scenario, std::string_view text, const std::string& file_name) {
    return read<Attempt>(FileKind::attempt, std::move(root), text, file_name, attempt_from,
                         [scenario](const Attempt& attempt) {
                             Findings findings = rules_of(attempt);
                             if (scenario != nullptr) {
                                 const Findings held = rules_of(attempt, *scenario);
                                 findings.insert(findings.end(), held.begin(), held.end());
                             }
                             return findings;
                         });
}

Result<RingCase> ring_of(Json root, std::string_view text, const std::string& file_name) {
    return read<RingCase>(FileKind::ring, std::move(root), text, file_name, ring_case_from,
                          [](const RingCase& ring) { return rules_of(ring); });
}

Result<HandRecord> hand_of(Json root, std::string_view text, const std::string& file_name) {
    return read<HandRecord>(FileKind::hand, std::move(root), text, file_name, hand_from,
                            [](const HandRecord& hand) { return rules_of(hand); });
}

}  // namespace

Result<Scenario> read_scenario(std::string_view text, const std::string& file_name) {
    Result<Json> root = parse_document(text, file_name);
    if (!root.ok()) return root.faults();
    return scenario_of(root.take(), text, file_name);
}

Result<Attempt> read_attempt(std::string_view text, const std::string& file_name) {
    Result<Json> root = parse_document(text, file_name);
    if (!root.ok()) return root.faults();
    return attempt_of(root.take(), nullptr, text, file_name);
}

Result<Attempt> read_attempt_for(const Scenario& scenario, std::string_view text, const std::string& file_name) {
    Result<Json> root = parse_document(text, file_name);
    if (!root.ok()) return root.faults();
    return attempt_of(root.take(), &scenario, text, file_name);
}

Result<RingCase> read_ring_case(std::string_view text, const std::string& file_name) {
    Result<Json> root = parse_document(text, file_name);
    if (!root.ok()) return root.faults();
    return ring_of(root.take(), text, file_name);
}

Result<HandRecord> read_hand_record(std::string_view text, const std::string& file_name) {
    Result<Json> root = parse_document(text, file_name);
    if (!root.ok()) return root.faults();
    return hand_of(root.take(), text, file_name);
}

}  // namespace graftwright
