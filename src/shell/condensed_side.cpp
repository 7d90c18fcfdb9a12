#include "shell/condensed_side.h"

#include <algorithm>
#include <utility>

#include "base/check.h"

namespace graftwright {

namespace {

// First row of the interior in which a load has anything.
Eigen::Index first_loaded(const Eigen::MatrixX2d& load, Eigen::Index interior) {
    Eigen::Index begin = 0;
    while (begin < interior && load(begin, 0) == 0.0 && load(begin, 1) == 0.0) ++begin;
    return begin;
}

}  // namespace

CondensedHarmonic::CondensedHarmonic(ShellSide::Stiffness stiffness) : factor_(std::move(stiffness.interior)) {
    GRAFTWRIGHT_CHECK(factor_.ok(), "a shell held at the wound is stable at this pressure");
    modes_ = -stiffness.coupling;
    for (int column = 0; column < kRingUnknowns; ++column) factor_.solve(modes_.col(column));
    const Eigen::Matrix4d condensed = stiffness.ring + stiffness.coupling.transpose() * modes_;
    ring_stiffness_ = 0.5 * (condensed + condensed.transpose());
}

Eigen::Matrix<double, kRingUnknowns, 2> CondensedHarmonic::ring_load(const Eigen::MatrixX2d& load) const {
    const Eigen::Index n = modes_.rows(), begin = first_loaded(load, n), count = n - begin;
    return load.bottomRows<kRingUnknowns>() +
           modes_.bottomRows(count).transpose().lazyProduct(load.middleRows(begin, count));
}

HalfResponse CondensedHarmonic::half_response(const Eigen::MatrixX2d& load) const {
    const Eigen::Index n = modes_.rows(), begin = first_loaded(load, n);
    HalfResponse half{begin, load.middleRows(begin, n - begin).transpose()};
    factor_.forward(half.values, static_cast<int>(begin));
    return half;
}

HalfResponse CondensedHarmonic::half_response(const Eigen::VectorXd& load) const {
    Eigen::MatrixX2d both = Eigen::MatrixX2d::Zero(load.size(), 2);
    both.col(0) = load;
    return half_response(both);
}

double HalfResponse::compliance(const HalfResponse& a, const HalfResponse& b) {
    const Eigen::Index begin = std::max(a.begin, b.begin);
    const Eigen::Index count = a.begin + a.values.cols() - begin;
    return a.values.rightCols(count).cwiseProduct(b.values.rightCols(count)).sum();
}

Eigen::VectorXd CondensedHarmonic::solution(const Eigen::Vector4d& ring, const Eigen::VectorXd& load) const {
    const Eigen::Index n = modes_.rows();
    Eigen::VectorXd result(n + kRingUnknowns);
    Eigen::VectorXd interior = load.head(n);
    factor_.solve(interior);
    result.head(n) = interior + modes_ * ring;
    result.tail<kRingUnknowns>() = ring;
    return result;
}

}  // namespace graftwright
