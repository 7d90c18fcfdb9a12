#include "practice_fixture.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "../logbook/made_entries.h"
#include "base/random.h"
#include "game/levels.h"

namespace graftwright {
namespace {

struct Stage {
    const char* level;
    int bites;
    bool closure;
};
// Where a trainee is after so many attempts.
Stage stage_of(int n) {
    static constexpr std::array<Stage, 9> kCourse{{{"first-bite", 1, false},
                                                   {"depth-alone", 4, false},
                                                   {"depth-alone", 4, false},
                                                   {"radial-alone", 4, false},
                                                   {"even-tension", 4, false},
                                                   {"four-cardinals", 4, true},
                                                   {"eight", 8, true},
                                                   {"eight", 8, true},
                                                   {"sixteen", 16, true}}};
    if (n >= 40) return n % 3 == 0 ? Stage{"eight", 8, true} : Stage{"sixteen", 16, true};
    return kCourse[std::min<std::size_t>(static_cast<std::size_t>(n) / 5, kCourse.size() - 1)];
}

// A hand whose slips shrink with practice.
class MadeHand {
  public:
    MadeHand(int seed, int attempts) : draw_(static_cast<std::uint64_t>(seed), 0), halving_(0.45 * attempts) {}

    Entry attempt(const std::string& trainee, int n) {
        const Stage stage = stage_of(n);
        const double slip = std::max(0.2, (0.35 + 0.65 * std::exp(-n / halving_)) * (1.0 + 0.22 * draw_.normal()));
        Entry entry = test::made_entry(n * 617, trainee, stage.level, stage.bites);
        entry.measures = {};
        entry.per_bite.clear();
        for (int b = 1; b <= stage.bites; ++b) entry.per_bite.push_back(bite(b, slip, stage.bites));
        set_hand(entry);
        if (stage.closure) set_closure(entry, slip);
        Outcomes outcomes;
        for (const Skill skill : {Skill::depth, Skill::length, Skill::direction, Skill::spacing, Skill::tension})
            outcomes[static_cast<std::size_t>(skill)] = draw_.chance(1.04 - 0.34 * slip);
        if (!stage.closure) entry.passed = *outcomes[0];
        if (stage.closure) {
            outcomes[static_cast<std::size_t>(Skill::seal)] = *at(entry.measures, Metric::leak_pressure_mmHg) >= 30.0;
            outcomes[static_cast<std::size_t>(Skill::optics)] = *at(entry.measures, Metric::cylinder_D) <= 3.0;
            outcomes[static_cast<std::size_t>(Skill::closure)] = entry.passed;
        }
        entry.skills = letters_of(outcomes);
        return entry;
    }

  private:
    double normal() { return draw_.normal(); }

    BiteRow bite(int number, double slip, int of) {
        BiteRow row;
        row.bite = number;
        row.depth_fraction_graft = std::clamp(0.90 - 0.05 * slip + 0.07 * slip * normal(), 0.3, 1.0);
        row.depth_fraction_host = std::clamp(*row.depth_fraction_graft + 0.02 + 0.05 * slip * normal(), 0.3, 1.0);
        if (of > 1) row.spacing_error_deg = 5.0 * slip * normal() + (number == 2 ? 4.0 * slip : 0.0);
        row.radial_error_deg = 5.0 * slip * normal();
        row.tension_mN = std::max(0.5, 15.0 + 5.0 * slip * normal());
        row.bite_ratio = 1.05 + 0.1 * slip * normal();
        if (of > 2) row.share_D = (number == 2 ? 2.2 : 0.5) * slip * std::abs(normal());
        if (of > 2) row.share_leak_mmHg = 2.0 * slip * normal();
        const auto flag = [&](bool broken, const char* word) {
            if (broken) row.flags += (row.flags.empty() ? "" : " ") + std::string(word);
        };
        flag(*row.depth_fraction_graft < 0.85, "shallow-graft");
        flag(*row.depth_fraction_host > 0.95, "deep-host");
        flag(std::abs(*row.radial_error_deg) > 5.0, "not-radial");
        flag(std::abs(row.spacing_error_deg.value_or(0.0)) > 3.6, "off-slot");
        return row;
    }

