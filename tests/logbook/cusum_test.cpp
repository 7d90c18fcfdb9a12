// The CUSUM against its published constants (figures T8-07, T8-08) and its definition of competence (T8-11).
#include "logbook/cusum.h"

#include <catch2/catch.hpp>

using namespace graftwright;
using Catch::Matchers::WithinAbs;

namespace {

// The table prints three or four decimals; of h, the rest is cut off (2.70951 is printed 2.709).
constexpr double kFourDecimals = 0.5e-4, kThreeDecimals = 1e-3;

void add(Cusum& cusum, int trials, bool success) {
    for (int i = 0; i < trials; ++i) cusum.add(success);
}

}  // namespace

TEST_CASE("CUSUM: the published constants for alpha = beta = 0.1", "[logbook][published]") {
    struct Row {
        double p0, p1, s, h;
        int successes;
    };
    for (const Row& row : {Row{0.05, 0.10, 0.0724, 2.941, 41}, Row{0.05, 0.15, 0.0919, 1.816, 20},
                           Row{0.10, 0.20, 0.1452, 2.709, 19}, Row{0.20, 0.40, 0.2933, 2.240, 8}}) {
        INFO(row.p0 << " / " << row.p1);
        const CusumConstants c = cusum_constants({row.p0, row.p1, 0.1, 0.1});
        CHECK_THAT(c.s, WithinAbs(row.s, kFourDecimals));
        CHECK_THAT(c.h0, WithinAbs(row.h, kThreeDecimals));
        CHECK_THAT(c.h1, WithinAbs(row.h, kThreeDecimals));
        CHECK(c.straight_successes() == row.successes);
    }
    const CusumConstants first = cusum_constants({0.05, 0.10, 0.1, 0.1});
    CHECK_THAT(first.P, WithinAbs(0.6931, kFourDecimals));
    CHECK_THAT(first.Q, WithinAbs(0.0541, kFourDecimals));
}

TEST_CASE("CUSUM: the published constants for alpha = beta = 0.05", "[logbook][published]") {
    struct Row {
        double p0, p1, h;
        int successes;
    };
    for (const Row& row : {Row{0.05, 0.10, 3.941, 55}, Row{0.05, 0.15, 2.434, 27}, Row{0.10, 0.20, 3.631, 25},
                           Row{0.20, 0.40, 3.002, 11}}) {
        INFO(row.p0 << " / " << row.p1);
        const CusumConstants c = cusum_constants({row.p0, row.p1, 0.05, 0.05});
        CHECK_THAT(c.h0, WithinAbs(row.h, kThreeDecimals));
        CHECK(c.straight_successes() == row.successes);
    }
}

TEST_CASE("CUSUM: unequal risks move the two lines apart", "[logbook]") {
    const CusumConstants c = cusum_constants({0.10, 0.20, 0.05, 0.20});
    CHECK_THAT(c.a, WithinAbs(std::log(0.80 / 0.05), 1e-12));
    CHECK_THAT(c.b, WithinAbs(std::log(0.95 / 0.20), 1e-12));
    CHECK(c.h1 > c.h0);
}

TEST_CASE("CUSUM: 18 straight successes are undecided, the 19th is competent", "[logbook][published]") {
    Cusum cusum({0.10, 0.20, 0.1, 0.1});
    CHECK(cusum.standing() == Standing::no_trials);
    add(cusum, 18, true);
    CHECK(cusum.standing() == Standing::undecided);
    CHECK_FALSE(cusum.competent_at());
    cusum.add(true);
    CHECK(cusum.standing() == Standing::competent);
    CHECK(cusum.competent_at() == 19U);
    CHECK_THAT(cusum.value(), WithinAbs(-19 * cusum.constants().s, 1e-12));
}

TEST_CASE("CUSUM: three straight failures are undecided, the fourth is below the standard", "[logbook][published]") {
    Cusum cusum({0.10, 0.20, 0.1, 0.1});
    CHECK(cusum.constants().straight_failures() == 4);
    add(cusum, 3, false);
    CHECK(cusum.standing() == Standing::undecided);
    cusum.add(false);
    CHECK(cusum.standing() == Standing::below_standard);
    CHECK(cusum.failures() == 4);
}

TEST_CASE("CUSUM: a learner from high above is competent when two consecutive lines are crossed downward",
          "[logbook][published]") {
    Cusum cusum({0.10, 0.20, 0.1, 0.1});
    add(cusum, 10, false);  // 8.55: above three lines of 2.709
    CHECK(cusum.standing() == Standing::below_standard);
    const double h = cusum.constants().h1, s = cusum.constants().s;
    // Down across the third line, at 8.13: one line, and no word yet.
    const int to_third = static_cast<int>(std::ceil((cusum.value() - 3 * h) / s));
    add(cusum, to_third, true);
    CHECK(cusum.standing() == Standing::undecided);
    // Down across the second: two in a row, still far above zero.
    const int to_second = static_cast<int>(std::ceil((cusum.value() - 2 * h) / s));
    add(cusum, to_second - 1, true);
    CHECK(cusum.standing() == Standing::undecided);
    cusum.add(true);
    CHECK(cusum.standing() == Standing::competent);
    CHECK(cusum.value() > h);
    CHECK(cusum.competent_at() == static_cast<std::size_t>(10 + to_third + to_second));
}

TEST_CASE("CUSUM: a line crossed upward between starts the count of lines anew", "[logbook]") {
    Cusum cusum({0.10, 0.20, 0.1, 0.1});
    add(cusum, 10, false);
    const double h = cusum.constants().h1, s = cusum.constants().s;
    add(cusum, static_cast<int>(std::ceil((cusum.value() - 3 * h) / s)), true);
    cusum.add(false);  // back above the third line
    CHECK(cusum.standing() == Standing::below_standard);
    add(cusum, static_cast<int>(std::ceil((cusum.value() - 3 * h) / s)), true);
    CHECK(cusum.standing() == Standing::undecided);
    CHECK_FALSE(cusum.competent_at());
}

TEST_CASE("CUSUM: the word is taken back when a line is crossed upward, and can be earned again", "[logbook]") {
    Cusum cusum({0.10, 0.20, 0.1, 0.1});
    add(cusum, 19, true);
    cusum.add(false);  // −1.90: above −h0 again
    CHECK(cusum.standing() == Standing::undecided);
    CHECK(cusum.competent_at() == 19U);
    add(cusum, 6, true);
    CHECK(cusum.standing() == Standing::competent);
    CHECK(cusum.competent_at() == 19U);
    add(cusum, 8, false);
    CHECK(cusum.standing() == Standing::below_standard);
}

TEST_CASE("CUSUM: the words say what competent means, and that it certifies nobody", "[logbook]") {
    const std::string words = competence_words({});
    CHECK_THAT(words, Catch::Contains("10 %") && Catch::Contains("20 %") && Catch::Contains("19 successes") &&
                          Catch::Contains("certifies nobody"));
}
