#include "logbook/skills.h"

#include <algorithm>
#include <vector>

#include "score/bite_metrics.h"
#include "score/bite_words.h"
#include "score/pass_marks.h"

namespace graftwright {
namespace {

constexpr std::size_t kBitesPerSlip = 8;     // one bite in eight may slip: our choice
constexpr std::size_t kLeastForSpacing = 4;  // fewer have no even pattern worth the name
constexpr std::size_t kLeastForClosure = 3;  // fewer never close a wound, whatever the hand

// own: numbers of the hand's bites.
std::optional<bool> hand_skill(const Scorecard& card, const std::vector<std::size_t>& own, std::size_t least,
                               std::initializer_list<BiteFlag> flags) {
    std::size_t bites = 0, slips = 0;
    for (const std::size_t b : own) {
        const BiteMetrics& bite = card.bites[b];
        if (bite.has(BiteFlag::removed)) continue;
        ++bites;
        if (bite.has_any(flags)) ++slips;
    }
    if (bites < least) return std::nullopt;
    return slips * kBitesPerSlip <= bites;
}

// Whether a limit of the scenario was met; a closure that was not found meets none.
std::optional<bool> limit_met(const Scorecard& card, Mark which) {
    if (!card.score) return card.bite_count >= kLeastForClosure ? std::optional<bool>(false) : std::nullopt;
    for (const PassMark& mark : card.score->marks)
        if (mark.mark == which) return mark.met();
    return std::nullopt;
}

std::optional<bool> closure_met(const Scorecard& card) {
    if (!card.score) return card.bite_count >= kLeastForClosure ? std::optional<bool>(false) : std::nullopt;
    if (card.score->marks.empty()) return std::nullopt;
    return card.score->passed;
}

}  // namespace

Outcomes judge_skills(const Scenario& scenario, const Scorecard& card, const std::vector<Run>& runs) {
    Outcomes out;
    const std::vector<std::size_t> own = bites_of_the_hand(scenario.start, card.bites.size(), runs);
    const auto set = [&](Skill skill, std::optional<bool> outcome) { out[static_cast<std::size_t>(skill)] = outcome; };
    using enum BiteFlag;
    set(Skill::depth,
        hand_skill(card, own, 1, {shallow_graft, shallow_host, deep_graft, deep_host, depths_differ, enters_chamber}));
    set(Skill::length, hand_skill(card, own, 1, {short_graft, short_host, long_graft, long_host, ratio}));
    set(Skill::direction, hand_skill(card, own, 1, {not_radial}));
    set(Skill::spacing, hand_skill(card, own, kLeastForSpacing, {off_slot}));
    // Without a closure there are no final tensions, and so no flags of theirs.
    if (card.converged()) set(Skill::tension, hand_skill(card, own, 2, {loose, tight, would_break}));
    if (scenario.kind != ScenarioKind::closure) return out;
    set(Skill::seal, limit_met(card, Mark::leak_pressure));
    set(Skill::optics, limit_met(card, Mark::cylinder));
    set(Skill::closure, closure_met(card));
    return out;
}

std::string letters_of(const Outcomes& outcomes) {
    std::string letters;
    for (const std::optional<bool>& outcome : outcomes) letters += !outcome ? '.' : *outcome ? '+' : '-';
    return letters;
}

std::optional<bool> outcome_in(std::string_view letters, Skill skill) {
    const auto place = static_cast<std::size_t>(skill);
    if (place >= letters.size() || (letters[place] != '+' && letters[place] != '-')) return std::nullopt;
    return letters[place] == '+';
}

}  // namespace graftwright
