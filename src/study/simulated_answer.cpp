// A simulated hand's answer to a drill: the careless one guesses, the expert finds what is wrong.
#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "base/statistics.h"
#include "score/scenario_model.h"
#include "study/simulated_hand.h"

namespace graftwright {
namespace {

std::vector<std::size_t> bites_in_place(const std::vector<Bite>& bites) {
    std::vector<std::size_t> all;
    for (std::size_t b = 0; b < bites.size(); ++b)
        if (!bites[b].removed) all.push_back(b);
    return all;
}

DrillAnswer guess(const Scenario& scenario, RandomStream& random) {
    const std::vector<std::size_t> bites = bites_in_place(scenario.start.bites);
    const auto any = [&] { return bites[random.below(bites.size())]; };
    DrillAnswer answer;
    if (scenario.kind == ScenarioKind::read_rings) {
        answer.bite = any();
        answer.loosen = random.chance(0.5);
    } else if (scenario.kind == ScenarioKind::find_leak) {
        answer.at_deg = 15.0 * static_cast<double>(random.below(24));
        answer.retie = any();
    } else {
        answer.remove = {any()};
        const std::size_t second = any();
        if (second != answer.remove.front()) answer.remove.push_back(second);
    }
    return answer;
}

// How tight each bite looks against the usual, as a ratio read with an error.
std::vector<double> tightness_read(const std::vector<std::size_t>& bites, const std::vector<double>& tension_mN,
                                   double reading_sd, RandomStream& random) {
    std::vector<double> values;
    for (const std::size_t b : bites) values.push_back(tension_mN[b]);
    const double usual = std::max(median(values), 1e-6);
    for (double& value : values) value = value / usual + reading_sd * random.normal();
    return values;
}

DrillAnswer read_rings(const std::vector<std::size_t>& bites, const std::vector<double>& tight) {
    const auto unlike = std::max_element(tight.begin(), tight.end(),
                                         [](double a, double b) { return std::abs(a - 1.0) < std::abs(b - 1.0); });
    DrillAnswer answer;
    answer.bite = bites[static_cast<std::size_t>(unlike - tight.begin())];
    answer.loosen = *unlike > 1.0;
    return answer;
}

DrillAnswer find_leak(const std::vector<Bite>& bites, const std::vector<std::size_t>& in_place, double leaks_deg,
                      double seen_deg) {
    const std::size_t nearest = *std::min_element(in_place.begin(), in_place.end(), [&](std::size_t a, std::size_t b) {
        return apart_deg(bites[a].host_deg, leaks_deg) < apart_deg(bites[b].host_deg, leaks_deg);
    });
    // A leak at a bite is that bite's fault; in a gap wider than most it is the gap's.
    const double pitch = 360.0 / static_cast<double>(in_place.size());
    DrillAnswer answer;
    answer.at_deg = seen_deg;
    if (apart_deg(bites[nearest].host_deg, leaks_deg) < 0.5 * pitch)
        answer.retie = nearest;
    else
        answer.add_at_deg = seen_deg;
    return answer;
}

}  // namespace

DrillAnswer simulated_answer(const Scenario& scenario, const DrillJudge& judge, const HandSkill& skill,
                             RandomStream& random) {
    const std::vector<Bite>& bites = scenario.start.bites;
    if (skill.guesses || !judge.start() || judge.start()->tension_mN.empty()) return guess(scenario, random);
    const std::vector<std::size_t> in_place = bites_in_place(bites);
    if (scenario.kind == ScenarioKind::find_leak) {
        const double leaks_deg = judge.start()->wound.weakest_deg;
        return find_leak(bites, in_place, leaks_deg, leaks_deg + skill.place_sd_deg * random.normal());
    }
    const std::vector<double> tight = tightness_read(in_place, judge.start()->tension_mN, skill.reading_sd, random);
    if (scenario.kind == ScenarioKind::read_rings) return read_rings(in_place, tight);
    constexpr double kTooTight = 1.4;  // of the usual tension: dimpled, with folds; our choice
    DrillAnswer answer;
    for (std::size_t i = 0; i < tight.size(); ++i)
        if (tight[i] > kTooTight) answer.remove.push_back(in_place[i]);
    return answer;
}

}  // namespace graftwright
