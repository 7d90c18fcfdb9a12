#include "shell/envelope_cholesky.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/check.h"

namespace graftwright {

Envelope::Envelope(std::vector<int> first_columns) : first(std::move(first_columns)) {
    row.reserve(first.size());
    for (int i = 0; i < size(); ++i) {
        const int begin = first[static_cast<std::size_t>(i)];
        GRAFTWRIGHT_CHECK(begin >= 0 && begin <= i, "a row reaches from its first entry to the diagonal");
        row.push_back(static_cast<std::ptrdiff_t>(count) - begin);
        count += static_cast<std::size_t>(i - begin + 1);
    }
}

Envelope::Envelope(int size, int bandwidth)
    : Envelope([&] {
          std::vector<int> columns(static_cast<std::size_t>(size));
          for (int i = 0; i < size; ++i) columns[static_cast<std::size_t>(i)] = std::max(0, i - bandwidth);
          return columns;
      }()) {}

Eigen::MatrixXd EnvelopeMatrix::dense(int lane) const {
    Eigen::MatrixXd full = Eigen::MatrixXd::Zero(size(), size());
    for (int i = 0; i < size(); ++i) {
        for (int j = first(i); j <= i; ++j) full(i, j) = full(j, i) = at(i, j)[lane];
    }
    return full;
}

EnvelopeCholesky::EnvelopeCholesky(EnvelopeMatrix matrix, int left_standing)
    : factor_(std::move(matrix)), eliminated_(factor_.size() - left_standing) {
    ok_.setConstant(true);
    for (int i = 0; i < factor_.size(); ++i) {
        const int first = factor_.first(i);
        Lanes* const row_i = &factor_.at(i, first);
        for (int j = first; j <= i; ++j) {
            const int begin = std::max(first, factor_.first(j)), end = std::min(j, eliminated_);
            const Lanes* const a = row_i + (begin - first);
            const Lanes* const b = &factor_.at(j, std::min(begin, j));
            // Two sums, so that one need not wait for the other.
            Lanes even = row_i[j - first], odd = Lanes::Zero();
            int k = 0;
            for (; k + 1 < end - begin; k += 2) {
                even -= a[k] * b[k];
                odd -= a[k + 1] * b[k + 1];
            }
            if (k < end - begin) even -= a[k] * b[k];
            const Lanes sum = even + odd;
            if (j >= eliminated_) {
                row_i[j - first] = sum;
            } else if (j < i) {
                row_i[j - first] = sum * factor_.at(j, j);
            } else {
                const Eigen::Array<bool, kLanes, 1> positive = sum > 0.0;
                ok_ = ok_ && positive;
                row_i[j - first] = positive.select(sum, 1.0).sqrt().inverse();
            }
        }
    }
}

Eigen::MatrixXd EnvelopeCholesky::complement(int lane) const {
    const int count = size() - eliminated_;
    Eigen::MatrixXd result = Eigen::MatrixXd::Zero(count, count);
    for (int i = 0; i < count; ++i) {
        for (int j = std::max(0, factor_.first(eliminated_ + i) - eliminated_); j <= i; ++j) {
            result(i, j) = result(j, i) = factor_.at(eliminated_ + i, eliminated_ + j)[lane];
        }
    }
    return result;
}

void EnvelopeCholesky::forward(LanePairs& x, int begin) const {
    using Column = Eigen::Map<Lanes, Eigen::Aligned16>;
    for (int i = begin; i < size(); ++i) {
        const int first = std::max(begin, factor_.first(i)), end = std::min(i, eliminated_);
        double* const here = x.data() + 2 * kLanes * (i - begin);
        double* there = x.data() + 2 * kLanes * (first - begin);
        Lanes one = Column(here), two = Column(here + kLanes);
        const Lanes* entry = &factor_.at(i, first);
        for (int j = first; j < end; ++j, ++entry, there += 2 * kLanes) {
            one -= *entry * Column(there);
            two -= *entry * Column(there + kLanes);
        }
        if (i < eliminated_) {
            one *= factor_.at(i, i);
            two *= factor_.at(i, i);
        }
        x.col(i - begin) << one, two;
    }
}

void EnvelopeCholesky::backward(LanePairs& x) const {
    for (int i = size() - 1; i >= 0; --i) {
        if (i < eliminated_) {
            x.col(i).head<kLanes>() *= factor_.at(i, i);
            x.col(i).tail<kLanes>() *= factor_.at(i, i);
        }
        const Lanes one = x.col(i).head<kLanes>(), two = x.col(i).tail<kLanes>();
        for (int j = factor_.first(i); j < std::min(i, eliminated_); ++j) {
            x.col(j).head<kLanes>() -= factor_.at(i, j) * one;
            x.col(j).tail<kLanes>() -= factor_.at(i, j) * two;
        }
    }
}

}  // namespace graftwright
