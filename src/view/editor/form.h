// The rows of a level's form: a key's name, its field, unit, range and default, why it matters, its faults.
//
// All of these words come from the schema (files/fields.h). Every field notes where it stands under
// "##" + its place in the file. Private to the level editor's screen.
#pragma once

#include <string>

#include "files/fields.h"
#include "view/kit/ui.h"

namespace graftwright {

class LevelForm {
  public:
    // width: of a row, design pixels.
    LevelForm(Ui& ui, ScenarioForm& form, const Faults& faults, double width)
        : ui_(ui), form_(form), faults_(faults), width_(width) {}

    // The plain keys of an object ("/eye"), one row each.
    void draw_object(const std::string& object);
    void draw_field(const Field& field);
    // What is wrong with a place itself, beside its field or above the rows.
    void draw_faults(std::string_view place) const;

  private:
    void draw_number(const Field& field, const FieldFacts& facts);
    void draw_tick(const Field& field, bool& on, const FieldFacts& facts);
    void draw_text(const Field& field, std::string& text, const FieldFacts& facts);
    void draw_lines(const Field& field, std::vector<std::string>& lines, const FieldFacts& facts);
    void draw_choice(const Field& field, const Choice& choice, const FieldFacts& facts);
    void draw_set(const Field& field, const ChoiceSet& chosen, const FieldFacts& facts);
    void draw_name(const FieldFacts& facts) const;
    void draw_reason(const FieldFacts& facts) const;
    [[nodiscard]] bool draw_presence(const Field& field, const FieldFacts& facts);
    [[nodiscard]] bool at_fault(std::string_view place) const;

    Ui& ui_;
    ScenarioForm& form_;
    const Faults& faults_;
    double width_;
};

// Marks a line that warns: the sign tells it without its colour too.
void warning_line(const Ui& ui, std::string_view words);

}  // namespace graftwright
