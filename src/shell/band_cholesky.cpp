#include "shell/band_cholesky.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/check.h"

namespace graftwright {

void BandMatrix::add_scaled(const BandMatrix& other, double factor) {
    GRAFTWRIGHT_CHECK(other.size_ == size_ && other.bandwidth_ == bandwidth_, "bands of one shape");
    for (std::size_t k = 0; k < values_.size(); ++k) values_[k] += factor * other.values_[k];
}

Eigen::MatrixXd BandMatrix::dense() const {
    Eigen::MatrixXd full = Eigen::MatrixXd::Zero(size_, size_);
    for (int i = 0; i < size_; ++i) {
        for (int j = std::max(0, i - bandwidth_); j <= i; ++j) full(i, j) = full(j, i) = at(i, j);
    }
    return full;
}

BandCholesky::BandCholesky(BandMatrix matrix) : factor_(std::move(matrix)), ok_(true) {
    const int bandwidth = factor_.bandwidth_;
    for (int i = 0; i < factor_.size_; ++i) {
        double* const row_i = factor_.row(i);
        const int first = std::max(0, i - bandwidth);
        for (int j = first; j <= i; ++j) {
            const double* const row_j = factor_.row(j);
            const int begin = std::max(first, j - bandwidth);
            const double* const a = row_i + (bandwidth - i + begin);
            const double* const b = row_j + (bandwidth - j + begin);
            double sum = row_i[bandwidth - (i - j)];
            for (int k = 0; k < j - begin; ++k) sum -= a[k] * b[k];
            if (j < i) {
                row_i[bandwidth - (i - j)] = sum / row_j[bandwidth];
            } else {
                if (!(sum > 0.0)) {
                    ok_ = false;
                    return;
                }
                row_i[bandwidth] = std::sqrt(sum);
            }
        }
    }
}

void BandCholesky::forward(Eigen::Ref<Eigen::VectorXd> x, int begin) const {
    const int bandwidth = factor_.bandwidth_;
    for (int i = begin; i < factor_.size_; ++i) {
        const double* const row_i = factor_.row(i);
        const int first = std::max(begin, i - bandwidth);
        double sum = x[i - begin];
        for (int j = first; j < i; ++j) sum -= row_i[bandwidth - (i - j)] * x[j - begin];
        x[i - begin] = sum / row_i[bandwidth];
    }
}

void BandCholesky::forward(Eigen::Matrix2Xd& x, int begin) const {
    const int bandwidth = factor_.bandwidth_;
    for (int i = begin; i < factor_.size_; ++i) {
        const double* const row_i = factor_.row(i);
        const int first = std::max(begin, i - bandwidth);
        Eigen::Vector2d even = x.col(i - begin), odd = Eigen::Vector2d::Zero();
        int j = first;
        for (; j + 1 < i; j += 2) {
            even -= row_i[bandwidth - (i - j)] * x.col(j - begin);
            odd -= row_i[bandwidth - (i - j - 1)] * x.col(j + 1 - begin);
        }
        if (j < i) even -= row_i[bandwidth - (i - j)] * x.col(j - begin);
        x.col(i - begin) = (even + odd) / row_i[bandwidth];
    }
}

void BandCholesky::solve(Eigen::Ref<Eigen::VectorXd> x) const {
    forward(x);
    const int bandwidth = factor_.bandwidth_;
    for (int i = factor_.size_ - 1; i >= 0; --i) {
        const double* const row_i = factor_.row(i);
        x[i] /= row_i[bandwidth];
        for (int j = std::max(0, i - bandwidth); j < i; ++j) x[j] -= row_i[bandwidth - (i - j)] * x[i];
    }
}

}  // namespace graftwright
