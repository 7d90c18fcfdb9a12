// Skills: a CUSUM chart each, with its boundary lines, and what the word "competent" means (logbook/cusum.h).
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "view/practice/trainee_plots.h"
#include "view/practice/trainee_screen.h"

namespace graftwright {
namespace {

constexpr std::size_t kColumns = 4;
constexpr double kBetween = 8.0, kWordsHeight = 142.0;
constexpr std::size_t kMostPoints = 220;

Tone tone_of(Standing standing) {
    switch (standing) {
        case Standing::competent:
            return tone::accent;
        case Standing::below_standard:
            return tone::warning;
        default:
            return tone::quiet;
    }
}

// Boundary lines that the chart shows: the two that decide at first, and as many more as it reaches.
void draw_boundaries(const PlotPen& pen, const PlotArea& area, const CusumConstants& c) {
    const double right = area.place.x + area.place.width;
    const auto line = [&](double value, ImU32 colour, double width, bool dashed) {
        const double y = area.at(0.0, value).y;
        if (dashed)
            pen.dashes({area.place.x, y}, {right, y}, colour, width);
        else
            pen.line({area.place.x, y}, {right, y}, colour, width);
    };
    for (double value = -2.0 * c.h0; value >= area.y.low; value -= c.h0) line(value, ink(tone::line), 1.0, false);
    for (double value = 2.0 * c.h1; value <= area.y.high; value += c.h1) line(value, ink(tone::line), 1.0, false);
    line(0.0, ink(tone::quiet, 0.7F), 1.0, false);
    line(-c.h0, ink(tone::accent), 1.6, true);
    line(c.h1, ink(tone::warning), 1.6, true);
    const auto number = [&](double value) {
        pen.words({area.place.x - 7.0, area.at(0.0, value).y}, shown_value(value, value == 0.0 ? 0 : 2), Face::small,
                  ink(tone::quiet), WordsAt::right);
    };
    // Where a far-off chart squeezes the lines, their numbers would run into each other.
    number(0.0);
    if (std::abs(area.at(0.0, c.h1).y - area.at(0.0, 0.0).y) >= 17.0) {
        number(-c.h0);
        number(c.h1);
    } else {
        if (area.y.high > 3.0 * c.h1) number(area.y.high);
        if (area.y.low < -3.0 * c.h0) number(area.y.low);
    }
}

PlotArea chart_area(const Rect& cell, const Cusum& cusum) {
    const CusumConstants& c = cusum.constants();
    double low = -1.35 * c.h0, high = 1.35 * c.h1;
    for (const double value : cusum.curve()) {
        low = std::min(low, value);
        high = std::max(high, value);
    }
    return {{cell.x + 56.0, cell.y + 60.0, cell.width - 72.0, cell.height - 60.0 - 72.0},
            0.0,
            static_cast<double>(std::max<std::size_t>(cusum.trials(), 20)),
            {low, high, high - low}};
}

void draw_chart(const PlotPen& pen, const Rect& cell, const Cusum& cusum) {
    const PlotArea area = chart_area(cell, cusum);
    draw_boundaries(pen, area, cusum.constants());
    std::vector<Point> line{area.at(0.0, 0.0)};
    for (const std::size_t i : thinned(cusum.curve().size(), kMostPoints))
        line.push_back(area.at(static_cast<double>(i) + 1.0, cusum.curve()[i]));
    if (line.size() < 2) return;
    pen.way(line, ink(tone::text), 1.8);
    pen.disc(line.back(), 3.5, ink(tone::text));
}

void draw_skill(Ui& ui, const Rect& cell, const SkillCurve& skill) {
    const std::string name = std::string("skill ") + skill.info->name;
    ui.begin_panel(name.c_str(), cell, tone::panel, 0.0, false);
    const PlotPen pen(ui);
    const Cusum& cusum = skill.cusum;
    const double right = cell.x + cell.width - 12.0;
    pen.words({cell.x + 12.0, cell.y + 18.0}, skill.info->name, Face::strong, ink(tone::text));
    pen.words({cell.x + 12.0, cell.y + 40.0}, standing_words(cusum.standing()), Face::small,
              ink(tone_of(cusum.standing())));
    if (cusum.trials() > 0) {
        const std::size_t good = cusum.trials() - cusum.failures();
        pen.words({right, cell.y + 18.0}, fmt::format("{} of {} good", good, cusum.trials()), Face::small,
                  ink(tone::text), WordsAt::right);
    }
    draw_chart(pen, cell, cusum);
    ui.move_to(cell.x + 12.0, cell.y + cell.height - 62.0);
    ui.wrapped(std::string("Good: ") + skill.info->success, Face::small, tone::quiet, cell.width - 22.0);
    ui.end_panel();
}

std::string rule_words(const TraineePage& page) {
    const CusumConstants c = cusum_constants(page.options.rates);
    return fmt::format(
        "Each chart goes down by {:.3f} for a good attempt and up by {:.3f} for another. The lower dashed line, {} "
        "under "
        "zero, is where a new chart is competent; above the upper one, {} over zero, it is below the standard. A chart "
        "that has climbed is competent again when it comes down across two lines in a row.",
        c.s, 1.0 - c.s, shown_value(c.h0, 2), shown_value(c.h1, 2));
}

}  // namespace

void draw_skills(Ui& ui, const Rect& place, const TraineePage& page) {
    const std::size_t rows = (page.skills.size() + kColumns - 1) / kColumns;
    const double width = (place.width - (kColumns - 1.0) * kBetween) / kColumns;
    const double height = (place.height - kWordsHeight) / static_cast<double>(rows) - kBetween;
    for (std::size_t i = 0; i < page.skills.size(); ++i) {
        draw_skill(ui,
                   {place.x + static_cast<double>(i % kColumns) * (width + kBetween),
                    place.y + static_cast<double>(i / kColumns) * (height + kBetween), width, height},
                   page.skills[i]);
    }
    const Rect foot{place.x, place.y + place.height - kWordsHeight, place.width, kWordsHeight};
    ui.begin_panel("competence", foot, tone::raised, 16.0);
    ui.wrapped(page.competence_words, Face::small, tone::text, foot.width - 36.0);
    ui.wrapped(rule_words(page), Face::small, tone::quiet, foot.width - 36.0);
    ui.end_panel();
}

}  // namespace graftwright
