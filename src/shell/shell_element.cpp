#include "shell/shell_element.h"

#include <cmath>

namespace graftwright {
namespace {

// Five-point Gauss–Legendre rule on [0, 1].
constexpr std::array<double, 5> kGaussPoint = {
    0.5 - 0.5 * 0.906179845938663992797627, 0.5 - 0.5 * 0.538469310105683091036314, 0.5,
    0.5 + 0.5 * 0.538469310105683091036314, 0.5 + 0.5 * 0.906179845938663992797627};
constexpr std::array<double, 5> kGaussWeight = {0.5 * 0.236926885056189087514264, 0.5 * 0.478628670499366468041292,
                                                0.5 * 0.568888888888888888888889, 0.5 * 0.478628670499366468041292,
                                                0.5 * 0.236926885056189087514264};

// A strain at one point: (constant + m · linear) times the element's unknowns.
struct Row {
    ElementVector constant = ElementVector::Zero();
    ElementVector linear = ElementVector::Zero();
};

Row operator+(const Row& a, const Row& b) {
    return {ElementVector(a.constant + b.constant), ElementVector(a.linear + b.linear)};
}
Row operator-(const Row& a, const Row& b) {
    return {ElementVector(a.constant - b.constant), ElementVector(a.linear - b.linear)};
}
Row operator*(double factor, const Row& a) {
    return {ElementVector(factor * a.constant), ElementVector(factor * a.linear)};
}
Row times_m(const Row& a) { return {ElementVector::Zero(), a.constant}; }

// k += factor · sym(a bᵀ), by powers of m.
void add_product(std::array<ElementMatrix, 3>& k, double factor, const Row& a, const Row& b) {
    const double half = 0.5 * factor;
    k[0] += half * (a.constant * b.constant.transpose() + b.constant * a.constant.transpose());
    k[1] += half * (a.constant * b.linear.transpose() + b.constant * a.linear.transpose() +
                    a.linear * b.constant.transpose() + b.linear * a.constant.transpose());
    k[2] += half * (a.linear * b.linear.transpose() + b.linear * a.linear.transpose());
}
void add_square(std::array<ElementMatrix, 3>& k, double factor, const Row& a) { add_product(k, factor, a, a); }

// The fields and strains of the header at one point, by its names; β_s, β_θ, φ: what pressure works on.
struct Strains {
    Row U, V, W;
    Row e_s, e_t, gamma, chi_s, chi_t, chi_st, g_s, g_t;
    Row beta_s, beta_t, phi;
};

// At x in [0, 1] of an element of length h; α, r and the curvature κ there.
Strains strains_at(double x, double h, double alpha, double r, double kappa) {
    const double cos_over_r = std::cos(alpha) / r;
    const Eigen::Vector4d value = hermite(x, h, 0), slope = hermite(x, h, 1);
    const auto field = [](int index, const Eigen::Vector4d& shape) {
        Row row;
        for (int end = 0; end < 2; ++end) {
            row.constant[10 * end + index] = shape[2 * end];
            row.constant[10 * end + kFields + index] = shape[2 * end + 1];
        }
        return row;
    };
    const Row U = field(0, value), V = field(1, value), W = field(2, value), A = field(3, value), B = field(4, value);
    const Row dU = field(0, slope), dV = field(1, slope), dW = field(2, slope), dA = field(3, slope),
              dB = field(4, slope);
    return {
        .U = U,
        .V = V,
        .W = W,
        .e_s = dU + kappa * W,
        .e_t = cos_over_r * U + (1.0 / r) * times_m(V) + kappa * W,
        .gamma = dV - cos_over_r * V - (1.0 / r) * times_m(U),
        .chi_s = dA,
        .chi_t = (1.0 / r) * times_m(B) + cos_over_r * A,
        .chi_st = dB - cos_over_r * B - (1.0 / r) * times_m(A),
        .g_s = A + dW - kappa * U,
        .g_t = B - (1.0 / r) * times_m(W) - kappa * V,
        .beta_s = kappa * U - dW,
        .beta_t = (1.0 / r) * times_m(W) + kappa * V,
        .phi = 0.5 * (dV + cos_over_r * V + (1.0 / r) * times_m(U)),
    };
}

}  // namespace

Eigen::Vector4d hermite(double x, double h, int order) {
    switch (order) {
        case 0:
            return {1.0 + x * x * (2.0 * x - 3.0), h * x * (1.0 + x * (x - 2.0)), x * x * (3.0 - 2.0 * x),
                    h * x * x * (x - 1.0)};
        case 1:
            return {6.0 * x * (x - 1.0) / h, 1.0 + x * (3.0 * x - 4.0), 6.0 * x * (1.0 - x) / h, x * (3.0 * x - 2.0)};
        default:
            return {(12.0 * x - 6.0) / (h * h), (6.0 * x - 4.0) / h, (6.0 - 12.0 * x) / (h * h), (6.0 * x - 2.0) / h};
    }
}

ElementStiffness element_stiffness(const ShellElement& element, double poisson_ratio) {
    ElementStiffness result;
    for (ElementMatrix& k : result.elastic) k.setZero();
    for (ElementMatrix& k : result.pressure) k.setZero();
    result.pressure_load.setZero();

    const double nu = poisson_ratio, t = element.thickness, R = element.radius, h = element.length;
    const double C = element.modulus * t / (1.0 - nu * nu);
    const double D = C * t * t / 12.0;
    const double shear = 5.0 / 6.0 * element.modulus / (2.0 * (1.0 + nu)) * t;
    const double inner_area = (1.0 - 0.5 * t / R) * (1.0 - 0.5 * t / R);
    const double N = 0.5 * inner_area * R;  // per MPa of chamber pressure

    // Through the wall the normal stress falls from −p inside to 0: σ_n = −p (½ − z/t). Resultants of
    // ν/(1−ν) σ_n and of z times it, per MPa.
    const double normal_force = -nu / (1.0 - nu) * 0.5 * t;
    const double normal_moment = nu / (1.0 - nu) * t * t / 12.0;

    for (std::size_t g = 0; g < kGaussPoint.size(); ++g) {
        const double x = kGaussPoint[g];
        const double alpha = element.alpha_begin + x * h / R;
        const double r = R * std::sin(alpha);
        const double weight = kGaussWeight[g] * h * r;
        const Strains at = strains_at(x, h, alpha, r, 1.0 / R);

        auto& k = result.elastic;
        add_square(k, weight * C, at.e_s);
        add_square(k, weight * C, at.e_t);
        add_product(k, weight * C * 2.0 * nu, at.e_s, at.e_t);
        add_square(k, weight * C * 0.5 * (1.0 - nu), at.gamma);
        add_square(k, weight * D, at.chi_s);
        add_square(k, weight * D, at.chi_t);
        add_product(k, weight * D * 2.0 * nu, at.chi_s, at.chi_t);
        add_square(k, weight * D * 0.5 * (1.0 - nu), at.chi_st);
        add_square(k, weight * shear, at.g_s);
        add_square(k, weight * shear, at.g_t);

        auto& kp = result.pressure;
        add_square(kp, weight * N, at.beta_s);
        add_square(kp, weight * N, at.beta_t);
        add_square(kp, weight * N * 2.0, at.phi);
        add_product(kp, -weight * inner_area, at.W, at.e_s + at.e_t);
        add_product(kp, -weight * inner_area, at.U, at.beta_s);
        add_product(kp, -weight * inner_area, at.V, at.beta_t);

        result.pressure_load +=
            weight * (inner_area * at.W.constant - normal_force * (at.e_s.constant + at.e_t.constant) -
                      normal_moment * (at.chi_s.constant + at.chi_t.constant));
    }
    return result;
}

}  // namespace graftwright
