#include "closure/ring_transform.h"

#include <cstdlib>
#include <cstring>
#include <malloc.h>
#include <utility>
#include <vector>

#include "base/check.h"

// The library takes scratch memory anew for every transform, and its names of malloc's functions are unqualified: these
// answer instead, with the block that was last given back in this thread. So nothing is allocated while the hand moves.
namespace pocketfft::detail {
namespace {

class LastBlock {
  public:
    ~LastBlock() { std::free(block_); }

    void* take(std::size_t alignment, std::size_t size) {
        if (block_ != nullptr && malloc_usable_size(block_) >= size) return std::exchange(block_, nullptr);
        return std::aligned_alloc(alignment, (size + alignment - 1) / alignment * alignment);
    }
    void give_back(void* block) {
        // The larger of the two: tables, given back once with their plan, don't push the scratch out.
        if (block_ == nullptr || malloc_usable_size(block) > malloc_usable_size(block_)) std::swap(block_, block);
        std::free(block);
    }

  private:
    void* block_ = nullptr;
};

thread_local LastBlock last_block;

void* aligned_alloc(std::size_t alignment, std::size_t size) { return last_block.take(alignment, size); }
void free(void* block) { last_block.give_back(block); }

}  // namespace
}  // namespace pocketfft::detail

#define POCKETFFT_NO_MULTITHREADING
#include <gemmi/third_party/pocketfft_hdronly.h>

namespace graftwright {
namespace {

// Two complex numbers side by side: rows 0 and 1 are the real parts, rows 2 and 3 the imaginary ones, just as a column
// of a ring matrix lies in memory.
using Pair = double __attribute__((vector_size(2 * sizeof(double))));
using Complexes = pocketfft::detail::cmplx<Pair>;
static_assert(sizeof(Complexes) == kRingUnknowns * sizeof(double), "a point's four values are two complex numbers");

}  // namespace

struct RingTransform::Plan {
    pocketfft::detail::cfftp<double> library;
    std::vector<Complexes> values;

    explicit Plan(int points) : library(static_cast<std::size_t>(points)), values(static_cast<std::size_t>(points)) {}
    void transform(bool forward) { library.exec(values.data(), 1.0, forward); }
    Complexes& at(int k) { return values[static_cast<std::size_t>(k)]; }
};

RingTransform::RingTransform(int harmonics, int points)
    : harmonics_(harmonics), points_(points), plan_(std::make_unique<Plan>(points)) {
    GRAFTWRIGHT_CHECK(points > 2 * harmonics, "points enough to tell the harmonics apart");
}

RingTransform::~RingTransform() = default;

// A real row Σ a cos mθ + b sin mθ has the coefficients ½(a ∓ i b) at ±m. With (a, b) of u: (uA, uB), of v: (−vB, vA).
void RingTransform::to_points(const Eigen::Ref<const RingMatrix>& series, Eigen::Ref<RingMatrix> values) {
    const auto mean = series.col(0);
    plan_->at(0) = {Pair{mean[0], mean[1]}, Pair{mean[2], mean[3]}};
    for (int m = 1; m <= harmonics_; ++m) {
        const auto A = series.col(2 * m - 1), B = series.col(2 * m);
        plan_->at(m) = {Pair{0.5 * (A[0] + B[2]), 0.5 * (B[3] - B[1])}, Pair{0.5 * (A[2] - B[0]), 0.5 * (A[3] - A[1])}};
        plan_->at(points_ - m) = {Pair{0.5 * (A[0] - B[2]), -0.5 * (B[1] + B[3])},
                                  Pair{0.5 * (A[2] + B[0]), 0.5 * (A[3] + A[1])}};
    }
    for (int k = harmonics_ + 1; k < points_ - harmonics_; ++k) plan_->at(k) = {Pair{}, Pair{}};
    plan_->transform(false);
    std::memcpy(values.data(), plan_->values.data(), plan_->values.size() * sizeof(Complexes));
}

void RingTransform::to_harmonics(const Eigen::Ref<const RingMatrix>& forces, double arc,
                                 Eigen::Ref<RingMatrix> series) {
    std::memcpy(static_cast<void*>(plan_->values.data()), forces.data(), plan_->values.size() * sizeof(Complexes));
    plan_->transform(true);
    const Complexes& sum = plan_->at(0);
    series.col(0) << arc * sum.r[0], arc * sum.r[1], arc * sum.i[0], arc * sum.i[1];
    const double half = 0.5 * arc;
    for (int m = 1; m <= harmonics_; ++m) {
        // The series' own sums Σ f cos mθ and Σ f sin mθ, from f + i g at ±m.
        const Complexes &low = plan_->at(m), &high = plan_->at(points_ - m);
        const Pair cosine_f = half * (low.r + high.r), sine_f = half * (high.i - low.i);
        const Pair cosine_g = half * (low.i + high.i), sine_g = half * (low.r - high.r);
        series.col(2 * m - 1) << cosine_f[0], sine_f[1], cosine_g[0], cosine_g[1];
        series.col(2 * m) << sine_f[0], -cosine_f[1], sine_g[0], sine_g[1];
    }
}

void RingTransform::edges_to_points(const RingMatrix& series, RingMatrix& values) {
    const Eigen::Index columns = series.cols() / 2;
    to_points(series.leftCols(columns), values.leftCols(points_));
    to_points(series.rightCols(columns), values.rightCols(points_));
}

void RingTransform::edges_to_harmonics(const RingMatrix& forces, RingMatrix& series) {
    const Eigen::Index columns = series.cols() / 2;
    to_harmonics(forces.leftCols(points_), 1.0, series.leftCols(columns));
    to_harmonics(forces.rightCols(points_), 1.0, series.rightCols(columns));
}

}  // namespace graftwright
