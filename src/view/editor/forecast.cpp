#include "view/editor/forecast.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "score/drill.h"
#include "score/pass_marks.h"
#include "view/editor/form.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

struct ForecastColumn {
    const char* name;
    const ClosureReading* reading;
};
struct Line {
    const char* name;
    std::string (*words)(const ClosureReading&);
    std::optional<double> PassMarks::*mark;
    const char* asked;
};

std::string cylinder(const ClosureReading& r) {
    return fmt::format("{:.{}f} @ {:.0f}°", r.cylinder_D, r.cylinder_D < 9.995 ? 2 : 1, r.steep_axis_deg);
}
std::string mean(const ClosureReading& r) { return fmt::format("{:.2f}", r.mean_D); }
std::string flattening(const ClosureReading& r) { return words::number(r.flattening_D, 2); }
std::string leak(const ClosureReading& r) {
    return fmt::format("{}{:.1f}", r.leak_capped ? "over " : "", r.leak_pressure_mmHg);
}
std::string step(const ClosureReading& r) { return fmt::format("{:.0f}", r.step_um); }
std::string gape(const ClosureReading& r) { return fmt::format("{:.0f}", r.posterior_gape_um); }

const Line kLines[] = {{"Cylinder, D", cylinder, &PassMarks::cylinder_D, "at most"},
                       {"Flattening, D", flattening, &PassMarks::flattening_D, "at most"},
                       {"Mean power, D", mean, nullptr, ""},
                       {"Leaks from, mmHg", leak, &PassMarks::leak_pressure_mmHg, "at least"},
                       {"Step in front, µm", step, &PassMarks::step_um, "at most"},
                       {"Gape at back, µm", gape, &PassMarks::posterior_gape_um, "at most"}};

constexpr double kNameWidth = 132.0, kReadingWidth = 84.0, kAskedWidth = 78.0, kLineHeight = 21.0;

// One line of the table, by its own columns.
class TableRow {
  public:
    explicit TableRow(const Ui& ui) : ui_(ui), start_(ImGui::GetCursorScreenPos()) {}
    void cell(std::string_view words, double width, Tone colour) {
        ImGui::SetCursorScreenPos({start_.x + ui_.px(x_), start_.y});
        ui_.text(words, Face::small, colour);
        x_ += width;
    }
    void end() const { ImGui::SetCursorScreenPos({start_.x, start_.y + ui_.px(kLineHeight)}); }

  private:
    const Ui& ui_;
    ImVec2 start_;
    double x_ = 0.0;
};

// An even eye with nothing in it is closed by the hand just as by its twin.
bool hand_differs(const Forecast& forecast) {
    const BestClosure& best = forecast.best;
    if (!best.hand || !best.ideal || asks_a_question(forecast.level.kind)) return false;
    constexpr double kSeen_D = 0.005, kSeen_mmHg = 0.05, kSeen_um = 0.5;  // as the table is rounded
    return std::abs(best.hand->cylinder_D - best.ideal->cylinder_D) > kSeen_D ||
           std::abs(best.hand->leak_pressure_mmHg - best.ideal->leak_pressure_mmHg) > kSeen_mmHg ||
           std::abs(best.hand->step_um - best.ideal->step_um) > kSeen_um;
}

std::vector<ForecastColumn> columns_of(const Forecast& forecast) {
    const BestClosure& best = forecast.best;
    std::vector<ForecastColumn> columns;
    if (best.ideal) columns.push_back({"ideal twin", &*best.ideal});
    if (hand_differs(forecast)) columns.push_back({"faultless", &*best.hand});
    if (best.opening) columns.push_back({"at the start", &*best.opening});
    return columns;
}

