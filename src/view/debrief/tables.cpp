// Tables and marks of the debrief; see debrief_screen.h.
#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/words.h"
#include "figure/words.h"
#include "score/bite_words.h"
#include "score/bites_in_order.h"
#include "score/pass_marks.h"
#include "view/debrief/debrief_screen.h"
#include "view/kit/pen.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

constexpr ImGuiTableFlags kTable = ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_ScrollY |
                                   ImGuiTableFlags_SizingFixedFit | ImGuiTableFlags_NoSavedSettings;

struct Column {
    const char* name;
    float width;  // design pixels; 0: the rest
    bool right = false;
};

// Text of a cell; figures stand to the right, so that they can be compared down the column.
void cell(const Ui& ui, const Column& column, const std::string& words, Tone colour) {
    ImGui::TableNextColumn();
    if (column.right) {
        const float room = ImGui::GetContentRegionAvail().x - ui.px(ui.text_width(words, Face::small));
        ImGui::SetCursorPosX(ImGui::GetCursorPosX() + std::max(0.0F, room));
    }
    ui.wrapped(words, Face::small, colour, column.width > 0.0F ? -1.0 : 0.0);
}

void start_columns(const Ui& ui, const Column* columns, std::size_t count) {
    for (std::size_t i = 0; i < count; ++i) {
        const bool rest = columns[i].width <= 0.0F;
        ImGui::TableSetupColumn(columns[i].name,
                                rest ? ImGuiTableColumnFlags_WidthStretch : ImGuiTableColumnFlags_WidthFixed,
                                rest ? 1.0F : ui.theme.px(columns[i].width));
    }
    ImGui::TableSetupScrollFreeze(0, 1);
    ImGui::TableNextRow();
    for (std::size_t i = 0; i < count; ++i) cell(ui, columns[i], columns[i].name, tone::quiet);
}

// Most points that a part can earn, as Score::parts counts them.
double part_full(const Score& score, Part part) {
    double all = 0.0, mine = 0.0;
    for (const Rule& rule : score.rules) {
        all += rule.points;
        if (rule.part == part) mine += rule.points;
    }
    return all > 0.0 ? 100.0 * mine / all : 0.0;
}

void draw_parts(const Ui& ui, const Rect& place, const Score& score) {
    const PlotPen pen(ui);
    constexpr double kLine = 27.0, kBar = 150.0;
    double y = place.y + 14.0;
    for (const PartScore& part : score.parts) {
        const double full = part_full(score, part.part), x = place.x + 108.0, width = place.width - 108.0 - kBar + 40.0;
        pen.words({place.x, y}, part_name(part.part), Face::body, ink(tone::text));
        pen.box({x, y - 4.0, width, 8.0}, ink(tone::raised), 4.0);
        if (part.points) {
            const double share = full > 0.0 ? std::clamp(*part.points / full, 0.0, 1.0) : 0.0;
            if (share > 0.02) pen.box({x, y - 4.0, width * share, 8.0}, ink(tone::accent), 4.0);
            pen.words({place.x + place.width, y}, fmt::format("{:.1f} of {:.0f}", *part.points, full), Face::body,
                      ink(tone::text), WordsAt::right);
        } else {
            pen.words({place.x + place.width, y}, "not asked", Face::body, ink(tone::quiet), WordsAt::right);
        }
        y += kLine;
    }
}

std::string limit_words(const PassMark& mark) {
    return fmt::format("{} {}", mark.at_least() ? "at least" : "at most",
                       with_unit(fmt::format("{:g}", mark.limit), mark.unit()));
}

