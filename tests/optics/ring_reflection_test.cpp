// Mirrored rings against mirrors whose image is known in closed form, and against what a keratoscope
// shows: narrower along the steep meridian.
#include "optics/ring_reflection.h"

#include <cmath>
#include <memory>

#include <Eigen/Geometry>
#include <catch2/catch.hpp>

#include "../scenes/test_surfaces.h"
#include "base/units.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// A place is accepted when the surface was looked at within 1.5e-3 mm of it (ring_reflection.cpp).
constexpr double kPlace_mm = 1e-6;

std::vector<MirroredPoint> whole(const MirroredRing& ring) {
    std::vector<MirroredPoint> points;
    for (const auto& point : ring) {
        REQUIRE(point);
        points.push_back(*point);
    }
    return points;
}

// Angle between the normal and the bisector of the ways to light and camera: nil where the law holds.
double law_broken_by(const AnteriorSurface& surface, const Keratoscope& scope, const LightRing& ring, double angle,
                     const MirroredPoint& point) {
    const SurfaceSample at = surface.sample(point.x, point.y);
    const Eigen::Vector3d place(point.x, point.y, at.height);
    const Eigen::Vector3d light(ring.radius * std::cos(angle), ring.radius * std::sin(angle), ring.distance);
    const Eigen::Vector3d camera = scope.camera_distance
                                       ? (Eigen::Vector3d(0, 0, *scope.camera_distance) - place).normalized()
                                       : Eigen::Vector3d(0, 0, 1);
    const Eigen::Vector3d normal = Eigen::Vector3d(-at.slope_x, -at.slope_y, 1).normalized();
    return ((light - place).normalized() + camera).normalized().cross(normal).norm();
}

}  // namespace

// Convex mirror: focal length R/2, 1/s' = 1/s + 2/R behind the mirror, image a s'/s (handbook, paraxial).
TEST_CASE("rings: a small ring's image in a convex mirror is that of focal length R/2", "[optics][handbook]") {
    const double radius = 7.8;
    for (const double distance : {60.0, 100.0, 400.0}) {
        // Small enough for the paraxial formula: the image's third-order error is (0.01)² of it.
        const Keratoscope scope{{{0.01 * distance, distance}}, std::nullopt};
        const double behind = 1 / (1 / distance + 2 / radius);
        const double expected = 0.01 * distance * behind / distance;
        for (const MirroredPoint& point : whole(mirror_rings(scenes::Sphere(radius), scope, 24).front())) {
            // A far camera on the axis sees the image in its true size.
            CHECK_THAT(std::hypot(point.image_x, point.image_y), WithinRel(expected, 2e-4));
        }
    }
}

// A ray toward the focus of a paraboloid leaves it along the axis: the place is where the line from the
// light to the focus (R/2 behind the vertex) meets the surface z = −ρ²/2R. Exact at any size.
TEST_CASE("rings: a paraboloid and a far camera agree with the line through the focus", "[optics][handbook]") {
    const double R = 7.5;
    const scenes::Conicoid paraboloid(R, -1.0);
    const Keratoscope scope{{{30, 80}, {90, 80}, {150, 80}}, std::nullopt};
    const auto rings = mirror_rings(paraboloid, scope, 36);
    for (std::size_t k = 0; k < rings.size(); ++k) {
        // ρ = t a, −ρ²/2R = −R/2 + t (d + R/2)  →  a² t²/2R + (d + R/2) t − R/2 = 0
        const double a = scope.rings[k].radius, c = scope.rings[k].distance + R / 2;
        const double rho = a * (-c + std::sqrt(c * c + a * a)) * R / (a * a);
        for (const MirroredPoint& point : whole(rings[k])) {
            CHECK_THAT(std::hypot(point.x, point.y), WithinAbs(rho, kPlace_mm));
        }
    }
}

