#include "app/study_command.h"

#include <algorithm>
#include <charconv>
#include <optional>
#include <string_view>
#include <thread>

#include "app/commands.h"
#include "app/terminal.h"
#include "base/plain_text.h"
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

}  // namespace

int StudyCommand::run() const {
    StudyOptions options;
    if (!read_shard(shard, options)) {
        say("--shard is \"" + one_line(shard) + "\", expected I/K with I from 1 to K\n");
        return kWrongUsage;
    }
    Result<Scenario> read = read_level(scenario, levels_folder());
    if (!read.ok()) {
        tell(read.faults());
        return kInputFault;
    }
    const Scenario level = read.take();
    options.skill = hand == "careless" ? careless_hand() : expert_hand();
    options.trials = trials;
    options.seed = seed;
    options.jobs = jobs > 0 ? jobs : static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
    options.shares = shares;
    options.progress = progress_on_terminal("hand");
    const ScenarioModel model(level);
    print_data(study_csv_header());
    for (const Trial& trial : run_study(model, options)) print_data(study_csv_row(level.id, options, trial));
    return kDone;
}

}  // namespace graftwright
