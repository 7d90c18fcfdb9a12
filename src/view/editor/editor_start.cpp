// The starting bites of a level in the making: a row each, below them every key of the chosen one.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/angle.h"
#include "base/words.h"
#include "files/limits.h"
#include "view/editor/editor_screen.h"
#include "view/editor/form.h"
#include "view/editor/places.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

constexpr double kRowHeight = 27.0;

std::string place_of_bite(std::size_t bite) { return fmt::format("/start/bites/{}", bite); }

bool at_fault(const Faults& faults, std::size_t bite) {
    const std::string place = place_of_bite(bite);
    return std::any_of(faults.begin(), faults.end(), [&](const Fault& fault) {
        return fault.place == place || fault.place.starts_with(place + "/");
    });
}

// Left edges of the columns of a row, from the row's own.
constexpr double kColumns[] = {8.0, 46.0, 106.0, 180.0, 254.0, 360.0, 462.0, 556.0};
constexpr const char* kHeads[] = {"no.", "o'clock", "host", "donor", "depth, µm", "length, mm", "tension", ""};

std::vector<std::string> cells(const Bite& bite, std::size_t number, bool wrong) {
    return {std::to_string(number + 1),
            clock_hour(one_turn_deg(bite.host_deg)),
            fmt::format("{:.4g}°", bite.host_deg),
            fmt::format("{:.4g}°", bite.graft_deg),
            fmt::format("{:.4g} / {:.4g}", bite.graft_depth_um, bite.host_depth_um),
            fmt::format("{:.3g} / {:.3g}", bite.graft_bite_mm, bite.host_bite_mm),
            fmt::format("{:.3g} mN", bite.tension_mN),
            wrong          ? "! at fault"
            : bite.removed ? "cut out"
                           : ""};
}

void draw_cells(const Ui& ui, ImVec2 row, const std::vector<std::string>& texts, bool wrong) {
    ImFont* font = ui.theme.font(Face::small);
    for (std::size_t i = 0; i < texts.size(); ++i)
        ImGui::GetWindowDrawList()->AddText(
            font, font->FontSize, {row.x + ui.px(kColumns[i]), row.y + ui.px((kRowHeight - 17.0) / 2.0)},
            ink(wrong && i + 1 == texts.size() ? tone::warning : tone::text), texts[i].c_str());
}

// The bite as a whole to a place of the clock face: donor and host turn alike. 5.5 is half past five.
void draw_hour(Ui& ui, ScenarioForm& form, std::size_t index) {
    Bite& bite = form.scenario.start.bites[index];
    const double hour = one_turn_deg(90.0 - bite.host_deg) / 30.0;
    std::string entry = fmt::format("{:.4g}", hour < 1e-6 ? 12.0 : hour);
    ImGui::AlignTextToFramePadding();
    ui.text("The whole bite at", Face::strong);
    ImGui::SameLine(0.0F, ui.px(10.0));
    const bool typed = ui.entry("##hour", "", entry, 80.0);
    ImGui::SameLine(0.0F, ui.px(10.0));
    ui.text("o'clock (5.5: half past five)", Face::small, tone::quiet);
    const std::optional<double> wanted = number_in(entry);
    if (!typed || !wanted || *wanted < 0.0 || *wanted > 12.0) return;
    const double turn = 90.0 - 30.0 * *wanted - bite.host_deg;
    bite.host_deg = one_turn_deg(bite.host_deg + turn);
    bite.graft_deg = one_turn_deg(bite.graft_deg + turn);
    for (const char* key : {"/host_deg", "/graft_deg"}) form.typed.erase(place_of_bite(index) + key);
}

// A line a thread where there are few, else one for all: rows of bites need the room.
std::vector<std::string> runs_words(const std::vector<Run>& runs) {
    constexpr std::size_t kMostLines = 2;
    constexpr const char* kKept = "kept as it stands in the file";
    std::size_t bites = 0;
    std::vector<std::string> lines;
    for (const Run& run : runs) {
        bites += run.bites.size();
        lines.push_back(fmt::format("1 running thread of {}, {:.3g} mN, {}.", counted(run.bites.size(), "bite"),
                                    run.tension_mN, kKept));
    }
    if (lines.size() <= kMostLines) return lines;
    return {fmt::format("{} running threads of {} bites in all, {}.", runs.size(), bites, kKept)};
}

}  // namespace

