// graftwright_experts SCENARIO.json [N]: solves N simulated experts (default 60) and writes their table.
//   for id in $(ls levels/experts | sed s/.csv//); do graftwright_experts levels/$id.json > levels/experts/$id.csv; done
#include "report/experts.h"

#include <cstdio>
#include <cstdlib>
#include <string>

#include "files/reader.h"

int main(int argc, char** argv) {
    using namespace graftwright;
    if (argc < 2 || argc > 3) {
        std::fprintf(stderr, "usage: graftwright_experts SCENARIO.json [N]\n");
        return 2;
    }
    const std::string path = argv[1];
    const Result<std::string> text = read_text_file(path);
    if (!text.ok()) {
        std::fprintf(stderr, "%s\n", text.faults().front().text().c_str());
        return 1;
    }
    const Result<Scenario> scenario = read_scenario(text.value(), path);
    if (!scenario.ok()) {
        for (const Fault& fault : scenario.faults()) std::fprintf(stderr, "%s\n", fault.text().c_str());
        return 1;
    }
    const bool scaffold = scenario.value().task.pattern == Pattern::running ||
                          scenario.value().task.pattern == Pattern::double_running;
    if ((!scaffold && !scenario.value().start.bites.empty()) || !scenario.value().start.runs.empty()) {
        std::fprintf(stderr, "%s: experts start from an empty bed, or from single bites that hold it for a run\n",
                     path.c_str());
        return 1;
    }
    const ScenarioModel model(scenario.value());
    std::vector<Expert> rows;
    const int count = argc > 2 ? std::atoi(argv[2]) : 60;
    for (int index = 0; index < count; ++index) {
        if (const auto row = solve_expert(model, kExpertSeed, index)) rows.push_back(*row);
    }
    std::fputs(write_experts(scenario.value(), kExpertSeed, rows).c_str(), stdout);
    return 0;
}
