#include "closure/ring_transform.h"

#include <random>

#include <catch2/catch.hpp>

#include "../scenes/closure_scenes.h"

using namespace graftwright;

namespace {

template <typename Matrix>
void fill(Matrix& matrix, unsigned seed) {
    std::mt19937_64 engine(seed);
    std::normal_distribution<double> normal;
    for (Eigen::Index i = 0; i < matrix.size(); ++i) matrix(i) = normal(engine);
}

}  // namespace

TEST_CASE("ring transform: series to points and forces to series are those of the wound's own bases", "[closure]") {
    // A second way: the bases as plain matrices (WoundInterface). Odd, even and uneven numbers of points.
    for (const auto& [harmonics, points] : {std::pair{32, 128}, std::pair{8, 17}, std::pair{5, 24}}) {
        WoundModelOptions options = scenes::with_harmonics(harmonics);
        options.points = points;
        options.levels_mmHg = {0.0};
        const WoundModel model(scenes::standard_eye(), options);
        const WoundInterface interface(model, {}, Eigen::VectorXd::Zero(points));
        RingTransform transform(harmonics, points);
        RingMatrix series(kRingUnknowns, model.columns()), back(kRingUnknowns, model.columns());
        PointJumps values(kRingUnknowns, points), forces(kRingUnknowns, points);
        fill(series, 1);
        fill(forces, 2);
        transform.to_points(series, values);
        CAPTURE(harmonics, points);
        CHECK((values - interface.at_points(series)).norm() < 1e-12 * values.norm());
        transform.to_harmonics(forces, interface.arc(), back);
        CHECK((back - interface.to_harmonics(forces)).norm() < 1e-12 * back.norm());
    }
}
