#include "shell/condensed_lanes.h"

#include <algorithm>

#include "base/check.h"

namespace graftwright {

HalfResponse HalfResponse::of(const Eigen::Matrix2Xd& load, Eigen::Index begin) {
    HalfResponse half{begin, LanePairs(2 * kLanes, load.cols())};
    for (Eigen::Index i = 0; i < load.cols(); ++i) {
        half.values.col(i) << Lanes::Constant(load(0, i)), Lanes::Constant(load(1, i));
    }
    return half;
}

Lanes HalfResponse::compliance(const HalfResponse& a, const HalfResponse& b) {
    const Eigen::Index begin = std::max(a.begin, b.begin);
    const Eigen::Index count = a.begin + a.values.cols() - begin;
    const auto* const first = a.values.data() + 2 * kLanes * (begin - a.begin);
    const auto* const second = b.values.data() + 2 * kLanes * (begin - b.begin);
    Lanes one = Lanes::Zero(), two = Lanes::Zero();
    for (Eigen::Index i = 0; i < count; ++i) {
        const Eigen::Map<const Lanes, Eigen::Aligned16> a_one(first + 2 * kLanes * i),
            a_two(first + 2 * kLanes * i + kLanes), b_one(second + 2 * kLanes * i),
            b_two(second + 2 * kLanes * i + kLanes);
        one += a_one * b_one;
        two += a_two * b_two;
    }
    return one + two;
}

CondensedLanes::CondensedLanes(const ShellSide& side, const LaneCases& lanes)
    : factor_(side.stiffness(lanes), kRingUnknowns) {}

void CondensedLanes::reduce(HalfResponse& load) const {
    GRAFTWRIGHT_CHECK(load.begin + load.values.cols() == factor_.size(), "a load of this harmonic");
    factor_.forward(load.values, static_cast<int>(load.begin));
}

}  // namespace graftwright