// A hyperboloid of apical radius R and conic constant Q = −e² has its foci R/(1+e) behind and R/(e−1) in
// front of the vertex; a ray toward the one leaves toward the other. A camera there sees the exact place.
TEST_CASE("rings: a hyperboloid seen from its focus agrees with the line through the other", "[optics][handbook]") {
    const double R = 7.8, e = 1.05;
    const scenes::Conicoid hyperboloid(R, -e * e);
    const Keratoscope scope{{{40, 90}, {110, 90}}, R / (e - 1)};
    const auto rings = mirror_rings(hyperboloid, scope, 36);
    for (std::size_t k = 0; k < rings.size(); ++k) {
        for (const MirroredPoint& point : whole(rings[k])) {
            const double rho = std::hypot(point.x, point.y);
            const double height = hyperboloid.sample(point.x, point.y).height;
            const double behind = R / (1 + e);
            // On the line from the light to the inner focus.
            CHECK_THAT(rho / (height + behind),
                       WithinRel(scope.rings[k].radius / (scope.rings[k].distance + behind), 1e-6));
        }
    }
}

TEST_CASE("rings: the standard instrument's rings lie a quarter of a millimetre apart on a sphere of 7.8 mm",
          "[optics]") {
    const auto rings = mirror_rings(scenes::Sphere(7.8), standard_keratoscope(), 96);
    REQUIRE(rings.size() == 10);
    for (std::size_t k = 0; k < rings.size(); ++k) {
        for (const MirroredPoint& point : whole(rings[k])) {
            CHECK_THAT(std::hypot(point.x, point.y), WithinAbs(0.25 * static_cast<double>(k + 1), kPlace_mm));
        }
        const auto shape = ring_shape(rings[k]);
        REQUIRE(shape);
        CHECK_THAT(shape->long_minus_short, WithinAbs(0, 1e-5));
    }
}

// Paraxially each meridian images by its own R/2: diameters in the ratio of the radii (handbook).
TEST_CASE("rings: a torus shows them narrower along its steep meridian, in the ratio of its radii",
          "[optics][handbook]") {
    const double steep = 7.4, flat = 8.2, axis_deg = 25;
    const Keratoscope scope{{{2, 200}}, std::nullopt};
    const auto shape = ring_shape(mirror_rings(scenes::Torus(steep, flat, axis_deg), scope, 96).front());
    REQUIRE(shape);
    CHECK_THAT(shape->short_axis_deg, WithinAbs(axis_deg, 0.1));
    const double longest = shape->mean_radius + shape->long_minus_short / 4;
    const double shortest = shape->mean_radius - shape->long_minus_short / 4;
    // The ring is small and far; what is left is the ellipse's fourth harmonic and s' ≠ R/2 (2 %).
    CHECK_THAT(shortest / longest, WithinRel(steep / flat, 2e-3));
}

TEST_CASE("rings: the law of reflection holds at every place of a bumpy front", "[optics][property]") {
    const auto base = std::make_shared<scenes::Torus>(7.4, 8.2, 40);
    const scenes::WithBumps bumpy(base, 3.5, {{3, 1, 3.0}, {4, -2, 2.0}, {6, 6, 2.0}});
    const Keratoscope scope = standard_keratoscope();
    const auto rings = mirror_rings(bumpy, scope, 96);
    for (std::size_t k = 0; k < rings.size(); ++k) {
        const auto points = whole(rings[k]);
        for (std::size_t i = 0; i < points.size(); ++i) {
            const double angle = 2 * kPi * static_cast<double>(i) / 96;
            // Slope error of the Taylor series over the last step: a curvature's change times its square.
            CHECK(law_broken_by(bumpy, scope, scope.rings[k], angle, points[i]) < 1e-5);
        }
    }
}

TEST_CASE("rings: a front that ends too soon mirrors the inner rings and no others", "[optics]") {
    const scenes::CutOff cut(std::make_shared<scenes::Sphere>(7.8), 1.3);
    const auto rings = mirror_rings(cut, standard_keratoscope(), 48);
    for (std::size_t k = 0; k < rings.size(); ++k) {
        for (const auto& point : rings[k]) CHECK(point.has_value() == (k < 5));
        CHECK(ring_shape(rings[k]).has_value() == (k < 5));
    }
}
