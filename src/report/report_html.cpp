#include "report/report_html.h"

#include <fmt/format.h>

#include "report/closure_pictures.h"
#include "report/curvature_picture.h"
#include "report/html.h"
#include "report/report_style.h"
#include "report/report_tables.h"
#include "report/sections_picture.h"
#include "report/words.h"
#include "score/bite_words.h"
#include "score/scorecard_table.h"

namespace graftwright {
namespace {

std::string title_of(const Case& what) { return what.scenario.title.empty() ? what.scenario.id : what.scenario.title; }

std::string identity(const Case& what) {
    std::string out = "<dl>";
    const auto entry = [&](const char* term, const std::string& value) {
        if (!value.empty()) out += fmt::format("<dt>{}</dt><dd>{}</dd>", term, escaped(value));
    };
    entry("level", what.scenario.id);
    entry("trainee", what.attempt.trainee);
    entry("attempt of", what.attempt.started);
    entry("eye", fmt::format("a model's, {}; bed {:g} mm, donor {:g} mm, {:g} mmHg", word_of(what.scenario.eye.side),
                             what.scenario.eye.bed_diameter_mm, what.scenario.graft.diameter_mm,
                             what.scenario.eye.pressure_mmHg));
    const std::string threads = threads_words(bites_in_order(what.attempt));
    entry("bites", threads.empty()              ? fmt::format("{}", what.card.bite_count)
                   : what.attempt.bites.empty() ? threads
                                                : fmt::format("{}: {}", what.card.bite_count, threads));
    return out + "</dl>";
}

std::string header(const Case& what) {
    return fmt::format(
        "<header><div><p class=\"who\">Lanternmoor Teaching Clinic (invented) · closure report</p><h1>{}</h1></div>{}"
        "</header>\n<p class=\"caution\"><strong>Not for patients.</strong> {}</p>\n",
        escaped(title_of(what)), identity(what), escaped(kCaution));
}

std::string footer(const Case& what, int page) {
    return fmt::format(
        "<footer><span>{}</span><span>training only, not a medical device · {}, {} · sheet {} of "
        "2</span></footer>\n",
        escaped(program_and_model(what)), escaped(what.scenario.id), counted(what.card.bite_count, "bite"), page);
}

std::string verdict(const Case& what) {
    if (!what.card.converged()) {
        return fmt::format(
            "<p class=\"advice\">No closure: {}.</p>\n<p class=\"verdict\">There are no readings, no marks "
            "and no pictures of what was not found.</p>\n",
            escaped(what.card.reason()));
    }
    std::string out;
    if (const std::string sentence = advice(what.attempt, what.card); !sentence.empty()) {
        out += fmt::format("<p class=\"advice\">{}</p>\n", escaped(sentence));
    }
    if (what.card.score) {
        out += fmt::format("<p class=\"verdict\" data-key=\"score.total\"><strong>{} of 100 marks</strong>, {}: ",
                           number_cell(what.card.score->total, 0), what.card.score->passed ? "passed" : "not passed");
        bool first = true;
        for (const PartScore& part : what.card.score->parts) {
            out += fmt::format("{}{} {}", first ? "" : ", ", part_name(part.part), number_cell(part.points, 1));
            first = false;
        }
        out += ".</p>\n";
    }
    return out;
}

// What the columns of tension mean for a thread with one knot.
std::string runs_note(const Case& what) {
    if (what.attempt.runs.empty()) return "";
    return " Bites of a run (r) lie on one thread with one knot, in its last span: tied is the tension there, now the "
           "mean of the thread's tensions on both sides of the bite.";
}

std::string first_sheet(const Case& what) {
    std::string out = "<section class=\"sheet\">\n" + header(what) + verdict(what) +
                      "<div class=\"panels\">\n<div class=\"wide\"><h2>Readings</h2>\n" + readings_table(what) +
                      "</div>\n" + inline_svg(shares_picture(what));
    for (const Curvature kind : {Curvature::axial, Curvature::tangential}) {
        for (const Whose whose : {Whose::attempt, Whose::ideal}) {
            out += inline_svg(curvature_picture(what, whose, kind));
        }
        out += inline_svg(rings_picture(what, kind == Curvature::axial ? Whose::attempt : Whose::ideal));
    }
    return out + "</div>\n" + footer(what, 1) + "</section>\n";
}

std::string second_sheet(const Case& what) {
    std::string out = "<section class=\"sheet\">\n<div class=\"panels\">\n" + inline_svg(leak_picture(what)) +
                      inline_svg(trade_off_picture(what));
    if (const std::string limits = limits_list(what); !limits.empty()) {
        out += "<div><h2>Limits that were broken</h2>\n" + limits + "</div>\n";
    }
    out += "</div>\n" + inline_svg(sections_picture(what));
    if (const std::string bites = bites_table(what); !bites.empty()) {
        out += "<h2>Bite by bite</h2>\n" + bites +
               "<p class=\"note\">tied: what the knot kept; now: in the finished closure, chamber filled; costs, leak: "
               "what this bite alone, as its ideal twin, would take away; steep: its meridian." +
               runs_note(what) + "</p>\n";
    }
    if (const std::string marks = marks_table(what); !marks.empty()) {
        out += "<h2>How the marks come about</h2>\n" + marks;
    }
    return out + sources_line(what) + footer(what, 2) + "</section>\n";
}

}  // namespace

std::string report_html(const Case& what) {
    return fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
        "<meta name=\"generator\" content=\"Graftwright {}\">\n<title>{}</title>\n<style>{}</style>\n</head>\n<body>\n"
        "<main>\n{}{}</main>\n</body>\n</html>\n",
        GRAFTWRIGHT_VERSION,
        escaped(title_of(what) + (what.attempt.trainee.empty() ? "" : ", " + what.attempt.trainee) +
                ": closure report"),
        kReportStyle, first_sheet(what), second_sheet(what));
}

}  // namespace graftwright
