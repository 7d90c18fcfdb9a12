#include "shell/point_loads.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/check.h"

namespace graftwright {
namespace {

constexpr std::array<int, 3> kEvenFields = {0, 2, 3};  // u, w, b_s
constexpr std::array<int, 2> kOddFields = {1, 4};      // v, b_θ

// Local unknown of a shape function (Hermite's four: value and slope at either end).
std::size_t local_unknown(int function, int field) {
    return static_cast<std::size_t>(10 * (function / 2) + kFields * (function % 2) + field);
}

}  // namespace

PointLoads::PointLoads(const ShellSide& side, const std::vector<PointForce>& forces) : side_(&side) {
    forces_.reserve(forces.size());
    for (const PointForce& force : forces) {
        // Forces of one strand mostly share their angle.
        if (angles_.empty() || angles_.back() != force.theta) angles_.push_back(force.theta);
        forces_.push_back(prepare(force));
    }
    std::stable_sort(forces_.begin(), forces_.end(),
                     [](const Force& a, const Force& b) { return a.element < b.element; });
}

PointLoads::Force PointLoads::prepare(const PointForce& force) const {
    const Meridian& meridian = side_->meridian();
    Force result;
    result.element = meridian.element_at(force.s);
    result.angle = angles_.size() - 1;
    const ShellElement& element = meridian.elements()[static_cast<std::size_t>(result.element)];
    const double alpha = element.alpha_at(force.s), r = element.radius * std::sin(alpha);
    result.blur = force.spread > 0.0 ? force.spread / r : 0.0;
    const double t = element.thickness, z = force.z;
    const double squeeze = -side_->poisson_ratio() / (1.0 - side_->poisson_ratio()) * force.along_normal;
    const double on_stretch = squeeze * z, on_bend = squeeze * 0.5 * (z * z - t * t / 20.0);
    const double cos_over_r = std::cos(alpha) / r;
    const double x = (force.s - element.s_begin) / element.length;
    const Eigen::Array4d shape = hermite(x, element.length, 0).array(), slope = hermite(x, element.length, 1).array();
    result.even.col(0) = (force.along_meridian + on_stretch * cos_over_r) * shape + on_stretch * slope;
    result.even.col(1) = (force.along_normal + on_stretch * 2.0 / element.radius) * shape;
    result.even.col(2) = (force.along_meridian * z + on_bend * cos_over_r) * shape + on_bend * slope;
    result.odd.col(0) = force.along_circumference * shape;
    result.odd.col(1) = force.along_circumference * z * shape;
    // On the hoop strain's m V/r: (cos, sin) of V's own family is ±∂/∂θ, so V works as an even field there.
    result.turned.col(0) = on_stretch / r * shape;
    result.turned.col(1) = on_bend / r * shape;
    return result;
}

int PointLoads::begin(int m) const {
    const UnknownMap& unknowns = side_->map(m);
    int first = unknowns.size();
    for (const Force& force : forces_)
        first = std::min(first, unknowns.lowest[static_cast<std::size_t>(force.element)]);
    return first;
}

void PointLoads::add(int m, double factor, Eigen::Ref<Eigen::Matrix2Xd> load) const {
    const UnknownMap& unknowns = side_->map(m);
    const int first = unknowns.size() - static_cast<int>(load.cols());
    GRAFTWRIGHT_CHECK(first <= begin(m), "a load that holds all forces");
    Eigen::Array2Xd turns(2, static_cast<Eigen::Index>(angles_.size()));
    for (Eigen::Index i = 0; i < turns.cols(); ++i) {
        const double angle = m * angles_[static_cast<std::size_t>(i)];
        turns.col(i) << factor * std::cos(angle), factor * std::sin(angle);
    }
    Eigen::Array<double, 2, kElementUnknowns> work = Eigen::Array<double, 2, kElementUnknowns>::Zero();
    for (std::size_t f = 0; f < forces_.size(); ++f) {
        const Force& force = forces_[f];
        const double blur = m * force.blur, gauss = std::exp(-0.5 * blur * blur);
        const Eigen::Array2d even = gauss * turns.col(static_cast<Eigen::Index>(force.angle));
        const Eigen::Array2d odd = m == 0 ? Eigen::Array2d(even[0], 0.0) : Eigen::Array2d(even[1], -even[0]);
        const Eigen::Array2d turned = m * even;
        for (int function = 0; function < 4; ++function) {
            for (int i = 0; i < 3; ++i) {
                work.col(static_cast<Eigen::Index>(local_unknown(
                    function, kEvenFields[static_cast<std::size_t>(i)]))) += force.even(function, i) * even;
            }
            for (int i = 0; i < 2; ++i) {
                work.col(static_cast<Eigen::Index>(local_unknown(function, kOddFields[static_cast<std::size_t>(i)]))) +=
                    force.odd(function, i) * odd + force.turned(function, i) * turned;
            }
        }
        if (f + 1 < forces_.size() && forces_[f + 1].element == force.element) continue;
        const auto& terms = unknowns.elements[static_cast<std::size_t>(force.element)];
        for (std::size_t local = 0; local < kElementUnknowns; ++local) {
            for (const UnknownMap::Term& term : terms[local]) {
                if (term.unknown < 0) continue;
                load.col(term.unknown - first) += (term.factor * work.col(static_cast<Eigen::Index>(local))).matrix();
            }
        }
        work.setZero();
    }
}

}  // namespace graftwright