void draw_limits(const Ui& ui, const Rect& place, const Score& score) {
    const PlotPen pen(ui);
    const double each = std::min(27.0, place.height / std::max<double>(1.0, static_cast<double>(score.marks.size())));
    double y = place.y + 14.0;
    for (const PassMark& mark : score.marks) {
        const bool met = mark.met();
        // A ring for met, a filled triangle for not: shape as well as colour.
        if (met) {
            pen.circle({place.x + 6.0, y}, 5.0, ink(tone::accent), 2.0);
        } else {
            pen.list().AddTriangleFilled(pen.on_window({place.x + 6.0, y - 6.0}),
                                         pen.on_window({place.x + 12.5, y + 5.0}),
                                         pen.on_window({place.x - 0.5, y + 5.0}), ink(tone::warning));
        }
        pen.words({place.x + 24.0, y}, mark.name(), Face::body, ink(tone::text));
        const int precision = mark.measured < 10.0 ? 2 : mark.measured < 100.0 ? 1 : 0;
        pen.words({place.x + 268.0, y}, with_unit(words::number(mark.measured, precision), mark.unit()), Face::strong,
                  met ? ink(tone::text) : ink(tone::warning), WordsAt::right);
        pen.words({place.x + 290.0, y}, limit_words(mark), Face::body, ink(tone::quiet));
        pen.words({place.x + place.width, y}, met ? "met" : "not met", Face::body,
                  met ? ink(tone::text) : ink(tone::warning), WordsAt::right);
        y += each;
    }
}

}  // namespace

void draw_marks_summary(Ui& ui, const Rect& place, const Scorecard& card) {
    ui.begin_panel("marks", place, tone::panel, 18.0);
    const PlotPen pen(ui);
    if (card.score) {
        const double half = place.width / 2.0;
        draw_parts(ui, {place.x + 20.0, place.y + 18.0, half - 76.0, place.height - 30.0}, *card.score);
        pen.line({place.x + half - 28.0, place.y + 16.0}, {place.x + half - 28.0, place.y + place.height - 16.0},
                 ink(tone::line), 1.0);
        draw_limits(ui, {place.x + half, place.y + 10.0, half - 20.0, place.height - 20.0}, *card.score);
    } else {
        pen.words({place.x + 20.0, place.y + 30.0}, "No marks were given.", Face::body, ink(tone::quiet));
    }
    ui.end_panel();
}

void draw_rules(Ui& ui, const Rect& place, const Scorecard& card) {
    ui.begin_panel("rules", place, tone::panel, 18.0);
    ui.text("Full marks up to one figure, none from the other on, in a straight line between.", Face::small,
            tone::quiet);
    constexpr std::array<Column, 7> kColumns{{{"part", 78.0F},
                                              {"what", 462.0F},
                                              {"measured", 124.0F, true},
                                              {"full at", 52.0F, true},
                                              {"none at", 54.0F, true},
                                              {"points", 86.0F, true},
                                              {"where the limit comes from", 0.0F}}};
    if (card.score && ImGui::BeginTable("rules", static_cast<int>(kColumns.size()), kTable)) {
        start_columns(ui, kColumns.data(), kColumns.size());
        for (const Rule& rule : card.score->rules) {
            const std::array<std::string, 7> cells{
                part_name(rule.part),
                rule.what,
                with_unit(words::number(rule.measured, 2), rule.unit),
                fmt::format("{:g}", rule.full),
                fmt::format("{:g}", rule.none),
                fmt::format("{:.1f} of {:.1f}", rule.points * rule.share_earned(), rule.points),
                rule.source};
            ImGui::TableNextRow();
            for (std::size_t i = 0; i < cells.size(); ++i)
                cell(ui, kColumns[i], cells[i], i + 1 == cells.size() ? tone::quiet : tone::text);
        }
        ImGui::EndTable();
    }
    ui.end_panel();
}

namespace {

constexpr double kDearBite_D = 0.5;  // a share that a keratometer would notice: amber

constexpr std::array<Column, 11> kBiteColumns{{{"bite", 34.0F, true},
                                               {"at", 104.0F, true},
                                               {"tied mN", 56.0F, true},
                                               {"now mN", 56.0F, true},
                                               {"costs", 106.0F, true},
                                               {"leak mmHg", 76.0F, true},
                                               {"depth donor/host", 116.0F, true},
                                               {"length mm", 92.0F, true},
                                               {"off radius", 70.0F, true},
                                               {"off mark", 64.0F, true},
                                               {"notes", 0.0F}}};

// A run's tie tension is its knot's, one for all its bites: it says whose it is.
constexpr std::size_t kTied = 2;  // column
constexpr float kTiedWithRun = 84.0F;

std::array<std::string, 11> bite_cells(const Debrief& debrief, const OrderedBite& bite, std::size_t b) {
    const Scorecard& card = debrief.card;
    const BiteMetrics& m = card.bites[b];
    const BiteShare* share = b < card.shares.size() && card.shares[b] ? &*card.shares[b] : nullptr;
    const bool tension = card.converged() && b < card.attempt.tension_mN.size();
    return {fmt::format("{}", b + 1),
            fmt::format("{} ({:.1f}°)", clock_hour(bite.host_deg), bite.host_deg),
            run_name(bite) + fmt::format("{}{:.1f}", bite.run ? "  " : "", bite.tension_mN),
            tension ? fmt::format("{:.1f}", card.attempt.tension_mN[b]) : "–",
            share ? fmt::format("{:.2f} D @ {}", share->share_D, whole_axis_deg(share->share_axis_deg)) : "–",
            share ? shown_number(share->share_leak_mmHg, 1, true) : "–",
            fmt::format("{:.0f} / {:.0f} %", 100.0 * m.depth_fraction_graft, 100.0 * m.depth_fraction_host),
            fmt::format("{:.2f} / {:.2f}", bite.graft_bite_mm, bite.host_bite_mm),
            shown_number(m.radial_error_deg, 1, true) + "°",
            shown_number(m.spacing_error_deg, 1, true) + "°",
            flags_words(m.flags)};
}

}  // namespace

