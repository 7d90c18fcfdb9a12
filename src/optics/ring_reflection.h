// The rings of a keratoscope as the cornea mirrors them: ray traced, ring light → surface → camera.
//
// Rings of light stand coaxial with the instrument (the z axis of optics/surface.h, out of the eye),
// each with a radius and a distance in front of the vertex; the camera is a pinhole on the axis, at a
// finite distance or so far away that it sees along parallels. For every angle around a ring the place
// P = (x, y, h) is sought where the law of reflection holds: with â toward the light, ĉ toward the
// camera and b = â + ĉ along the normal (−h_x, −h_y, 1),
//   F = (b_x, b_y) + b_z (h_x, h_y) = 0         (Fermat: |P − light| + |P − camera| is stationary).
// Newton on the surface's own second-order Taylor series, started from the sphere that touches the
// vertex and from the neighbours' answers: mostly one look at the surface for one place.
// The image is P as the camera sees it, in the plane through the vertex (mm there, so that a far
// camera's image is (x, y) itself). Narrower along the steep meridian: the mirror's focal length is R/2.
// Of several places that could mirror one light the one that continues from the sphere is taken. Not
// traced: shadows, the tear film's own shape, light that is mirrored twice. mm, rad.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "optics/surface.h"

namespace graftwright {

struct LightRing {
    double radius = 0;    // of the ring of light
    double distance = 0;  // of its plane in front of the vertex
};

struct Keratoscope {
    std::vector<LightRing> rings;           // innermost first
    std::optional<double> camera_distance;  // in front of the vertex; empty: far away
};

// This program's own instrument: ten rings in a plane 100 mm before the eye, camera at 200 mm, radii
// such that a sphere of 7.8 mm mirrors them at 0.25, 0.50 … 2.50 mm from its vertex: inside the thread's entries.
[[nodiscard]] Keratoscope standard_keratoscope();

// The ring that a sphere of this radius mirrors at a distance ρ from its vertex.
[[nodiscard]] LightRing ring_mirrored_at(double rho, double sphere_radius, double ring_distance,
                                         std::optional<double> camera_distance);

struct MirroredPoint {
    double x = 0, y = 0;              // on the surface
    double image_x = 0, image_y = 0;  // in the plane through the vertex
};

// One ring: an entry for each angle 2π i / n of the light; empty where the surface covered does not
// mirror it to the camera.
using MirroredRing = std::vector<std::optional<MirroredPoint>>;

[[nodiscard]] std::vector<MirroredRing> mirror_rings(const AnteriorSurface& surface, const Keratoscope& keratoscope,
                                                     std::size_t angles);

// How round a mirrored ring is, by the second harmonic of its image's radius about the axis.
struct RingShape {
    double mean_radius = 0;
    double long_minus_short = 0;  // difference of the long and the short diameter, mm
    double short_axis_deg = 0;    // in [0, 180); along it the cornea is steep
};
// Nothing where a part of the ring is missing.
[[nodiscard]] std::optional<RingShape> ring_shape(const MirroredRing& ring);

}  // namespace graftwright
