// Prints how expert and careless simulated hands fare at every shipped level.
//   graftwright_pass_rates LEVELS_DIR [HANDS [JOBS [LEVEL…]]]
//   graftwright_pass_rates --input LEVELS_DIR [HANDS [JOBS [LEVEL…]]]
// With --input the hands play the game itself, through a device that shakes (2 px, a notch, 80 ms late).
// Exit code 1 where an expert passes less than 90 % or a careless hand fails less than 80 %.
#include <cstdio>
#include <cstdlib>

#include "../scenes/level_hand.h"
#include "base/on_threads.h"
#include "course.h"

namespace {

using namespace graftwright;

struct Wanted {
    std::string levels;
    int hands = 200, jobs = 2;
    std::vector<std::string> ids;  // empty: all
    [[nodiscard]] bool holds(const Scenario& level) const {
        return ids.empty() || std::find(ids.begin(), ids.end(), level.id) != ids.end();
    }
};

bool print_row(const Scenario& level, const Wanted& wanted) {
    const scenes::PassRates rates = scenes::pass_rates(level, wanted.hands, wanted.jobs);
    const double passes = 100.0 * rates.expert_passed / wanted.hands,
                 fails = 100.0 - 100.0 * rates.careless_passed / wanted.hands;
    char ideal[64] = "", leak[64] = "";
    if (rates.ideal_leak_mmHg > 0.0) {
        std::snprintf(ideal, sizeof ideal, "%.2f D, %.1f mmHg", rates.ideal_cylinder_D, rates.ideal_leak_mmHg);
        if (level.pass.leak_pressure_mmHg)
            std::snprintf(leak, sizeof leak, "%.2f", *level.pass.leak_pressure_mmHg / rates.ideal_leak_mmHg);
    }
    std::printf("| %d | %s | %s | %.1f %% | %.1f %% | %s | %s |\n", level.order, level.id.c_str(), level.title.c_str(),
                passes, fails, ideal, leak);
    return passes >= 90.0 && fails >= 80.0;
}

// How many of the hands pass at the input; the first that does otherwise than expected says why on stderr.
int passed_at_input(const std::shared_ptr<const ScenarioModel>& model, const DrillJudge* judge, const HandSkill& skill,
                    bool expected, const Wanted& wanted) {
    std::vector<scenes::PlayedLevel> played(static_cast<std::size_t>(wanted.hands));
    on_threads(played.size(), wanted.jobs, [&](std::size_t i) {
        scenes::InputNoise noise;
        noise.seed = i + 1;
        played[i] = scenes::play_level(model, judge, skill, noise);
    });
    int passed = 0;
    for (std::size_t i = 0; i < played.size(); ++i) {
        passed += played[i].passed ? 1 : 0;
        if (played[i].passed != expected)
            std::fprintf(stderr, "  %s hand %zu: %s\n", std::string(skill.name).c_str(), i + 1, played[i].why.c_str());
    }
    return passed;
}

bool print_input_row(const Scenario& level, const Wanted& wanted) {
    const auto model = std::make_shared<const ScenarioModel>(level);
    const auto judge =
        level.kind == ScenarioKind::closure ? nullptr : std::make_unique<const DrillJudge>(*model, wanted.jobs);
    const double expert = passed_at_input(model, judge.get(), expert_hand(), true, wanted),
                 careless = passed_at_input(model, judge.get(), careless_hand(), false, wanted);
    const double passes = 100.0 * expert / wanted.hands, fails = 100.0 - 100.0 * careless / wanted.hands;
    std::printf("| %d | %s | %.0f %% | %.0f %% |\n", level.order, level.id.c_str(), passes, fails);
    return passes >= 90.0 && fails >= 80.0;
}

}  // namespace

int main(int argc, char** argv) {
    const bool input = argc > 1 && std::string(argv[1]) == "--input";
    const int first = input ? 2 : 1;
    if (argc <= first) {
        std::fprintf(stderr, "usage: graftwright_pass_rates [--input] LEVELS_DIR [HANDS [JOBS [LEVEL...]]]\n");
        return 2;
    }
    Wanted wanted;
    wanted.levels = argv[first];
    if (argc > first + 1) wanted.hands = std::max(1, std::atoi(argv[first + 1]));
    if (argc > first + 2) wanted.jobs = std::max(1, std::atoi(argv[first + 2]));
    for (int i = first + 3; i < argc; ++i) wanted.ids.emplace_back(argv[i]);
    std::puts(input ? "| order | level | expert passes | careless fails |\n| --- | --- | --- | --- |"
                    : "| order | level | title | expert passes | careless fails | ideal: cylinder, leak | asked leak / ideal |\n"
                      "| --- | --- | --- | --- | --- | --- | --- |");
    bool all_earned = true;
    for (const Scenario& level : scenes::course(wanted.levels)) {
        if (!wanted.holds(level)) continue;
        const bool earned = input ? print_input_row(level, wanted) : print_row(level, wanted);
        std::fflush(stdout);
        all_earned = all_earned && earned;
    }
    return all_earned ? 0 : 1;
}
