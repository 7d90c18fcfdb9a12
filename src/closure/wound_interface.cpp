#include "closure/wound_interface.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace graftwright {
namespace {

constexpr std::array<double, kFibres> kGaussPoint = {-0.906179845938663992797627, -0.538469310105683091036314, 0.0,
                                                     0.538469310105683091036314, 0.906179845938663992797627};
constexpr std::array<double, kFibres> kGaussWeight = {0.236926885056189087514264, 0.478628670499366468041292,
                                                      0.568888888888888888888889, 0.478628670499366468041292,
                                                      0.236926885056189087514264};

}  // namespace

WoundInterface::WoundInterface(const WoundModel& model, const InterfaceConstants& constants,
                               Eigen::VectorXd interference)
    : constants_(constants),
      interference_(std::move(interference)),
      radius_(model.shape().wound_radius),
      wall_(std::min(model.shape().donor_thickness, model.shape().rim_thickness)),
      harmonics_(model.harmonics()) {
    const Eigen::Index count = interference_.size();
    arc_ = 2.0 * kPi * radius_ / static_cast<double>(count);
    for (std::size_t k = 0; k < z_.size(); ++k) {
        z_[k] = 0.5 * wall_ * kGaussPoint[k];
        // A fibre farther out stands on a longer arc: (1 + z/R).
        h_[k] = 0.5 * wall_ * kGaussWeight[k] * (1.0 + z_[k] / model.shape().mid_radius);
    }
    even_.resize(count, model.columns());
    odd_.resize(count, model.columns());
    for (int point = 0; point < points(); ++point) {
        even_.row(point) = even_row(theta(point), 0.0);
        odd_.row(point) = odd_row(theta(point), 0.0);
    }
}

double WoundInterface::theta(int point) const { return 2.0 * kPi * point / points(); }

Eigen::VectorXd WoundInterface::even_row(double theta, double spread) const {
    Eigen::VectorXd row(2 * harmonics_ + 1);
    row[0] = 1.0;
    for (int m = 1; m <= harmonics_; ++m) {
        const double blur = m * spread / radius_;
        const double damp = std::exp(-0.5 * blur * blur);
        row[2 * m - 1] = damp * std::cos(m * theta);
        row[2 * m] = damp * std::sin(m * theta);
    }
    return row;
}

Eigen::VectorXd WoundInterface::odd_row(double theta, double spread) const {
    Eigen::VectorXd row = even_row(theta, spread);
    for (int m = 1; m <= harmonics_; ++m) {
        const double cosine = row[2 * m - 1];
        row[2 * m - 1] = row[2 * m];
        row[2 * m] = -cosine;
    }
    return row;
}

PointJumps WoundInterface::at_points(const Eigen::Ref<const RingMatrix>& jump) const {
    PointJumps result(kRingUnknowns, points());
    for (int component : {0, 2, 3}) result.row(component).noalias() = jump.row(component) * even_.transpose();
    result.row(1).noalias() = jump.row(1) * odd_.transpose();
    return result;
}

RingMatrix WoundInterface::edges_at_points(const RingMatrix& edges) const {
    RingMatrix result(kRingUnknowns, 2 * points());
    result << at_points(edges.leftCols(edges.cols() / 2)), at_points(edges.rightCols(edges.cols() / 2));
    return result;
}

RingMatrix WoundInterface::to_harmonics(const PointJumps& forces) const {
    RingMatrix result(kRingUnknowns, even_.cols());
    for (int component : {0, 2, 3}) result.row(component).noalias() = arc_ * forces.row(component) * even_;
    result.row(1).noalias() = arc_ * forces.row(1) * odd_;
    return result;
}

FibreState WoundInterface::fresh_state() const {
    FibreState state;
    state.fluid = FibreArray::Zero(kFibres, points());
    state.held = FibreMask::Constant(kFibres, points(), false);
    state.anchor_v = state.anchor_w = state.bound = state.fluid;
    return state;
}

