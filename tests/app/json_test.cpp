// The JSON of `score` and `ring`: exactly the fixed keys, numbers where there are numbers, null elsewhere.
#include <cmath>
#include <set>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "running.h"

using namespace graftwright::test;
using nlohmann::json;

namespace {

using Keys = std::set<std::string>;

Keys keys_of(const json& object) {
    Keys keys;
    for (const auto& [key, value] : object.items()) keys.insert(key);
    return keys;
}

// The keys of the published format; "interactions" was added (what no single bite explains).
void require_score_keys(const json& out) {
    CHECK(keys_of(out) == Keys{"scenario", "bites", "keratometry", "power_vector", "hoa_rms_um", "ideal", "wound",
                               "per_bite", "interactions", "score", "solver"});
    CHECK(keys_of(out.at("keratometry")) == Keys{"steep_D", "steep_axis_deg", "flat_D", "mean_D", "cylinder_D"});
    CHECK(keys_of(out.at("power_vector")) == Keys{"M_D", "J0_D", "J45_D"});
    CHECK(keys_of(out.at("interactions")) == Keys{"M_D", "J0_D", "J45_D"});
    CHECK(keys_of(out.at("ideal")) == Keys{"cylinder_D", "mean_D", "leak_pressure_mmHg"});
    CHECK(keys_of(out.at("wound")) == Keys{"watertight", "leak_pressure_mmHg", "capped", "weakest_deg", "leak_uL_min",
                                           "settled_pressure_mmHg", "max_step_um", "max_posterior_gape_um", "profile"});
    for (const json& place : out.at("wound").at("profile")) {
        CHECK(keys_of(place) == Keys{"deg", "seal_mmHg", "gap_um", "step_um"});
    }
    for (const json& bite : out.at("per_bite")) {
        CHECK(keys_of(bite) == Keys{"tension_mN", "share_D", "share_axis_deg", "share_leak_mmHg",
                                    "depth_fraction_graft", "depth_fraction_host", "radial_error_deg",
                                    "spacing_error_deg", "bite_ratio", "flags"});
    }
    CHECK(keys_of(out.at("score")) == Keys{"total", "parts", "passed"});
    CHECK(keys_of(out.at("score").at("parts")) == Keys{"optics", "seal", "apposition", "technique"});
}

// Where the nulls are, as paths; JSON has no other way to say "not a number".
void find_nulls(const json& value, const std::string& path, Keys& nulls) {
    if (value.is_null()) nulls.insert(path);
    if (value.is_object()) {
        for (const auto& [key, inner] : value.items()) find_nulls(inner, path.empty() ? key : path + "." + key, nulls);
    }
    if (value.is_array()) {
        for (const json& inner : value) find_nulls(inner, path + "[]", nulls);
    }
}
Keys nulls_of(const json& value) {
    Keys nulls;
    find_nulls(value, "", nulls);
    return nulls;
}

json scored(const std::string& attempt, const std::vector<std::string>& more = {}) {
    std::vector<std::string> arguments = {"score", "-", "--json"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const Ran ran = run(arguments, attempt);
    INFO(ran.err);
    REQUIRE(ran.code == 0);
    REQUIRE(lines_of(ran.out).size() == 1);
    return json::parse(ran.out);
}

}  // namespace

TEST_CASE("JSON: a scored attempt has exactly the fixed keys and no null", "[app][slow]") {
    const json out = scored(even_attempt(6));
    require_score_keys(out);
    CHECK(keys_of(out.at("solver")) == Keys{"iterations", "residual", "converged", "settled"});
    CHECK(nulls_of(out).empty());
    CHECK(out.at("bites") == 6);
    CHECK(out.at("per_bite").size() == 6);
    CHECK(out.at("wound").at("profile").size() == 128);
    CHECK(out.at("wound").at("watertight").is_boolean());
    CHECK(out.at("wound").at("capped") == false);
}

TEST_CASE("JSON: its numbers agree with each other", "[app][slow]") {
    const json out = scored(even_attempt(5), {"--no-shares"});
    const json &k = out.at("keratometry"), &p = out.at("power_vector"), &w = out.at("wound");
    const auto number = [](const json& value) { return value.get<double>(); };
    CHECK(number(k.at("steep_D")) - number(k.at("flat_D")) == Approx(number(k.at("cylinder_D"))).margin(1e-6));
    CHECK(number(p.at("M_D")) == Approx(number(k.at("mean_D"))));
    CHECK(2.0 * std::hypot(number(p.at("J0_D")), number(p.at("J45_D"))) ==
          Approx(number(k.at("cylinder_D"))).margin(1e-6));
    double sum = 0.0;
    for (const auto& [part, points] : out.at("score").at("parts").items()) sum += number(points);
    CHECK(sum == Approx(number(out.at("score").at("total"))));
    CHECK(w.at("watertight").get<bool>() == (number(w.at("leak_pressure_mmHg")) >= 15.0));
    CHECK((number(w.at("leak_uL_min")) > 0.0) != w.at("watertight").get<bool>());
    CHECK(number(w.at("settled_pressure_mmHg")) <= 15.0);
}

TEST_CASE("JSON: without shares only the shares are null", "[app][slow]") {
    const json out = scored(even_attempt(4), {"--no-shares"});
    require_score_keys(out);
    CHECK(nulls_of(out) == Keys{"per_bite[].share_D", "per_bite[].share_axis_deg", "per_bite[].share_leak_mmHg",
                                "interactions.M_D", "interactions.J0_D", "interactions.J45_D"});
}

TEST_CASE("JSON: without a closure the keys are the same and all that is not known is null", "[app]") {
    const json out = scored(even_attempt(2));
    require_score_keys(out);
    CHECK(keys_of(out.at("solver")) == Keys{"iterations", "residual", "converged", "settled", "reason"});
    CHECK(out.at("wound").at("profile").empty());
    const Keys nulls = nulls_of(out);
    for (const char* key : {"keratometry.mean_D", "power_vector.M_D", "hoa_rms_um", "ideal.mean_D", "wound.watertight",
                            "wound.leak_pressure_mmHg", "wound.capped", "wound.weakest_deg", "wound.leak_uL_min",
                            "wound.settled_pressure_mmHg", "wound.max_step_um", "wound.max_posterior_gape_um",
                            "per_bite[].tension_mN", "per_bite[].share_D", "score.total", "score.parts.optics"}) {
        INFO(key);
        CHECK(nulls.count(key) == 1);
    }
    CHECK(nulls.count("per_bite[].depth_fraction_graft") == 0);
    CHECK(nulls.count("bites") == 0);
}

TEST_CASE("JSON: the ring case has exactly its seven numbers", "[app][slow]") {
    const Ran ran = run({"ring", kData + "good_ring.json"});
    REQUIRE(ran.code == 0);
    CHECK(ran.err.empty());
    REQUIRE(lines_of(ran.out).size() == 1);
    const json out = json::parse(ran.out);
    CHECK(keys_of(out) == Keys{"mean_D", "cylinder_D", "steep_axis_deg", "least_seal_kPa", "mean_u_mm", "mean_bs_rad",
                               "mean_contact_kPa"});
    for (const auto& [key, value] : out.items()) CHECK(value.is_number());
    // Roughly a cornea: the fine numbers are held against 3-D solids elsewhere.
    CHECK(out.at("mean_D").get<double>() > 30.0);
    CHECK(out.at("mean_D").get<double>() < 50.0);
}
