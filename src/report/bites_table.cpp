// The report's table of bites and its legend; see report_tables.h.
//
// Both sheets are to print on one page of A4 each whatever the attempt: words stand in the table where every bite has
// one line of it, letters where it has not, and from so many bites on the table stands in two halves.
#include <algorithm>
#include <array>
#include <numeric>
#include <string_view>
#include <vector>

#include "base/words.h"
#include "report/html.h"
#include "report/report_tables.h"
#include "report/words.h"
#include "score/bites_in_order.h"

namespace graftwright {
namespace {

constexpr std::size_t kOneTable = 24;    // lines
constexpr std::size_t kLine = 44;        // characters that the column of words holds
constexpr std::size_t kLegendLine = 46;  // of the legend, and how many lines of it there is room for
constexpr std::size_t kLegendLines = 20;

// What the sources of limits are called there, and what they are.
struct SourceName {
    const char *name, *words;
};
constexpr std::array<SourceName, 3> kSources = {{
    {"AAO BCSC", "Basic and Clinical Science Course, American Academy of Ophthalmology: 95 % of donor and host"},
    {"teaching pages", "they and a porcine scoring table teach 67–95 %"},
    {"Br J Ophthalmol table", "scoring table for porcine corneal suturing, Br J Ophthalmol, Table 1"},
}};

using FlagLetters = std::vector<const FlagMeaning*>;

std::string letter_of(std::size_t index) { return std::string(1, static_cast<char>('a' + static_cast<int>(index))); }

// The flags that occur, in the order of flag_meanings(): they get the letters.
FlagLetters flags_that_occur(const Case& what) {
    FlagLetters found;
    for (const FlagMeaning& meaning : flag_meanings()) {
        const bool occurs = std::any_of(what.card.bites.begin(), what.card.bites.end(),
                                        [&](const BiteMetrics& m) { return m.has(meaning.flag); });
        if (occurs) found.push_back(&meaning);
    }
    return found;
}

std::size_t lines_of(std::size_t characters, std::size_t line) {
    return std::max<std::size_t>(1, (characters + line - 1) / line);
}

bool words_fit(const Case& what) {
    std::size_t lines = 0;
    for (const BiteMetrics& m : what.card.bites) lines += lines_of(flags_words(m.flags).size(), kLine);
    return lines <= kOneTable;
}

std::string broken_limits(const BiteMetrics& m, const FlagLetters& letters, bool in_words) {
    std::string out;
    for (std::size_t i = 0; i < letters.size(); ++i) {
        if (!m.has(letters[i]->flag)) continue;
        if (in_words && !out.empty()) out += ", ";
        out += in_words ? fmt::format("{}<sup>{}</sup>", escaped(letters[i]->words), letter_of(i)) : letter_of(i);
    }
    return out;
}

std::string bite_row(const Case& what, const OrderedBite& bite, std::size_t b, const FlagLetters& letters,
                     bool in_words) {
    const BiteMetrics& m = what.card.bites[b];
    const std::optional<BiteShare>& share = what.card.shares[b];
    const auto of_share = [&](double BiteShare::*value) {
        return share ? std::optional<double>((*share).*value) : std::nullopt;
    };
    const ClosureMeasures* measures = measures_of(what, Whose::attempt);
    std::string out = fmt::format("<tr data-bite=\"{}\"><th scope=\"row\">{}</th>", b + 1, b + 1);
    const std::string deg = number_cell(bite.host_deg, 1);
    out += cell(in_words ? fmt::format("{} ({}°)", clock_hour(bite.host_deg), deg) : deg);
    // A no-break space: the tension of a run's knot keeps its name beside it.
    const std::string run = bite.run ? fmt::format("{}{}\u00a0", in_words ? "run\u00a0" : "r", *bite.run + 1) : "";
    out += cell(run + number_cell(bite.tension_mN, 1));
    out += cell(number_cell(measures ? std::optional(measures->tension_mN[b]) : std::nullopt, 1));
    out += cell(number_cell(of_share(&BiteShare::share_D), 2));
    out += cell(number_cell(of_share(&BiteShare::share_axis_deg), 0));
    out += cell(number_cell(of_share(&BiteShare::share_leak_mmHg), 1, true));
    out += cell(number_cell(m.depth_fraction_graft, 2)) + cell(number_cell(m.depth_fraction_host, 2));
    out += cell(number_cell(m.radial_error_deg, 1, true)) + cell(number_cell(m.spacing_error_deg, 1, true));
    if (in_words) out += cell(number_cell(m.bite_ratio, 2));
    return out + "<td class=\"words\">" + broken_limits(m, letters, in_words) + "</td></tr>\n";
}

std::string bites_from(const Case& what, std::size_t from, std::size_t to, bool in_words) {
    const FlagLetters letters = flags_that_occur(what);
    std::string out = "<table class=\"bites\"><thead><tr>";
    for (const char* words : {"bite", in_words ? "at" : "at °", "tied mN", "now mN", "costs D", "steep °", "leak mmHg",
                              "donor depth", "host depth", "radial °", "off mark\u00a0°"}) {
        out += header_cell(words);
    }
    if (in_words) out += header_cell("host/donor");
    out += fmt::format("<th scope=\"col\" class=\"words\">{}</th></tr></thead><tbody>\n",
                       in_words ? "limits broken" : "limits");
    const std::vector<OrderedBite> bites = bites_in_order(what.attempt);
    for (std::size_t b = from; b < to; ++b) out += bite_row(what, bites[b], b, letters, in_words);
    return out + "</tbody></table>\n";
}

std::string legend_entry(const FlagMeaning& meaning) {
    return std::string(meaning.words) + (meaning.limit.empty() ? "" : ": " + meaning.limit);
}

}  // namespace

std::string bites_table(const Case& what) {
    const std::size_t count = bites_in_order(what.attempt).size();
    if (count == 0 || what.card.bites.size() < count) return "";
    if (words_fit(what)) return bites_from(what, 0, count, true);
    const std::size_t half = (count + 1) / 2;
    return "<div class=\"halves\">\n" + bites_from(what, 0, half, false) + bites_from(what, half, count, false) +
           "</div>\n";
}

std::string limits_list(const Case& what) {
    const FlagLetters letters = flags_that_occur(what);
    if (letters.empty()) return "";
    const std::size_t sourced =
        std::accumulate(letters.begin(), letters.end(), std::size_t{0}, [](std::size_t lines, const FlagMeaning* one) {
            return lines + lines_of(legend_entry(*one).size() + std::string_view(one->source).size() + 5, kLegendLine);
        });
    std::string out = "<ul class=\"limits\">\n";
    for (std::size_t i = 0; i < letters.size(); ++i) {
        out += fmt::format("<li><b>{}</b> {}", letter_of(i), escaped(legend_entry(*letters[i])));
        if (sourced <= kLegendLines) out += fmt::format(" <small>[{}]</small>", escaped(letters[i]->source));
        out += "</li>\n";
    }
    return out + "</ul>\n";
}

std::string sources_line(const Case& what) {
    std::string named;
    for (const FlagMeaning* meaning : flags_that_occur(what)) named += meaning->source;
    if (what.card.score) {
        for (const Rule& rule : what.card.score->rules) named += rule.source;
    }
    std::string rows;
    for (const SourceName& row : kSources) {
        if (named.find(row.name) == std::string::npos) continue;
        rows += fmt::format("{}<b>{}</b> {}", rows.empty() ? "" : "; ", row.name, escaped(row.words));
    }
    if (rows.empty()) return "";
    return "<p class=\"sources\">Sources: " + rows + ". “Our choice”: nobody has published one.</p>\n";
}

}  // namespace graftwright
