#include "report/experts.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>

#include <fmt/format.h>

#include "base/random.h"
#include "base/units.h"
#include "files/reader.h"
#include "hand/tying_order.h"
#include "score/even_pattern.h"
#include "score/ideal_twin.h"
#include "score/measured_closure.h"

namespace graftwright {
namespace {

constexpr double kLeastTension_mN = 7.0, kMostTension_mN = 30.0;
constexpr double kHostScatter_deg = 1.0, kDonorScatter_deg = 0.6, kSkewScatter_mm = 0.03, kLengthScatter_mm = 0.07;
constexpr double kDepthScatter = 0.028, kDeepestDepth = 0.97, kTensionScatter = 0.08;
constexpr double kWorkedOverKnot = 1.9;  // belt friction of a bite: exp(0.1 · a whole turn and the surface's)
constexpr double kEntry_deg = 86.0, kEntryScatter_deg = 3.0;

// A running count, its bits mixed (base/random.h): the same numbers on every machine.
class Chance {
  public:
    Chance(std::uint64_t seed, int index) : state_(seed * 0x9E3779B97F4A7C15U + static_cast<std::uint64_t>(index)) {}

    [[nodiscard]] double uniform() {  // in (0, 1)
        state_ += 0x9E3779B97F4A7C15U;
        return (static_cast<double>(mixed_bits(state_) >> 11U) + 0.5) * 0x1p-53;
    }
    [[nodiscard]] double normal() {  // Box and Muller
        const double length = std::sqrt(-2 * std::log(uniform()));
        return length * std::cos(2 * kPi * uniform());
    }