void draw_table(const Ui& ui, const Forecast& forecast) {
    const std::vector<ForecastColumn> columns = columns_of(forecast);
    if (columns.empty()) return;
    TableRow head(ui);
    head.cell("", kNameWidth, tone::accent);
    for (const ForecastColumn& column : columns) head.cell(column.name, kReadingWidth, tone::accent);
    head.cell("asked", kAskedWidth, tone::accent);
    head.end();
    for (const Line& line : kLines) {
        TableRow row(ui);
        row.cell(line.name, kNameWidth, tone::quiet);
        for (const ForecastColumn& column : columns) row.cell(line.words(*column.reading), kReadingWidth, tone::text);
        const std::optional<double> asked = line.mark == nullptr ? std::nullopt : forecast.level.pass.*line.mark;
        row.cell(asked ? fmt::format("{} {:g}", line.asked, *asked) : "–", kAskedWidth, tone::quiet);
        row.end();
    }
}

void add_missed(const char* who, const std::vector<PassMark>& marks, std::vector<ForecastLine>& lines) {
    for (const PassMark& mark : marks)
        if (!mark.met()) lines.push_back({fmt::format("Even {} misses: {}.", who, mark_words(mark)), true});
}

void add_closure_lines(const Forecast& forecast, std::vector<ForecastLine>& lines) {
    const BestClosure& best = forecast.best;
    add_missed("the ideal twin", best.ideal_marks, lines);
    if (hand_differs(forecast)) add_missed("a faultless hand", best.hand_marks, lines);
    if (best.ideal_passes && best.hand_passes)
        lines.push_back({"The ideal passes every mark that is set.", false});
    else if (best.hand_passes)
        lines.push_back({"A faultless hand that answers this eye passes every mark.", false});
}

}  // namespace

std::string forecast_state(const ForecastNews& news) {
    if (!news.forecast) {
        if (!news.sound) return "Nothing can be predicted until the faults are mended.";
        return "Being worked out…";
    }
    if (!news.sound) return "Of the form before the faults came in; it waits until they are mended.";
    if (!news.current) return "Of the form before the last change; being worked out anew…";
    return "Worked out for the form as it stands.";
}

std::vector<ForecastLine> forecast_lines(const Forecast& forecast) {
    const BestClosure& best = forecast.best;
    std::vector<ForecastLine> lines;
    const bool closes = forecast.level.kind == ScenarioKind::closure || asks_a_question(forecast.level.kind);
    if (!best.reason.empty()) lines.push_back({"No closure to predict: " + best.reason + ".", closes});
    if (best.ideal && forecast.level.kind == ScenarioKind::closure) add_closure_lines(forecast, lines);
    if (best.asks_too_much_leak())
        lines.push_back({fmt::format("The leak pressure asked is {:.2f} of the ideal's; ask no more than {:g} of it.",
                                     *best.leak_asked, kMostLeakAsked),
                         true});
    if (forecast.level.kind != ScenarioKind::closure && !best.verdict.empty())
        lines.push_back(
            {fmt::format("A faultless hand {}: {}", best.hand_passes ? "passes" : "does not pass", best.verdict),
             !best.hand_passes});
    std::stable_partition(lines.begin(), lines.end(), [](const ForecastLine& line) { return line.warns; });
    return lines;
}

void draw_level_forecast(Ui& ui, const ForecastNews& news) {
    ui.text("Predicted best closure", Face::heading);
    ui.wrapped(forecast_state(news), Face::small, news.current && news.sound ? tone::quiet : tone::warning);
    ui.note("forecast state");
    if (!news.forecast) return;
    constexpr float kDimmed = 0.5F;
    const bool stale = !news.current || !news.sound;
    if (stale) ImGui::PushStyleVar(ImGuiStyleVar_Alpha, kDimmed);
    draw_table(ui, *news.forecast);
    for (const ForecastLine& line : forecast_lines(*news.forecast)) {
        if (line.warns)
            warning_line(ui, line.words);
        else
            ui.wrapped(line.words, Face::body, tone::text);
    }
    if (stale) ImGui::PopStyleVar();
    ui.wrapped(
        "Ideal twin: even, 1.1 mm, 0.92 deep, one tension. Faultless: levels the fronts, ties an oval bed "
        "tighter across, keeps good starting bites.",
        Face::small, tone::quiet);
}

}  // namespace graftwright
