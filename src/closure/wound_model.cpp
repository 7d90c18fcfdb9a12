#include "closure/wound_model.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <Eigen/Cholesky>

#include "base/check.h"

namespace graftwright {
namespace {

// Half-way point (MPa) of the interpolation variable p/(p + p0). Stiffness against pressure bends as if
// it had a pole at about −p0; 100 to 200 mmHg served best of those tried from 12 to 1000.
constexpr double kInterpolationPressure = 200.0 * kMPaPerMmHg;

}  // namespace

RingMatrix WoundLoad::jump_force_at(const LevelWeights& weights) const {
    RingMatrix result(kRingUnknowns, jump_force.cols() / kRingUnknowns);
    result.reshaped() = jump_force.matrix().transpose() * weights.matrix();
    return result;
}

Lanes WoundLoad::compliance(const WoundLoad& a, const WoundLoad& b) {
    Lanes sum = Lanes::Zero();
    for (std::size_t m = 0; m < a.halves.size(); ++m) sum += compliance(a, b, m);
    return sum;
}

WoundModel::WoundModel(const EyeShape& shape, const WoundModelOptions& options)
    : shape_(shape),
      options_(options),
      donor_(Meridian::donor(shape, options.mesh), shape.poisson_ratio, shape.pressure_stiffens),
      host_(Meridian::host(shape, options.mesh), shape.poisson_ratio, shape.pressure_stiffens) {
    GRAFTWRIGHT_CHECK(options.points >= 2 * options.harmonics + 1, "enough points for the harmonics");
    GRAFTWRIGHT_CHECK(!options.levels_mmHg.empty() && options.levels_mmHg.size() <= kLanes, "one to six levels");
    condense();
    foundation_.assign(static_cast<std::size_t>(options.harmonics) + 1, Eigen::Matrix4d::Zero());
    for (std::size_t m = 0; m <= 1; ++m) {
        foundation_[m].diagonal() = kFoundation * harmonics_[m].host.ring_stiffness(0).diagonal();
    }
}

void WoundModel::condense() {
    for (const double mmHg : options_.levels_mmHg) levels_.push_back(mpa_from_mmhg(mmHg));
    jump_stiffness_.resize(levels_.size());
    harmonics_.reserve(static_cast<std::size_t>(options_.harmonics) + 1);
    for (int m = 0; m <= options_.harmonics; ++m) {
        LaneCases lanes;
        for (std::size_t lane = 0; lane < kLanes; ++lane) {
            lanes[lane] = {m, levels_[std::min(lane, levels_.size() - 1)]};
        }
        harmonics_.push_back({CondensedLanes(donor_, lanes), CondensedLanes(host_, lanes), {}, {}});
        Harmonic& harmonic = harmonics_.back();
        for (int lane = 0; lane < kLanes; ++lane) {
            const Eigen::Matrix4d k_host = harmonic.host.ring_stiffness(lane);
            const Eigen::LLT<Eigen::Matrix4d> glued(harmonic.donor.ring_stiffness(lane) + k_host);
            GRAFTWRIGHT_CHECK(glued.info() == Eigen::Success, "donor and host glued together are stable");
            const Eigen::Matrix4d share = glued.solve(k_host).transpose();
            Eigen::Matrix4d factor = glued.matrixL();
            factor.diagonal() = factor.diagonal().cwiseInverse().eval();
            harmonic.host_share.row(lane) = share.reshaped<Eigen::RowMajor>().transpose().array();
            harmonic.glued_factor.row(lane) = factor.reshaped<Eigen::RowMajor>().transpose().array();
            if (static_cast<std::size_t>(lane) >= levels_.size()) continue;
            const Eigen::Matrix4d stiffness = k_host - share * k_host;
            jump_stiffness_[static_cast<std::size_t>(lane)].push_back(0.5 * (stiffness + stiffness.transpose()));
        }
    }
    const auto half = [](const ShellSide& side) {
        Eigen::Matrix2Xd load = Eigen::Matrix2Xd::Zero(2, side.map(0).size());
        load.row(0) = side.pressure_load();
        return HalfResponse::of(load, 0);
    };
    pressure_load_ = empty_load();
    reduce_harmonic(0, half(donor_), half(host_), pressure_load_);
}

LevelWeights WoundModel::level_weights(double pressure) const {
    const std::size_t count = levels_.size();
    const auto variable = [](double p) { return p / (p + kInterpolationPressure); };
    GRAFTWRIGHT_CHECK(count > 1 || std::abs(pressure - levels_.front()) < 1e-12,
                      "a model of one level serves that pressure only");
    LevelWeights weights = LevelWeights::Zero();
    const double x = variable(pressure);
    for (std::size_t i = 0; i < count; ++i) {
        double weight = 1.0;
        for (std::size_t k = 0; k < count; ++k) {
            const double x_i = variable(levels_[i]), x_k = variable(levels_[k]);
            if (k != i) weight *= (x - x_k) / (x_i - x_k);
        }
        weights[static_cast<Eigen::Index>(i)] = weight;
    }
    return weights;
}

WoundLoad WoundModel::empty_load() const {
    WoundLoad load;
    load.jump_force = LaneRing::Zero(kLanes, kRingUnknowns * columns());
    for (int m = 0; m <= options_.harmonics; ++m) {
        load.halves.push_back(
            {{donor_.map(m).size(), LanePairs(2 * kLanes, 0)}, {host_.map(m).size(), LanePairs(2 * kLanes, 0)}});
    }
    return load;
}

void WoundModel::reduce_harmonic(std::size_t m, HalfResponse donor, HalfResponse host, WoundLoad& result) const {
    const Harmonic& harmonic = harmonics_[m];
    harmonic.donor.reduce(donor);
    harmonic.host.reduce(host);
    const Eigen::Array<double, 2 * kLanes, kRingUnknowns> on_host = host.ring(), both = donor.ring() + on_host;
    for (const Family family : {Family::A, Family::B}) {
        if (m == 0 && family == Family::B) continue;
        const Eigen::Index lanes = family == Family::A ? 0 : kLanes;
        const Eigen::Index column = kRingUnknowns * ring_column(static_cast<int>(m), family);
        for (Eigen::Index i = 0; i < kRingUnknowns; ++i) {
            Lanes force = on_host.col(i).segment<kLanes>(lanes), half = both.col(i).segment<kLanes>(lanes);
            for (Eigen::Index k = 0; k < kRingUnknowns; ++k) {
                force -= harmonic.host_share.col(kRingUnknowns * i + k) * both.col(k).segment<kLanes>(lanes);
            }
            for (Eigen::Index k = 0; k < i; ++k) {
                half -= harmonic.glued_factor.col(kRingUnknowns * i + k) * donor.ring().col(k).segment<kLanes>(lanes);
            }
            result.jump_force.col(column + i) = force;
            donor.ring().col(i).segment<kLanes>(lanes) = half * harmonic.glued_factor.col(kRingUnknowns * i + i);
        }
    }
    host.ring().setZero();
    result.halves[m] = {std::move(donor), std::move(host)};
}

std::vector<WoundLoad> WoundModel::reduce(const std::vector<const ThreadPath*>& paths) const {
    std::vector<WoundLoad> result(paths.size(), empty_load());
    std::vector<PointLoads> donor, host;
    for (const ThreadPath* path : paths) {
        donor.emplace_back(donor_, path->donor);
        host.emplace_back(host_, path->host);
    }
    const auto half = [](const PointLoads& forces, const ShellSide& side, int m) {
        const int begin = forces.begin(m);
        Eigen::Matrix2Xd load = Eigen::Matrix2Xd::Zero(2, side.map(m).size() - begin);
        forces.add(m, 1.0, load);
        return HalfResponse::of(load, begin);
    };
    for (int m = 0; m <= options_.harmonics; ++m) {
        for (std::size_t b = 0; b < paths.size(); ++b) {
            reduce_harmonic(static_cast<std::size_t>(m), half(donor[b], donor_, m), half(host[b], host_, m), result[b]);
        }
    }
    return result;
}

std::vector<Eigen::VectorXd> WoundModel::donor_displacement(double pressure, const RingMatrix& jump,
                                                            const std::vector<const ThreadPath*>& paths,
                                                            const Eigen::VectorXd& tensions, int up_to_harmonic) const {
    const int last = std::min(up_to_harmonic, options_.harmonics);
    std::vector<PointLoads> donor_forces, host_forces;
    std::vector<double> pulls;
    for (std::size_t b = 0; b < paths.size(); ++b) {
        const double tension = tensions[static_cast<Eigen::Index>(b)];
        if (tension == 0.0) continue;
        donor_forces.emplace_back(donor_, paths[b]->donor);
        host_forces.emplace_back(host_, paths[b]->host);
        pulls.push_back(tension);
    }
    const auto loads_of = [&](const ShellSide& side, const std::vector<PointLoads>& forces, int m) {
        Eigen::Matrix2Xd load = Eigen::Matrix2Xd::Zero(2, side.map(m).size());
        if (m == 0) load.row(0) = pressure * side.pressure_load();
        for (std::size_t b = 0; b < forces.size(); ++b) forces[b].add(m, pulls[b], load);
        return load;
    };
    std::vector<Eigen::VectorXd> displacement(static_cast<std::size_t>(2 * last + 1));
    // Harmonics of one shape share the lanes.
    for (int m = 0, count = 1; m <= last; m += count) {
        count = m < donor_.first_alike() ? 1 : std::min(kLanes, last + 1 - m);
        LaneCases lanes;
        for (int lane = 0; lane < kLanes; ++lane) {
            lanes[static_cast<std::size_t>(lane)] = {m + std::min(lane, count - 1), pressure};
        }
        const CondensedLanes donor(donor_, lanes), host(host_, lanes);
        HalfResponse on_donor{0, LanePairs::Zero(2 * kLanes, donor_.map(m).size())},
            on_host{0, LanePairs::Zero(2 * kLanes, host_.map(m).size())};
        for (int lane = 0; lane < count; ++lane) {
            on_donor.set_lane(lane, loads_of(donor_, donor_forces, m + lane));
            on_host.set_lane(lane, loads_of(host_, host_forces, m + lane));
        }
        donor.reduce(on_donor);
        host.reduce(on_host);
        const Eigen::Array<double, 2 * kLanes, kRingUnknowns> ring_loads = on_donor.ring() + on_host.ring();
        for (int lane = 0; lane < count; ++lane) {
            const Eigen::Matrix4d k_host = host.ring_stiffness(lane);
            const Eigen::LLT<Eigen::Matrix4d> glued(donor.ring_stiffness(lane) + k_host);
            for (const Family family : {Family::A, Family::B}) {
                if (m + lane == 0 && family == Family::B) continue;
                const Eigen::Index row = lane + (family == Family::A ? 0 : kLanes);
                const Eigen::Vector4d load = ring_loads.row(row).matrix().transpose();
                on_donor.ring().row(row) =
                    glued.solve(load - k_host * jump.col(ring_column(m + lane, family))).transpose().array();
            }
        }
        donor.expand(on_donor.values);
        for (int lane = 0; lane < count; ++lane) {
            for (const Family family : {Family::A, Family::B}) {
                if (m + lane == 0 && family == Family::B) continue;
                displacement[static_cast<std::size_t>(ring_column(m + lane, family))] =
                    on_donor.values.row(lane + (family == Family::A ? 0 : kLanes)).matrix().transpose();
            }
        }
    }
    return displacement;
}

}  // namespace graftwright
