#include "score/scorecard_json.h"

#include <cmath>

#include <nlohmann/json.hpp>

#include "score/bite_metrics.h"

namespace graftwright {
namespace {

using Json = nlohmann::ordered_json;

// Rounded to 10 significant digits: beyond the solver's own tolerance, and short to read.
Json number(double value) {
    if (!std::isfinite(value)) return nullptr;
    if (value == 0.0) return 0.0;
    const double scale = std::pow(10.0, 9.0 - std::floor(std::log10(std::abs(value))));
    const double rounded = std::round(value * scale) / scale;
    return std::isfinite(rounded) ? rounded : value;
}
Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

Json keratometry(const Scorecard& card) {
    Json out;
    const Keratometry* k = card.converged() ? &*card.attempt.keratometry : nullptr;
    out["steep_D"] = k ? number(k->steep_D) : Json(nullptr);
    out["steep_axis_deg"] = k ? number(k->steep_axis_deg) : Json(nullptr);
    out["flat_D"] = k ? number(k->flat_D) : Json(nullptr);
    out["mean_D"] = k ? number(k->mean_D) : Json(nullptr);
    out["cylinder_D"] = k ? number(k->cylinder_D) : Json(nullptr);
    return out;
}

Json vector_of(const PowerVector* power) {
    Json out;
    out["M_D"] = power ? number(power->M_D) : Json(nullptr);
    out["J0_D"] = power ? number(power->J0_D) : Json(nullptr);
    out["J45_D"] = power ? number(power->J45_D) : Json(nullptr);
    return out;
}

Json wound(const Scenario& scenario, const Scorecard& card) {
    Json out;
    const bool known = card.converged();
    const WoundTest& test = card.attempt.wound;
    const auto given = [&](double value) { return known ? number(value) : Json(nullptr); };
    out["watertight"] = known ? Json(test.leak_pressure_mmHg >= scenario.eye.pressure_mmHg) : Json(nullptr);
    out["leak_pressure_mmHg"] = given(test.leak_pressure_mmHg);
    out["capped"] = known ? Json(test.capped) : Json(nullptr);
    out["weakest_deg"] = given(test.weakest_deg);
    out["leak_uL_min"] = given(test.leak_uL_min);
    out["settled_pressure_mmHg"] = given(test.settled_pressure_mmHg);
    out["max_step_um"] = known ? number(max_step_um(card.attempt)) : Json(nullptr);
    out["max_posterior_gape_um"] = known ? number(max_posterior_gape_um(card.attempt)) : Json(nullptr);
    out["profile"] = Json::array();
    // Every second place of the solver's ring: 128 of 256, closer than any feature of a bite.
    for (std::size_t j = 0; known && j < card.attempt.profile.size(); j += 2) {
        const SealPlace& place = card.attempt.profile[j];
        Json row;
        row["deg"] = number(place.deg);
        row["seal_mmHg"] = number(place.seal_mmHg);
        row["gap_um"] = number(place.gap_um);
        row["step_um"] = number(place.step_um);
        out["profile"].push_back(row);
    }
    return out;
}

Json per_bite(const Scorecard& card) {
    Json out = Json::array();
    for (std::size_t b = 0; b < card.bites.size(); ++b) {
        const BiteMetrics& m = card.bites[b];
        const std::optional<BiteShare>& share = card.shares[b];
        Json row;
        row["tension_mN"] = card.converged() ? number(card.attempt.tension_mN[b]) : Json(nullptr);
        row["share_D"] = share ? number(share->share_D) : Json(nullptr);
        row["share_axis_deg"] = share ? number(share->share_axis_deg) : Json(nullptr);
        row["share_leak_mmHg"] = share ? number(share->share_leak_mmHg) : Json(nullptr);
        row["depth_fraction_graft"] = number(m.depth_fraction_graft);
        row["depth_fraction_host"] = number(m.depth_fraction_host);
        row["radial_error_deg"] = number(m.radial_error_deg);
        row["spacing_error_deg"] = number(m.spacing_error_deg);
        row["bite_ratio"] = number(m.bite_ratio);
        row["flags"] = Json::array();
        for (const BiteFlag flag : m.flags) row["flags"].push_back(meaning_of(flag).name);
        out.push_back(row);
    }
    return out;
}

Json score(const Scorecard& card) {
    Json out;
    out["total"] = card.score ? number(card.score->total) : Json(nullptr);
    Json& parts = out["parts"] = Json::object();
    for (const Part part : {Part::optics, Part::seal, Part::apposition, Part::technique}) {
        parts[part_name(part)] = nullptr;
    }
    if (card.score) {
        for (const PartScore& part : card.score->parts) parts[part_name(part.part)] = number(part.points);
    }
    out["passed"] = card.score && card.score->passed;
    return out;
}

}  // namespace

std::string scorecard_json(const Scenario& scenario, const Scorecard& card) {
    Json out;
    out["scenario"] = card.scenario;
    out["bites"] = card.bite_count;
    out["keratometry"] = keratometry(card);
    out["power_vector"] = vector_of(card.converged() ? &card.attempt.keratometry->power : nullptr);
    out["hoa_rms_um"] = card.converged() ? number(card.attempt.hoa_rms_um) : Json(nullptr);
    Json& ideal = out["ideal"] = Json::object();
    ideal["cylinder_D"] = card.ideal ? number(card.ideal->keratometry->cylinder_D) : Json(nullptr);
    ideal["mean_D"] = card.ideal ? number(card.ideal->keratometry->mean_D) : Json(nullptr);
    ideal["leak_pressure_mmHg"] = card.ideal ? number(card.ideal->wound.leak_pressure_mmHg) : Json(nullptr);
    out["wound"] = wound(scenario, card);
    out["per_bite"] = per_bite(card);
    out["interactions"] = vector_of(card.interactions ? &*card.interactions : nullptr);
    out["score"] = score(card);
    Json& solver = out["solver"] = Json::object();
    solver["iterations"] = card.attempt.status.iterations;
    solver["residual"] = number(card.attempt.status.residual);
    solver["converged"] = card.converged();
    solver["settled"] = card.attempt.status.settled;
    if (!card.converged()) solver["reason"] = card.reason();
    return out.dump();
}

std::string ring_json(const RingResult& result) {
    Json out;
    out["mean_D"] = number(result.mean_D);
    out["cylinder_D"] = number(result.cylinder_D);
    out["steep_axis_deg"] = number(result.steep_axis_deg);
    out["least_seal_kPa"] = number(result.least_seal_kPa);
    out["mean_u_mm"] = number(result.mean_u_mm);
    out["mean_bs_rad"] = number(result.mean_bs_rad);
    out["mean_contact_kPa"] = number(result.mean_contact_kPa);
    if (!result.status.converged) {
        out["converged"] = false;
        out["reason"] = result.status.reason;
    }
    return out.dump();
}

}  // namespace graftwright
