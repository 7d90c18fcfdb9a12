#include "score/scorecard_table.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/plain_text.h"
#include "base/words.h"
#include "score/bite_metrics.h"
#include "score/bite_words.h"
#include "score/bites_in_order.h"
#include "score/pass_marks.h"

namespace graftwright {
namespace {

std::string bite_rows(const Attempt& attempt, const Scorecard& card) {
    std::string out =
        "bite  o'clock  at deg  tied  now mN  costs D @ deg  leak mmHg  depth g/h  radial  off mark   notes\n";
    const std::vector<OrderedBite> bites = bites_in_order(attempt);
    for (std::size_t b = 0; b < bites.size(); ++b) {
        const OrderedBite& bite = bites[b];
        const BiteMetrics& m = card.bites[b];
        const auto& share = card.shares[b];
        std::string notes = run_name(bite);
        if (!m.flags.empty()) notes += (notes.empty() ? "" : ", ") + flags_words(m.flags);
        out += fmt::format(
            "{:>4}  {:>7}  {:6.1f}  {:4.1f}  {:>6}  {:>13}  {:>9}  {:4.2f}/{:4.2f}  {:+6.1f}  {:+8.1f}{}{}\n", b + 1,
            clock_hour(bite.host_deg), bite.host_deg, bite.tension_mN,
            card.converged() ? fmt::format("{:.1f}", card.attempt.tension_mN[b]) : "-",
            share ? fmt::format("{:.2f} @ {:3.0f}", share->share_D, share->share_axis_deg) : "-",
            share ? fmt::format("{:+.1f}", share->share_leak_mmHg) : "-", m.depth_fraction_graft, m.depth_fraction_host,
            m.radial_error_deg, m.spacing_error_deg, notes.empty() ? "" : "   ", notes);
    }
    return out;
}

std::string readings(const Scenario& scenario, const Scorecard& card) {
    const Keratometry& k = *card.attempt.keratometry;
    const WoundTest& w = card.attempt.wound;
    std::string out = fmt::format(
        "keratometry  steep {:.2f} D @ {:.0f}°   flat {:.2f} D   mean {:.2f} D   cylinder {:.2f} D   (at {:g} mmHg)\n",
        k.steep_D, k.steep_axis_deg, k.flat_D, k.mean_D, k.cylinder_D, scenario.eye.pressure_mmHg);
    out += fmt::format("             power vector M {:.2f}  J0 {}  J45 {} D", k.power.M_D,
                       shown_number(k.power.J0_D, 2, true), shown_number(k.power.J45_D, 2, true));
    if (card.attempt.hoa_rms_um) out += fmt::format("   irregularity {:.2f} µm RMS (4 mm)", *card.attempt.hoa_rms_um);
    out += "\n";
    if (card.ideal) {
        out += fmt::format("ideal twin   cylinder {:.2f} D   mean {:.2f} D   leak pressure {:.1f} mmHg\n",
                           card.ideal->keratometry->cylinder_D, card.ideal->keratometry->mean_D,
                           card.ideal->wound.leak_pressure_mmHg);
    }
    out += fmt::format("wound        {}   leak pressure {}{:.1f} mmHg, weakest at {}",
                       w.leak_pressure_mmHg >= scenario.eye.pressure_mmHg ? "watertight" : "LEAKS",
                       w.capped ? "over " : "", w.leak_pressure_mmHg, place_words(w.weakest_deg));
    if (w.leak_uL_min > 0.0) {
        out += fmt::format("\n             leaks {:.2f} µL/min, the chamber settles at {:.1f} mmHg", w.leak_uL_min,
                           w.settled_pressure_mmHg);
    }
    out += fmt::format("\n             largest step {:.0f} µm   posterior gape {:.0f} µm\n", max_step_um(card.attempt),
                       max_posterior_gape_um(card.attempt));
    return out;
}

std::string marks(const Score& score) {
    std::string out = fmt::format("score        {:.0f} of 100:", score.total);
    for (const PartScore& part : score.parts) {
        out += part.points ? fmt::format("   {} {:.1f}", part_name(part.part), *part.points)
                           : fmt::format("   {} -", part_name(part.part));
    }
    std::string missed;
    for (const PassMark& mark : score.marks) {
        if (mark.met()) continue;
        missed += fmt::format("{} {} {} ({} {:g})", missed.empty() ? ":" : ";", mark.name(),
                              with_unit(shown_number(mark.measured, 2), mark.unit()),
                              mark.at_least() ? "at least" : "at most", mark.limit);
    }
    return out + fmt::format("\n             {}{}\n", score.passed ? "passed" : "not passed", missed);
}

// What at least half of the bites have in common is the hand's habit, not one bite's fault.
std::string habit_of(const Scorecard& card) {
    constexpr std::array<std::pair<BiteFlag, const char*>, 7> kHabits{
        {{BiteFlag::enters_chamber, "go through into the chamber"},
         {BiteFlag::shallow_graft, "are shallow in the donor"},
         {BiteFlag::shallow_host, "are shallow in the host"},
         {BiteFlag::short_graft, "are short in the donor"},
         {BiteFlag::short_host, "are short in the host"},
         {BiteFlag::long_graft, "are long in the donor"},
         {BiteFlag::long_host, "are long in the host"}}};
    for (const auto& [flag, words] : kHabits) {
        std::size_t count = 0;
        for (const BiteMetrics& bite : card.bites) count += bite.has(flag) ? 1U : 0U;
        if (count > 0 && 2 * count >= card.bites.size())
            return fmt::format("No single bite stands out, but {} of {} {}: a habit of the hand.", count,
                               card.bites.size(), words);
    }
    return "";
}

// A run that is tight at its knot and loose across was not worked round: no single bite's fault. "" where none is so
// uneven, or where that costs little beside the dearest bite.
std::string advice_on_runs(const Attempt& attempt, const Scorecard& card, double dearest_bite_D) {
    constexpr double kUneven = 2.0, kLeakCost_mmHg = 5.0;  // our choice
    for (std::size_t r = 0; r < card.attempt.span_mN.size() && card.ideal; ++r) {
        const std::vector<double>& spans = card.attempt.span_mN[r];
        const auto [least, most] = std::minmax_element(spans.begin(), spans.end());
        if (*most < kUneven * *least) continue;
        const double bends_D = card.interactions ? keratometry_of_vector(*card.interactions).cylinder_D : 0.0;
        const double leak_mmHg = card.ideal->wound.leak_pressure_mmHg - card.attempt.wound.leak_pressure_mmHg;
        if (bends_D < dearest_bite_D && leak_mmHg < kLeakCost_mmHg) continue;
        return fmt::format(
            "Run {} pulls with {:.0f} mN at its tightest and {:.0f} mN at its loosest{}: {}.", r + 1, *most, *least,
            leak_mmHg >= kLeakCost_mmHg ? fmt::format(", which costs {:.0f} mmHg of seal", leak_mmHg) : "",
            attempt.runs[r].worked_mN.value_or(attempt.runs[r].tension_mN) < attempt.runs[r].tension_mN
                ? "work the slack round before you lock the knot"
                : "ease the knot until it is no tighter than the rest");
    }
    return "";
}

}  // namespace

std::string advice(const Attempt& attempt, const Scorecard& card) {
    const std::vector<OrderedBite> bites = bites_in_order(attempt);
    std::size_t worst = card.shares.size();
    for (std::size_t b = 0; b < card.shares.size(); ++b) {
        if (card.shares[b] && (worst == card.shares.size() || card.shares[b]->share_D > card.shares[worst]->share_D))
            worst = b;
    }
    if (worst == card.shares.size()) return "";
    const BiteShare& share = *card.shares[worst];
    const BiteMetrics& m = card.bites[worst];
    const std::string on_runs = advice_on_runs(attempt, card, share.share_D);
    if (!on_runs.empty()) return on_runs;
    // Below this no bite is to blame: a third of a dioptre is within what tying in order leaves (our choice).
    constexpr double kNothingToBlame_D = 0.3;
    if (share.share_D < kNothingToBlame_D) {
        const std::string habit = habit_of(card);
        return habit.empty() ? "No single bite stands out: the closure is even." : habit;
    }
    std::vector<std::string> causes;
    if (m.has(BiteFlag::off_slot)) causes.push_back(shown_number(m.spacing_error_deg, 0, true) + "° off its mark");
    if (m.has(BiteFlag::not_radial)) causes.push_back(shown_number(m.radial_error_deg, 0, true) + "° off the radius");
    if (m.has(BiteFlag::tight)) causes.push_back("tied tighter than the others");
    if (m.has(BiteFlag::loose)) causes.push_back("looser than the others");
    if (m.has(BiteFlag::shallow_graft) || m.has(BiteFlag::shallow_host)) causes.push_back("too shallow");
    if (m.has(BiteFlag::depths_differ)) causes.push_back("of unequal depth on its two sides");
    std::string why;
    for (std::size_t i = 0; i < causes.size(); ++i) why += (i == 0 ? ", " : " and ") + causes[i];
    std::string name = bite_name(bites, worst);
    name.front() = 'B';
    return fmt::format("{} at {}{}: it alone costs {:.1f} D (steep axis {:.0f}°). Look at it first.", name,
                       place_words(bites[worst].host_deg), why, share.share_D, share.share_axis_deg);
}

std::string scorecard_table(const Scenario& scenario, const Attempt& attempt, const Scorecard& card) {
    const std::string trainee = attempt.trainee.empty() ? "" : " — " + one_line(attempt.trainee);
    std::string out = fmt::format("{} — {}{}\n{}\n\n", one_line(scenario.title.empty() ? scenario.id : scenario.title),
                                  counted(card.bite_count, "bite"), trainee, kCaution);
    if (!card.converged()) {
        out += fmt::format("no closure: {}\n", card.reason());
        if (!card.bites.empty()) out += "\n" + bite_rows(attempt, card);
        return out;
    }
    out += readings(scenario, card);
    if (card.score) out += marks(*card.score);
    const std::string sentence = advice(attempt, card);
    if (!sentence.empty()) out += "advice       " + sentence + "\n";
    out += "\n" + bite_rows(attempt, card);
    if (card.interactions) {
        out += fmt::format("what no single bite explains: J0 {}, J45 {} D\n",
                           shown_number(card.interactions->J0_D, 2, true),
                           shown_number(card.interactions->J45_D, 2, true));
    }
    return out;
}

std::string scorecard_explanation(const Scorecard& card) {
    if (!card.score) return "";
    std::string out = "how the score comes about (full marks / none at; linear between; all scaled to 100)\n";
    for (const Rule& rule : card.score->rules) {
        out += fmt::format(
            "  {:<10}  {}\n              measured {}   full {:g}   none {:g}   {:.2f} of {:.3g} points   [{}]\n",
            part_name(rule.part), rule.what, with_unit(shown_number(rule.measured, 3), rule.unit), rule.full, rule.none,
            rule.points * rule.share_earned(), rule.points, rule.source);
    }
    out += "passed means:\n";
    for (const PassMark& mark : card.score->marks) {
        out += fmt::format("  {:<14} {} {}: measured {}, {}\n", mark.name(), mark.at_least() ? "at least" : "at most",
                           with_unit(fmt::format("{:g}", mark.limit), mark.unit()), shown_number(mark.measured, 3),
                           mark.met() ? "met" : "not met");
    }
    return out;
}

}  // namespace graftwright