void WoundInterface::respond(const Eigen::Ref<const PointJumps>& jumps, const FibreState& state, bool with_tangent,
                             Response& out) const {
    out.energy = 0.0;
    out.force.resize(kRingUnknowns, points());
    if (with_tangent) out.tangent.resize(6, points());
    const double k_c = constants_.k_c, k_t = constants_.k_t;
    for (int j = 0; j < points(); ++j) {
        double push = 0.0, bend = 0.0, along_v = 0.0, along_w = 0.0;
        double uu = 0.0, ub = 0.0, bb = 0.0, vv = 0.0, vw = 0.0, ww = 0.0;
        for (int k = 0; k < kFibres; ++k) {
            const double zk = z(k), weight = depth_weight(k), squash = -gap(jumps, j, k);
            const double fluid = state.fluid(k, j);
            double traction = 0.0;
            if (squash > 0.0 && k_c * squash > fluid) {
                traction = k_c * squash;
                out.energy += weight * 0.5 * (k_c * squash * squash + fluid * fluid / k_c);
                const double stiffness = weight * k_c;
                uu += stiffness;
                ub += stiffness * zk;
                bb += stiffness * zk * zk;
            } else if (fluid > 0.0) {
                traction = fluid;
                out.energy += weight * fluid * squash;
            }
            push += weight * traction;
            bend += weight * traction * zk;

            if (!state.held(k, j)) continue;
            const double bound = state.bound(k, j);
            const double slip_v = jumps(1, j) - state.anchor_v(k, j), slip_w = jumps(2, j) - state.anchor_w(k, j);
            const double slip = std::sqrt(slip_v * slip_v + slip_w * slip_w);
            if (k_t * slip <= bound) {
                out.energy += weight * 0.5 * k_t * slip * slip;
                along_v -= weight * k_t * slip_v;
                along_w -= weight * k_t * slip_w;
                vv += weight * k_t;
                ww += weight * k_t;
            } else {
                out.energy += weight * bound * (slip - 0.5 * bound / k_t);
                const double cv = slip_v / slip, cw = slip_w / slip, across = weight * bound / slip;
                along_v -= weight * bound * cv;
                along_w -= weight * bound * cw;
                vv += across * cw * cw;
                vw -= across * cv * cw;
                ww += across * cv * cv;
            }
        }
        out.force.col(j) << push, along_v, along_w, bend;
        if (with_tangent) out.tangent.col(j) << uu, ub, bb, vv, vw, ww;
    }
    out.energy *= arc_;
}

double WoundInterface::update_bounds(const Eigen::Ref<const PointJumps>& jumps, FibreState& state) const {
    double change = 0.0, total = 0.0;
    for (int j = 0; j < points(); ++j) {
        for (int k = 0; k < kFibres; ++k) {
            const double solid = solid_pressure(jumps, j, k);
            const bool presses = solid > 0.0 && solid > state.fluid(k, j);
            const double bound = presses ? constants_.friction * solid : 0.0;
            const double before = state.held(k, j) ? state.bound(k, j) : 0.0;
            if (presses && !state.held(k, j)) {
                state.anchor_v(k, j) = jumps(1, j);
                state.anchor_w(k, j) = jumps(2, j);
            }
            state.held(k, j) = presses;
            state.bound(k, j) = bound;
            change += depth_weight(k) * std::abs(bound - before);
            total += depth_weight(k) * bound;
        }
    }
    return total > 0.0 ? change / total : 0.0;
}

void WoundInterface::carry_anchors(const Eigen::Ref<const PointJumps>& jumps, FibreState& state) const {
    for (int j = 0; j < points(); ++j) {
        for (int k = 0; k < kFibres; ++k) {
            if (!state.held(k, j)) continue;
            const double slip_v = jumps(1, j) - state.anchor_v(k, j), slip_w = jumps(2, j) - state.anchor_w(k, j);
            const double slip = std::hypot(slip_v, slip_w), kept = state.bound(k, j) / constants_.k_t;
            if (slip <= kept) continue;
            state.anchor_v(k, j) = jumps(1, j) - slip_v * kept / slip;
            state.anchor_w(k, j) = jumps(2, j) - slip_w * kept / slip;
        }
    }
}

}  // namespace graftwright
