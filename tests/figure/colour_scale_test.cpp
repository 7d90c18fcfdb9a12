// The maps' colours, held against what eyes and black and white printers make of them. CIELAB and CIEDE2000
// are written down here once more, on their own, and checked against published pairs first.
#include "figure/colour_scale.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include <catch2/catch.hpp>

#include "base/units.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;

namespace {

using Triple = std::array<double, 3>;

Triple linear_of(Rgb colour) {  // sRGB, IEC 61966-2-1
    const std::array<std::uint8_t, 3> code{colour.r, colour.g, colour.b};
    Triple linear{};
    for (std::size_t i = 0; i < 3; ++i) {
        const double coded = code[i] / 255.0;
        linear[i] = coded <= 0.04045 ? coded / 12.92 : std::pow((coded + 0.055) / 1.055, 2.4);
    }
    return linear;
}

Triple lab_of(const Triple& linear) {
    const Triple xyz = {0.4124564 * linear[0] + 0.3575761 * linear[1] + 0.1804375 * linear[2],
                        0.2126729 * linear[0] + 0.7151522 * linear[1] + 0.0721750 * linear[2],
                        0.0193339 * linear[0] + 0.1191920 * linear[1] + 0.9503041 * linear[2]};
    const Triple white = {0.95047, 1.0, 1.08883};
    Triple f{};
    for (std::size_t i = 0; i < 3; ++i) {
        const double t = xyz[i] / white[i];
        f[i] = t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116;
    }
    return {116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])};
}

double hue_deg(double a, double b) {
    if (a == 0 && b == 0) return 0;
    const double hue = deg_from_rad(std::atan2(b, a));
    return hue < 0 ? hue + 360 : hue;
}

// Sharma, Wu, Dalal, Color Res Appl 2005;30:21-30 (formula from memory, held against its own pairs below).
double ciede2000(const Triple& one, const Triple& two) {
    const auto chroma = [](double a, double b) { return std::hypot(a, b); };
    const double mean = 0.5 * (chroma(one[1], one[2]) + chroma(two[1], two[2]));
    const auto seventh = [](double c) { return std::pow(c, 7.0) / (std::pow(c, 7.0) + std::pow(25.0, 7.0)); };
    const double stretch = 1.5 - 0.5 * std::sqrt(seventh(mean));
    const double a1 = stretch * one[1], a2 = stretch * two[1];
    const double c1 = chroma(a1, one[2]), c2 = chroma(a2, two[2]);
    const double h1 = hue_deg(a1, one[2]), h2 = hue_deg(a2, two[2]);
    double turn = h2 - h1, middle = 0.5 * (h1 + h2);
    if (c1 * c2 == 0) {
        turn = 0;
        middle = h1 + h2;
    } else if (std::abs(h2 - h1) > 180) {
        turn += turn > 0 ? -360 : 360;
        middle += middle < 180 ? 180 : -180;
    }
    const auto cosine = [](double deg) { return std::cos(rad_from_deg(deg)); };
    const double t = 1 - 0.17 * cosine(middle - 30) + 0.24 * cosine(2 * middle) + 0.32 * cosine(3 * middle + 6) -
                     0.20 * cosine(4 * middle - 63);
    const double l50 = std::pow(0.5 * (one[0] + two[0]) - 50, 2), c = 0.5 * (c1 + c2);
    const double dl = (two[0] - one[0]) / (1 + 0.015 * l50 / std::sqrt(20 + l50));
    const double dc = (c2 - c1) / (1 + 0.045 * c);
    const double dh = 2 * std::sqrt(c1 * c2) * std::sin(rad_from_deg(turn / 2)) / (1 + 0.015 * c * t);
    const double rotation =
        -2 * std::sqrt(seventh(c)) * std::sin(rad_from_deg(60 * std::exp(-std::pow((middle - 275) / 25, 2))));
    return std::sqrt(dl * dl + dc * dc + dh * dh + rotation * dc * dh);
}

// Sight without one kind of cone: Machado, Oliveira, Fernandes, IEEE TVCG 2009;15:1291 (severity 1; from memory).
using Matrix = std::array<Triple, 3>;
constexpr Matrix kProtanope = {
    {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}};
constexpr Matrix kDeuteranope = {
    {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}};

Triple seen_with(const Matrix& sight, const Triple& linear) {
    Triple seen{};
    for (std::size_t i = 0; i < 3; ++i) {
        seen[i] = std::clamp(sight[i][0] * linear[0] + sight[i][1] * linear[1] + sight[i][2] * linear[2], 0.0, 1.0);
    }
    return seen;
}