  private:
    std::uint64_t state_;
};

double drawn_tension_mN(Chance& chance) {
    return kLeastTension_mN * std::pow(kMostTension_mN / kLeastTension_mN, chance.uniform());
}

constexpr std::string_view kTitle = "# graftwright simulated experts, version 1";

std::string digest_line(const Scenario& scenario) {
    return fmt::format("# solved for {:016x}", mechanics_digest(scenario));
}

bool take_line(std::string_view& text, std::string_view& line) {
    if (text.empty()) return false;
    const std::size_t end = std::min(text.find('\n'), text.size());
    line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    return true;
}

std::optional<Expert> expert_of(std::string_view line) {
    std::vector<double> numbers;
    while (true) {
        const std::size_t end = std::min(line.find(','), line.size());
        double number = 0;
        const auto [rest, error] = std::from_chars(line.data(), line.data() + end, number);
        if (error != std::errc() || rest != line.data() + end || !std::isfinite(number)) return std::nullopt;
        numbers.push_back(number);
        if (end == line.size()) break;
        line.remove_prefix(end + 1);
    }
    if (numbers.size() != 5) return std::nullopt;
    return Expert{static_cast<int>(numbers[0]), numbers[1], numbers[2], numbers[3], numbers[4]};
}

}  // namespace

double expert_tension_mN(std::uint64_t seed, int index) {
    Chance chance(seed, index);
    return drawn_tension_mN(chance);
}

Attempt expert_attempt(const Scenario& scenario, std::uint64_t seed, int index) {
    Chance chance(seed, index);
    const double tension_mN = drawn_tension_mN(chance);
    const auto bite_at = [&](double slot) {
        Bite bite;
        const auto depth_um = [&](double thickness_um) {
            return thickness_um * std::min(kDeepestDepth, kTwinDepth + kDepthScatter * chance.normal());
        };
        const auto angle_deg = [&] { return std::min(90.0, kEntry_deg + kEntryScatter_deg * chance.normal()); };
        bite.host_deg = slot + kHostScatter_deg * chance.normal();
        bite.graft_deg = bite.host_deg + kDonorScatter_deg * chance.normal();
        bite.graft_skew_mm = kSkewScatter_mm * chance.normal();
        bite.host_skew_mm = kSkewScatter_mm * chance.normal();
        bite.graft_bite_mm = kTwinBite_mm + kLengthScatter_mm * chance.normal();
        bite.host_bite_mm = kTwinBite_mm + kLengthScatter_mm * chance.normal();
        bite.graft_depth_um = depth_um(scenario.graft.thickness_um);
        bite.host_depth_um = depth_um(scenario.eye.rim_thickness_um);
        bite.graft_entry_deg = angle_deg();
        bite.host_exit_deg = angle_deg();
        bite.tension_mN = tension_mN * (1 + kTensionScatter * chance.normal());
        return bite;
    };
    Attempt attempt;
    attempt.scenario = scenario.id;
    attempt.bites = scenario.start.bites;
    const TaskSlots slots = task_slots(scenario.task.pattern, scenario.task.bites);
    if (!slots.single_deg.empty()) {
        for (const double slot : cardinal_first_deg(static_cast<int>(slots.single_deg.size())))
            attempt.bites.push_back(bite_at(slot));
    } else {
        for (Bite& bite : attempt.bites) bite.removed = true;  // they only held the donor meanwhile
    }
    for (const std::vector<double>& lay : slots.run_deg) {
        Run run;
        for (const double slot : lay) run.bites.push_back({static_cast<const BitePath&>(bite_at(slot))});
        // Worked round, then the knot drawn to half of that, which is what friction left the other spans.
        run.worked_mN = kWorkedOverKnot * tension_mN * (1 + kTensionScatter * chance.normal());
        run.tension_mN = tension_mN * (1 + kTensionScatter * chance.normal());
        attempt.runs.push_back(run);
    }
    return attempt;
}

std::optional<Expert> solve_expert(const ScenarioModel& model, std::uint64_t seed, int index) {
    const Attempt attempt = expert_attempt(model.scenario(), seed, index);
    MeasureOptions options;
    options.irregularity = false;
    const ClosureMeasures measures = measure_closure(model, plan_closure(model, attempt.bites, attempt.runs), options);
    if (!measures.status.converged || !measures.keratometry) return std::nullopt;
    return Expert{index, expert_tension_mN(seed, index), measures.keratometry->cylinder_D, measures.keratometry->mean_D,
                  measures.wound.leak_pressure_mmHg};
}

std::uint64_t mechanics_digest(const Scenario& scenario) {
    const Eye& e = scenario.eye;
    const Graft& g = scenario.graft;
    const ThreadSpec& t = scenario.thread;
    std::string all =
        fmt::format("{} {} {} {} {} {} {} {} {} {} / {} {} {} {} {} / {} {} / {} {} {}", e.bed_diameter_mm,
                    e.bed_ovality_mm, e.bed_ovality_axis_deg, e.bed_shift_mm[0], e.bed_shift_mm[1], e.rim_thickness_um,
                    e.limbus_diameter_mm, e.anterior_radius_mm, e.modulus_kPa, e.pressure_mmHg, g.diameter_mm,
                    g.ovality_mm, g.ovality_axis_deg, g.thickness_um, g.modulus_kPa, t.diameter_um, t.modulus_GPa,
                    scenario.task.bites, scenario.start.bites.size(), scenario.start.runs.size());
    // Another pattern is another closure; single bites say nothing of it, so that their tables stay as they are.
    if (scenario.task.pattern != Pattern::interrupted)
        all += fmt::format(" / {}", static_cast<int>(scenario.task.pattern));
    std::uint64_t hash = 0xCBF29CE484222325U;  // FNV-1a
    for (const char c : all) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3U;
    return hash;
}

std::string write_experts(const Scenario& scenario, std::uint64_t seed, const std::vector<Expert>& rows) {
    std::string out = fmt::format(
        "{}\n{}\n# scenario {}, seed {}; made by graftwright_experts, described in src/report/experts.h\n"
        "expert,tension_mN,cylinder_D,mean_D,leak_pressure_mmHg\n",
        kTitle, digest_line(scenario), scenario.id, seed);
    for (const Expert& row : rows) {
        out += fmt::format("{},{:.3f},{:.4f},{:.4f},{:.2f}\n", row.index, row.tension_mN, row.cylinder_D, row.mean_D,
                           row.leak_pressure_mmHg);
    }
    return out;
}

Experts read_experts(std::string_view text, const Scenario& scenario) {
    Experts experts;
    std::string_view line;
    if (!take_line(text, line) || line != kTitle) return {{}, "The table of simulated experts cannot be read."};
    if (!take_line(text, line) || line != digest_line(scenario)) {
        return {{}, "The simulated experts of this level were solved for another eye, so they are not shown."};
    }
    while (take_line(text, line)) {
        if (line.empty() || line.front() == '#' || line.front() == 'e') continue;
        const std::optional<Expert> row = expert_of(line);
        if (!row) return {{}, "The table of simulated experts cannot be read."};
        experts.rows.push_back(*row);
    }
    if (experts.rows.empty()) experts.why_none = "The table of simulated experts is empty.";
    return experts;
}

Experts find_experts(const Scenario& scenario, const std::string& levels_dir) {
    const std::string path = levels_dir + "/experts/" + scenario.id + ".csv";
    const Result<std::string> text = read_text_file(path);
    if (!text.ok()) return {{}, "No simulated experts were solved for this level."};
    return read_experts(text.value(), scenario);
}

}  // namespace graftwright
