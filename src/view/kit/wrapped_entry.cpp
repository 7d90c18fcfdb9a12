#include "view/kit/wrapped_entry.h"

#include <algorithm>

#include <imgui/imgui_stdlib.h>

namespace graftwright {
namespace {

constexpr std::string_view kEnd = "¶";
constexpr ImWchar kEndLetter = 0xb6;

bool ends_before(std::string_view shown, std::size_t at) {
    return at >= kEnd.size() && shown.substr(at - kEnd.size(), kEnd.size()) == kEnd;
}

// Every break that stands for a space is a space again; of the same length, so that a cursor stays.
void close_breaks(char* shown, std::size_t length) {
    for (std::size_t i = 0; i < length; ++i)
        if (shown[i] == '\n' && !ends_before({shown, length}, i)) shown[i] = ' ';
}

// The last space before the edge becomes a break, line by line.
void set_breaks(char* shown, std::size_t length, double width, const Measure& measure) {
    std::size_t line = 0, space = length;  // `length`: none yet
    for (std::size_t i = 0; i <= length; ++i) {
        const bool end = i == length || shown[i] == '\n';
        if (!end && shown[i] != ' ') continue;
        if (space != length && space > line && measure({shown + line, i - line}) > width) {
            shown[space] = '\n';
            line = space + 1;
        }
        space = end ? length : i;
        if (end) line = i + 1;
    }
}

struct Editing {
    double width;
    Measure measure;
    std::size_t length;  // before the edit
};

// A sign whose end was deleted goes too; one that was typed gets its end.
void mend_ends(ImGuiInputTextCallbackData& data, bool shorter) {
    for (int i = 0; i + static_cast<int>(kEnd.size()) <= data.BufTextLen; ++i) {
        const int after = i + static_cast<int>(kEnd.size());
        if (!ends_before({data.Buf, static_cast<std::size_t>(data.BufTextLen)}, static_cast<std::size_t>(after)))
            continue;
        if (after < data.BufTextLen && data.Buf[after] == '\n') continue;
        if (shorter)
            data.DeleteChars(i, static_cast<int>(kEnd.size()));
        else
            data.InsertChars(after, "\n");
    }
}

int on_edit(ImGuiInputTextCallbackData* data) {
    auto& editing = *static_cast<Editing*>(data->UserData);
    if (data->EventFlag == ImGuiInputTextFlags_CallbackCharFilter) {
        if (data->EventChar == '\n') data->EventChar = kEndLetter;
        return 0;
    }
    mend_ends(*data, static_cast<std::size_t>(data->BufTextLen) < editing.length);
    const auto length = static_cast<std::size_t>(data->BufTextLen);
    close_breaks(data->Buf, length);
    set_breaks(data->Buf, length, editing.width, editing.measure);
    data->BufDirty = true;
    return 0;
}

}  // namespace

std::string broken_into_lines(const std::string& text, double width, const Measure& measure) {
    std::string shown;
    for (const char c : text) {
        if (c == '\n') shown += kEnd;
        shown += c;
    }
    set_breaks(shown.data(), shown.size(), width, measure);
    return shown;
}

std::string without_breaks(const std::string& shown) {
    std::string text = shown;
    close_breaks(text.data(), text.size());
    for (std::size_t at = text.find(kEnd); at != text.npos; at = text.find(kEnd, at)) text.erase(at, kEnd.size());
    return text;
}

bool wrapped_entry(Ui& ui, const std::string& label, std::string& text, double width, double height) {
    const ImGuiStyle& style = ImGui::GetStyle();
    const ImFont* font = ImGui::GetFont();
    Editing editing{
        static_cast<double>(ui.px(width) - 2.0F * style.FramePadding.x - style.ScrollbarSize),
        [font](std::string_view piece) {
            return static_cast<double>(
                font->CalcTextSizeA(font->FontSize, 1e6F, 0.0F, piece.data(), piece.data() + piece.size()).x);
        },
        0};
    std::string shown = broken_into_lines(text, editing.width, editing.measure);
    editing.length = shown.size();
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, ui.px(1.0));
    const bool changed = ImGui::InputTextMultiline(
        label.c_str(), &shown, {ui.px(width), ui.px(height)},
        ImGuiInputTextFlags_CallbackEdit | ImGuiInputTextFlags_CallbackCharFilter, on_edit, &editing);
    ImGui::PopStyleVar();
    ui.note(label);
    if (changed) text = without_breaks(shown);
    return changed;
}

}  // namespace graftwright
