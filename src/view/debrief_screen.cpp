#include "view/debrief_screen.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "view/start_screen.h"
#include "view/words.h"

namespace graftwright {
namespace {

constexpr double kEdge = 16.0, kBetween = 10.0;
constexpr double kTop = 104.0, kPictures = 336.0, kTable = 250.0;
constexpr double kWide = (kCanvasWidth - 2.0 * kEdge - 2.0 * kBetween) / 3.0;

constexpr std::array<std::pair<const char*, const char*>, 17> kFlags{{{"removed", "cut out"},
                                                                      {"enters-chamber", "into the chamber"},
                                                                      {"shallow-graft", "shallow in the donor"},
                                                                      {"shallow-host", "shallow in the rim"},
                                                                      {"deep-graft", "almost through the donor"},
                                                                      {"deep-host", "almost through the rim"},
                                                                      {"depths-differ", "depths differ"},
                                                                      {"short-graft", "short in the donor"},
                                                                      {"short-host", "short in the rim"},
                                                                      {"long-graft", "long in the donor"},
                                                                      {"long-host", "long in the rim"},
                                                                      {"ratio", "uneven lengths"},
                                                                      {"not-radial", "not radial"},
                                                                      {"off-slot", "off its place"},
                                                                      {"loose", "loose"},
                                                                      {"tight", "tight"},
                                                                      {"would-break", "near breaking"}}};

std::string signed_number(double value, int decimals) { return (value > 0.0 ? "+" : "") + words::number(value, decimals); }

Rect inner(const Rect& panel, double top) {
    return {panel.x + 12.0, panel.y + top, panel.width - 24.0, panel.height - top - 10.0};
}

// A cell of the table, right-aligned numbers look alike.
void cell(Ui& ui, const std::string& text, Tone colour = tone::text) {
    ImGui::TableNextColumn();
    ui.text(text, Face::small, colour);
}

}  // namespace

std::string flag_words(const std::string& flag) {
    for (const auto& [name, words] : kFlags)
        if (flag == name) return words;
    return flag;
}

void DebriefScreen::take(const Debrief& debrief) {
    taken_ = &debrief;
    map_.reset();
    twin_map_.reset();
    shares_ = double_angle(debrief.card);
    chosen_.reset();
    for (std::size_t b = 0; b < debrief.card.shares.size(); ++b)
        if (debrief.card.shares[b] &&
            (!chosen_ || debrief.card.shares[b]->share_D > debrief.card.shares[*chosen_]->share_D))
            chosen_ = b;
    if (!debrief.wound || !debrief.wound->converged) return;
    std::vector<const SurfaceMap*> maps{&debrief.wound->axial_D};
    if (debrief.twin && debrief.twin->converged) maps.push_back(&debrief.twin->axial_D);
    const PowerRange range = common_range(maps);
    map_ = std::make_unique<PowerMapPlot>(debrief.wound->axial_D, range);
    if (maps.size() == 2) twin_map_ = std::make_unique<PowerMapPlot>(debrief.twin->axial_D, range);
}

DebriefChoice DebriefScreen::draw(Ui& ui, const Snapshot& shot, const std::string& saved_in) {
    const Debrief& debrief = *shot.debrief;
    if (taken_ != &debrief) {
        take(debrief);
        clock_ = leak_clock(*shot.scenario, debrief.card.attempt);
        twin_clock_ = debrief.card.ideal ? leak_clock(*shot.scenario, *debrief.card.ideal) : std::nullopt;
    }
    ui.begin_screen("debrief");
    draw_head(ui, shot);
    if (debrief.card.converged()) {
        draw_pictures(ui, shot);
        const double y = kTop + kPictures + kBetween;
        draw_marks(ui, shot, {kEdge, y, kWide, kTable});
        draw_bites(ui, debrief, {kEdge + kWide + kBetween, y, 2.0 * kWide + kBetween, kTable});
    } else {
        ui.begin_panel("no balance", {kEdge, kTop, kCanvasWidth - 2.0 * kEdge, 120.0}, tone::panel);
        ui.text("No readings", Face::heading, tone::warning);
        ui.wrapped("This wound finds no balance: " + debrief.card.reason() +
                   ". There is no astigmatism and no leak pressure to tell; the bites below are as they were driven.");
        ui.end_panel();
        draw_bites(ui, debrief, {kEdge, kTop + 130.0, kCanvasWidth - 2.0 * kEdge, kPictures + kTable - 130.0});
    }
    const DebriefChoice choice = draw_foot(ui, saved_in);
    ui.end_screen();
    return choice;
}

void DebriefScreen::draw_head(Ui& ui, const Snapshot& shot) const {
    const Debrief& debrief = *shot.debrief;
    const std::string title = shot.scenario->title.empty() ? shot.scenario->id : shot.scenario->title;
    ui.text_at(kEdge, 10.0, title, Face::heading);
    ui.text_at(kEdge, 38.0, debrief.attempt.trainee + ", " + words::clock(shot.time_s) + " on the clock", Face::body, tone::quiet);
    if (debrief.card.score) {
        const Score& score = *debrief.card.score;
        const std::string verdict = fmt::format("{}   {:.0f} of 100", score.passed ? "Passed" : "Not passed yet", score.total);
        ui.text_at(kCanvasWidth - kEdge - ui.text_width(verdict, Face::heading), 10.0, verdict, Face::heading,
                   score.passed ? tone::accent : tone::warning);
        std::string parts;
        for (const PartScore& part : score.parts)
            if (part.points) parts += fmt::format("{}{} {:.0f}", parts.empty() ? "" : "   ", part_name(part.part), *part.points);
        ui.text_at(kCanvasWidth - kEdge - ui.text_width(parts, Face::small), 40.0, parts, Face::small, tone::quiet);
    }
    ui.move_to(kEdge, 66.0);
    ui.wrapped(debrief.advice, Face::strong, tone::text, kCanvasWidth - 2.0 * kEdge);
}

void DebriefScreen::draw_pictures(Ui& ui, const Snapshot& shot) {
    const Debrief& debrief = *shot.debrief;
    const bool twin = twin_ && debrief.twin && debrief.twin->converged;
    const LiveWound& wound = twin ? *debrief.twin : *debrief.wound;
    const auto panel = [&](int i) { return Rect{kEdge + (kWide + kBetween) * i, kTop, kWide, kPictures}; };

    ui.begin_panel("curvature", panel(0), tone::panel, 12.0);
    ui.choose({"Axial map", "Rings"}, picture_, 110.0);
    ImGui::SameLine(0.0F, ui.px(12.0));
    ui.text(twin ? "ideal twin" : "this attempt", Face::body, twin ? tone::accent : tone::quiet);
    if (picture_ == 0)
        (twin && twin_map_ ? *twin_map_ : *map_).draw(ui, inner(panel(0), 50.0), wound.keratometry, shot.scenario->eye.side);
    else
        draw_rings(ui, inner(panel(0), 50.0), wound);
    ui.end_panel();

    ui.begin_panel("shares", panel(1), tone::panel, 12.0);
    ui.text("What each bite costs", Face::strong);
    if (shares_) draw_double_angle(ui, inner(panel(1), 36.0), *shares_, chosen_);
    ui.end_panel();

    ui.begin_panel("seal", panel(2), tone::panel, 12.0);
    ui.text(twin ? "Seal around the clock, ideal twin" : "Seal around the clock", Face::strong);
    const std::optional<LeakClock>& clock = twin ? twin_clock_ : clock_;
    if (clock) draw_leak_clock(ui, inner(panel(2), 36.0), *clock);
    ui.end_panel();
}

void DebriefScreen::draw_marks(Ui& ui, const Snapshot& shot, const Rect& place) const {
    const Scorecard& card = shot.debrief->card;
    ui.begin_panel("marks", place, tone::panel, 14.0);
    const auto row = [&](const std::string& what, const std::string& value, Tone colour = tone::text) {
        ui.text(what, Face::body, tone::quiet);
        ImGui::SameLine(ui.px(168.0));
        ui.text(value, Face::body, colour);
    };
    const Keratometry& k = *card.attempt.keratometry;
    row("Cylinder", fmt::format("{:.2f} D, steep at {:.0f}°", k.cylinder_D, k.steep_axis_deg));
    row("Mean power", fmt::format("{:.2f} D", k.mean_D));
    row("Leaks at", fmt::format("{}{:.1f} mmHg, first at {}", card.attempt.wound.capped ? "over " : "",
                                card.attempt.wound.leak_pressure_mmHg, words::hour(card.attempt.wound.weakest_deg)));
    if (card.ideal && card.ideal->keratometry)
        row("Ideal twin", fmt::format("{:.2f} D, {:.1f} mmHg", card.ideal->keratometry->cylinder_D,
                                      card.ideal->wound.leak_pressure_mmHg),
            tone::accent);
    ui.gap(2.0);
    if (card.score)
        for (const PassMark& mark : card.score->marks)
            row((mark.met() ? "met: " : "missed: ") + mark.what,
                fmt::format("{:.1f} {}, {} {:g}", mark.measured, mark.unit, mark.at_least ? "at least" : "at most", mark.limit),
                mark.met() ? tone::text : tone::warning);
    ui.end_panel();
}

void DebriefScreen::draw_bites(Ui& ui, const Debrief& debrief, const Rect& place) {
    ui.begin_panel("bites", place, tone::panel, 10.0);
    constexpr std::array<const char*, 9> kHeads{"Bite", "Hour", "Now mN", "Costs D", "Leak mmHg", "Depth %", "Radial °", "Off °", "Notes"};
    constexpr std::array<float, 9> kWidths{40, 48, 58, 92, 74, 66, 60, 50, 0};
    const ImGuiTableFlags flags = ImGuiTableFlags_ScrollY | ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH;
    ImGui::PushFont(ui.theme.font(Face::small));
    if (ImGui::BeginTable("table", static_cast<int>(kHeads.size()), flags)) {
        ImGui::TableSetupScrollFreeze(0, 1);
        for (std::size_t i = 0; i < kHeads.size(); ++i)
            ImGui::TableSetupColumn(kHeads[i], kWidths[i] > 0 ? ImGuiTableColumnFlags_WidthFixed : ImGuiTableColumnFlags_WidthStretch,
                                    ui.theme.px(kWidths[i]));
        ImGui::TableHeadersRow();
        const Scorecard& card = debrief.card;
        for (std::size_t b = 0; b < card.bites.size(); ++b) {
            const Bite& bite = debrief.attempt.bites[b];
            const BiteMetrics& m = card.bites[b];
            ImGui::TableNextRow();
            ImGui::TableNextColumn();
            const std::string label = std::to_string(b + 1) + "##bite";
            if (ImGui::Selectable(label.c_str(), chosen_ == b, ImGuiSelectableFlags_SpanAllColumns)) chosen_ = b;
            cell(ui, words::hour(bite.host_deg));
            cell(ui, b < card.attempt.tension_mN.size() ? words::number(card.attempt.tension_mN[b], 1) : "–");
            const bool known = b < card.shares.size() && card.shares[b].has_value();
            cell(ui, known ? fmt::format("{:.2f} @ {:.0f}°", card.shares[b]->share_D, card.shares[b]->share_axis_deg) : "–",
                 known && card.shares[b]->share_D >= 0.5 ? tone::warning : tone::text);
            cell(ui, known ? signed_number(card.shares[b]->share_leak_mmHg, 1) : "–");
            cell(ui, fmt::format("{:.0f}/{:.0f}", 100.0 * m.depth_fraction_graft, 100.0 * m.depth_fraction_host));
            cell(ui, signed_number(m.radial_error_deg, 0));
            cell(ui, signed_number(m.spacing_error_deg, 0));
            std::string notes;
            for (const std::string& flag : m.flags) notes += (notes.empty() ? "" : ", ") + flag_words(flag);
            cell(ui, notes, tone::warning);
        }
        ImGui::EndTable();
    }
    ImGui::PopFont();
    ui.end_panel();
}

DebriefChoice DebriefScreen::draw_foot(Ui& ui, const std::string& saved_in) {
    DebriefChoice choice = DebriefChoice::none;
    const double y = kTop + kPictures + kTable + 2.0 * kBetween;
    ui.move_to(kEdge, y);
    if (ui.button(twin_ ? "This attempt" : "Ideal twin", ButtonKind::plain, 150.0, 40.0)) twin_ = !twin_;
    ImGui::SameLine(0.0F, ui.px(8.0));
    if (ui.button("Replay", ButtonKind::plain, 120.0, 40.0)) choice = DebriefChoice::replay;
    ImGui::SameLine(0.0F, ui.px(8.0));
    if (ui.button("Report", ButtonKind::plain, 120.0, 40.0)) choice = DebriefChoice::report;
    ui.move_to(kCanvasWidth - kEdge - 328.0, y);
    if (ui.button("Once more", ButtonKind::primary, 160.0, 40.0)) choice = DebriefChoice::again;
    ImGui::SameLine(0.0F, ui.px(8.0));
    if (ui.button("Levels", ButtonKind::plain, 160.0, 40.0)) choice = DebriefChoice::levels;
    if (!saved_in.empty()) ui.text_at(kEdge + 424.0, y + 10.0, saved_in, Face::small, tone::quiet);
    ui.move_to(kEdge, kCanvasHeight - 44.0);
    ui.wrapped(std::string(kCautionTitle) + ". " + kCautionText, Face::small, tone::quiet, kCanvasWidth - 2.0 * kEdge);
    return choice;
}

void DebriefScreen::draw_replay(Ui& ui, ReplayUi& replay) {
    constexpr Rect kPlace{290.0, 748.0, 700.0, 48.0};
    ui.begin_screen("replay", 0.0F);
    ui.begin_panel("replay bar", kPlace, tone::raised, 6.0);
    if (ui.button(replay.playing ? "Hold" : "Play", ButtonKind::primary, 90.0, 34.0)) replay.playing = !replay.playing;
    ImGui::SameLine(0.0F, ui.px(10.0));
    ImGui::SetNextItemWidth(ui.px(430.0));
    auto t = static_cast<float>(replay.t_s);
    if (ImGui::SliderFloat("##time", &t, 0.0F, static_cast<float>(replay.end_s), (words::clock(replay.t_s) + " of " + words::clock(replay.end_s)).c_str())) {
        replay.t_s = static_cast<double>(t);
        replay.playing = false;
    }
    ImGui::SameLine(0.0F, ui.px(10.0));
    if (ui.button("Debrief", ButtonKind::plain, 120.0, 34.0)) replay.open = false;
    ui.end_panel();
    ui.end_screen();
}

}  // namespace graftwright