    static void set_hand(Entry& entry) {
        double depth = 0.0, depth2 = 0.0, spacing2 = 0.0, radial2 = 0.0, tension = 0.0, tension2 = 0.0;
        const auto n = static_cast<double>(entry.per_bite.size());
        for (const BiteRow& row : entry.per_bite) {
            depth += *row.depth_fraction_graft / n;
            depth2 += *row.depth_fraction_graft * *row.depth_fraction_graft / n;
            spacing2 += std::pow(row.spacing_error_deg.value_or(0.0), 2.0) / n;
            radial2 += *row.radial_error_deg * *row.radial_error_deg / n;
            tension += *row.tension_mN / n;
            tension2 += *row.tension_mN * *row.tension_mN / n;
        }
        at(entry.measures, Metric::depth_mean) = depth;
        at(entry.measures, Metric::radial_error_deg) = std::sqrt(radial2);
        if (entry.per_bite.size() < 2) return;
        at(entry.measures, Metric::depth_spread) = std::sqrt(std::max(0.0, depth2 - depth * depth));
        at(entry.measures, Metric::spacing_spread_deg) = std::sqrt(spacing2);
        at(entry.measures, Metric::tension_spread) = std::sqrt(std::max(0.0, tension2 - tension * tension)) / tension;
    }

    void set_closure(Entry& entry, double slip) {
        const auto set = [&](Metric metric, double value) { at(entry.measures, metric) = value; };
        const double cylinder = 0.4 + 8.0 * slip * slip + 2.5 * slip * std::abs(normal());
        const double leak = std::max(2.0, 52.0 - 45.0 * slip + 5.0 * normal());
        const double step = 40.0 + 150.0 * slip + 18.0 * normal();
        set(Metric::cylinder_D, cylinder);
        set(Metric::steep_axis_deg, 180.0 * draw_.uniform());
        set(Metric::mean_D, 40.0);
        set(Metric::flattening_D, 1.0 + 1.5 * slip + 0.4 * normal());
        set(Metric::hoa_rms_um, 1.2 + 2.5 * slip + 0.2 * std::abs(normal()));
        set(Metric::leak_pressure_mmHg, leak);
        set(Metric::max_step_um, step);
        set(Metric::max_posterior_gape_um, std::max(0.0, 60.0 * slip - 20.0 + 8.0 * normal()));
        const auto part = [](double of, double share) { return of * std::clamp(share, 0.0, 1.0); };
        const double optics = part(35.0, 2.0 - cylinder / 3.0), seal = part(30.0, leak / 15.0 - 1.0),
                     apposition = part(15.0, 2.0 - step / 110.0), technique = part(20.0, 1.15 - 0.7 * slip);
        set(Metric::optics, optics);
        set(Metric::seal, seal);
        set(Metric::apposition, apposition);
        set(Metric::technique, technique);
        set(Metric::total, optics + seal + apposition + technique);
        set(Metric::optics_of, 35.0);
        set(Metric::seal_of, 30.0);
        set(Metric::apposition_of, 15.0);
        set(Metric::technique_of, 20.0);
        entry.passed = cylinder <= 3.0 && leak >= 30.0 && step <= 110.0;
    }

    RandomStream draw_;
    double halving_;
};

}  // namespace

std::vector<Entry> practised(const std::string& trainee, int attempts, int seed) {
    std::vector<Entry> entries;
    MadeHand hand(seed, attempts);
    for (int n = 0; n < attempts; ++n) entries.push_back(hand.attempt(trainee, n));
    return entries;
}

Logbook group_logbook(const std::string& folder) {
    Result<Logbook> opened = Logbook::open(LogbookPlace::of(folder + "/group.sqlite"));
    if (!opened.ok()) throw std::runtime_error(opened.faults().front().text());
    Logbook logbook = opened.take();
    int seed = 0;
    for (const auto& [name, attempts] : {std::pair{"heron", 64},
                                         {"kestrel", 52},
                                         {"wren", 41},
                                         {"O'Rask <the needle>", 23},
                                         {"Zoë 日本", 12},
                                         {"dipper", 4}})
        (void)logbook.add_all(practised(name, attempts, ++seed));
    return logbook;
}

TraineeModel trainee_model(Logbook& logbook, const std::string& trainee, const std::string& scenario) {
    TraineeModel model;
    model.trainee = trainee;
    model.scenario = scenario;
    model.place = "/home/heron/.local/share/graftwright/logbook.sqlite";
    TraineePageOptions options;
    options.scenario = scenario;
    model.page = std::make_shared<const TraineePage>(logbook.trainee_page(trainee, options));
    const Result<std::vector<Level>> levels = read_levels(GRAFTWRIGHT_SOURCE_DIR "/levels");
    if (!levels.ok()) throw std::runtime_error(levels.faults().front().text());
    for (const Level& level : levels.value()) {
        if (!level.scenario) continue;
        const bool closure = level.scenario->kind == ScenarioKind::closure;
        model.course.push_back(
            {level.scenario->id, level.scenario->title, closure ? std::optional(level.scenario->pass) : std::nullopt});
    }
    return model;
}

}  // namespace graftwright
