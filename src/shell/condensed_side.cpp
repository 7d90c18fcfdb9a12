#include "shell/condensed_side.h"

#include <algorithm>
#include <utility>

#include "base/check.h"

namespace graftwright {

CondensedHarmonic::CondensedHarmonic(const ShellSide& side, int m, double pressure) {
    ShellSide::Stiffness stiffness = side.stiffness(m, pressure);
    factor_ = BandCholesky(std::move(stiffness.interior));
    GRAFTWRIGHT_CHECK(factor_.ok(), "a shell held at the wound is stable at this pressure");
    modes_ = -stiffness.coupling;
    for (int column = 0; column < kRingUnknowns; ++column) factor_.solve(modes_.col(column));
    const Eigen::Matrix4d condensed = stiffness.ring + stiffness.coupling.transpose() * modes_;
    ring_stiffness_ = 0.5 * (condensed + condensed.transpose());
}

Eigen::Vector4d CondensedHarmonic::ring_load(const Eigen::VectorXd& load) const {
    return load.tail<kRingUnknowns>() + modes_.transpose() * load.head(modes_.rows());
}

HalfResponse CondensedHarmonic::half_response(const Eigen::VectorXd& load) const {
    const Eigen::Index n = modes_.rows();
    Eigen::Index begin = 0;
    while (begin < n && load[begin] == 0.0) ++begin;
    HalfResponse half{begin, load.segment(begin, n - begin)};
    factor_.forward(half.values, static_cast<int>(begin));
    return half;
}

double HalfResponse::compliance(const HalfResponse& a, const HalfResponse& b) {
    const Eigen::Index begin = std::max(a.begin, b.begin);
    const Eigen::Index count = a.begin + a.values.size() - begin;
    return a.values.tail(count).dot(b.values.tail(count));
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
