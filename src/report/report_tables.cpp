#include "report/report_tables.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <vector>

#include "base/words.h"
#include "report/html.h"
#include "report/words.h"
#include "score/pass_marks.h"

namespace graftwright {
namespace {

using Reading = std::optional<double>;

struct Readings {
    Reading steep, axis, flat, mean, cylinder, J0, J45, hoa, leak, weakest, rate, settled, step, gape;
};

Readings readings_of(const ClosureMeasures* m) {
    if (m == nullptr) return {};
    const Keratometry& k = *m->keratometry;
    const WoundTest& w = m->wound;
    return {k.steep_D,
            k.steep_axis_deg,
            k.flat_D,
            k.mean_D,
            k.cylinder_D,
            k.power.J0_D,
            k.power.J45_D,
            m->hoa_rms_um,
            w.leak_pressure_mmHg,
            w.weakest_deg,
            w.leak_uL_min,
            w.settled_pressure_mmHg,
            max_step_um(*m),
            max_posterior_gape_um(*m)};
}

// Asked for and whether it was met, from the score's own marks.
std::string mark_cells(const Case& what, std::optional<Mark> asked) {
    if (what.card.score && asked) {
        for (const PassMark& mark : what.card.score->marks) {
            if (mark.mark != asked) continue;
            return cell(fmt::format("{} {}", mark.at_least() ? "at least" : "at most", svg_number(mark.limit))) +
                   (mark.met() ? cell("met") : cell("<strong>not met</strong>"));
        }
    }
    return cell("") + cell("");
}

std::string reading_cell(const Reading& value, Unit unit, int decimals, bool sign) {
    const std::string number = number_cell(value, decimals, sign);
    return cell(value && unit == Unit::place ? fmt::format("{} ({}°)", clock_hour(*value), number) : number);
}

struct Row {
    const char *key, *words;
    Unit unit;
    Reading Readings::*value;
    int decimals;
    bool sign;
    std::optional<Mark> mark{};
};

constexpr std::array<Row, 14> kReadingRows = {{
    {"keratometry.steep_D", "steep", Unit::dioptre, &Readings::steep, 2, false},
    {"keratometry.steep_axis_deg", "steep meridian", Unit::degree, &Readings::axis, 0, false},
    {"keratometry.flat_D", "flat", Unit::dioptre, &Readings::flat, 2, false},
    {"keratometry.mean_D", "mean", Unit::dioptre, &Readings::mean, 2, false},
    {"keratometry.cylinder_D", "cylinder", Unit::dioptre, &Readings::cylinder, 2, false, Mark::cylinder},
    {"power_vector.J0_D", "J0", Unit::dioptre, &Readings::J0, 2, true},
    {"power_vector.J45_D", "J45", Unit::dioptre, &Readings::J45, 2, true},
    {"hoa_rms_um", "irregularity, RMS over 4 mm", Unit::um, &Readings::hoa, 2, false, Mark::irregularity},
    {"wound.leak_pressure_mmHg", "leak pressure", Unit::mmHg, &Readings::leak, 1, false, Mark::leak_pressure},
    {"wound.weakest_deg", "opens first at", Unit::place, &Readings::weakest, 0, false},
    {"wound.leak_uL_min", "leak at the settled pressure", Unit::uL_per_min, &Readings::rate, 2, false},
    {"wound.settled_pressure_mmHg", "chamber settles at", Unit::mmHg, &Readings::settled, 1, false},
    {"wound.max_step_um", "largest step of the front", Unit::um, &Readings::step, 0, false, Mark::step},
    {"wound.max_posterior_gape_um", "largest posterior gape", Unit::um, &Readings::gape, 0, false},
}};

}  // namespace

std::string readings_table(const Case& what) {
    const Readings attempt = readings_of(measures_of(what, Whose::attempt));
    const Readings ideal = readings_of(measures_of(what, Whose::ideal));
    std::string out = "<table class=\"readings\"><thead><tr>";
    for (const char* words : {"reading", "unit", "attempt", "ideal twin", "asked for", ""}) out += header_cell(words);
    out += "</tr></thead><tbody>\n";
    for (const Row& row : kReadingRows) {
        out += fmt::format("<tr data-key=\"{}\"><th scope=\"row\">{}</th>", row.key, escaped(row.words)) +
               cell(name_of(row.unit)) + reading_cell(attempt.*row.value, row.unit, row.decimals, row.sign) +
               reading_cell(ideal.*row.value, row.unit, row.decimals, row.sign) + mark_cells(what, row.mark) +
               "</tr>\n";
    }
    // The one reading that is a difference of the two columns.
    Reading flattening;
    if (attempt.mean && ideal.mean) flattening = *ideal.mean - *attempt.mean;
    out += "<tr data-key=\"flattening\"><th scope=\"row\">flattening, ideal − attempt</th>" + cell("D") +
           cell(number_cell(flattening, 2, true)) + cell("") + mark_cells(what, Mark::flattening) + "</tr>\n";
    return out + "</tbody></table>\n";
}

std::string marks_table(const Case& what) {
    if (!what.card.score) return "";
    const Score& score = *what.card.score;
    double available = 0.0;
    for (const Rule& rule : score.rules) available += rule.points;
    std::string out = "<table class=\"marks\"><thead><tr>";
    for (const char* words : {"rule", "measured", "full / none", "marks"}) out += header_cell(words);
    out += "<th scope=\"col\" class=\"words\">where the limit comes from</th>";
    out += "</tr></thead><tbody>\n";
    for (const Rule& rule : score.rules) {
        const double scaled = 100.0 * rule.points / available;
        // "of thickness" belongs to the rule; a unit belongs to its number.
        const bool share = rule.unit == Unit::of_thickness;
        out +=
            fmt::format("<tr><th scope=\"row\">{}: {}{}</th>", part_name(rule.part), escaped(rule.what),
                        share ? ", of thickness" : "") +
            cell(with_unit(number_cell(rule.measured, rule.unit == Unit::um ? 0 : 2), share ? Unit::none : rule.unit)) +
            cell(fmt::format("{} / {}", svg_number(rule.full), svg_number(rule.none))) +
            cell(fmt::format("{} of {:.1f}", shown_number(scaled * rule.share_earned(), 1), scaled)) +
            fmt::format("<td class=\"words\">{}</td></tr>\n", escaped(rule.source));
    }
    return out + "</tbody></table>\n";
}

}  // namespace graftwright
