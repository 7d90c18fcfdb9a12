#include "closure/ring_transform.h"

#include <algorithm>
#include <array>
#include <complex>
#include <utility>
#include <vector>

#include <unsupported/Eigen/FFT>

#include "base/check.h"

namespace graftwright {
namespace {

using Complex = std::complex<double>;

// The pairs of rows that share a transform.
constexpr std::array<std::array<int, 2>, 2> kPairs = {{{0, 1}, {2, 3}}};

// a_m − i b_m of a row, where it is Σ a_m cos mθ + b_m sin mθ.
Complex coefficient(const RingMatrix& series, int row, int m) {
    const double first = series(row, 2 * m - 1), second = series(row, 2 * m);
    return row == 1 ? Complex(-second, -first) : Complex(first, -second);
}

}  // namespace

struct RingTransform::Plan {
    Eigen::FFT<double> fft;
    std::vector<Complex> spectrum, signal;
};

RingTransform::RingTransform(int harmonics, int points)
    : harmonics_(harmonics), points_(points), plan_(std::make_unique<Plan>()) {
    GRAFTWRIGHT_CHECK(points > 2 * harmonics, "points enough to tell the harmonics apart");
    plan_->spectrum.resize(static_cast<std::size_t>(points));
    plan_->signal.resize(static_cast<std::size_t>(points));
    plan_->fft.SetFlag(Eigen::FFT<double>::Unscaled);
    plan_->fft.inv(plan_->signal.data(), plan_->spectrum.data(), points_);  // makes the tables
    plan_->fft.fwd(plan_->spectrum.data(), plan_->signal.data(), points_);
}

RingTransform::~RingTransform() = default;

void RingTransform::to_points(const RingMatrix& series, PointJumps& values) {
    const Complex i(0.0, 1.0);
    auto& spectrum = plan_->spectrum;
    auto& signal = plan_->signal;
    for (const auto& [first, second] : kPairs) {
        std::fill(spectrum.begin(), spectrum.end(), Complex(0.0, 0.0));
        spectrum[0] = Complex(series(first, 0), series(second, 0));
        for (int m = 1; m <= harmonics_; ++m) {
            const Complex f = 0.5 * coefficient(series, first, m), g = 0.5 * coefficient(series, second, m);
            spectrum[static_cast<std::size_t>(m)] = f + i * g;
            spectrum[static_cast<std::size_t>(points_ - m)] = std::conj(f) + i * std::conj(g);
        }
        plan_->fft.inv(signal.data(), spectrum.data(), points_);
        for (int j = 0; j < points_; ++j) {
            values(first, j) = signal[static_cast<std::size_t>(j)].real();
            values(second, j) = signal[static_cast<std::size_t>(j)].imag();
        }
    }
}

void RingTransform::to_harmonics(const PointJumps& forces, double arc, RingMatrix& series) {
    auto& spectrum = plan_->spectrum;
    auto& signal = plan_->signal;
    for (const auto& [first, second] : kPairs) {
        for (int j = 0; j < points_; ++j) {
            signal[static_cast<std::size_t>(j)] = Complex(forces(first, j), forces(second, j));
        }
        plan_->fft.fwd(spectrum.data(), signal.data(), points_);
        series(first, 0) = arc * spectrum[0].real();
        series(second, 0) = arc * spectrum[0].imag();
        for (int m = 1; m <= harmonics_; ++m) {
            const Complex low = spectrum[static_cast<std::size_t>(m)];
            const Complex high = std::conj(spectrum[static_cast<std::size_t>(points_ - m)]);
            const Complex f = 0.5 * (low + high), g = Complex(0.0, -0.5) * (low - high);
            // Σ f cos = Re, Σ f sin = −Im.
            for (const auto& [row, sum] : {std::pair<int, Complex>{first, f}, std::pair<int, Complex>{second, g}}) {
                const double cosine = arc * sum.real(), sine = -arc * sum.imag();
                series(row, 2 * m - 1) = row == 1 ? sine : cosine;
                series(row, 2 * m) = row == 1 ? -cosine : sine;
            }
        }
    }
}

}  // namespace graftwright
