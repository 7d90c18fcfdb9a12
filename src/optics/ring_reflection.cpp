#include "optics/ring_reflection.h"

#include <cmath>

#include <Eigen/Core>
#include <Eigen/LU>

#include "base/check.h"
#include "base/units.h"
#include "optics/power_vector.h"

namespace graftwright {
namespace {

// A place that moved less than this (mm) from where the surface was looked at is final: the Taylor
// series is then wrong in slope by h‴ d²/2, which moves the place by less than 1e-6 mm.
constexpr double kTrusted = 1.5e-3;
constexpr int kMostLooks = 8;
constexpr double kLongestStep = 0.4;  // mm

// Where the parts of one ring meet: light, camera, and how far the surface reaches.
struct Path {
    Eigen::Vector3d light;
    std::optional<double> camera_distance;
    double reach = 0;
};

// Toward a point, and how that direction turns as P moves by dP: −(I − d dᵀ)/|…| dP.
struct Direction {
    Eigen::Vector3d unit;
    Eigen::Matrix3d turn;
};

Direction toward(const Eigen::Vector3d& target, const Eigen::Vector3d& place) {
    const Eigen::Vector3d way = target - place;
    const double length = way.norm();
    const Eigen::Vector3d unit = way / length;
    return {unit, (unit * unit.transpose() - Eigen::Matrix3d::Identity()) / length};
}

// The place near `from` that mirrors the light on the surface's Taylor series there, as a step.
Eigen::Vector2d step_on_series(const SurfaceSample& at, const Eigen::Vector2d& from, const Path& path) {
    const Eigen::Vector2d slope(at.slope_x, at.slope_y);
    Eigen::Matrix2d bend;
    bend << at.curv_xx, at.curv_xy, at.curv_xy, at.curv_yy;
    Eigen::Vector2d step = Eigen::Vector2d::Zero();
    for (int iteration = 0; iteration < 5; ++iteration) {
        const Eigen::Vector2d h1 = slope + bend * step;
        const Eigen::Vector3d place(from.x() + step.x(), from.y() + step.y(),
                                    at.height + slope.dot(step) + 0.5 * step.dot(bend * step));
        const Direction light = toward(path.light, place);
        Eigen::Vector3d b = light.unit + Eigen::Vector3d::UnitZ();
        Eigen::Matrix3d turn = light.turn;
        if (path.camera_distance) {
            const Direction camera = toward(Eigen::Vector3d(0, 0, *path.camera_distance), place);
            b = light.unit + camera.unit;
            turn += camera.turn;
        }
        Eigen::Matrix<double, 3, 2> motion;  // of P
        motion << 1, 0, 0, 1, h1.x(), h1.y();
        const Eigen::Matrix<double, 3, 2> db = turn * motion;
        const Eigen::Vector2d F = b.head<2>() + b.z() * h1;
        const Eigen::Matrix2d jacobian = db.topRows<2>() + h1 * db.row(2) + b.z() * bend;
        const Eigen::Vector2d correction = jacobian.inverse() * F;
        step -= correction;
        if (!(step.norm() < kLongestStep)) return step.normalized() * kLongestStep;
        if (correction.norm() < 1e-10) break;
    }
    return step;
}

std::optional<MirroredPoint> mirror(const AnteriorSurface& surface, Eigen::Vector2d place, const Path& path) {
    for (int look = 0; look < kMostLooks; ++look) {
        if (!(place.norm() <= path.reach)) return std::nullopt;
        const SurfaceSample at = surface.sample(place.x(), place.y());
        const Eigen::Vector2d step = step_on_series(at, place, path);
        if (!step.allFinite()) return std::nullopt;
        place += step;
        if (step.norm() > kTrusted) continue;
        if (place.norm() > path.reach) return std::nullopt;
        const double height = at.height + at.slope_x * step.x() + at.slope_y * step.y();
        const double scale = path.camera_distance ? *path.camera_distance / (*path.camera_distance - height) : 1.0;
        return MirroredPoint{place.x(), place.y(), scale * place.x(), scale * place.y()};
    }
    return std::nullopt;
}

// Distance from the vertex at which a sphere mirrors a ring: the normal's angle is the mean of the two
// directions'. Settles quickly as long as light and camera are several radii away.
double sphere_mirrors_at(const LightRing& ring, double radius, std::optional<double> camera_distance) {
    double tilt = 0.5 * std::atan2(ring.radius, ring.distance);
    for (int iteration = 0; iteration < 12; ++iteration) {
        const double rho = radius * std::sin(tilt), sag = radius * (1 - std::cos(tilt));
        const double to_light = std::atan2(ring.radius - rho, ring.distance + sag);
        const double to_camera = camera_distance ? std::atan2(-rho, *camera_distance + sag) : 0.0;
        tilt = 0.5 * (to_light + to_camera);
    }
    return radius * std::sin(tilt);
}

MirroredRing mirror_ring(const AnteriorSurface& surface, const LightRing& ring, const Keratoscope& keratoscope,
                         double sphere_radius, std::size_t angles) {
    MirroredRing mirrored(angles);
    const double rho_on_sphere = sphere_mirrors_at(ring, sphere_radius, keratoscope.camera_distance);
    // The three places before, seen from the light's own angle: they foretell the next.
    std::vector<Eigen::Vector2d> turned;
    for (std::size_t i = 0; i < angles; ++i) {
        const double angle = 2 * kPi * static_cast<double>(i) / static_cast<double>(angles);
        Eigen::Matrix2d rotation;
        rotation << std::cos(angle), -std::sin(angle), std::sin(angle), std::cos(angle);
        Eigen::Vector2d guess(rho_on_sphere, 0);
        if (const std::size_t n = turned.size(); n >= 3) {
            guess = 3 * (turned[n - 1] - turned[n - 2]) + turned[n - 3];
        } else if (n > 0) {
            guess = turned.back();
        }
        const Path path{{ring.radius * std::cos(angle), ring.radius * std::sin(angle), ring.distance},
                        keratoscope.camera_distance,
                        surface.radius_covered()};
        mirrored[i] = mirror(surface, rotation * guess, path);
        if (mirrored[i]) {
            turned.push_back(rotation.transpose() * Eigen::Vector2d(mirrored[i]->x, mirrored[i]->y));
        } else {
            turned.clear();
        }
    }
    return mirrored;
}

}  // namespace

LightRing ring_mirrored_at(double rho, double sphere_radius, double ring_distance,
                           std::optional<double> camera_distance) {
    GRAFTWRIGHT_CHECK(rho > 0 && rho < sphere_radius && ring_distance > 0, "a ring stands before a sphere");
    const double tilt = std::asin(rho / sphere_radius), sag = sphere_radius * (1 - std::cos(tilt));
    const double to_camera = camera_distance ? std::atan2(-rho, *camera_distance + sag) : 0.0;
    const double to_light = 2 * tilt - to_camera;
    GRAFTWRIGHT_CHECK(to_light < 0.5 * kPi, "a plane in front of the eye holds no such ring");
    return {rho + (ring_distance + sag) * std::tan(to_light), ring_distance};
}

Keratoscope standard_keratoscope() {
    constexpr double kRings_mm = 100.0, kCamera_mm = 200.0, kSphere_mm = 7.8, kSpacing_mm = 0.25;
    constexpr int kRingCount = 10;
    Keratoscope keratoscope;
    keratoscope.camera_distance = kCamera_mm;
    for (int k = 1; k <= kRingCount; ++k) {
        keratoscope.rings.push_back(
            ring_mirrored_at(kSpacing_mm * k, kSphere_mm, kRings_mm, keratoscope.camera_distance));
    }
    return keratoscope;
}

std::vector<MirroredRing> mirror_rings(const AnteriorSurface& surface, const Keratoscope& keratoscope,
                                       std::size_t angles) {
    GRAFTWRIGHT_CHECK(angles > 0, "a ring has places");
    const SurfaceSample vertex = surface.sample(0, 0);
    const double curvature = -0.5 * (vertex.curv_xx + vertex.curv_yy);
    std::vector<MirroredRing> mirrored;
    mirrored.reserve(keratoscope.rings.size());
    // A front that is hollow at its vertex mirrors no ring this way.
    if (!(curvature > 0)) return std::vector<MirroredRing>(keratoscope.rings.size(), MirroredRing(angles));
    for (const LightRing& ring : keratoscope.rings) {
        mirrored.push_back(mirror_ring(surface, ring, keratoscope, 1 / curvature, angles));
    }
    return mirrored;
}

std::optional<RingShape> ring_shape(const MirroredRing& ring) {
    if (ring.empty()) return std::nullopt;
    // Places lie unevenly in the image's own angle, so the harmonic is fitted, not summed.
    Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    for (const auto& point : ring) {
        if (!point) return std::nullopt;
        const double angle = std::atan2(point->image_y, point->image_x);
        const Eigen::Vector3d row(1, std::cos(2 * angle), std::sin(2 * angle));
        normal += row * row.transpose();
        right += row * std::hypot(point->image_x, point->image_y);
    }
    const Eigen::Vector3d fit = normal.inverse() * right;
    RingShape shape;
    shape.mean_radius = fit[0];
    shape.long_minus_short = 4 * std::hypot(fit[1], fit[2]);
    // Shortest where the harmonic is most negative.
    shape.short_axis_deg = axis_in_half_turn_deg(0.5 * deg_from_rad(std::atan2(-fit[2], -fit[1])));
    return shape;
}

}  // namespace graftwright
