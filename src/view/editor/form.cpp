#include "view/editor/form.h"

#include <algorithm>
#include <cctype>
#include <cmath>

#include <fmt/format.h>

#include "view/kit/wrapped_entry.h"

namespace graftwright {
namespace {

constexpr double kFieldNameWidth = 212.0, kPresenceWidth = 34.0, kEntryWidth = 116.0, kUnitWidth = 56.0;
constexpr double kRow = 34.0, kBetweenRows = 7.0, kChoiceWidth = 128.0, kChoiceHeight = 30.0;
constexpr int kChoicesARow = 5;

// Words at a place of the current row, in the middle of its field's height.
void words_in_row(const Ui& ui, ImVec2 row, double x, std::string_view words, Face face, Tone colour) {
    const float down = ui.px((kRow - ui.line_height(face)) / 2.0);
    ImGui::SetCursorScreenPos({row.x + ui.px(x), row.y + down});
    ui.text(words, face, colour);
}

void next_row(const Ui& ui, ImVec2 row) { ImGui::SetCursorScreenPos({row.x, row.y + ui.px(kRow + 2.0)}); }

std::string joined(const std::vector<std::string>& lines) {
    std::string text;
    for (const std::string& line : lines) text += (text.empty() ? "" : "\n") + line;
    return text;
}

std::vector<std::string> split(const std::string& text) {
    std::vector<std::string> lines;
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        lines.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return lines.size() == 1 && lines.front().empty() ? std::vector<std::string>{} : lines;
}

}  // namespace

void warning_line(const Ui& ui, std::string_view words) {
    const ImVec2 start = ImGui::GetCursorScreenPos();
    ui.text("!", Face::strong, tone::warning);
    ImGui::SetCursorScreenPos({start.x + ui.px(14.0), start.y});
    ui.wrapped(words, Face::body, tone::warning);
    ImGui::SetCursorScreenPos({start.x, ImGui::GetCursorScreenPos().y});
}

bool LevelForm::at_fault(std::string_view place) const {
    return std::any_of(faults_.begin(), faults_.end(), [&](const Fault& fault) { return fault.place == place; });
}

void LevelForm::draw_faults(std::string_view place) const {
    for (const Fault& fault : faults_) {
        if (fault.place != place) continue;
        ImGui::BeginGroup();
        warning_line(ui_, fault.message);
        ImGui::EndGroup();
        ui_.note("fault " + std::string(place));
    }
}

void LevelForm::draw_object(const std::string& object) {
    for (const Field& field : fields_of(form_.scenario, object)) draw_field(field);
}

void LevelForm::draw_field(const Field& field) {
    const FieldFacts& facts = field_facts(field.place);
    if (auto* const* text = std::get_if<std::string*>(&field.member))
        draw_text(field, **text, facts);
    else if (const auto* choice = std::get_if<Choice>(&field.member))
        draw_choice(field, *choice, facts);
    else if (auto* const* on = std::get_if<bool*>(&field.member))
        draw_tick(field, **on, facts);
    else if (auto* const* list = std::get_if<std::vector<std::string>*>(&field.member))
        draw_lines(field, **list, facts);
    else if (const auto* set = std::get_if<ChoiceSet>(&field.member))
        draw_set(field, *set, facts);
    else
        draw_number(field, facts);
    draw_faults(field.place);
    ui_.gap(kBetweenRows);
}

void LevelForm::draw_name(const FieldFacts& facts) const {
    const ImVec2 row = ImGui::GetCursorScreenPos();
    words_in_row(ui_, row, 0.0, facts.title, Face::strong, tone::text);
    ImGui::SetCursorScreenPos({row.x + ui_.px(kFieldNameWidth), row.y});
}

// What it is, then why it matters, in one paragraph.
void LevelForm::draw_reason(const FieldFacts& facts) const {
    std::string words = facts.meaning;
    if (!facts.why.empty()) words += (words.empty() ? "" : ": ") + facts.why;
    if (!words.empty()) words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
    if (!words.empty()) ui_.wrapped(words, Face::small, tone::quiet);
}

// A mark may be absent; a tick asks for it, with its default or the schema's example to begin with.
bool LevelForm::draw_presence(const Field& field, const FieldFacts& facts) {
    auto* const* perhaps = std::get_if<std::optional<double>*>(&field.member);
    if (perhaps == nullptr) return true;
    bool present = (*perhaps)->has_value() || form_.typed.contains(field.place);
    if (ui_.check(("##asked " + field.place).c_str(), present)) {
        form_.typed.erase(field.place);
        **perhaps = present ? std::optional(facts.standard) : std::nullopt;
    }
    return present;
}

void LevelForm::draw_number(const Field& field, const FieldFacts& facts) {
    const ImVec2 row = ImGui::GetCursorScreenPos();
    const bool first_of_pair = field.place.ends_with("/0"), second = field.place.ends_with("/1");
    const std::string title = first_of_pair ? facts.title + ", toward 0°"
                              : second      ? facts.title + ", toward 90°"
                                            : facts.title;
    words_in_row(ui_, row, 0.0, title, Face::strong, at_fault(field.place) ? tone::warning : tone::text);
    ImGui::SetCursorScreenPos({row.x + ui_.px(kFieldNameWidth), row.y + ui_.px(4.0)});
    const bool present = draw_presence(field, facts);
    const double entry_x = kFieldNameWidth + kPresenceWidth;
    if (present) {
        ImGui::SetCursorScreenPos({row.x + ui_.px(entry_x), row.y});
        std::string entry = entry_of(form_, field);
        if (ui_.entry(("##" + field.place).c_str(), "", entry, kEntryWidth)) enter(form_, field, entry);
        words_in_row(ui_, row, entry_x + kEntryWidth + 10.0, facts.unit, Face::body, tone::text);
    } else {
        words_in_row(ui_, row, entry_x, field.place.starts_with("/pass") ? "not asked" : "none", Face::body,
                     tone::quiet);
    }
    std::string range = facts.range;
    if (!facts.default_words.empty()) range += fmt::format(", default {}", facts.default_words);
    words_in_row(ui_, row, entry_x + kEntryWidth + 10.0 + kUnitWidth, range, Face::small, tone::quiet);
    next_row(ui_, row);
    if (!first_of_pair) draw_reason(facts);
}

void LevelForm::draw_tick(const Field& field, bool& on, const FieldFacts& facts) {
    ui_.check((facts.title + "##" + field.place).c_str(), on);
    draw_reason(facts);
}

void LevelForm::draw_text(const Field& field, std::string& text, const FieldFacts& facts) {
    constexpr std::string_view kLong = "/briefing";
    const ImVec2 row = ImGui::GetCursorScreenPos();
    draw_name(facts);
    const std::string label = "##" + field.place;
    if (field.place == kLong) {
        wrapped_entry(ui_, label, text, width_ - kFieldNameWidth, 168.0);
        draw_reason(facts);
        return;
    }
    ui_.entry(label.c_str(), "", text, width_ - kFieldNameWidth);
    next_row(ui_, row);
    draw_reason(facts);
}

void LevelForm::draw_lines(const Field& field, std::vector<std::string>& lines, const FieldFacts& facts) {
    draw_name(facts);
    const std::string label = "##" + field.place;
    std::string text = joined(lines);
    if (wrapped_entry(ui_, label, text, width_ - kFieldNameWidth, 130.0)) lines = split(text);
    draw_reason(facts);
    for (std::size_t i = 0; i < lines.size(); ++i) draw_faults(fmt::format("{}/{}", field.place, i));
}

void LevelForm::draw_choice(const Field& field, const Choice& choice, const FieldFacts& facts) {
    const ImVec2 row = ImGui::GetCursorScreenPos();
    words_in_row(ui_, row, 0.0, facts.title, Face::strong, tone::text);
    next_row(ui_, row);
    const std::string chosen = choice.chosen();
    int in_row = 0;
    for (const std::string& name : facts.choices) {
        if (in_row++ % kChoicesARow != 0) ImGui::SameLine(0.0F, ui_.px(5.0));
        const bool on = name == chosen;
        const std::string label = fmt::format("{}{}##{}", on ? "• " : "", name, field.place);
        const double width = (width_ - 5.0 * (kChoicesARow - 1)) / kChoicesARow;
        if (ui_.button(label.c_str(), on ? ButtonKind::primary : ButtonKind::plain, std::min(width, kChoiceWidth),
                       kChoiceHeight))
            choice.choose(name);
        ui_.note(name + "##" + field.place);
    }
    draw_reason(facts);
}

void LevelForm::draw_set(const Field& field, const ChoiceSet& chosen, const FieldFacts& facts) {
    const ImVec2 row = ImGui::GetCursorScreenPos();
    words_in_row(ui_, row, 0.0, facts.title, Face::strong, tone::text);
    next_row(ui_, row);
    constexpr int kSetARow = 4;
    int count = 0;
    for (const std::string& name : facts.choices) {
        if (count % kSetARow != 0) ImGui::SameLine(ui_.px(1.0 + width_ / kSetARow * (count % kSetARow)));
        ++count;
        bool on = chosen.has(name);
        if (ui_.check((name + "##" + field.place).c_str(), on)) chosen.set(name, on);
    }
    draw_reason(facts);
}

}  // namespace graftwright
