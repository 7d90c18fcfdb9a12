#include "optics/zernike.h"

#include <cmath>
#include <complex>
#include <cstdlib>

#include <Eigen/Cholesky>

#include "base/check.h"
#include "base/units.h"

namespace graftwright {
namespace {

constexpr int kRadialNodes = 12;
constexpr int kAngularNodes = 64;
constexpr int kNodes = kRadialNodes * kAngularNodes;

double factorial(int n) { return n <= 1 ? 1.0 : n * factorial(n - 1); }

// N R(ρ) = ρ^|m| P(t) with t = ρ²: the coefficients of N P, lowest power first.
struct RadialPolynomial {
    std::array<double, kZernikeOrder / 2 + 1> coefficient{};
    double value = 0, first = 0, second = 0;  // N P, N P', N P'' at t

    RadialPolynomial(ZernikeTerm term, double t) {
        const int m = std::abs(term.frequency);
        const int highest = (term.order - m) / 2;
        const double norm = std::sqrt(2.0 * (term.order + 1) / (m == 0 ? 2.0 : 1.0));
        for (int k = 0; k <= highest; ++k) {
            const double sign = k % 2 == 0 ? 1.0 : -1.0;
            coefficient.at(static_cast<std::size_t>(highest - k)) =
                norm * sign * factorial(term.order - k) /
                (factorial(k) * factorial((term.order + m) / 2 - k) * factorial(highest - k));
        }
        for (int power = highest; power >= 0; --power) {  // Horner, with its derivatives
            second = second * t + 2 * first;
            first = first * t + value;
            value = value * t + coefficient.at(static_cast<std::size_t>(power));
        }
    }
};

// Row j: Z_j at every place of the disc, times the place's weight. Constant, made once.
const Eigen::MatrixXd& projection_table() {
    static const Eigen::MatrixXd table = [] {
        const std::vector<DiscNode> nodes = disc_quadrature(1.0, kRadialNodes, kAngularNodes);
        Eigen::MatrixXd rows(kZernikeTerms, kNodes);
        for (int j = 0; j < kZernikeTerms; ++j) {
            for (int i = 0; i < kNodes; ++i) {
                const DiscNode& node = nodes[static_cast<std::size_t>(i)];
                rows(j, i) = node.weight * zernike_value(j, node.x, node.y);
            }
        }
        return rows;
    }();
    return table;
}

// Normal equations of the sphere fit about a trial sphere.
struct SphereSystem {
    Eigen::Matrix4d matrix = Eigen::Matrix4d::Zero();
    Eigen::Vector4d right = Eigen::Vector4d::Zero();
    double mean_square = 0;
    bool inside = true;  // every place lies above the trial sphere's equator
};

SphereSystem sphere_system(const BestSphere& sphere, const std::vector<DiscNode>& nodes,
                           const Eigen::Ref<const Eigen::VectorXd>& heights) {
    SphereSystem system;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        const DiscNode& node = nodes[i];
        const double dx = node.x - sphere.centre_x, dy = node.y - sphere.centre_y;
        const double squared = dx * dx + dy * dy;
        const double under_root = 1 - sphere.curvature * sphere.curvature * squared;
        if (under_root <= 0) {
            system.inside = false;
            return system;
        }
        const double root = std::sqrt(under_root);
        const double residual = heights[static_cast<Eigen::Index>(i)] - sphere.height(node.x, node.y);
        // ∂s/∂(apex, centre_x, centre_y, κ); ∂s/∂κ = -d² / (root (1 + root)).
        const Eigen::Vector4d gradient(1, sphere.curvature * dx / root, sphere.curvature * dy / root,
                                       -squared / (root * (1 + root)));
        system.matrix += node.weight * gradient * gradient.transpose();
        system.right += node.weight * residual * gradient;
        system.mean_square += node.weight * residual * residual;
    }
    return system;
}

// Levenberg-Marquardt; from a cornea's own curvature it is Newton's method after the first step.
std::optional<BestSphere> fit_sphere(const std::vector<DiscNode>& nodes,
                                     const Eigen::Ref<const Eigen::VectorXd>& heights, BestSphere sphere) {
    constexpr int kMostSteps = 60;
    constexpr double kSettled = 1e-13;  // mm of height: 1e-10 µm, far below any figure shown
    SphereSystem system = sphere_system(sphere, nodes, heights);
    if (!system.inside) return std::nullopt;
    double damping = 1e-12;
    for (int step = 0; step < kMostSteps; ++step) {
        Eigen::Matrix4d damped = system.matrix;
        // The floor keeps a flat surface solvable, whose centre is anywhere.
        damped.diagonal() += damping * system.matrix.diagonal() + Eigen::Vector4d::Constant(1e-30);
        const Eigen::Vector4d change = damped.ldlt().solve(system.right);
        if (!change.allFinite()) return std::nullopt;
        const BestSphere trial{sphere.apex + change[0], sphere.centre_x + change[1], sphere.centre_y + change[2],
                               sphere.curvature + change[3]};
        SphereSystem next = sphere_system(trial, nodes, heights);
        // What the step moves the fitted heights by, root mean square.
        const double moved = std::sqrt(std::fmax(0, change.dot(system.matrix * change)));
        if (moved < kSettled) return sphere;
        if (next.inside && next.mean_square <= system.mean_square) {
            sphere = trial;
            system = next;
            damping = std::fmax(damping / 10, 1e-14);
        } else {
            // At the bottom rounding alone decides which of two spheres is nearer.
            if (moved < 1e-11) return sphere;
            damping = std::fmax(damping, 1e-6) * 10;
        }
    }
    return std::nullopt;
}

}  // namespace