std::optional<std::size_t> draw_bite_table(Ui& ui, const Rect& place, const Debrief& debrief,
                                           std::optional<std::size_t> chosen) {
    constexpr std::size_t kCosts = 4, kNotes = 10;  // columns
    std::optional<std::size_t> clicked;
    const Scorecard& card = debrief.card;
    ui.begin_panel("bites", place, tone::panel, 14.0);
    ImGui::PushStyleVar(ImGuiStyleVar_CellPadding, {ui.px(6.0), ui.px(5.5)});
    if (ImGui::BeginTable("bites", static_cast<int>(kBiteColumns.size()), kTable)) {
        const std::vector<OrderedBite> bites = bites_in_order(debrief.attempt);
        auto columns = kBiteColumns;
        if (!debrief.attempt.runs.empty()) columns[kTied].width = kTiedWithRun;
        start_columns(ui, columns.data(), columns.size());
        const std::size_t count = std::min(bites.size(), card.bites.size());
        for (std::size_t b = 0; b < count; ++b) {
            const auto cells = bite_cells(debrief, bites[b], b);
            const bool dear = b < card.shares.size() && card.shares[b] && card.shares[b]->share_D >= kDearBite_D;
            ImGui::TableNextRow();
            ImGui::TableNextColumn();
            const std::string label = fmt::format("##bite {}", b + 1);
            ImGui::PushFont(ui.theme.font(Face::small));
            if (ImGui::Selectable(label.c_str(), chosen == b, ImGuiSelectableFlags_SpanAllColumns)) clicked = b;
            ImGui::PopFont();
            ui.note(label);
            ImGui::SameLine(0.0F, 0.0F);
            ImGui::TableSetColumnIndex(0);
            for (std::size_t i = 0; i < cells.size(); ++i) {
                const Tone colour = i == kNotes || (i == kCosts && dear) ? tone::warning
                                    : bites[b].removed                   ? tone::quiet
                                                                         : tone::text;
                if (i == 0) {
                    const float room = ImGui::GetContentRegionAvail().x - ui.px(ui.text_width(cells[i], Face::small));
                    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + std::max(0.0F, room));
                    ui.text(cells[i], Face::small, colour);
                } else {
                    cell(ui, columns[i], cells[i], colour);
                }
            }
        }
        ImGui::EndTable();
    }
    ImGui::PopStyleVar();
    ui.end_panel();
    return clicked;
}

void draw_no_closure(Ui& ui, const Rect& place, const Debrief& debrief) {
    constexpr double kWords = 116.0, kBetween = 12.0;
    ui.begin_panel("no closure", {place.x, place.y, place.width, kWords}, tone::panel, 22.0);
    ui.text("No figures", Face::heading, tone::warning);
    ui.gap(2.0);
    ui.wrapped(
        "Power, seal and marks are read off a wound in balance. This one has none, and no figure stands in for "
        "it. How each bite was laid can still be seen, here and under Sections; the attempt can be replayed or "
        "done once more.",
        Face::body, tone::text, 940.0);
    ui.end_panel();
    static_cast<void>(
        draw_bite_table(ui, {place.x, place.y + kWords + kBetween, place.width, place.height - kWords - kBetween},
                        debrief, std::nullopt));
}

}  // namespace graftwright
