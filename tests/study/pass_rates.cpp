// Prints how expert and careless simulated hands fare at every shipped level.
//   graftwright_pass_rates LEVELS_DIR [HANDS [JOBS [LEVEL…]]]
// Exit code 1 where an expert passes less than 90 % or a careless hand fails less than 80 %.
#include <cstdio>
#include <cstdlib>

#include "course.h"

int main(int argc, char** argv) {
    using namespace graftwright;
    if (argc < 2) {
        std::fprintf(stderr, "usage: graftwright_pass_rates LEVELS_DIR [HANDS [JOBS [LEVEL...]]]\n");
        return 2;
    }
    const int hands = argc > 2 ? std::max(1, std::atoi(argv[2])) : 200;
    const int jobs = argc > 3 ? std::max(1, std::atoi(argv[3])) : 2;
    bool all_earned = true;
    std::printf(
        "| order | level | title | expert passes | careless fails | ideal: cylinder, leak | asked leak / ideal |\n"
        "| --- | --- | --- | --- | --- | --- | --- |\n");
    for (const Scenario& level : scenes::course(argv[1])) {
        const auto wanted = [&](int i) { return level.id == argv[i]; };
        bool asked = argc <= 4;
        for (int i = 4; i < argc; ++i) asked = asked || wanted(i);
        if (!asked) continue;
        const scenes::PassRates rates = scenes::pass_rates(level, hands, jobs);
        const double passes = 100.0 * rates.expert_passed / hands,
                     fails = 100.0 - 100.0 * rates.careless_passed / hands;
        char ideal[64] = "", leak[64] = "";
        if (rates.ideal_leak_mmHg > 0.0) {
            std::snprintf(ideal, sizeof ideal, "%.2f D, %.1f mmHg", rates.ideal_cylinder_D, rates.ideal_leak_mmHg);
            if (level.pass.leak_pressure_mmHg)
                std::snprintf(leak, sizeof leak, "%.2f", *level.pass.leak_pressure_mmHg / rates.ideal_leak_mmHg);
        }
        std::printf("| %d | %s | %s | %.1f %% | %.1f %% | %s | %s |\n", level.order, level.id.c_str(),
                    level.title.c_str(), passes, fails, ideal, leak);
        std::fflush(stdout);
        all_earned = all_earned && passes >= 90.0 && fails >= 80.0;
    }
    return all_earned ? 0 : 1;
}