int zernike_index(ZernikeTerm term) { return (term.order * (term.order + 2) + term.frequency) / 2; }

ZernikeTerm zernike_term(int index) {
    GRAFTWRIGHT_CHECK(index >= 0 && index < kZernikeTerms, "no such Zernike term");
    int order = 0;
    while ((order + 1) * (order + 2) / 2 <= index) ++order;
    return {order, 2 * index - order * (order + 2)};
}

SurfaceSample zernike_sample(int index, double x, double y) {
    const ZernikeTerm term = zernike_term(index);
    const int m = std::abs(term.frequency);
    const RadialPolynomial radial(term, x * x + y * y);
    // Angular part: real or imaginary part of (x + iy)^m, harmonic, with its derivatives.
    const std::complex<double> place(x, y);
    const auto power = [&](int exponent) {
        std::complex<double> product = 1;
        for (int k = 0; k < exponent; ++k) product *= place;
        return product;
    };
    const std::complex<double> i(0, 1);
    const std::complex<double> w = power(m);
    const std::complex<double> w1 = m >= 1 ? static_cast<double>(m) * power(m - 1) : 0.0;
    const std::complex<double> w2 = m >= 2 ? static_cast<double>(m * (m - 1)) * power(m - 2) : 0.0;
    const auto part = [&](std::complex<double> z) { return term.frequency < 0 ? z.imag() : z.real(); };
    const double a = part(w), ax = part(w1), ay = part(i * w1);
    const double axx = part(w2), axy = part(i * w2);
    const double p = radial.value, p1 = radial.first, p2 = radial.second;
    SurfaceSample sample;
    sample.height = a * p;
    sample.slope_x = ax * p + a * 2 * x * p1;
    sample.slope_y = ay * p + a * 2 * y * p1;
    sample.curv_xx = axx * p + 4 * x * ax * p1 + a * (2 * p1 + 4 * x * x * p2);
    sample.curv_yy = -axx * p + 4 * y * ay * p1 + a * (2 * p1 + 4 * y * y * p2);
    sample.curv_xy = axy * p + 2 * y * ax * p1 + 2 * x * ay * p1 + a * 4 * x * y * p2;
    return sample;
}

double zernike_value(int index, double x, double y) { return zernike_sample(index, x, y).height; }

double ZernikeFit::coefficient_um(int order, int frequency) const {
    return coefficients_um.at(static_cast<std::size_t>(zernike_index({order, frequency})));
}

double ZernikeFit::rms_um(int from_order, int to_order) const {
    GRAFTWRIGHT_CHECK(0 <= from_order && to_order <= kZernikeOrder, "no such Zernike order");
    double sum = 0;
    for (int j = 0; j < kZernikeTerms; ++j) {
        const int order = zernike_term(j).order;
        const double coefficient = coefficients_um[static_cast<std::size_t>(j)];
        if (order >= from_order && order <= to_order) sum += coefficient * coefficient;
    }
    return std::sqrt(sum);
}

std::vector<DiscNode> zernike_disc(double radius_mm) { return disc_quadrature(radius_mm, kRadialNodes, kAngularNodes); }

ZernikeFit fit_zernike(const Eigen::Ref<const Eigen::VectorXd>& heights, double radius_mm) {
    GRAFTWRIGHT_CHECK(heights.size() == kNodes, "heights at the places of zernike_disc");
    const Eigen::VectorXd coefficients = projection_table() * heights;
    ZernikeFit fit;
    fit.radius_mm = radius_mm;
    for (int j = 0; j < kZernikeTerms; ++j)
        fit.coefficients_um[static_cast<std::size_t>(j)] = um_from_mm(coefficients[j]);
    return fit;
}

double BestSphere::height(double x, double y) const {
    const double dx = x - centre_x, dy = y - centre_y;
    const double squared = dx * dx + dy * dy;
    return apex - curvature * squared / (1 + std::sqrt(1 - curvature * curvature * squared));
}

std::optional<Irregularity> irregularity(const AnteriorSurface& surface, double diameter_mm) {
    GRAFTWRIGHT_CHECK(diameter_mm > 0, "a zone has a size");
    const double radius_mm = diameter_mm / 2;
    if (surface.radius_covered() < radius_mm) return std::nullopt;
    const std::vector<DiscNode> nodes = zernike_disc(radius_mm);
    Eigen::VectorXd heights(kNodes);
    for (int i = 0; i < kNodes; ++i) {
        const DiscNode& node = nodes[static_cast<std::size_t>(i)];
        heights[i] = surface.sample(node.x, node.y).height;
    }
    const SurfaceSample vertex = surface.sample(0, 0);
    const BestSphere start{vertex.height, 0, 0, -(vertex.curv_xx + vertex.curv_yy) / 2};
    const std::optional<BestSphere> sphere = fit_sphere(nodes, heights, start);
    if (!sphere) return std::nullopt;
    for (int i = 0; i < kNodes; ++i) {
        const DiscNode& node = nodes[static_cast<std::size_t>(i)];
        heights[i] -= sphere->height(node.x, node.y);
    }
    Irregularity result;
    result.sphere = *sphere;
    result.residual = fit_zernike(heights, radius_mm);
    result.hoa_rms_um = result.residual.rms_um(3, kZernikeOrder);
    return result;
}

std::optional<double> irregularity_rms_um(const AnteriorSurface& surface, double diameter_mm) {
    const std::optional<Irregularity> result = irregularity(surface, diameter_mm);
    if (!result) return std::nullopt;
    return result->hoa_rms_um;
}

}  // namespace graftwright
