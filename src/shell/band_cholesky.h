// Symmetric positive definite matrices whose entries lie within a band, and their Cholesky factor.
//
// Stored by rows of the lower triangle: entry(i, j) for i - bandwidth <= j <= i. Cost n·b² to factor
// and 4·n·b a right-hand side. Factoring reports failure instead of dividing by a bad pivot.
#pragma once

#include <vector>

#include <Eigen/Core>

namespace graftwright {

class BandMatrix {
  public:
    BandMatrix() = default;
    BandMatrix(int size, int bandwidth)
        : size_(size),
          bandwidth_(bandwidth),
          values_(static_cast<std::size_t>(size) * static_cast<std::size_t>(bandwidth + 1), 0.0) {}

    [[nodiscard]] int size() const { return size_; }
    [[nodiscard]] int bandwidth() const { return bandwidth_; }
    // Entry of the lower triangle, i >= j > i - bandwidth - 1.
    [[nodiscard]] double& at(int i, int j) { return row(i)[bandwidth_ - (i - j)]; }
    [[nodiscard]] double at(int i, int j) const { return row(i)[bandwidth_ - (i - j)]; }
    // this += factor * other, of the same size and bandwidth.
    void add_scaled(const BandMatrix& other, double factor);
    [[nodiscard]] Eigen::MatrixXd dense() const;

  private:
    friend class BandCholesky;
    [[nodiscard]] double* row(int i) {
        return values_.data() + static_cast<std::size_t>(i) * static_cast<std::size_t>(bandwidth_ + 1);
    }
    [[nodiscard]] const double* row(int i) const {
        return values_.data() + static_cast<std::size_t>(i) * static_cast<std::size_t>(bandwidth_ + 1);
    }

    int size_ = 0;
    int bandwidth_ = 0;
    std::vector<double> values_;
};

class BandCholesky {
  public:
    BandCholesky() = default;
    // L Lᵀ = matrix. ok() is false where a pivot was not positive.
    explicit BandCholesky(BandMatrix matrix);
    [[nodiscard]] bool ok() const { return ok_; }
    [[nodiscard]] int size() const { return factor_.size(); }
    // Solves in place.
    void solve(Eigen::Ref<Eigen::VectorXd> right_hand_side) const;
    // Only the first half, L⁻¹ f: enough for compliances fᵀ K⁻¹ g = (L⁻¹ f)·(L⁻¹ g).
    // The vector may hold only the entries from `begin` on, those before it being zero.
    void forward(Eigen::Ref<Eigen::VectorXd> right_hand_side, int begin = 0) const;
    // Two right-hand sides side by side (rows).
    void forward(Eigen::Matrix2Xd& right_hand_sides, int begin) const;

  private:
    BandMatrix factor_;
    bool ok_ = false;
};

}  // namespace graftwright
