#include "report/report_tables.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <vector>

#include "report/html.h"
#include "report/words.h"
#include "score/bites_in_order.h"

namespace graftwright {
namespace {

constexpr std::size_t kOneTable = 24;  // bites

// The published rows that sources name by number (the project's list of figures).
struct PublishedRow {
    const char *number, *words;
};
constexpr std::array<PublishedRow, 5> kRows = {{
    {"T3-31", "Basic and Clinical Science Course, American Academy of Ophthalmology: 95 % of donor and host"},
    {"T3-32", "teaching pages and a porcine scoring table: 67–95 % is taught"},
    {"T8-01", "scoring table for porcine corneal suturing, Br J Ophthalmol, Table 1"},
    {"T8-12", "geometry on T8-01"},
    {"T8-13", "'Corneal topography' chapter abstract: radial is asked for, no limit in degrees is given"},
}};

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
std::string mark_cells(const Case& what, const char* mark_name) {
    if (what.card.score && mark_name[0] != '\0') {
        for (const PassMark& mark : what.card.score->marks) {
            if (mark.what != mark_name) continue;
            return cell(fmt::format("{} {}", mark.at_least ? "at least" : "at most", svg_number(mark.limit))) +
                   (mark.met() ? cell("met") : cell("<strong>not met</strong>"));
        }
    }
    return cell("") + cell("");
}

struct Row {
    const char *key, *words, *unit;
    Reading Readings::*value;
    int decimals;
    bool sign;
    const char* mark;  // "" : none
};

constexpr std::array<Row, 14> kReadingRows = {{
    {"keratometry.steep_D", "steep", "D", &Readings::steep, 2, false, ""},
    {"keratometry.steep_axis_deg", "steep meridian", "°", &Readings::axis, 0, false, ""},
    {"keratometry.flat_D", "flat", "D", &Readings::flat, 2, false, ""},
    {"keratometry.mean_D", "mean", "D", &Readings::mean, 2, false, ""},
    {"keratometry.cylinder_D", "cylinder", "D", &Readings::cylinder, 2, false, "cylinder"},
    {"power_vector.J0_D", "J0", "D", &Readings::J0, 2, true, ""},
    {"power_vector.J45_D", "J45", "D", &Readings::J45, 2, true, ""},
    {"hoa_rms_um", "irregularity, RMS over 4 mm", "µm", &Readings::hoa, 2, false, "irregularity"},
    {"wound.leak_pressure_mmHg", "leak pressure", "mmHg", &Readings::leak, 1, false, "leak pressure"},
    {"wound.weakest_deg", "opens first at", "°", &Readings::weakest, 0, false, ""},
    {"wound.leak_uL_min", "leak at the settled pressure", "µL/min", &Readings::rate, 2, false, ""},
    {"wound.settled_pressure_mmHg", "chamber settles at", "mmHg", &Readings::settled, 1, false, ""},
    {"wound.max_step_um", "largest step of the front", "µm", &Readings::step, 0, false, "step"},
    {"wound.max_posterior_gape_um", "largest posterior gape", "µm", &Readings::gape, 0, false, ""},
}};

std::string letter_of(std::size_t index) { return std::string(1, static_cast<char>('a' + static_cast<int>(index))); }

// The flags that occur, in the order of flag_meanings(): they get the letters.
std::vector<const FlagMeaning*> flags_that_occur(const Case& what) {
    std::vector<const FlagMeaning*> found;
    for (const FlagMeaning& meaning : flag_meanings()) {
        const bool occurs = std::any_of(what.card.bites.begin(), what.card.bites.end(), [&](const BiteMetrics& m) {
            return std::find(m.flags.begin(), m.flags.end(), meaning.flag) != m.flags.end();
        });
        if (occurs) found.push_back(&meaning);
    }
    return found;
}

std::string broken_limits(const BiteMetrics& m, const std::vector<const FlagMeaning*>& letters, bool in_words) {
    std::string out;
    for (std::size_t i = 0; i < letters.size(); ++i) {
        if (std::find(m.flags.begin(), m.flags.end(), letters[i]->flag) == m.flags.end()) continue;
        if (!out.empty()) out += in_words ? ", " : " ";
        out += in_words ? fmt::format("{}<sup>{}</sup>", escaped(letters[i]->words), letter_of(i)) : letter_of(i);
    }
    return out;
}

std::string bite_row(const Case& what, const OrderedBite& bite, std::size_t b,
                     const std::vector<const FlagMeaning*>& letters, bool in_words) {
    const BiteMetrics& m = what.card.bites[b];
    const std::optional<BiteShare>& share = what.card.shares[b];
    const auto of_share = [&](double BiteShare::*value) { return share ? Reading((*share).*value) : Reading(); };
    const ClosureMeasures* measures = measures_of(what, Whose::attempt);
    std::string out = fmt::format("<tr data-bite=\"{}\"><th scope=\"row\">{}</th>", b + 1, b + 1);
    out += cell(fmt::format("{}{}", number_cell(bite.host_deg, 1),
                            in_words ? fmt::format(" <small>{}</small>", clock_hour(bite.host_deg)) : ""));
    // No-break spaces: the tension of a run's knot keeps its name beside it.
    out += cell((bite.run ? fmt::format("<small>run\u00a0{}</small>\u00a0", *bite.run + 1) : "") +
                number_cell(bite.tension_mN, 1));
    out += cell(number_cell(measures ? Reading(measures->tension_mN[b]) : Reading(), 1));
    out += cell(number_cell(of_share(&BiteShare::share_D), 2));
    out += cell(number_cell(of_share(&BiteShare::share_axis_deg), 0));
    out += cell(number_cell(of_share(&BiteShare::share_leak_mmHg), 1, true));
    out += cell(number_cell(m.depth_fraction_graft, 2)) + cell(number_cell(m.depth_fraction_host, 2));
    out += cell(number_cell(m.radial_error_deg, 1, true)) + cell(number_cell(m.spacing_error_deg, 1, true));
    out += cell(number_cell(m.bite_ratio, 2));
    return out + "<td class=\"words\">" + broken_limits(m, letters, in_words) + "</td></tr>\n";
}

std::string bites_from(const Case& what, std::size_t from, std::size_t to, bool in_words) {
    const auto letters = flags_that_occur(what);
    std::string out = "<table class=\"bites\"><thead><tr>";
    for (const char* words : {"bite", "at °", "tied mN", "now mN", "costs D", "steep °", "leak mmHg", "donor depth",
                              "host depth", "radial °", "off mark °", "host/donor"}) {
        out += header_cell(words);
    }
    out += "<th scope=\"col\" class=\"words\">limits broken</th></tr></thead><tbody>\n";
    const std::vector<OrderedBite> bites = bites_in_order(what.attempt);
    for (std::size_t b = from; b < to; ++b) out += bite_row(what, bites[b], b, letters, in_words);
    return out + "</tbody></table>\n";
}

}  // namespace

std::string readings_table(const Case& what) {
    const Readings attempt = readings_of(measures_of(what, Whose::attempt));
    const Readings ideal = readings_of(measures_of(what, Whose::ideal));
    std::string out = "<table class=\"readings\"><thead><tr>";
    for (const char* words : {"reading", "unit", "attempt", "ideal twin", "asked for", ""}) out += header_cell(words);
    out += "</tr></thead><tbody>\n";
    for (const Row& row : kReadingRows) {
        out += fmt::format("<tr data-key=\"{}\"><th scope=\"row\">{}</th>", row.key, escaped(row.words)) +
               cell(row.unit) + cell(number_cell(attempt.*row.value, row.decimals, row.sign)) +
               cell(number_cell(ideal.*row.value, row.decimals, row.sign)) + mark_cells(what, row.mark) + "</tr>\n";
    }
    // The one reading that is a difference of the two columns.
    Reading flattening;
    if (attempt.mean && ideal.mean) flattening = *ideal.mean - *attempt.mean;
    out += "<tr data-key=\"flattening\"><th scope=\"row\">flattening, ideal − attempt</th>" + cell("D") +
           cell(number_cell(flattening, 2, true)) + cell("") + mark_cells(what, "flattening") + "</tr>\n";
    return out + "</tbody></table>\n";
}

std::string marks_table(const Case& what) {
    if (!what.card.score) return "";
    const Score& score = *what.card.score;
    double available = 0.0;
    for (const Rule& rule : score.rules) available += rule.points;
    std::string out = "<table class=\"marks\"><thead><tr>";
    for (const char* words : {"rule, source", "measured", "full / none", "marks"}) out += header_cell(words);
    out += "</tr></thead><tbody>\n";
    for (const Rule& rule : score.rules) {
        const double scaled = 100.0 * rule.points / available;
        // "of thickness" belongs to the rule; a unit belongs to its number.
        const bool share = rule.unit == "of thickness";
        const std::string unit = share ? "" : rule.unit == "um" ? " µm" : " " + rule.unit;
        out += fmt::format("<tr><th scope=\"row\">{}{} <small>[{}]</small></th>", escaped(rule.what),
                           share ? ", of thickness" : "", escaped(rule.source)) +
               cell(number_cell(rule.measured, rule.unit == "um" ? 0 : 2) + escaped(unit)) +
               cell(fmt::format("{} / {}", svg_number(rule.full), svg_number(rule.none))) +
               cell(fmt::format("{:.1f}/{:.1f}", scaled * rule.share_earned(), scaled)) + "</tr>\n";
    }
    return out + "</tbody></table>\n";
}

std::string bites_table(const Case& what) {
    const std::size_t count = bites_in_order(what.attempt).size();
    if (count == 0 || what.card.bites.size() < count) return "";
    if (count <= kOneTable) return bites_from(what, 0, count, true);
    const std::size_t half = (count + 1) / 2;
    return "<div class=\"halves\">\n" + bites_from(what, 0, half, false) + bites_from(what, half, count, false) +
           "</div>\n";
}

std::string limits_list(const Case& what) {
    const auto letters = flags_that_occur(what);
    std::string sources, out;
    if (!letters.empty()) {
        out += "<ul class=\"limits\">\n";
        for (std::size_t i = 0; i < letters.size(); ++i) {
            const FlagMeaning& meaning = *letters[i];
            sources += meaning.source;
            out += fmt::format("<li><b>{}</b> {}{}{} <small>[{}]</small></li>\n", letter_of(i), escaped(meaning.words),
                               meaning.limit.empty() ? "" : ": ", escaped(meaning.limit), escaped(meaning.source));
        }
        out += "</ul>\n";
    }
    if (what.card.score) {
        for (const Rule& rule : what.card.score->rules) sources += rule.source;
    }
    std::string rows;
    for (const PublishedRow& row : kRows) {
        if (sources.find(row.number) == std::string::npos) continue;
        rows += fmt::format("{}<b>{}</b> {}", rows.empty() ? "" : "; ", row.number, escaped(row.words));
    }
    if (!rows.empty())
        out += "<p class=\"sources\">Sources: " + rows + ". “Our choice”: nobody has published one.</p>\n";
    return out;
}

}  // namespace graftwright
