// Units at the edges of the program.
//
// Inside: mm, N, MPa (= N/mm²), rad. At every interface (files, screens, command line): mm, µm,
// mN, kPa or mmHg, degrees, dioptres. Numbers are converted here and nowhere else; an internal
// quantity carries no unit in its name, an interface quantity always does (`pressure_mmHg`).
#pragma once

namespace graftwright {

inline constexpr double kPi = 3.14159265358979323846;

// 1 mmHg = 133.322 Pa (conventional millimetre of mercury, rounded as in the trade).
inline constexpr double kMPaPerMmHg = 133.322e-6;
// Keratometric constant: K in dioptres = 337.5 / radius in mm (index 1.3375, ISO 10343:2014).
inline constexpr double kKeratometricDioptreMm = 337.5;

[[nodiscard]] constexpr double mpa_from_mmhg(double pressure_mmHg) { return pressure_mmHg * kMPaPerMmHg; }
[[nodiscard]] constexpr double mmhg_from_mpa(double pressure) { return pressure / kMPaPerMmHg; }
[[nodiscard]] constexpr double mpa_from_kpa(double pressure_kPa) { return pressure_kPa * 1e-3; }
[[nodiscard]] constexpr double kpa_from_mpa(double pressure) { return pressure * 1e3; }
[[nodiscard]] constexpr double mm_from_um(double length_um) { return length_um * 1e-3; }
[[nodiscard]] constexpr double um_from_mm(double length) { return length * 1e3; }
[[nodiscard]] constexpr double newton_from_mn(double force_mN) { return force_mN * 1e-3; }
[[nodiscard]] constexpr double mn_from_newton(double force) { return force * 1e3; }
[[nodiscard]] constexpr double rad_from_deg(double angle_deg) { return angle_deg * kPi / 180.0; }
[[nodiscard]] constexpr double deg_from_rad(double angle) { return angle * 180.0 / kPi; }
[[nodiscard]] constexpr double dioptres_from_curvature(double curvature_per_mm) {
    return kKeratometricDioptreMm * curvature_per_mm;
}

inline constexpr double kMicroPerMilli = 1000.0;  // of any unit

}  // namespace graftwright
