#include "shell/meridian.h"

#include <cmath>

#include <Eigen/Geometry>
#include <catch2/catch.hpp>

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

// Properties of the geometry itself; r = R sin α is all that is used.
TEST_CASE("meridian: elements follow one another from the apex to the wound and from the wound on",
          "[shell][property]") {
    const EyeShape shape;
    const double alpha_wound = std::asin(shape.wound_radius / shape.mid_radius);
    const Meridian donor = Meridian::donor(shape, {}), host = Meridian::host(shape, {});
    CHECK(donor.elements().front().s_begin == 0.0);
    CHECK_THAT(donor.elements().back().s_end(), WithinRel(shape.mid_radius * alpha_wound, 1e-14));
    CHECK_THAT(host.elements().front().s_begin, WithinRel(donor.wound_s(), 1e-14));
    CHECK_THAT(host.elements().back().alpha_at(host.elements().back().s_end()),
               WithinRel(shape.sclera_end_colatitude, 1e-12));
    for (const Meridian* side : {&donor, &host}) {
        for (std::size_t i = 1; i < side->elements().size(); ++i) {
            CHECK_THAT(side->elements()[i].s_begin - side->elements()[i - 1].s_end(), WithinAbs(0, 1e-12));
        }
    }
    // Fine at the wound, coarse away from it.
    CHECK(donor.elements().back().length < donor.elements().front().length);
    CHECK(host.elements().front().length < host.elements().back().length);
}

TEST_CASE("meridian: the surface is continuous over the limbus and its frame follows it", "[shell][property]") {
    EyeShape shape;
    const Meridian host = Meridian::host(shape, {});
    std::size_t first_of_sclera = 0;
    while (host.elements()[first_of_sclera].radius == shape.mid_radius) ++first_of_sclera;
    const double limbus_s = host.elements()[first_of_sclera].s_begin;
    const Eigen::Vector3d rim = host.position(limbus_s - 1e-9, 0.3, 0.0);
    const Eigen::Vector3d sclera = host.position(limbus_s + 1e-9, 0.3, 0.0);
    CHECK((rim - sclera).norm() < 1e-8);
    CHECK_THAT(std::hypot(sclera.x(), sclera.y()), WithinAbs(shape.limbus_radius, 1e-8));

    for (double s : {host.wound_s() + 0.4, limbus_s + 2.0, limbus_s + 15.0}) {
        const double step = 1e-6, r = std::hypot(host.position(s, 0.3, 0).x(), host.position(s, 0.3, 0).y());
        const Eigen::Matrix3d frame = host.frame(s, 0.3);
        const Eigen::Vector3d along_s =
            (host.position(s + step, 0.3, 0) - host.position(s - step, 0.3, 0)) / (2 * step);
        const Eigen::Vector3d around =
            (host.position(s, 0.3 + step, 0) - host.position(s, 0.3 - step, 0)) / (2 * step * r);
        const Eigen::Vector3d outward = (host.position(s, 0.3, step) - host.position(s, 0.3, -step)) / (2 * step);
        CHECK((frame.col(0) - along_s).norm() < 1e-8);
        CHECK((frame.col(1) - around).norm() < 1e-8);
        CHECK((frame.col(2) - outward).norm() < 1e-8);
        CHECK((frame.transpose() * frame - Eigen::Matrix3d::Identity()).norm() < 1e-14);
    }
}

TEST_CASE("meridian: distances from the wound are measured along the outer surface", "[shell][property]") {
    const EyeShape shape;
    const double distance = GENERATE(0.2, 1.0, 1.6);
    for (const Meridian& side : {Meridian::donor(shape, {}), Meridian::host(shape, {})}) {
        const double thickness = side.side() == WoundSide::donor ? shape.donor_thickness : shape.rim_thickness;
        const double s = side.s_at_outer_distance(distance);
        // The arc over the same angle on the sphere of radius R + t/2.
        const double angle = std::abs(s - side.wound_s()) / shape.mid_radius;
        CHECK_THAT(angle * (shape.mid_radius + 0.5 * thickness), WithinRel(distance, 1e-12));
        CHECK((side.side() == WoundSide::donor) == (s < side.wound_s()));
        CHECK(side.outer_length() > distance);
    }
}
