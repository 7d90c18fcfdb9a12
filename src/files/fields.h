// A scenario as a form shows it: every key by its place in the file, with what the schema says of it, and
// entries that stand for no value yet, just as they were typed.
//
// Unit, range, default and reason come from levels/scenario.schema.json, which is what `check` validates
// with, so a form and `check` can't disagree. Places are JSON pointers ("/eye/bed_diameter_mm"). An entry
// that is no number is written into the file as the text that was typed: the file is then at fault, in the
// words of the reader, and nothing is lost.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.h"
#include "files/scenario.h"

namespace graftwright {

// What the schema says of one key.
struct FieldFacts {
    std::string title;          // "Bed diameter"
    std::string meaning, why;   // "" where it says nothing
    std::string unit;           // "" of what has none
    std::string range;          // "4 to 10.5"; "" of a text or a choice
    std::string default_words;  // "7.75", "not asked"; "" where there is none
    bool number = false, whole = false;
    double standard = 0.0;             // a number's default; the schema's example where that is none
    std::vector<std::string> choices;  // of a choice, or of the entries of a list
};
// Of a key or of an entry of its list ("/start/bites/3/host_deg", "/eye/bed_shift_mm/0"); the place must exist.
[[nodiscard]] const FieldFacts& field_facts(std::string_view place);

struct Choice {  // one of FieldFacts::choices, by its name in the file
    std::function<std::string()> chosen;
    std::function<void(const std::string&)> choose;
};
struct ChoiceSet {  // any of them
    std::function<bool(const std::string&)> has;
    std::function<void(const std::string&, bool)> set;
};
using FieldMember = std::variant<double*, int*, std::optional<double>*, bool*, std::string*, std::vector<std::string>*,
                                 Choice, ChoiceSet>;
struct Field {
    std::string place;
    FieldMember member;  // of the scenario asked; void once its lists change
};
// The plain keys of one object ("" the file itself, "/eye", "/start/bites/2"), in the file's order.
[[nodiscard]] std::vector<Field> fields_of(Scenario& scenario, const std::string& object);

// By place: what was typed where no value of the right kind came out.
using AsTyped = std::map<std::string, std::string>;

struct ScenarioForm {
    Scenario scenario;
    AsTyped typed;
    friend bool operator==(const ScenarioForm&, const ScenarioForm&) = default;
};
// What stands in a number's field, "" for one that is absent.
[[nodiscard]] std::string entry_of(const ScenarioForm& form, const Field& field);
// A finite number in JSON's sense, or empty; blanks around it don't count.
[[nodiscard]] std::optional<double> number_in(std::string_view entry);
// Takes what was typed into the number's field.
void enter(ScenarioForm& form, const Field& field, const std::string& entry);

// The file's text; without odd entries the same as write_scenario.
[[nodiscard]] std::string write_form(const ScenarioForm& form);
// A file taken into the form. A faulty one too, as long as the form can hold all that it says; else the
// faults, and that the form can't.
[[nodiscard]] Result<ScenarioForm> read_form(std::string_view text, const std::string& file_name);

}  // namespace graftwright