void LevelEditorScreen::draw_start(Ui& ui, LevelDraft& draft, const EditorNews& news) {
    std::vector<Bite>& bites = draft.form.scenario.start.bites;
    ui.begin_panel("starting bites", editor_places::kBiteList, tone::panel, editor_places::kInset, false);
    draw_start_tools(ui, draft);
    bite_ = std::min(bite_, bites.empty() ? 0 : bites.size() - 1);
    const LevelForm list(ui, draft.form, news.faults, editor_places::kRowWidth);
    for (const char* place : {"/start", "/start/bites"}) list.draw_faults(place);
    for (const Fault& fault : news.faults)
        if (fault.place.starts_with("/start/runs")) warning_line(ui, fault.message);
    for (const std::string& words : runs_words(draft.form.scenario.start.runs))
        ui.wrapped(words, Face::small, tone::quiet);
    draw_bite_rows(ui, draft, news.faults);
    ui.end_panel();
    ui.begin_panel("chosen bite", editor_places::kBite, tone::panel, editor_places::kInset);
    if (bites.empty())
        ui.wrapped(draft.form.scenario.start.runs.empty()
                       ? "No bite is in place: the trainee begins with a loose donor. To pose a puzzle, lay an even "
                         "ring, then change one bite of it."
                       : "No single bite is in place. Bites of a running thread are changed in a text editor.",
                   Face::body, tone::quiet);
    else
        draw_bite(ui, draft, news);
    ui.end_panel();
}

void LevelEditorScreen::draw_start_tools(Ui& ui, LevelDraft& draft) {
    const std::optional<double> wanted = number_in(ring_);
    const bool possible = wanted && std::trunc(*wanted) == *wanted && *wanted >= 1.0 && *wanted <= kMostBites;
    if (ui.button("Lay an even ring", ButtonKind::plain, 150.0, 36.0) && possible) {
        start_with_even_ring(draft, static_cast<int>(*wanted));
        bite_ = 0;
    }
    ImGui::SameLine(0.0F, ui.px(8.0));
    ui.text("of");
    ImGui::SameLine(0.0F, ui.px(8.0));
    ui.entry("##ring", "", ring_, 56.0);
    ImGui::SameLine(0.0F, ui.px(8.0));
    ui.text(possible ? "bites" : fmt::format("bites: 1 to {}", kMostBites), Face::body,
            possible ? tone::text : tone::warning);
    ImGui::SameLine(0.0F, ui.px(possible ? 70.0 : 8.0));
    if (ui.button("Add a bite", ButtonKind::plain, 112.0, 36.0)) {
        add_start_bite(draft);
        bite_ = draft.form.scenario.start.bites.size() - 1;
    }
    ImGui::SameLine(0.0F, ui.px(8.0));
    if (ui.button("Remove bite", ButtonKind::plain, 124.0, 36.0)) remove_start_bite(draft, bite_);
}

void LevelEditorScreen::draw_bite_rows(Ui& ui, LevelDraft& draft, const Faults& faults) {
    const std::vector<Bite>& bites = draft.form.scenario.start.bites;
    if (bites.empty()) return;
    const ImVec2 head = ImGui::GetCursorScreenPos();
    for (std::size_t i = 0; i < std::size(kHeads); ++i) {
        ImGui::SetCursorScreenPos({head.x + ui.px(kColumns[i]), head.y});
        ui.text(kHeads[i], Face::small, tone::quiet);
    }
    ImGui::BeginChild("bite rows", {0.0F, 0.0F}, false, ImGuiWindowFlags_NavFlattened);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0.0F, ui.px(1.0)});
    for (std::size_t b = 0; b < bites.size(); ++b) {
        const ImVec2 row = ImGui::GetCursorScreenPos();
        const std::string label = fmt::format("##bite {}", b + 1);
        if (ui.button(label.c_str(), b == bite_ ? ButtonKind::plain : ButtonKind::quiet, editor_places::kRowWidth - 4.0,
                      kRowHeight))
            bite_ = b;
        const bool wrong = at_fault(faults, b);
        draw_cells(ui, row, cells(bites[b], b, wrong), wrong);
    }
    ImGui::PopStyleVar();
    ImGui::EndChild();
}

void LevelEditorScreen::draw_bite(Ui& ui, LevelDraft& draft, const EditorNews& news) {
    ui.text(fmt::format("Bite {} of {}, in tying order", bite_ + 1, draft.form.scenario.start.bites.size()),
            Face::heading);
    draw_hour(ui, draft.form, bite_);
    ui.gap(4.0);
    LevelForm form(ui, draft.form, news.faults, editor_places::kRowWidth);
    form.draw_faults(place_of_bite(bite_));
    form.draw_object(place_of_bite(bite_));
}

}  // namespace graftwright
