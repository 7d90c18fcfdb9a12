#include "optics/deformed_donor.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Geometry>
#include <Eigen/LU>

namespace graftwright {
namespace {

// The share of the donor's radius that is handed out.
constexpr double kCovered = 0.97;
// Nearer to the apex than this (mm) polar derivatives cancel; a Taylor step bridges the gap.
constexpr double kApex = 1e-3;
// Newton stops this near (mm) to the place asked for; the Taylor step over the rest errs by its square.
constexpr double kNear = 1e-7;
// A harmonic smaller than this (mm) over an element is left out there: 1e-6 D at most.
constexpr double kNothing = 1e-10;

// Lowest power of s of a smooth component (0 u, 1 v, 2 w) in harmonic m.
int lowest_power(std::size_t component, int m) { return component == 2 ? m : (m == 0 ? 1 : m - 1); }

// What Poisson's effect adds to w at the outer surface, and its slope.
std::array<double, 2> thickening(const ShellSide& donor, double z, int m, double s, double alpha, double R,
                                 const FieldAmplitudes& f) {
    const double nu = donor.poisson_ratio();
    const double r = R * std::sin(alpha), c = std::cos(alpha);
    if (s < 1e-9) {
        // Limits at the apex: only m = 0 has any (ε_s = ε_θ = U' + W/R).
        if (m != 0) return {0.0, 0.0};
        return {-nu / (1.0 - nu) * ((2.0 * f.slope[0] + 2.0 * f.value[2] / R) * z + 2.0 * f.slope[3] * 0.5 * z * z),
                0.0};
    }
    const auto divergence = [&](std::size_t along, std::size_t around) {
        const double hoop = (c * f.value[along] + m * f.value[around]) / r;
        const double hoop_slope =
            (c * f.slope[along] + m * f.slope[around] - f.value[along] * r / (R * R) - hoop * c) / r;
        return std::array<double, 2>{f.slope[along] + hoop, f.second[along] + hoop_slope};
    };
    const auto stretch = divergence(0, 1), bend = divergence(3, 4);
    const double factor = -nu / (1.0 - nu);
    return {factor * ((stretch[0] + 2.0 * f.value[2] / R) * z + bend[0] * 0.5 * z * z),
            factor * ((stretch[1] + 2.0 * f.slope[2] / R) * z + bend[1] * 0.5 * z * z)};
}

// Quintic Hermite functions at x in [0, 1] of an interval h and two derivatives (columns): value, slope,
// second derivative at the left end, then at the right.
Eigen::Matrix<double, 6, 3> quintic_hermite(double x, double h) {
    const double x2 = x * x, x3 = x2 * x, x4 = x3 * x, x5 = x4 * x;
    Eigen::Matrix<double, 6, 3> b;
    b << 1 - 10 * x3 + 15 * x4 - 6 * x5, (-30 * x2 + 60 * x3 - 30 * x4) / h, (-60 * x + 180 * x2 - 120 * x3) / (h * h),
        h * (x - 6 * x3 + 8 * x4 - 3 * x5), 1 - 18 * x2 + 32 * x3 - 15 * x4, (-36 * x + 96 * x2 - 60 * x3) / h,
        h * h * 0.5 * (x2 - 3 * x3 + 3 * x4 - x5), h * 0.5 * (2 * x - 9 * x2 + 12 * x3 - 5 * x4),
        0.5 * (2 - 18 * x + 36 * x2 - 20 * x3), 10 * x3 - 15 * x4 + 6 * x5, (30 * x2 - 60 * x3 + 30 * x4) / h,
        (60 * x - 180 * x2 + 120 * x3) / (h * h), h * (-4 * x3 + 7 * x4 - 3 * x5), -12 * x2 + 28 * x3 - 15 * x4,
        (-24 * x + 84 * x2 - 60 * x3) / h, h * h * 0.5 * (x3 - 2 * x4 + x5), h * 0.5 * (3 * x2 - 8 * x3 + 5 * x4),
        0.5 * (6 * x - 24 * x2 + 20 * x3);
    return b;
}

}  // namespace

DeformedDonor::DeformedDonor(const WoundModel& model, const std::vector<Eigen::VectorXd>& displacement,
                             Eigen::Vector2d pupil) {
    take_nodes(model, displacement);
    find_highest_harmonics();
    // The vertex: the point of the surface over the pupil's centre.
    double s = mid_radius_ * std::asin(std::min(1.0, pupil.norm() / outer_radius_));
    double theta = std::atan2(pupil.y(), pupil.x());
    // A vertex at the apex itself is found in polar angles by leaving it a little way.
    for (int iteration = 0; iteration < 30; ++iteration) {
        s = std::max(s, kApex);
        const Jet at = jet(s, theta);
        Eigen::Matrix2d jacobian;
        jacobian << at.s.x(), at.t.x() / s, at.s.y(), at.t.y() / s;
        const Eigen::Vector2d step = jacobian.lu().solve(pupil - at.x.head<2>());
        const Eigen::Vector2d place(s + step[0], step[1]);  // along the meridian, across it
        theta += std::atan2(place[1], place[0]);
        s = place.norm();
        if (step.norm() < 1e-13) break;
    }
    const Jet at = jet(std::max(s, kApex), theta);
    vertex_ = at.x;
    const auto frame_of = [](const Eigen::Vector3d& outward) {
        Eigen::Matrix3d axes;
        axes.col(2) = outward.normalized();
        axes.col(0) = (Eigen::Vector3d::UnitX() - axes.col(2).x() * axes.col(2)).normalized();
        axes.col(1) = axes.col(2).cross(axes.col(0));
        return axes;
    };
    axes_ = frame_of(at.s.cross(at.t));
    // The last step, at most kApex: on the tangent frame by the surface's own Taylor series.
    for (int iteration = 0; iteration < 4; ++iteration) {
        const Eigen::Vector3d to_pupil(pupil.x() - vertex_.x(), pupil.y() - vertex_.y(), 0.0);
        // Slide within the tangent plane to the pupil's x and y.
        Eigen::Matrix2d plane;
        plane << axes_.row(0).head<2>(), axes_.row(1).head<2>();
        const Eigen::Vector2d slide = plane.lu().solve(to_pupil.head<2>());
        const SurfaceSample there = sample(slide.x(), slide.y());
        const Eigen::Vector3d normal = axes_ * Eigen::Vector3d(-there.slope_x, -there.slope_y, 1.0);
        vertex_ += axes_ * Eigen::Vector3d(slide.x(), slide.y(), there.height);
        axes_ = frame_of(normal);
    }
    const double edge = outer_radius_ * std::sin(kCovered * nodes_.back() / mid_radius_);
    radius_covered_ = edge - pupil.norm();
}

void DeformedDonor::take_nodes(const WoundModel& model, const std::vector<Eigen::VectorXd>& displacement) {
    const ShellSide& donor = model.donor();
    const auto& elements = donor.meridian().elements();
    mid_radius_ = model.shape().mid_radius;
    const double z = 0.5 * model.shape().donor_thickness;
    outer_radius_ = mid_radius_ + z;
    harmonics_ = std::min(kOpticalHarmonics, static_cast<int>(displacement.size() / 2));
    nodes_.push_back(elements.front().s_begin);
    for (const ShellElement& element : elements) nodes_.push_back(element.s_end());
    const std::size_t count = nodes_.size();
    for (auto& component : amplitudes_) {
        component.assign(static_cast<std::size_t>(2 * harmonics_ + 1),
                         Eigen::Matrix3Xd::Zero(3, static_cast<Eigen::Index>(count)));
    }
    for (int m = 0; m <= harmonics_; ++m) {
        for (const Family family : {Family::A, Family::B}) {
            if (m == 0 && family == Family::B) continue;
            const auto column = static_cast<std::size_t>(ring_column(m, family));
            std::vector<std::array<double, 2>> extra(count);
            for (std::size_t node = 0; node < count; ++node) {
                const auto k = static_cast<Eigen::Index>(node);
                const double s = nodes_[node];
                const std::size_t left = node == 0 ? 0 : node - 1, right = std::min(node, count - 2);
                FieldAmplitudes f = donor.fields_in(static_cast<int>(left), m, s, displacement[column]);
                const FieldAmplitudes g = donor.fields_in(static_cast<int>(right), m, s, displacement[column]);
                for (std::size_t i = 0; i < kFields; ++i) f.second[i] = 0.5 * (f.second[i] + g.second[i]);
                for (std::size_t c = 0; c < 2; ++c) {
                    amplitudes_[c][column].col(k) << f.value[c] + z * f.value[3 + c], f.slope[c] + z * f.slope[3 + c],
                        f.second[c] + z * f.second[3 + c];
                }
                extra[node] = thickening(donor, z, m, s, s / mid_radius_, mid_radius_, f);
                amplitudes_[2][column].col(k) << f.value[2] + extra[node][0], f.slope[2] + extra[node][1], f.second[2];
            }
            // Second derivative of the thickening: difference of its slopes.
            for (std::size_t node = 0; node < count; ++node) {
                const std::size_t before = node == 0 ? 0 : node - 1, after = std::min(node + 1, count - 1);
                amplitudes_[2][column](2, static_cast<Eigen::Index>(node)) +=
                    (extra[after][1] - extra[before][1]) / (nodes_[after] - nodes_[before]);
            }
            for (std::size_t c = 0; c < 3; ++c) {
                const int power = lowest_power(c, m);
                if (power > 0) amplitudes_[c][column](0, 0) = 0.0;
                if (power != 1) amplitudes_[c][column](1, 0) = 0.0;
                if (power != 0 && power != 2) amplitudes_[c][column](2, 0) = 0.0;
            }
        }
    }
}

void DeformedDonor::find_highest_harmonics() {
    for (std::size_t element = 0; element + 1 < nodes_.size(); ++element) {
        const double h = nodes_[element + 1] - nodes_[element];
        const Eigen::Vector3d scale(1.0, h, h * h);
        int highest = harmonics_;
        const auto is_nothing = [&](int m) {
            for (const auto& component : amplitudes_) {
                for (const Family family : {Family::A, Family::B}) {
                    const auto& nodal = component[static_cast<std::size_t>(ring_column(m, family))];
                    const auto ends = nodal.middleCols<2>(static_cast<Eigen::Index>(element));
                    if ((scale.asDiagonal() * ends).cwiseAbs().maxCoeff() > kNothing) return false;
                }
            }
            return true;
        };
        while (highest > 2 && is_nothing(highest)) --highest;
        highest_.push_back(highest);
    }
}

Eigen::Vector3d DeformedDonor::amplitude(std::size_t component, std::size_t column, std::size_t element,
                                         const Eigen::Matrix<double, 6, 3>& basis) const {
    const Eigen::Matrix3Xd& nodal = amplitudes_[component][column];
    const auto k = static_cast<Eigen::Index>(element);
    return basis.topRows<3>().transpose() * nodal.col(k) + basis.bottomRows<3>().transpose() * nodal.col(k + 1);
}

DeformedDonor::Jet DeformedDonor::jet(double s, double theta) const {
    // Components in (e_s, e_θ, n) and their derivatives: f, f_s, f_θ, f_ss, f_sθ, f_θθ.
    Eigen::Matrix<double, 3, 6> f = Eigen::Matrix<double, 3, 6>::Zero();
    const auto after = std::upper_bound(nodes_.begin() + 1, nodes_.end() - 1, s);
    const auto element = static_cast<std::size_t>(after - nodes_.begin()) - 1;
    const double h = nodes_[element + 1] - nodes_[element];
    const Eigen::Matrix<double, 6, 3> basis = quintic_hermite((s - nodes_[element]) / h, h);
    // cos mθ and sin mθ by turning on from one harmonic to the next.
    const double c1 = std::cos(theta), s1 = std::sin(theta);
    double c = 1.0, sn = 0.0;
    for (int m = 0; m <= highest_[element]; ++m) {
        if (m > 0) {
            const double turned = c * c1 - sn * s1;
            sn = sn * c1 + c * s1;
            c = turned;
        }
        const double mm = m;
        for (const Family family : {Family::A, Family::B}) {
            if (m == 0 && family == Family::B) continue;
            const auto column = static_cast<std::size_t>(ring_column(m, family));
            for (std::size_t i = 0; i < 3; ++i) {
                const Eigen::Vector3d a = amplitude(i, column, element, basis);
                // cos or sin, its derivative by θ, and the second.
                double g = family == Family::A ? c : sn, dg = family == Family::A ? -mm * sn : mm * c;
                if (i == 1 && m > 0) {
                    g = family == Family::A ? sn : -c;
                    dg = family == Family::A ? mm * c : mm * sn;
                }
                Eigen::Matrix<double, 1, 6> part;
                part << a[0] * g, a[1] * g, a[0] * dg, a[2] * g, a[1] * dg, -mm * mm * a[0] * g;
                f.row(static_cast<Eigen::Index>(i)) += part;
            }
        }
    }
    f(2, 0) += outer_radius_;
    const double R = mid_radius_, alpha = s / R, ca = std::cos(alpha), sa = std::sin(alpha);
    // Derivative of a vector given by components p and their derivative dp, by s and by θ.
    const auto by_s = [&](const Eigen::Vector3d& p, const Eigen::Vector3d& dp) {
        return Eigen::Vector3d(dp[0] + p[2] / R, dp[1], dp[2] - p[0] / R);
    };
    const auto by_t = [&](const Eigen::Vector3d& p, const Eigen::Vector3d& dp) {
        return Eigen::Vector3d(dp[0] - p[1] * ca, dp[1] + p[0] * ca + p[2] * sa, dp[2] - p[1] * sa);
    };
    const Eigen::Vector3d v = f.col(0), vs = by_s(v, f.col(1)), vt = by_t(v, f.col(2));
    // Component derivatives of vs and vt: the rotations' own coefficients vary with s only.
    const Eigen::Vector3d vs_s(f(0, 3) + f(2, 1) / R, f(1, 3), f(2, 3) - f(0, 1) / R);
    const Eigen::Vector3d vs_t(f(0, 4) + f(2, 2) / R, f(1, 4), f(2, 4) - f(0, 2) / R);
    const Eigen::Vector3d vt_t(f(0, 5) - f(1, 2) * ca, f(1, 5) + f(0, 2) * ca + f(2, 2) * sa, f(2, 5) - f(1, 2) * sa);
    Eigen::Matrix3d frame;
    frame << ca * c1, -s1, sa * c1, ca * s1, c1, sa * s1, -sa, 0.0, ca;
    return {frame * v, frame * vs, frame * vt, frame * by_s(vs, vs_s), frame * by_t(vs, vs_t), frame * by_t(vt, vt_t)};
}

SurfaceSample DeformedDonor::sample(double x, double y) const {
    // Newton for the place whose projection on the vertex plane is (x, y), in the plane s (cos, sin) θ.
    const Eigen::Vector3d start = vertex_ + axes_ * Eigen::Vector3d(x, y, -0.5 * (x * x + y * y) / outer_radius_);
    double s = mid_radius_ * std::asin(std::min(1.0, start.head<2>().norm() / outer_radius_));
    double theta = std::atan2(start.y(), start.x());
    Jet at;
    Eigen::Vector2d left;
    for (int iteration = 0; iteration < 30; ++iteration) {
        s = std::max(s, kApex);
        at = jet(s, theta);
        const Eigen::Vector3d local = axes_.transpose() * (at.x - vertex_);
        left = Eigen::Vector2d(x, y) - local.head<2>();
        if (left.norm() < kNear) break;
        const Eigen::Vector3d ds = axes_.transpose() * at.s, dt = axes_.transpose() * at.t / s;
        Eigen::Matrix2d jacobian;
        jacobian << ds.x(), dt.x(), ds.y(), dt.y();
        const Eigen::Vector2d step = jacobian.lu().solve(left);
        const Eigen::Vector2d place(s + step[0], step[1]);
        if (s <= kApex && place.norm() < kApex) break;  // a Taylor step from here is exact enough
        theta += std::atan2(place[1], place[0]);
        s = place.norm();
    }
    const Eigen::Vector3d p = axes_.transpose() * (at.x - vertex_);
    const Eigen::Vector3d ds = axes_.transpose() * at.s, dt = axes_.transpose() * at.t / s;
    const Eigen::Vector3d dss = axes_.transpose() * at.ss, dst = axes_.transpose() * at.st / s,
                          dtt = axes_.transpose() * at.tt / (s * s);
    Eigen::Matrix2d jacobian;
    jacobian << ds.x(), ds.y(), dt.x(), dt.y();
    const Eigen::Vector2d slope = jacobian.lu().solve(Eigen::Vector2d(ds.z(), dt.z()));
    Eigen::Matrix3d system;
    system << ds.x() * ds.x(), 2.0 * ds.x() * ds.y(), ds.y() * ds.y(),        //
        ds.x() * dt.x(), ds.x() * dt.y() + ds.y() * dt.x(), ds.y() * dt.y(),  //
        dt.x() * dt.x(), 2.0 * dt.x() * dt.y(), dt.y() * dt.y();
    const Eigen::Vector3d second = system.lu().solve(Eigen::Vector3d(
        dss.z() - slope.dot(dss.head<2>()), dst.z() - slope.dot(dst.head<2>()), dtt.z() - slope.dot(dtt.head<2>())));
    SurfaceSample result;
    result.curv_xx = second[0];
    result.curv_xy = second[1];
    result.curv_yy = second[2];
    // The Taylor step over what Newton left (nothing away from the apex).
    const double dx = x - p.x(), dy = y - p.y();
    result.slope_x = slope.x() + second[0] * dx + second[1] * dy;
    result.slope_y = slope.y() + second[1] * dx + second[2] * dy;
    result.height = p.z() + slope.x() * dx + slope.y() * dy +
                    0.5 * (second[0] * dx * dx + 2.0 * second[1] * dx * dy + second[2] * dy * dy);
    return result;
}

}  // namespace graftwright
