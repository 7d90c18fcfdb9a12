// README's table of the sutured ring against 3-D solids says what this program computes and what is recorded.
#include <algorithm>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include "../scenes/recorded_ring.h"

using namespace graftwright;

namespace {

enum class Kind { linear, large, running };

// A row: our answer to the first case, and how far the solids' cylinders of all its cases lie apart.
struct Row {
    const char* words;
    Kind kind;
    std::vector<const char*> cases;
};

const std::vector<Row>& rows() {
    static const std::vector<Row> all = {
        {"linear, all 10 mN", Kind::linear, {"ring_all"}},
        {"linear, a pair at 20 mN", Kind::linear, {"ring_pair"}},
        {"linear, one bite at 20 mN", Kind::linear, {"ring_single"}},
        {"linear, half depth, a pair at 20 mN", Kind::linear, {"ring_half_depth_pair"}},
        {"linear, donor 0.25 mm larger", Kind::linear, {"ring_larger_donor"}},
        {"linear, one whole bite 11° off its place", Kind::linear, {"ring_shifted"}},
        {"linear, one bite crossing the wound obliquely, by 4°", Kind::linear, {"ring_oblique_4"}},
        {"linear, the same by 11°",
         Kind::linear,
         {"ring_oblique", "ring_oblique_unsprung", "ring_oblique_free", "ring_oblique_free_unsprung"}},
        {"linear, one bite 90 % deep in the donor, 45 % in the host", Kind::linear, {"ring_shallow_host"}},
        {"linear, one bite 45 % deep in the donor, 90 % in the host", Kind::linear, {"ring_shallow_donor"}},
        {"linear, one bite skewed by 0.3 mm either side", Kind::linear, {"ring_skewed_free", "ring_skewed"}},
        {"linear, a running thread, all spans 10 mN", Kind::running, {"ring_running"}},
        {"linear, a running thread, two spans at 20 mN", Kind::running, {"ring_running_uneven"}},
        {"large displacements, neo-Hookean, one bite crossing by 11°", Kind::large, {"ring_oblique_large"}},
        {"large displacements, neo-Hookean, a pair at 20 mN", Kind::large, {"ring_pair_large"}},
    };
    return all;
}

std::string seal_words(double kPa) { return kPa == 0.0 ? "0" : fmt::format("{:.1f}", kPa); }

// The row as README must have it.
std::string line_of(const Row& row) {
    const nlohmann::json reference = scenes::reference_case(row.cases.front()), &input = reference.at("input");
    const RingResult ours = row.kind == Kind::running
                                ? scenes::solve_running(input)
                                : solve_ring(scenes::recorded_ring(input, row.kind == Kind::large));
    REQUIRE(ours.status.converged);
    double least_D = 1e9, most_D = 0.0;
    for (const char* name : row.cases) {
        const double cylinder_D =
            scenes::recorded_curvature(scenes::reference_case(name), "fourth_disc_1.6").cylinder_D;
        least_D = std::min(least_D, cylinder_D);
        most_D = std::max(most_D, cylinder_D);
    }
    const std::string least = fmt::format("{:.2f}", least_D), most = fmt::format("{:.2f}", most_D);
    return fmt::format("| {} | {:.2f} / {} | {:.2f} / {:.2f} | {} / {} |\n", row.words, *ours.cylinder_D,
                       least == most ? least : least + " to " + most, *ours.mean_D,
                       scenes::recorded_curvature(reference, "fourth_disc_1.6").mean_D,
                       seal_words(*ours.least_seal_kPa),
                       seal_words(reference.at("results").at("least_seal_at_5_gauss_points_kPa").get<double>()));
}

}  // namespace

TEST_CASE("ring against 3-D solids: README's table says what is recorded and what is computed", "[score][reference]") {
    std::ifstream file(std::string(GRAFTWRIGHT_SOURCE_DIR) + "/README.md", std::ios::binary);
    const std::string readme{std::istreambuf_iterator<char>(file), {}};
    for (const Row& row : rows()) {
        const std::string line = line_of(row);
        INFO("README.md has no line " << line);
        CHECK(readme.find("\n" + line) != std::string::npos);
    }
    // And no row of another table's making.
    std::size_t stated = 0;
    for (const char* start : {"\n| linear, ", "\n| large displacements, "})
        for (std::size_t at = readme.find(start); at != std::string::npos; at = readme.find(start, at + 1)) ++stated;
    CHECK(stated == rows().size());
}
