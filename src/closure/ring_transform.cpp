#include "closure/ring_transform.h"

#include <array>

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

RingTransform::RingTransform(int harmonics, int points)
    : harmonics_(harmonics),
      points_(points),
      spectrum_(static_cast<std::size_t>(points)),
      signal_(static_cast<std::size_t>(points)) {
    GRAFTWRIGHT_CHECK(points > 2 * harmonics, "points enough to tell the harmonics apart");
    fft_.SetFlag(Eigen::FFT<double>::Unscaled);
    fft_.inv(signal_.data(), spectrum_.data(), points_);  // makes the plans
    fft_.fwd(spectrum_.data(), signal_.data(), points_);
}

void RingTransform::to_points(const RingMatrix& series, PointJumps& values) {
    const Complex i(0.0, 1.0);
    for (const auto& [first, second] : kPairs) {
        std::fill(spectrum_.begin(), spectrum_.end(), Complex(0.0, 0.0));
        spectrum_[0] = Complex(series(first, 0), series(second, 0));
        for (int m = 1; m <= harmonics_; ++m) {
            const Complex f = 0.5 * coefficient(series, first, m), g = 0.5 * coefficient(series, second, m);
            spectrum_[static_cast<std::size_t>(m)] = f + i * g;
            spectrum_[static_cast<std::size_t>(points_ - m)] = std::conj(f) + i * std::conj(g);
        }
        fft_.inv(signal_.data(), spectrum_.data(), points_);
        for (int j = 0; j < points_; ++j) {
            values(first, j) = signal_[static_cast<std::size_t>(j)].real();
            values(second, j) = signal_[static_cast<std::size_t>(j)].imag();
        }
    }
}

void RingTransform::to_harmonics(const PointJumps& forces, double arc, RingMatrix& series) {
    for (const auto& [first, second] : kPairs) {
        for (int j = 0; j < points_; ++j) {
            signal_[static_cast<std::size_t>(j)] = Complex(forces(first, j), forces(second, j));
        }
        fft_.fwd(spectrum_.data(), signal_.data(), points_);
        series(first, 0) = arc * spectrum_[0].real();
        series(second, 0) = arc * spectrum_[0].imag();
        for (int m = 1; m <= harmonics_; ++m) {
            const Complex low = spectrum_[static_cast<std::size_t>(m)];
            const Complex high = std::conj(spectrum_[static_cast<std::size_t>(points_ - m)]);
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
