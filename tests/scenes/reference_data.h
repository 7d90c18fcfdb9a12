// The recorded answers of tests/data/reference, written by tools/reference (CalculiX, 3-D solids).
//
// A file that is missing or unreadable throws: the test fails with its name. Units are in the keys.
#pragma once

#include <fstream>
#include <stdexcept>
#include <string>

#include <nlohmann/json.hpp>

namespace graftwright::scenes {

// The recorded case `name`: keys case, kind, program, input, unknowns, results (tools/reference/README.md).
[[nodiscard]] inline nlohmann::json reference_case(const std::string& name) {
    const std::string path = std::string(GRAFTWRIGHT_SOURCE_DIR) + "/tests/data/reference/" + name + ".json";
    std::ifstream file(path);
    if (!file) throw std::runtime_error("no recorded reference " + path);
    return nlohmann::json::parse(file);
}

// A central curvature as recorded; compare only figures of the same form and disc.
struct RecordedCurvature {
    double mean_D = 0.0;
    double cylinder_D = 0.0;
    double steep_axis_deg = 0.0;  // 0 where there is no cylinder
};

// state: "deformed", "z_moved_only" or "undeformed"; form: a definition of tools/reference/fit.py, such as
// "fourth_disc_1.6" (all terms to the 4th degree over a disc of radius 1.6 mm), "axial_ring_1.5", "vertex".
[[nodiscard]] inline RecordedCurvature recorded_curvature(const nlohmann::json& recorded, const std::string& form,
                                                          const std::string& state = "deformed") {
    const nlohmann::json& entry = recorded.at("results").at("curvature").at(state).at(form);
    const nlohmann::json& axis = entry.at("steep_axis_deg");
    return {entry.at("mean_D").get<double>(), entry.at("cylinder_D").get<double>(),
            axis.is_null() ? 0.0 : axis.get<double>()};
}

}  // namespace graftwright::scenes