std::vector<Triple> band_colours() {
    std::vector<Triple> colours;
    for (int band = 0; band < kScaleBands; ++band) colours.push_back(linear_of(band_colour(band)));
    return colours;
}

}  // namespace

TEST_CASE("colours: our CIEDE2000 gives the published distances", "[figure][published]") {
    // Pairs 1, 2, 3, 7, 17 and 19 of Sharma et al. 2005, Table 1 (from memory).
    CHECK_THAT(ciede2000({50, 2.6772, -79.7751}, {50, 0, -82.7485}), WithinAbs(2.0425, 5e-5));
    CHECK_THAT(ciede2000({50, 3.1571, -77.2803}, {50, 0, -82.7485}), WithinAbs(2.8615, 5e-5));
    CHECK_THAT(ciede2000({50, 2.8361, -74.0200}, {50, 0, -82.7485}), WithinAbs(3.4412, 5e-5));
    CHECK_THAT(ciede2000({50, 0, 0}, {50, -1, 2}), WithinAbs(2.3669, 5e-5));
    CHECK_THAT(ciede2000({50, 2.5, 0}, {50, 0, -2.5}), WithinAbs(4.3065, 5e-5));
    CHECK_THAT(ciede2000({50, 2.5, 0}, {73, 25, -18}), WithinAbs(27.1492, 5e-5));
}

TEST_CASE("colours: lightness rises with every band, so that a black and white print keeps the order", "[figure]") {
    double before = 0;
    for (const Triple& colour : band_colours()) {
        const double lightness = lab_of(colour)[0];
        CHECK(lightness > before + 1.0);  // a step of L* 1 is about what an eye tells apart (our choice)
        before = lightness;
    }
    CHECK(lab_of(linear_of(scale_colour(1)))[0] - lab_of(linear_of(scale_colour(0)))[0] > 55);
}

TEST_CASE("colours: equal steps of power are equal steps to the eye", "[figure]") {
    const std::vector<Triple> colours = band_colours();
    std::vector<double> steps;
    for (std::size_t i = 1; i < colours.size(); ++i) {
        steps.push_back(ciede2000(lab_of(colours[i - 1]), lab_of(colours[i])));
    }
    const auto [least, most] = std::minmax_element(steps.begin(), steps.end());
    INFO("steps of CIEDE2000 from " << *least << " to " << *most);
    CHECK(*least > 2.0);           // neighbours are told apart
    CHECK(*most / *least < 1.25);  // what eight bits a colour leave of equality
}

TEST_CASE("colours: people without red or green cones tell neighbouring bands apart", "[figure]") {
    for (const Matrix& sight : {kProtanope, kDeuteranope}) {
        const std::vector<Triple> colours = band_colours();
        double before = -1;
        for (std::size_t i = 0; i < colours.size(); ++i) {
            const Triple lab = lab_of(seen_with(sight, colours[i]));
            CHECK(lab[0] > before);
            before = lab[0];
            if (i > 0) CHECK(ciede2000(lab_of(seen_with(sight, colours[i - 1])), lab) > 1.5);
        }
    }
}

TEST_CASE("colours: bands are whole dioptres, and what lies beyond the scale has its own", "[figure]") {
    CHECK(dioptre_band(32.9) == 0);
    CHECK(dioptre_band(33.0) == 1);
    CHECK(dioptre_band(42.999) == 10);
    CHECK(dioptre_band(43.0) == 11);
    CHECK(dioptre_band(52.9) == 20);
    CHECK(dioptre_band(53.0) == 21);
    CHECK(dioptre_band(-1e9) == 0);
    CHECK(dioptre_band(1e9) == 21);
    CHECK(kScaleBands == static_cast<int>((kAbsoluteScale.high_D - kAbsoluteScale.low_D) / kAbsoluteScale.step_D) + 2);
}

TEST_CASE("colours: a closure's own scale has whole steps around what its maps hold", "[figure]") {
    CurvatureMap map{3.0, 41, {}};
    for (std::size_t i = 0; i < 41 * 41; ++i) map.value_D.push_back(40.0 + map.mm(static_cast<double>(i / 41)));
    const PowerScale scale = own_scale({&map});
    CHECK(scale.low_D == 37.0);
    CHECK(scale.high_D == 43.0);
    CHECK(scale.step_D == 1.0);
    CHECK(scale.share(40.0) == 0.5);
    const CurvatureMap even{3.0, 2, {40.0, 40.0, 40.0, 40.0}};
    CHECK(own_scale({&even}).high_D > own_scale({&even}).low_D);
}
