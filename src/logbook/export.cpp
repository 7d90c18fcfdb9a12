#include "logbook/export.h"

#include <charconv>

#include <nlohmann/json.hpp>

#include "base/csv.h"
#include "score/scorecard_table.h"

namespace graftwright {
namespace {

using Json = nlohmann::ordered_json;

std::string text_of(double value) {
    char buffer[32];
    const auto end = std::to_chars(buffer, buffer + sizeof buffer, value).ptr;
    return {buffer, end};
}
std::string text_of(const std::optional<double>& value) { return value ? text_of(*value) : ""; }

// Fields to a record.
class Record {
  public:
    Record& operator<<(const std::string& field) {
        if (!text_.empty() || begun_) text_ += ',';
        begun_ = true;
        text_ += csv_field(field);
        return *this;
    }
    Record& operator<<(const std::optional<double>& value) { return *this << text_of(value); }
    Record& operator<<(long long value) { return *this << std::to_string(value); }
    [[nodiscard]] std::string line() const { return text_ + "\r\n"; }

  private:
    std::string text_;
    bool begun_ = false;
};

const char* outcome_word(const Entry& entry, Skill skill) {
    const std::optional<bool> outcome = outcome_in(entry.skills, skill);
    return !outcome ? "" : *outcome ? "success" : "failure";
}

void visit(Logbook& logbook, const LogbookSelection& selection, bool anonymous, Logbook::With what,
           const std::function<void(const Entry&)>& each) {
    if (!anonymous) return logbook.visit(selection, what, each);
    for (const std::string& name : logbook.trainees_to_show(true)) {
        if (selection.trainee && *selection.trainee != name) continue;
        logbook.visit({name, selection.scenario}, what, [&](const Entry& entry) { each(logbook.anonymous(entry)); });
    }
}

Json number(const std::optional<double>& value) { return value ? Json(*value) : Json(nullptr); }

Json object_of(const Entry& entry) {
    Json out{{"id", entry.id},
             {"trainee", entry.trainee},
             {"at_utc", entry.at_utc},
             {"scenario", entry.scenario},
             {"scenario_hash", entry.scenario_hash},
             {"program", entry.program},
             {"bites", entry.bites},
             {"converged", entry.converged},
             {"passed", entry.passed}};
    for (const MetricInfo& metric : kMetrics) out[metric.column] = number(at(entry.measures, metric.metric));
    Json& skills = out["skills"] = Json::object();
    for (const SkillInfo& skill : kSkills) {
        const std::optional<bool> outcome = outcome_in(entry.skills, skill.skill);
        skills[skill.name] = outcome ? Json(*outcome) : Json(nullptr);
    }
    Json& bites = out["per_bite"] = Json::array();
    for (const BiteRow& row : entry.per_bite) {
        Json bite{{"bite", row.bite}};
        for (const BiteField& field : kBiteFields) bite[field.name] = number(row.*field.value);
        bite["flags"] = row.flags;
        bites.push_back(std::move(bite));
    }
    // The file's own tree; its white space is not kept here.
    out["attempt"] = Json::parse(entry.attempt_text, nullptr, false);
    if (out["attempt"].is_discarded()) out["attempt"] = nullptr;
    return out;
}

}  // namespace

std::string no_formula(const std::string& text) {
    for (const char* const start : {"=", "+", "-", "@", "\t", "\r", "'", "＝", "＋", "－", "＠"})
        if (text.starts_with(start)) return "'" + text;
    return text;
}

void export_csv(Logbook& logbook, const LogbookSelection& selection, bool anonymous, const TextSink& sink) {
    Record header;
    for (const char* name :
         {"id", "trainee", "at_utc", "scenario", "scenario_hash", "program", "bites", "converged", "passed"})
        header << name;
    for (const MetricInfo& metric : kMetrics) header << metric.column;
    for (const SkillInfo& skill : kSkills) header << std::string("skill_") + skill.name;
    header << "caution";
    sink(header.line());
    visit(logbook, selection, anonymous, Logbook::With::numbers, [&](const Entry& entry) {
        Record row;
        row << entry.id << no_formula(entry.trainee) << entry.at_utc << no_formula(entry.scenario) << entry.scenario_hash << entry.program
            << static_cast<long long>(entry.bites) << (entry.converged ? "true" : "false")
            << (entry.passed ? "true" : "false");
        for (const std::optional<double>& value : entry.measures) row << value;
        for (const SkillInfo& skill : kSkills) row << outcome_word(entry, skill.skill);
        row << kShortCaution;
        sink(row.line());
    });
}

void export_bites_csv(Logbook& logbook, const LogbookSelection& selection, bool anonymous, const TextSink& sink) {
    Record header;
    for (const char* name : {"id", "trainee", "at_utc", "scenario", "bite"}) header << name;
    for (const BiteField& field : kBiteFields) header << field.name;
    header << "flags"
           << "caution";
    sink(header.line());
    visit(logbook, selection, anonymous, Logbook::With::bites, [&](const Entry& entry) {
        for (const BiteRow& bite : entry.per_bite) {
            Record row;
            row << entry.id << no_formula(entry.trainee) << entry.at_utc << no_formula(entry.scenario) << static_cast<long long>(bite.bite);
            for (const BiteField& field : kBiteFields) row << bite.*field.value;
            row << bite.flags << kShortCaution;
            sink(row.line());
        }
    });
}

void export_json(Logbook& logbook, const LogbookSelection& selection, bool anonymous, const TextSink& sink) {
    const Json caution = kCaution;
    sink("{\"format\":\"graftwright-logbook\",\"version\":1,\"caution\":" + caution.dump() +
         ",\"anonymous\":" + (anonymous ? "true" : "false") + ",\"attempts\":[");
    bool first = true;
    visit(logbook, selection, anonymous, Logbook::With::everything, [&](const Entry& entry) {
        // A database that others write may hold bytes that are no text.
        sink((first ? "\n" : ",\n") + object_of(entry).dump(-1, ' ', false, Json::error_handler_t::replace));
        first = false;
    });
    sink("\n]}\n");
}

}  // namespace graftwright
