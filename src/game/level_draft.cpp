#include "game/level_draft.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <stdexcept>
#include <utility>

#include "base/angle.h"
#include "base/whole_file.h"
#include "files/reader.h"
#include "files/writer.h"
#include "score/bites_in_order.h"
#include "score/even_pattern.h"
#include "study/simulated_hand.h"

namespace graftwright {
namespace {

namespace fs = std::filesystem;

bool has_id(const std::vector<Level>& levels, const std::string& id) {
    return std::any_of(levels.begin(), levels.end(), [&](const Level& level) {
        return (level.scenario && level.scenario->id == id) || fs::path(level.path).stem() == id;
    });
}

std::string free_id(const std::vector<Level>& levels, const std::string& wanted) {
    constexpr std::size_t kLongest = 60;  // leaves room for a number within the 64 that an id may have
    const std::string stem = wanted.substr(0, kLongest);
    std::string id = stem;
    for (int n = 2; has_id(levels, id); ++n) id = stem + "-" + std::to_string(n);
    return id;
}

LevelDraft unchanged(Scenario scenario) {
    LevelDraft draft;
    draft.form.scenario = std::move(scenario);
    draft.opened_text = draft.text();
    return draft;
}

std::string text_in(const std::string& path) {
    const Result<std::string> text = read_text_file(path);
    return text.ok() ? text.value() : "";
}

Fault id_fault(const std::string& path, const std::string& words) { return {path, 0, words, "/id"}; }

// Why this file must not be written; empty where it may.
Faults in_the_way(const LevelDraft& draft, const std::string& path, const std::vector<Level>& levels) {
    std::error_code unknown;
    const std::string& id = draft.form.scenario.id;
    if (path == draft.path) {
        if (!fs::exists(path, unknown) || text_in(path) == draft.file_text) return {};
        return {{path, 0,
                 "the file was changed by somebody else meanwhile, expected it as it was opened: give the draft "
                 "another id",
                 "/id"}};
    }
    const bool of_another = std::any_of(levels.begin(), levels.end(), [&](const Level& level) {
        return level.path != draft.path && level.scenario && level.scenario->id == id;
    });
    if (of_another) return {id_fault(path, "id is \"" + id + "\", expected one that no other level has")};
    if (fs::exists(path, unknown)) return {id_fault(path, "a file of that name is there already, expected another id")};
    return {};
}

// Everything typed for the bites from `first` on moves down by one; what was typed for `first` goes.
void forget_typed(AsTyped& typed, std::size_t first) {
    const std::string bites = "/start/bites/";
    AsTyped kept;
    for (const auto& [place, entry] : typed) {
        if (!place.starts_with(bites)) {
            kept[place] = entry;
            continue;
        }
        const std::size_t slash = place.find('/', bites.size());
        const std::size_t bite = std::stoul(place.substr(bites.size(), slash - bites.size()));
        if (bite == first) continue;
        kept[bites + std::to_string(bite > first ? bite - 1 : bite) + place.substr(slash)] = entry;
    }
    typed = std::move(kept);
}

// The middle of the widest gap between bites in place, those of running threads too.
double widest_gap_deg(const Start& start) {
    std::vector<double> at;
    for (const OrderedBite& bite : bites_in_order(start.bites, start.runs))
        if (!bite.removed) at.push_back(bite.host_deg);
    if (at.empty()) return 90.0;
    std::sort(at.begin(), at.end());
    at.push_back(at.front() + 360.0);
    std::size_t widest = 0;
    for (std::size_t i = 0; i + 1 < at.size(); ++i)
        if (at[i + 1] - at[i] > at[widest + 1] - at[widest] + 1e-9) widest = i;
    return one_turn_deg(0.5 * (at[widest] + at[widest + 1]));
}

}  // namespace

LevelDraft new_level(const std::vector<Level>& levels) {
    Scenario scenario;
    scenario.id = free_id(levels, "my-level");
    scenario.title = "A level of my own";
    // The format's 60 µm are less than the ideal twin of this very form leaves (64); levels of sixteen ask 110.
    scenario.pass.step_um = 110.0;
    for (const Level& level : levels)
        if (level.scenario) scenario.order = std::max(scenario.order, level.scenario->order + 10);
    return unchanged(std::move(scenario));
}

LevelDraft copy_of_level(const Scenario& scenario, const std::vector<Level>& levels) {
    Scenario copy = scenario;
    copy.id = free_id(levels, "my-" + scenario.id);
    return unchanged(std::move(copy));
}

Result<LevelDraft> open_level(const std::string& path) {
    const Result<std::string> text = read_text_file(path);
    if (!text.ok()) return text.faults();
    const Result<ScenarioForm> form = read_form(text.value(), path);
    if (!form.ok()) return form.faults();
    LevelDraft draft;
    draft.form = form.value();
    draft.path = path;
    draft.opened_text = draft.text();
    draft.file_text = text.value();
    return draft;
}

Result<LevelDraft> take_up_unsaved(const std::string& path) {
    Result<LevelDraft> draft = open_level(path);
    if (!draft.ok()) return draft;
    LevelDraft unsaved;
    unsaved.form = draft.take().form;
    return unsaved;
}

Result<Scenario> checked(const LevelDraft& draft) {
    return read_scenario(draft.text(), draft.form.scenario.id + ".json");
}

Result<std::string> save_level(LevelDraft& draft, const std::string& folder, const std::vector<Level>& levels) {
    const Result<Scenario> read = checked(draft);
    if (!read.ok())
        for (const Fault& fault : read.faults())
            if (fault.place == "/id") return fault;
    const std::string path = folder + "/" + draft.form.scenario.id + ".json";
    Faults hindrance = in_the_way(draft, path, levels);
    if (!hindrance.empty()) return hindrance;
    const std::string text = draft.text();
    try {
        write_whole(path, text);
    } catch (const std::runtime_error& error) {
        return Fault{path, 0, error.what()};
    }
    draft.path = path;
    draft.opened_text = draft.file_text = text;
    return path;
}

void start_with_even_ring(LevelDraft& draft, int bites) {
    Scenario empty = draft.form.scenario;
    empty.id = "ring";
    empty.kind = ScenarioKind::closure;
    empty.start = {};
    empty.task.pattern = Pattern::interrupted;  // the ring is of single bites, whatever the trainee is to lay
    empty.task.bites = bites;
    empty.task.time_limit_s.reset();
    empty.task.hand.tremor_um = 0.0;
    if (!read_scenario(write_scenario(empty), "").ok()) {  // no eye to fit them to yet
        empty = Scenario{};
        empty.task.bites = bites;
    }
    RandomStream random(1, 1);  // the faultless hand's errors are all nought
    while (!draft.form.scenario.start.bites.empty()) remove_start_bite(draft, 0);
    draft.form.scenario.start.bites = simulated_attempt(empty, faultless_hand(), random).bites;
}

void add_start_bite(LevelDraft& draft) {
    std::vector<Bite>& bites = draft.form.scenario.start.bites;
    Bite bite = bites.empty() ? Bite{} : bites.back();
    bite.removed = false;
    bite.removed_after = 0;
    bite.host_deg = bite.graft_deg = widest_gap_deg(draft.form.scenario.start);
    bites.push_back(bite);
}

void remove_start_bite(LevelDraft& draft, std::size_t bite) {
    std::vector<Bite>& bites = draft.form.scenario.start.bites;
    if (bite >= bites.size()) return;
    bites.erase(bites.begin() + static_cast<std::ptrdiff_t>(bite));
    forget_typed(draft.form.typed, bite);
}

}  // namespace graftwright
