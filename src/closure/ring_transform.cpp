#include "closure/ring_transform.h"

#include <cmath>
#include <utility>

#include "base/check.h"

namespace graftwright {
namespace {

using Pair = Eigen::Array2d;

// Two complex numbers.
struct Pairs {
    Pair re, im;

    explicit Pairs(const double* at) : re(at[0], at[1]), im(at[2], at[3]) {}
    Pairs(const Pair& real, const Pair& imaginary) : re(real), im(imaginary) {}
    void put(double* at) const {
        at[0] = re[0];
        at[1] = re[1];
        at[2] = im[0];
        at[3] = im[1];
    }
    Pairs operator+(const Pairs& b) const { return {re + b.re, im + b.im}; }
    Pairs operator-(const Pairs& b) const { return {re - b.re, im - b.im}; }
    [[nodiscard]] Pairs turned(double cosine, double sine) const {
        return {re * cosine - im * sine, re * sine + im * cosine};
    }
    // Times ±i.
    [[nodiscard]] Pairs quarter(double sign) const { return {-sign * im, sign * re}; }
};

// One pass: `length` numbers `stride` apart are split by a factor; cosine, sine: of 2π k/(length · stride).
struct Pass {
    const double* from;
    double* to;
    int length, stride;
    const double *cosine, *sine;
    double sign;

    [[nodiscard]] Pairs in(int index, int q) const { return Pairs(from + 4 * (stride * index + q)); }
    void out(int index, int q, const Pairs& value) const { value.put(to + 4 * (stride * index + q)); }
    [[nodiscard]] int places() const { return length * stride; }
};

void by_four(const Pass& pass) {
    const int part = pass.length / 4;
    for (int p = 0; p < part; ++p) {
        const int k = p * pass.stride;
        const double c1 = pass.cosine[k], s1 = pass.sign * pass.sine[k];
        const double c2 = pass.cosine[2 * k], s2 = pass.sign * pass.sine[2 * k];
        const double c3 = pass.cosine[3 * k], s3 = pass.sign * pass.sine[3 * k];
        for (int q = 0; q < pass.stride; ++q) {
            const Pairs a = pass.in(p, q), b = pass.in(p + part, q), c = pass.in(p + 2 * part, q),
                        d = pass.in(p + 3 * part, q);
            const Pairs even = a + c, odd = b + d, across = a - c, turned = (b - d).quarter(pass.sign);
            pass.out(4 * p, q, even + odd);
            pass.out(4 * p + 1, q, (across + turned).turned(c1, s1));
            pass.out(4 * p + 2, q, (even - odd).turned(c2, s2));
            pass.out(4 * p + 3, q, (across - turned).turned(c3, s3));
        }
    }
}

void by_any(const Pass& pass, int factor) {
    const int part = pass.length / factor, places = pass.places();
    for (int p = 0; p < part; ++p) {
        for (int q = 0; q < pass.stride; ++q) {
            for (int j = 0; j < factor; ++j) {
                Pairs sum(Pair::Zero(), Pair::Zero());
                for (int k = 0; k < factor; ++k) {
                    const int root = j * k % factor * (places / factor);
                    sum = sum + pass.in(p + k * part, q).turned(pass.cosine[root], pass.sign * pass.sine[root]);
                }
                const int root = j * p * pass.stride % places;
                pass.out(factor * p + j, q, sum.turned(pass.cosine[root], pass.sign * pass.sine[root]));
            }
        }
    }
}

std::vector<int> factors_of(int number) {
    std::vector<int> factors;
    for (int factor : {4, 2}) {
        for (; number % factor == 0; number /= factor) factors.push_back(factor);
    }
    for (int factor = 3; number > 1; factor += 2) {
        for (; number % factor == 0; number /= factor) factors.push_back(factor);
    }
    return factors;
}

}  // namespace

RingTransform::RingTransform(int harmonics, int points)
    : harmonics_(harmonics),
      points_(points),
      factors_(factors_of(points)),
      spectrum_(kRingUnknowns, points),
      spare_(kRingUnknowns, points) {
    GRAFTWRIGHT_CHECK(points > 2 * harmonics, "points enough to tell the harmonics apart");
    for (int k = 0; k < points; ++k) {
        cosine_.push_back(std::cos(2.0 * kPi * k / points));
        sine_.push_back(std::sin(2.0 * kPi * k / points));
    }
}

void RingTransform::transform(PointJumps& work, PointJumps& spare, double sign) const {
    Pass pass{work.data(), spare.data(), points_, 1, cosine_.data(), sine_.data(), sign};
    double* from = work.data();
    for (const int factor : factors_) {
        pass.from = from;
        if (factor == 4) {
            by_four(pass);
        } else {
            by_any(pass, factor);
        }
        from = std::exchange(pass.to, from);
        pass.length /= factor;
        pass.stride *= factor;
    }
}

// A real row Σ a cos mθ + b sin mθ has the coefficients ½(a ∓ i b) at ±m. With (a, b) of u: (uA, uB), of v: (−vB, vA).
void RingTransform::to_points(const RingMatrix& series, PointJumps& values) {
    const bool even = factors_.size() % 2 == 0;
    PointJumps& start = even ? values : spectrum_;
    start.col(0) = series.col(0);
    start.middleCols(harmonics_ + 1, points_ - 2 * harmonics_ - 1).setZero();
    for (int m = 1; m <= harmonics_; ++m) {
        const Eigen::Vector4d A = series.col(2 * m - 1), B = series.col(2 * m);
        start.col(m) << 0.5 * (A[0] + B[2]), 0.5 * (B[3] - B[1]), 0.5 * (A[2] - B[0]), 0.5 * (A[3] - A[1]);
        start.col(points_ - m) << 0.5 * (A[0] - B[2]), -0.5 * (B[1] + B[3]), 0.5 * (A[2] + B[0]), 0.5 * (A[3] + A[1]);
    }
    transform(start, even ? spare_ : values, 1.0);
}

void RingTransform::to_harmonics(const PointJumps& forces, double arc, RingMatrix& series) {
    spectrum_ = forces;
    transform(spectrum_, spare_, -1.0);
    const PointJumps& sums = factors_.size() % 2 == 0 ? spectrum_ : spare_;
    series.col(0) = arc * sums.col(0);
    const double half = 0.5 * arc;
    for (int m = 1; m <= harmonics_; ++m) {
        // The series' own sums Σ f cos mθ and Σ f sin mθ, from f + i g at ±m.
        const Eigen::Vector4d low = sums.col(m), high = sums.col(points_ - m);
        const Eigen::Array2d cosine_f = half * (low + high).head<2>().array(),
                             sine_f = half * (high - low).tail<2>().array(),
                             cosine_g = half * (low + high).tail<2>().array(),
                             sine_g = half * (low - high).head<2>().array();
        series.col(2 * m - 1) << cosine_f[0], sine_f[1], cosine_g[0], cosine_g[1];
        series.col(2 * m) << sine_f[0], -cosine_f[1], sine_g[0], sine_g[1];
    }
}

}  // namespace graftwright
