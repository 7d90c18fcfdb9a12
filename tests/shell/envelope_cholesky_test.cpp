#include "shell/envelope_cholesky.h"

#include <algorithm>
#include <limits>
#include <memory>
#include <random>

#include <Eigen/Cholesky>
#include <catch2/catch.hpp>

using namespace graftwright;

namespace {

// Random bands with diagonals that dominate, another in every lane: positive definite by Gershgorin's circles.
EnvelopeMatrix random_band(const std::shared_ptr<const Envelope>& envelope, unsigned seed) {
    std::mt19937 generator(seed);
    std::uniform_real_distribution<double> entry(-1.0, 1.0);
    EnvelopeMatrix band(envelope);
    for (int i = 0; i < band.size(); ++i) {
        for (int j = envelope->first[static_cast<std::size_t>(i)]; j <= i; ++j) {
            for (double& value : band.at(i, j)) value = entry(generator) + (i == j ? 2.0 * band.size() : 0.0);
        }
    }
    return band;
}

EnvelopeMatrix random_band(int size, int bandwidth, unsigned seed) {
    return random_band(std::make_shared<const Envelope>(size, bandwidth), seed);
}

LanePairs random_pairs(int size, unsigned seed) {
    std::mt19937 generator(seed);
    std::uniform_real_distribution<double> entry(-1.0, 1.0);
    LanePairs x(2 * kLanes, size);
    for (double& value : x.reshaped()) value = entry(generator);
    return x;
}

// An envelope as shells have it: nodes of five unknowns, each coupled to the node before; some reach further back.
std::shared_ptr<const Envelope> nodes(int count) {
    std::vector<int> first;
    for (int i = 0; i < 5 * count; ++i) first.push_back(std::max(0, 5 * (i / 5 - (i % 7 == 3 ? 2 : 1))));
    return std::make_shared<const Envelope>(std::move(first));
}

}  // namespace

// Against Eigen's dense LLT, the second method. The matrices are well conditioned: 1e-12 is rounding.
TEST_CASE("band Cholesky: solutions equal those of a dense factorisation, in every lane", "[shell][reference]") {
    const auto envelope = GENERATE(std::make_shared<const Envelope>(1, 0), std::make_shared<const Envelope>(5, 0),
                                   std::make_shared<const Envelope>(7, 6), std::make_shared<const Envelope>(60, 3),
                                   std::make_shared<const Envelope>(150, 19), nodes(12));
    const EnvelopeMatrix band = random_band(envelope, 11);
    const EnvelopeCholesky factor(band);
    REQUIRE(factor.ok());
    const LanePairs f = random_pairs(band.size(), 12);
    LanePairs x = f;
    factor.forward(x);
    factor.backward(x);
    for (int row = 0; row < 2 * kLanes; ++row) {
        const Eigen::VectorXd load = f.row(row).transpose(), found = x.row(row).transpose();
        const Eigen::VectorXd expected = band.dense(row % kLanes).llt().solve(load);
        CHECK((found - expected).norm() <= 1e-12 * expected.norm());
    }
}

TEST_CASE("band Cholesky: the first half solves with the lower factor", "[shell][reference]") {
    const EnvelopeMatrix band = random_band(nodes(16), 21);
    const Eigen::MatrixXd lower = band.dense(2).llt().matrixL();
    LanePairs x = random_pairs(80, 22);
    const Eigen::VectorXd load = x.row(kLanes + 2).transpose();
    const Eigen::VectorXd expected = lower.triangularView<Eigen::Lower>().solve(load);
    EnvelopeCholesky(band).forward(x);
    CHECK((x.row(kLanes + 2).transpose().matrix() - expected).norm() <= 1e-12 * expected.norm());
}

TEST_CASE("band Cholesky: what is left standing is the Schur complement, and its load what is left of the load",
          "[shell][reference]") {
    const EnvelopeMatrix band = random_band(nodes(8), 25);
    const int kept = 4, n = band.size() - kept;
    const Eigen::MatrixXd full = band.dense(1);
    const Eigen::LLT<Eigen::MatrixXd> inside(full.topLeftCorner(n, n));
    const Eigen::MatrixXd modes = inside.solve(full.topRightCorner(n, kept));
    const Eigen::MatrixXd complement = full.bottomRightCorner(kept, kept) - full.bottomLeftCorner(kept, n) * modes;
    const EnvelopeCholesky factor(band, kept);
    REQUIRE(factor.ok());
    CHECK((factor.complement(1) - complement).norm() <= 1e-12 * complement.norm());

    LanePairs x = random_pairs(band.size(), 26);
    const Eigen::VectorXd load = x.row(1).transpose();
    const Eigen::VectorXd left = load.tail(kept) - modes.transpose() * load.head(n);
    factor.forward(x);
    CHECK((x.row(1).tail(kept).transpose().matrix() - left).norm() <= 1e-12 * left.norm());
    const Eigen::Vector4d moved(0.1, -0.2, 0.3, 0.4);
    x.row(1).tail(kept) = moved.transpose().array();
    factor.backward(x);
    const Eigen::VectorXd expected = inside.solve(load.head(n)) - modes * moved;
    CHECK((x.row(1).head(n).transpose().matrix() - expected).norm() <= 1e-12 * expected.norm());
    CHECK(x.row(1).tail(kept).transpose().matrix() == moved);
}

TEST_CASE("band Cholesky: a load that begins late needs only its tail", "[shell][property]") {
    const int begin = GENERATE(0, 1, 8, 9, 10, 57, 79);
    const EnvelopeCholesky factor(random_band(80, 9, 31));
    LanePairs whole = random_pairs(80, 32);
    whole.leftCols(begin).setZero();
    LanePairs tail = whole.rightCols(80 - begin);
    factor.forward(whole);
    factor.forward(tail, begin);
    CHECK((whole.leftCols(begin) == 0.0).all());
    // The same operations in the same order: the same bits.
    CHECK((tail == whole.rightCols(80 - begin)).all());
}

TEST_CASE("band Cholesky: a matrix that is not positive definite is refused, whichever lane it is in",
          "[shell][property]") {
    const int lane = GENERATE(0, 3, kLanes - 1);
    EnvelopeMatrix band = random_band(40, 5, 41);
    CHECK(EnvelopeCholesky(band).ok());
    SECTION("a negative pivot") {
        band.at(17, 17)[lane] = -0.5;
        CHECK_FALSE(EnvelopeCholesky(band).ok());
    }
    SECTION("a pivot of zero at the start") {
        band.at(0, 0)[lane] = 0.0;
        CHECK_FALSE(EnvelopeCholesky(band).ok());
    }
    SECTION("a pivot that only elimination makes negative") {
        // The 2 x 2 block (1 2; 2 1) has eigenvalues 3 and −1 and a positive diagonal.
        for (int j = 0; j < 2; ++j) {
            for (int i = j; i <= j + 5; ++i) band.at(i, j)[lane] = 0.0;
        }
        band.at(0, 0)[lane] = band.at(1, 1)[lane] = 1.0;
        band.at(1, 0)[lane] = 2.0;
        CHECK_FALSE(EnvelopeCholesky(band).ok());
    }
    SECTION("not a number") {
        band.at(20, 18)[lane] = std::numeric_limits<double>::quiet_NaN();
        CHECK_FALSE(EnvelopeCholesky(band).ok());
    }
}
