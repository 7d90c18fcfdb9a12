// Stiffness of one element of a shear-deformable shell of revolution, harmonic by harmonic.
//
// Five fields along s, cubic Hermite: u meridional outward, v circumferential, w outward normal, and
// the rotations b_s, b_θ of the thickness fibre (Reissner–Mindlin; Naghdi for shells). Harmonic m:
// u = U cos mθ, v = V sin mθ, w = W cos mθ, b_s = A cos mθ, b_θ = B sin mθ. With ' = d/ds:
//   ε_s = U' + κ1 W        ε_θ = (cos α U + m V)/r + κ2 W         γ   = V' − cos α V/r − m U/r
//   χ_s = A'               χ_θ = (m B + cos α A)/r                χ_sθ = B' − cos α B/r − m A/r
//   g_s = A + W' − κ1 U    g_θ = B − m W/r − κ2 V                 φ = ½(V' + cos α V/r + m U/r)
//   β_s = −W' + κ1 U       β_θ = m W/r + κ2 V
//   energy = ½∫[ C(ε_s²+ε_θ²+2νε_sε_θ+½(1−ν)γ²) + D(χ_s²+χ_θ²+2νχ_sχ_θ+½(1−ν)χ_sθ²)
//              + (5/6)Gt(g_s²+g_θ²) + N(β_s²+β_θ²+2φ²) − p(w(ε_s+ε_θ)+uβ_s+vβ_θ) ] r ds · (2π | π)
//   C = Et/(1−ν²), D = Et³/12(1−ν²), G = E/2(1+ν), N = pR/2.
// On a sphere the through-thickness factors (1 + z/R) of strain and volume cancel, so C and D need no
// correction. Chamber pressure acts on the inner surface: (1 − t/2R)² of it on the mid-surface, in the
// load, in N and in the follower terms alike, so that a pressurised sphere is in balance.
// Pressure also squeezes the wall: its normal stress −p(½ − z/t) stretches the wall sideways, more on
// the inside, by Poisson's effect: 6 % of the rise of a pressurised cap's apex. In an uncut or clamped shell
// nothing comes of the moment, but at a cut edge it is let go and turns the edge outward. (The same effect of a
// thread's normal forces, PointLoads, is 0.7 D of mean K on the sutured ring.)
// mm, N, MPa, rad. Source of the strains: Naghdi's theory as in Ventsel & Krauthammer, Thin Plates and
// Shells (from memory), checked by rigid modes and closed forms in tests/shell.
#pragma once

#include <array>

#include <Eigen/Core>

#include "shell/meridian.h"

namespace graftwright {

inline constexpr int kFields = 5;            // U, V, W, A, B
inline constexpr int kElementUnknowns = 20;  // at each end: five values, five derivatives
using ElementMatrix = Eigen::Matrix<double, kElementUnknowns, kElementUnknowns>;
using ElementVector = Eigen::Matrix<double, kElementUnknowns, 1>;

// The four cubic Hermite functions at x in [0, 1] of an element of length h: value and slope at the
// left end, value and slope at the right end. order = 0, 1, 2: the function or its derivatives by s.
[[nodiscard]] Eigen::Vector4d hermite(double x, double h, int order);

// K(m) = k[0] + m k[1] + m² k[2], for one radian of angle (no factor π yet).
struct ElementStiffness {
    std::array<ElementMatrix, 3> elastic;   // without pressure
    std::array<ElementMatrix, 3> pressure;  // per MPa of chamber pressure
    ElementVector pressure_load;            // m = 0, per MPa and radian
};

[[nodiscard]] ElementStiffness element_stiffness(const ShellElement& element, double poisson_ratio);

}  // namespace graftwright
