#include "shell/band_cholesky.h"

#include <algorithm>
#include <limits>
#include <random>

#include <Eigen/Cholesky>
#include <catch2/catch.hpp>

using namespace graftwright;

namespace {

// A random band with a diagonal that dominates: positive definite by Gershgorin's circles.
BandMatrix random_band(int size, int bandwidth, unsigned seed) {
    std::mt19937 generator(seed);
    std::uniform_real_distribution<double> entry(-1.0, 1.0);
    BandMatrix band(size, bandwidth);
    for (int i = 0; i < size; ++i) {
        for (int j = std::max(0, i - bandwidth); j < i; ++j) band.at(i, j) = entry(generator);
        band.at(i, i) = 2.0 * bandwidth + 1.0 + entry(generator);
    }
    return band;
}

Eigen::VectorXd random_vector(int size, unsigned seed) {
    std::mt19937 generator(seed);
    std::uniform_real_distribution<double> entry(-1.0, 1.0);
    Eigen::VectorXd x(size);
    for (double& value : x) value = entry(generator);
    return x;
}

struct Shape {
    int size, bandwidth;
};

}  // namespace

// Against Eigen's dense LLT, the second method. The matrices are well conditioned: 1e-12 is rounding.
TEST_CASE("band Cholesky: solutions equal those of a dense factorisation", "[shell][reference]") {
    const Shape shape = GENERATE(Shape{1, 0}, Shape{5, 0}, Shape{7, 6}, Shape{60, 3}, Shape{150, 19});
    const BandMatrix band = random_band(shape.size, shape.bandwidth, 11);
    const Eigen::VectorXd f = random_vector(shape.size, 12);
    const Eigen::VectorXd expected = band.dense().llt().solve(f);

    const BandCholesky factor(band);
    REQUIRE(factor.ok());
    Eigen::VectorXd x = f;
    factor.solve(x);
    CHECK((x - expected).norm() <= 1e-12 * expected.norm());
}

TEST_CASE("band Cholesky: the first half solves with the lower factor", "[shell][reference]") {
    const BandMatrix band = random_band(80, 9, 21);
    const Eigen::MatrixXd lower = band.dense().llt().matrixL();
    Eigen::VectorXd x = random_vector(80, 22);
    const Eigen::VectorXd expected = lower.triangularView<Eigen::Lower>().solve(x);
    const BandCholesky factor(band);
    factor.forward(x);
    CHECK((x - expected).norm() <= 1e-12 * expected.norm());
}

TEST_CASE("band Cholesky: a load that begins late needs only its tail", "[shell][property]") {
    const int begin = GENERATE(0, 1, 8, 9, 10, 57, 79);
    const BandCholesky factor(random_band(80, 9, 31));
    Eigen::VectorXd whole = random_vector(80, 32);
    whole.head(begin).setZero();
    Eigen::VectorXd tail = whole.tail(80 - begin);
    factor.forward(whole);
    factor.forward(tail, begin);
    CHECK(whole.head(begin).isZero(0.0));
    // The same operations in the same order: the same bits.
    CHECK(tail == whole.tail(80 - begin));
}

TEST_CASE("band Cholesky: a matrix that is not positive definite is refused", "[shell][property]") {
    BandMatrix band = random_band(40, 5, 41);
    CHECK(BandCholesky(band).ok());
    SECTION("a negative pivot") {
        band.at(17, 17) = -0.5;
        CHECK_FALSE(BandCholesky(band).ok());
    }
    SECTION("a pivot of zero at the start") {
        band.at(0, 0) = 0.0;
        CHECK_FALSE(BandCholesky(band).ok());
    }
    SECTION("a pivot that only elimination makes negative") {
        // The 2 x 2 block (1 2; 2 1) has eigenvalues 3 and −1 and a positive diagonal.
        for (int j = 0; j < 2; ++j) {
            for (int i = j; i <= j + 5; ++i) band.at(i, j) = 0.0;
        }
        band.at(0, 0) = band.at(1, 1) = 1.0;
        band.at(1, 0) = 2.0;
        CHECK_FALSE(BandCholesky(band).ok());
    }
    SECTION("not a number") {
        band.at(20, 18) = std::numeric_limits<double>::quiet_NaN();
        CHECK_FALSE(BandCholesky(band).ok());
    }
}

TEST_CASE("band matrix: adding a multiple adds the dense matrices", "[shell][property]") {
    BandMatrix a = random_band(12, 4, 51);
    const BandMatrix b = random_band(12, 4, 52);
    const Eigen::MatrixXd expected = a.dense() + 0.25 * b.dense();
    a.add_scaled(b, 0.25);
    CHECK((a.dense() - expected).norm() <= 1e-14 * expected.norm());
    CHECK(a.dense() == a.dense().transpose());
}
