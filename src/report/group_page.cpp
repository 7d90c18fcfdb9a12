#include "report/group_page.h"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/words.h"
#include "logbook/cusum.h"
#include "report/group_pictures.h"
#include "report/html.h"
#include "report/report_style.h"
#include "score/scorecard_table.h"

namespace graftwright {
namespace {

// Beside the report's own sheet: larger in print, and tables that may run over the page.
constexpr const char* kGroupStyle = R"css(
.group .practice td, .group .practice thead th { text-align: center; }
.group .practice { table-layout: fixed; margin-bottom: .8em; } .group .practice th { overflow-wrap: anywhere; }
.group .practice thead th:first-child { width: 11em; }
.group .practice thead th:first-child, .group .skills th:nth-child(2) { text-align: left; }
.group .practice small { color: #3d434b; white-space: nowrap; }
.group .practice td.some { background: #eef2f8; } .group .practice td.much { background: #c9d7ea; }
.group .practice td.none { color: #565d66; }
.group tr { break-inside: avoid; } .group footer { break-before: avoid; }
.group .scroll { overflow-x: auto; }
.group .two { display: grid; grid-template-columns: minmax(0, 3fr) minmax(0, 2fr); gap: 0 24px; align-items: start; }
@media screen and (max-width: 900px) { .group .practice { min-width: 52em; } .group .two { grid-template-columns: 1fr; } }
@media print { .group.sheet { font-size: 8pt; break-inside: auto; } .group .scroll { overflow: visible; }
  .group .panels { grid-template-columns: repeat(3, minmax(0, 1fr)); } .group .panels svg { break-inside: avoid; } }
)css";

std::string day_of(const std::string& utc) { return utc.substr(0, 10); }
std::string name_of(const std::string& trainee) { return trainee.empty() ? "(no name)" : trainee; }

std::string header(const GroupSummary& group, std::size_t levels) {
    std::string facts = "<dl>";
    const auto fact = [&](const char* term, const std::string& value) {
        facts += fmt::format("<dt>{}</dt><dd>{}</dd>", term, escaped(value));
    };
    fact("attempts", std::to_string(group.attempts));
    fact("trainees", std::to_string(group.trainees.size()) + (group.anonymous ? ", by pseudonym" : ""));
    fact("levels", std::to_string(levels));
    if (group.attempts > 0) fact("from, to", day_of(group.first_utc) + ", " + day_of(group.last_utc));
    return "<header><div><p class=\"who\">Graftwright · logbook of a group</p><h1>What the "
           "group "
           "practises, and where points go</h1></div>" +
           facts + "</dl></header>\n" +
           fmt::format("<p class=\"caution\"><strong>Not for patients.</strong> {}</p>\n", escaped(kCaution));
}

// One sentence for who reads no further.
std::string gist(const GroupSummary& group) {
    if (group.losses.empty()) return "<p class=\"advice\">No attempt with a score yet.</p>\n";
    const std::vector<PartLoss>& parts = group.losses.front().parts;
    const auto most = std::max_element(parts.begin(), parts.end(),
                                       [](const PartLoss& a, const PartLoss& b) { return a.lost() < b.lost(); });
    if (most == parts.end()) return "";
    std::string out = fmt::format("<p class=\"advice\">Most points go on {}: {} of {} on the mean.",
                                  part_name(most->part), number_cell(most->lost(), 1), number_cell(most->of, 1));
    if (group.worst_bite) out += fmt::format(" Bite {} costs most.", *group.worst_bite);
    if (!group.flags.empty())
        out +=
            fmt::format(" The most frequent slip: {}, {} of all bites.", escaped(flag_words(group.flags.front().flag)),
                        percent(group.flags.front().bites, group.bites));
    return out + "</p>\n";
}

const PracticeRow* find_practice(const GroupSummary& group, const std::string& trainee, const std::string& scenario) {
    for (const PracticeRow& row : group.practice)
        if (row.trainee == trainee && row.scenario == scenario) return &row;
    return nullptr;
}

std::string practice_cell(const PracticeRow* row, long long most) {
    if (row == nullptr) return "<td class=\"none\">·</td>";
    const char* const shade = 2 * row->attempts > most ? "much" : "some";
    // A drill has a verdict and no score.
    const std::string best =
        row->best_total ? fmt::format("<br><small>best {}</small>", number_cell(row->best_total, 0)) : "";
    return fmt::format("<td class=\"{}\"><strong>{}</strong> <small>{} passed</small>{}</td>", shade, row->attempts,
                       row->passed, best);
}

// Everything a trainee did: attempts, and the day of the last.
std::string practice_total(const GroupSummary& group, const std::string& trainee) {
    long long all = 0;
    std::string last;
    for (const PracticeRow& row : group.practice) {
        if (row.trainee != trainee) continue;
        all += row.attempts;
        last = std::max(last, row.last_utc);
    }
    return fmt::format("<td><strong>{}</strong><br><small>{}</small></td>", all, day_of(last));
}

// One table for some of the levels, as many as stand side by side on a page.
std::string practice_block(const GroupSummary& group, const std::vector<std::string>& levels, bool with_total,
                           long long most) {
    std::string out = "<div class=\"scroll\"><table class=\"practice\"><thead><tr>" + header_cell("trainee");
    if (with_total) out += header_cell("all, last");
    for (const std::string& level : levels) out += header_cell(level);
    out += "</tr></thead>\n<tbody>\n";
    for (const std::string& trainee : group.trainees) {
        out += fmt::format("<tr><th scope=\"row\"><bdi>{}</bdi></th>", escaped(name_of(trainee)));
        if (with_total) out += practice_total(group, trainee);
        for (const std::string& level : levels) out += practice_cell(find_practice(group, trainee, level), most);
        out += "</tr>\n";
    }
    return out + "</tbody></table></div>\n";
}

std::string practice_tables(const GroupSummary& group, const std::set<std::string>& levels) {
    constexpr std::size_t kSideBySide = 8;
    long long most = 0;
    for (const PracticeRow& row : group.practice) most = std::max(most, row.attempts);
    std::string out = "<h2>Who practises what</h2>\n";
    std::vector<std::string> block;
    bool first = true;
    for (auto level = levels.begin(); level != levels.end();) {
        block.push_back(*level++);
        if (block.size() < kSideBySide && level != levels.end()) continue;
        out += practice_block(group, block, first, most);
        block.clear();
        first = false;
    }
    return out +
           "<p class=\"note\">Attempts, how many met every limit of the level, best score of "
           "100 (drills have none). The darker cells hold more than half as many attempts as the fullest one.</p>\n";
}

std::string losses_table(const GroupSummary& group) {
    std::string out =
        "<div><h2>Points lost, level by level</h2>\n<table><thead><tr>" + header_cell("level") + header_cell("scored");
    constexpr Part kParts[] = {Part::optics, Part::seal, Part::apposition, Part::technique};
    for (const Part part : kParts) out += header_cell(part_name(part));
    out += "</tr></thead>\n<tbody>\n";
    for (const LossRow& row : group.losses) {
        out +=
            fmt::format("<tr><th scope=\"row\">{}</th>", escaped(row.scenario.empty() ? "all levels" : row.scenario));
        out += cell(std::to_string(row.attempts));
        for (const Part part : kParts) {
            const auto found = std::find_if(row.parts.begin(), row.parts.end(),
                                            [&](const PartLoss& loss) { return loss.part == part; });
            out += found == row.parts.end() ? cell("–")
                                            : cell(fmt::format("{} <small>of {}</small>", number_cell(found->lost(), 1),
                                                               number_cell(found->of, 0)));
        }
        out += "</tr>\n";
    }
    return out + "</tbody></table></div>\n";
}

std::string worst_bites_table(const GroupSummary& group) {
    constexpr std::size_t kMost = 6;
    std::vector<BiteNumberRow> rows;
    for (const BiteNumberRow& row : group.bite_numbers)
        if (row.shares >= kLeastShares) rows.push_back(row);
    std::stable_sort(rows.begin(), rows.end(),
                     [](const BiteNumberRow& a, const BiteNumberRow& b) { return *a.mean_share_D > *b.mean_share_D; });
    rows.resize(std::min(kMost, rows.size()));
    std::string out = "<div><h2>The bites that cost most</h2>\n<table><thead><tr>";
    for (const char* head : {"bite", "costs D", "leak mmHg", "over a limit", "bites"}) out += header_cell(head);
    out += "</tr></thead>\n<tbody>\n";
    for (const BiteNumberRow& row : rows) {
        out += fmt::format("<tr><th scope=\"row\">{}</th>", row.bite) + cell(number_cell(row.mean_share_D, 2)) +
               cell(number_cell(row.mean_share_leak_mmHg, 1, true)) + cell(percent(row.flagged, row.bites)) +
               cell(std::to_string(row.bites)) + "</tr>\n";
    }
    return out +
           fmt::format(
               "</tbody></table>\n<p class=\"note\">Bites in tying order, all levels together; means over at least {}. Costs: what "
               "replacing the bite alone by its ideal twin takes off the cylinder's vector; leak: what it adds "
               "to the leak pressure.</p></div>\n",
               counted(kLeastShares, "bite"));
}

std::string skills_table(const GroupSummary& group) {
    std::string out = "<h2>Skills and learning curves</h2>\n<table class=\"skills\"><thead><tr>";
    for (const char* head : {"skill", "success in one attempt", "trials", "success"}) out += header_cell(head);
    for (const char* head : {"competent*", "undecided", "below"}) out += header_cell(head);
    out += "</tr></thead>\n<tbody>\n";
    for (const SkillRow& row : group.skills) {
        out += fmt::format("<tr><th scope=\"row\">{}</th><td class=\"words\">{}</td>", row.info->name,
                           escaped(row.info->success)) +
               cell(std::to_string(row.trials)) + cell(percent(row.trials - row.failures, row.trials)) +
               cell(std::to_string(row.competent)) + cell(std::to_string(row.undecided)) +
               cell(std::to_string(row.below_standard)) + "</tr>\n";
    }
    return out + fmt::format("</tbody></table>\n<p class=\"note\">The last three columns count trainees. * {}</p>\n",
                             escaped(competence_words(group.rates)));
}

}  // namespace

std::string group_page_html(const GroupSummary& group) {
    std::set<std::string> levels;
    for (const PracticeRow& row : group.practice) levels.insert(row.scenario);
    std::string body = header(group, levels.size()) + gist(group) + "<div class=\"panels\">\n" +
                       inline_svg(losses_picture(group)) + inline_svg(bite_numbers_picture(group)) +
                       inline_svg(slips_picture(group)) + "</div>\n";
    if (!group.practice.empty()) body += practice_tables(group, levels);
    body += "<div class=\"two\">\n" + losses_table(group) + worst_bites_table(group) + "</div>\n" + skills_table(group);
    body += fmt::format(
        "<footer><span>Graftwright {}; from {} in the logbook</span><span>training only, not a medical "
        "device, "
        "certifies nobody</span></footer>\n",
        GRAFTWRIGHT_VERSION, counted(group.attempts, "attempt"));
    return fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
        "<meta name=\"generator\" content=\"Graftwright {}\">\n<title>Group "
        "logbook</title>\n<style>{}{}</style>\n</head>\n"
        "<body>\n<main>\n<section class=\"sheet group\">\n{}</section>\n</main>\n</body>\n</html>\n",
        GRAFTWRIGHT_VERSION, kReportStyle, kGroupStyle, body);
}

}  // namespace graftwright
