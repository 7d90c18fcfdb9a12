#include "score/rules.h"

#include <algorithm>
#include <cmath>

#include "base/statistics.h"
#include "base/words.h"
#include "score/bites_in_order.h"
#include "score/hand_marks.h"
#include "score/scenario_model.h"

namespace graftwright {
namespace {

// Points of the parts, fixed with the file format.
constexpr double kCylinderPoints = 25.0, kFlatteningPoints = 10.0, kSealPoints = 30.0;
constexpr double kStepPoints = 7.5, kGapePoints = 7.5;  // apposition 15, halved: our choice
// Technique: our division, in proportion to each other.
constexpr double kTechniqueTotal = 20.0;
constexpr double kDepthPoints = 4.0, kTechniquePoints = 2.0;

const char* const kTaskLimit = "limit set by the scenario";

double range(const std::vector<double>& values) {
    const auto [low, high] = std::minmax_element(values.begin(), values.end());
    return values.empty() ? 0.0 : *high - *low;
}

// Mark of one side's depth: 1 within 0.85–0.95, 0 at 0.70 and at 1 (through), linear between.
double depth_mark(double fraction) {
    constexpr double kNoMarkBelow = 0.70, kNoMarkAbove = 1.0;  // our choice; 0.67 still taught (T3-32)
    if (fraction < kShallowest.value) {
        return std::clamp((fraction - kNoMarkBelow) / (kShallowest.value - kNoMarkBelow), 0.0, 1.0);
    }
    return std::clamp((kNoMarkAbove - fraction) / (kNoMarkAbove - kDeepest.value), 0.0, 1.0);
}

// What technique is judged by, of the bites in the eye: depths as fractions, lengths in mm.
struct Technique {
    double depth_mark = 0.0, depth_mismatch = 0.0, depth_range = 0.0;
    double mean_graft_length = 0.0, mean_host_length = 0.0, length_range = 0.0;
    double spacing_range = 0.0, radial_error_deg = 0.0;
    std::optional<double> tension_range;  // over the median
};

Technique measure_technique(const Scenario& scenario, const std::vector<OrderedBite>& bites,
                            const ClosureMeasures& measures, const std::vector<BiteMetrics>& metrics) {
    Technique technique;
    std::vector<double> depths_graft, depths_host, graft_lengths, host_lengths;
    double depth_marks = 0.0, graft_sum = 0.0, host_sum = 0.0;
    for (std::size_t b = 0; b < bites.size(); ++b) {
        const OrderedBite& bite = bites[b];
        const BiteMetrics& m = metrics[b];
        if (bite.removed) continue;
        depths_graft.push_back(m.depth_fraction_graft);
        depths_host.push_back(m.depth_fraction_host);
        depth_marks += 0.5 * (depth_mark(m.depth_fraction_graft) + depth_mark(m.depth_fraction_host));
        technique.depth_mismatch =
            std::max(technique.depth_mismatch, std::abs(m.depth_fraction_graft - m.depth_fraction_host));
        technique.radial_error_deg = std::max(technique.radial_error_deg, std::abs(m.radial_error_deg));
        graft_lengths.push_back(bite.graft_bite_mm);
        host_lengths.push_back(bite.host_bite_mm);
        graft_sum += bite.graft_bite_mm;
        host_sum += bite.host_bite_mm;
    }
    const auto count = static_cast<double>(depths_graft.size());
    technique.depth_mark = depth_marks / count;
    technique.depth_range = std::max(range(depths_graft), range(depths_host));
    technique.mean_graft_length = graft_sum / count;
    technique.mean_host_length = host_sum / count;
    technique.length_range = std::max(range(graft_lengths), range(host_lengths));
    // Spacing and tension pattern by pattern, the worst counts.
    for (const std::vector<std::size_t>& pattern : patterns_in_eye(bites)) {
        std::vector<Bite> of_pattern;
        std::vector<double> tensions;
        for (const std::size_t b : pattern) {
            of_pattern.push_back(bites[b]);
            tensions.push_back(measures.tension_mN[b]);
        }
        technique.spacing_range = std::max(technique.spacing_range, range(spacings_mm(scenario, of_pattern)));
        const double usual = median(tensions);
        if (usual > 0.0)
            technique.tension_range = std::max(technique.tension_range.value_or(0.0), range(tensions) / usual);
    }
    return technique;
}

void add_technique(const Technique& technique, const Attempt& attempt, std::vector<Rule>& rules) {
    const auto add = [&](const char* what, Unit unit, double points, double measured, double full, double none,
                         const char* source) {
        rules.push_back({Part::technique, what, unit, points, measured, full, none, source});
    };
    add("depth: mean mark of all sides (1 within 0.85–0.95, 0 at 0.70 and 1.00)", Unit::none, kDepthPoints,
        technique.depth_mark, 1.0, 0.0, kShallowest.source);
    add("depth: largest difference donor/host", Unit::of_thickness, kTechniquePoints, technique.depth_mismatch,
        kDepthMismatch.value, 2.0 * kDepthMismatch.value, kDepthMismatch.source);
    // T8-01 gives half marks at 0.15 of the thickness, 0.5 mm of length and of spacing.
    add("depth: range over the bites, worse side", Unit::of_thickness, kTechniquePoints, technique.depth_range,
        kDepthRange.value, 0.20, kDepthRange.source);
    const auto outside = [](double mean) { return std::max({0.0, kShortest.value - mean, mean - kLongest.value}); };
    add("length: mean outside 0.75–1.25 mm, worse side", Unit::mm, kTechniquePoints,
        std::max(outside(technique.mean_graft_length), outside(technique.mean_host_length)), 0.0, 0.5,
        kShortest.source);
    add("length: range over the bites, worse side", Unit::mm, kTechniquePoints, technique.length_range,
        kLengthRange.value, 0.75, kLengthRange.source);
    add("spacing: range between neighbours", Unit::mm, kTechniquePoints, technique.spacing_range, kSpacingRange.value,
        0.75, kSpacingRange.source);
    add("radial: largest error", Unit::degree, kTechniquePoints, technique.radial_error_deg, kRadialError_deg.value,
        3.0 * kRadialError_deg.value, kRadialError_deg.source);
    if (technique.tension_range) {
        add("tension: range over the median, chamber filled", Unit::none, kTechniquePoints, *technique.tension_range,
            kTensionRange.value, 1.0, kTensionRange.source);
    }
    if (!attempt.events.empty()) {
        add("events: trauma, iris caught, endothelial touch", Unit::none, kTechniquePoints,
            static_cast<double>(harms(attempt)), 0.0, 3.0, "our choice");
    }
}

// Technique counts 20 whichever of its rules apply: an attempt without events is not marked on them.
void weigh_technique(std::vector<Rule>& rules) {
    double sum = 0.0;
    for (const Rule& rule : rules) sum += rule.part == Part::technique ? rule.points : 0.0;
    for (Rule& rule : rules) {
        if (rule.part == Part::technique) rule.points *= kTechniqueTotal / sum;
    }
}

}  // namespace

const char* part_name(Part part) {
    switch (part) {
        case Part::optics:
            return "optics";
        case Part::seal:
            return "seal";
        case Part::apposition:
            return "apposition";
        default:
            return "technique";
    }
}

double Rule::share_earned() const {
    return std::clamp((measured - none) / (full - none), 0.0, 1.0) + 0.0;  // none is 0, not −0
}

double max_step_um(const ClosureMeasures& measures) {
    double most = 0.0;
    for (const SealPlace& place : measures.profile) most = std::max(most, std::abs(place.step_um));
    return most;
}

double max_posterior_gape_um(const ClosureMeasures& measures) {
    double most = 0.0;
    for (const SealPlace& place : measures.profile) most = std::max(most, place.posterior_gape_um);
    return most;
}

Score apply_rules(const Scenario& scenario, const Attempt& attempt, const ClosureMeasures& measures,
                  const ClosureMeasures& ideal, const std::vector<BiteMetrics>& bites) {
    Score score;
    const PassMarks& pass = scenario.pass;
    const auto add = [&](Part part, const char* what, Unit unit, double points, double measured,
                         std::optional<double> limit, double none_at) {
        if (limit) score.rules.push_back({part, what, unit, points, measured, *limit, none_at * *limit, kTaskLimit});
    };
    const double cylinder = measures.keratometry->cylinder_D;
    const double flattening = ideal.keratometry->mean_D - measures.keratometry->mean_D;
    const double step = max_step_um(measures), leak = measures.wound.leak_pressure_mmHg;
    add(Part::optics, "cylinder", Unit::dioptre, kCylinderPoints, cylinder, pass.cylinder_D, 2.0);
    add(Part::optics, "flattening against the ideal", Unit::dioptre, kFlatteningPoints, flattening, pass.flattening_D,
        2.0);
    add(Part::seal, "leak pressure", Unit::mmHg, kSealPoints, leak, pass.leak_pressure_mmHg, 0.5);
    add(Part::apposition, "largest step of the front", Unit::um, kStepPoints, step, pass.step_um, 2.0);
    add(Part::apposition, "largest posterior gape (limit: the step's)", Unit::um, kGapePoints,
        max_posterior_gape_um(measures), pass.step_um, 2.0);
    add_technique(measure_technique(scenario, bites_in_order(attempt), measures, bites), attempt, score.rules);
    weigh_technique(score.rules);

    ask(score.marks, Mark::cylinder, pass.cylinder_D, cylinder);
    ask(score.marks, Mark::flattening, pass.flattening_D, flattening);
    ask(score.marks, Mark::leak_pressure, pass.leak_pressure_mmHg, leak);
    ask(score.marks, Mark::irregularity, pass.hoa_rms_um, measures.hoa_rms_um);
    ask(score.marks, Mark::step, pass.step_um, step);
    ask(score.marks, Mark::posterior_gape, pass.posterior_gape_um, max_posterior_gape_um(measures));
    for (const PassMark& of_the_hand : hand_marks(scenario, attempt, bites)) score.marks.push_back(of_the_hand);

    double available = 0.0;
    for (const Rule& rule : score.rules) available += rule.points;
    for (const Part part : {Part::optics, Part::seal, Part::apposition, Part::technique}) {
        PartScore sum{part, std::nullopt};
        for (const Rule& rule : score.rules) {
            if (rule.part != part) continue;
            sum.points = sum.points.value_or(0.0) + rule.points * rule.share_earned() * 100.0 / available;
        }
        score.total += sum.points.value_or(0.0);
        score.parts.push_back(sum);
    }
    score.passed = std::all_of(score.marks.begin(), score.marks.end(), [](const PassMark& m) { return m.met(); }) &&
                   (!pass.hoa_rms_um || measures.hoa_rms_um);
    return score;
}

}  // namespace graftwright
