#include "app/study_command.h"

#include <algorithm>
#include <charconv>
#include <cstdio>
#include <optional>
#include <string_view>
#include <thread>
#include <unistd.h>

#include "app/commands.h"
#include "files/reader.h"
#include "study/study_csv.h"

namespace graftwright {
namespace {

std::optional<int> whole_number(std::string_view text) {
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
    return value;
}

// "2/5" → part 2 of 5.
bool read_shard(const std::string& text, StudyOptions& options) {
    const std::size_t slash = text.find('/');
    if (slash == std::string::npos) return false;
    const std::optional<int> part = whole_number(std::string_view(text).substr(0, slash));
    const std::optional<int> parts = whole_number(std::string_view(text).substr(slash + 1));
    if (!part || !parts || *part < 1 || *part > *parts) return false;
    options.shard = *part;
    options.shards = *parts;
    return true;
}

Result<Scenario> scenario_named(const std::string& name) {
    const bool a_file = name == "-" || name.find('/') != std::string::npos || name.ends_with(".json");
    if (!a_file) return find_scenario(name, levels_folder() + "/", levels_folder());
    const Result<std::string> text = read_text_file(name);
    if (!text.ok()) return text.faults();
    return read_scenario(text.value(), name == "-" ? "<stdin>" : name);
}

}  // namespace

int StudyCommand::run() const {
    StudyOptions options;
    if (!read_shard(shard, options)) {
        std::fprintf(stderr, "--shard is \"%s\", expected I/K with I from 1 to K\n", shard.c_str());
        return kWrongUsage;
    }
    Result<Scenario> read = scenario_named(scenario);
    if (!read.ok()) {
        for (const Fault& fault : read.faults()) std::fprintf(stderr, "%s\n", fault.text().c_str());
        return kInputFault;
    }
    const Scenario level = read.take();
    options.skill = hand == "careless" ? careless_hand() : expert_hand();
    options.trials = trials;
    options.seed = seed;
    options.jobs = jobs > 0 ? jobs : static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
    options.shares = shares;
    if (isatty(STDERR_FILENO) != 0)
        options.progress = [](std::size_t done, std::size_t all) {
            std::fprintf(stderr, "\rhand %zu of %zu%s", done, all, done == all ? "\r\033[K" : "");
            std::fflush(stderr);
        };
    const ScenarioModel model(level);
    std::fputs(study_csv_header().c_str(), stdout);
    for (const Trial& trial : run_study(model, options))
        std::fputs(study_csv_row(level.id, options, trial).c_str(), stdout);
    return kDone;
}

}  // namespace graftwright
