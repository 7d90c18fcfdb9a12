#include "closure/wound_model.h"

#include <algorithm>
#include <array>
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

RingMatrix WoundLoad::edge_force_at(const LevelWeights& weights) const {
    RingMatrix result(kRingUnknowns, edge_force.cols() / kRingUnknowns);
    result.reshaped() = edge_force.matrix().transpose() * weights.matrix();
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
    GRAFTWRIGHT_CHECK(!options.levels_mmHg.empty() && options.levels_mmHg.size() < kLanes, "one to five levels");
    for (const double mmHg : options_.levels_mmHg) levels_.push_back(mpa_from_mmhg(mmHg));
    if (!condense()) {
        lower_levels();
        GRAFTWRIGHT_CHECK(condense(), "an eye is stable below the pressure at which it gives way");
    }
    for (std::size_t m = 0; m < foundation_.size(); ++m) {
        foundation_[m].setZero();
        if (m < harmonics_.size()) foundation_[m].diagonal() = kFoundation * host_stiffness_.front()[m].diagonal();
    }
}

bool WoundModel::stable(const Harmonic& harmonic, int lane) {
    return harmonic.donor.stable(lane) && harmonic.host.stable(lane) &&
           (harmonic.donor.ring_stiffness(lane) + harmonic.host.ring_stiffness(lane)).llt().info() == Eigen::Success;
}

bool WoundModel::condense() {
    // The last lane is no level: it asks whether the eye stands what lies beyond the highest.
    const double beyond = levels_.size() > 1 ? levels_.back() / kStableShare : levels_.back();
    donor_stiffness_.assign(levels_.size(), {});
    host_stiffness_.assign(levels_.size(), {});
    harmonics_.clear();
    harmonics_.reserve(static_cast<std::size_t>(options_.harmonics) + 1);
    for (int m = 0; m <= options_.harmonics; ++m) {
        LaneCases lanes;
        for (std::size_t lane = 0; lane < kLanes; ++lane) {
            lanes[lane] = {m, lane < levels_.size() ? levels_[lane] : beyond};
        }
        harmonics_.push_back({CondensedLanes(donor_, lanes), CondensedLanes(host_, lanes)});
        const Harmonic& harmonic = harmonics_.back();
        for (int lane = 0; lane < kLanes; ++lane) {
            if (!stable(harmonic, lane)) return false;
            const auto level = static_cast<std::size_t>(lane);
            if (level >= levels_.size()) continue;
            donor_stiffness_[level].push_back(harmonic.donor.ring_stiffness(lane));
            host_stiffness_[level].push_back(harmonic.host.ring_stiffness(lane));
        }
    }
    const auto half = [](const ShellSide& side) {
        Eigen::Matrix2Xd load = Eigen::Matrix2Xd::Zero(2, side.map(0).size());
        load.row(0) = side.pressure_load();
        return HalfResponse::of(load, 0);
    };
    pressure_load_ = empty_load();
    reduce_harmonic(0, half(donor_), half(host_), pressure_load_);
    return true;
}

void WoundModel::lower_levels() {
    const double asked = levels_.back();
    double stands = 0.0, gives_way = asked / kStableShare;
    // Six pressures between at a time: to a two-thousandth of the first bracket.
    for (int sweep = 0; sweep < 4; ++sweep) {
        std::array<double, kLanes> tried{};
        for (std::size_t lane = 0; lane < tried.size(); ++lane) {
            tried[lane] = stands + (gives_way - stands) * static_cast<double>(lane + 1) / (kLanes + 1);
        }
        const std::size_t stable = count_stable(tried);
        if (stable < tried.size()) gives_way = tried[stable];
        if (stable > 0) stands = tried[stable - 1];
    }
    for (double& level : levels_) level *= kStableShare * stands / asked;
    limited_ = true;
}

std::size_t WoundModel::count_stable(const std::array<double, kLanes>& pressures) const {
    std::size_t count = pressures.size();
    for (int m = 0; m <= options_.harmonics && count > 0; ++m) {
        LaneCases lanes;
        for (std::size_t lane = 0; lane < kLanes; ++lane) lanes[lane] = {m, pressures[lane]};
        const Harmonic harmonic{CondensedLanes(donor_, lanes), CondensedLanes(host_, lanes)};
        for (std::size_t lane = 0; lane < count; ++lane) {
            if (!stable(harmonic, static_cast<int>(lane))) count = lane;
        }
    }
    return count;
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
    load.edge_force = LaneRing::Zero(kLanes, 2 * kRingUnknowns * columns());
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
    for (const Family family : {Family::A, Family::B}) {
        if (m == 0 && family == Family::B) continue;
        const Eigen::Index lanes = family == Family::A ? 0 : kLanes;
        const Eigen::Index column = ring_column(static_cast<int>(m), family);
        for (Eigen::Index i = 0; i < kRingUnknowns; ++i) {
            const Lanes on_host = host.ring().col(i).segment<kLanes>(lanes);
            result.edge_force.col(kRingUnknowns * column + i) = on_host;
            result.edge_force.col(kRingUnknowns * (columns() + column) + i) =
                on_host + donor.ring().col(i).segment<kLanes>(lanes);
        }
    }
    donor.ring().setZero();
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

std::vector<Eigen::VectorXd> WoundModel::donor_displacement(double pressure,
                                                            const Eigen::Ref<const RingMatrix>& donor_edge,
                                                            const std::vector<const ThreadPath*>& paths,
                                                            const Eigen::VectorXd& tensions, int up_to_harmonic) const {
    const int last = std::min(up_to_harmonic, options_.harmonics);
    std::vector<PointLoads> forces;
    std::vector<double> pulls;
    for (std::size_t b = 0; b < paths.size(); ++b) {
        const double tension = tensions[static_cast<Eigen::Index>(b)];
        if (tension == 0.0) continue;
        forces.emplace_back(donor_, paths[b]->donor);
        pulls.push_back(tension);
    }
    std::vector<Eigen::VectorXd> displacement(static_cast<std::size_t>(2 * last + 1));
    // Harmonics of one shape share the lanes.
    for (int m = 0, count = 1; m <= last; m += count) {
        count = m < donor_.first_alike() ? 1 : std::min(kLanes, last + 1 - m);
        LaneCases lanes;
        for (int lane = 0; lane < kLanes; ++lane) {
            lanes[static_cast<std::size_t>(lane)] = {m + std::min(lane, count - 1), pressure};
        }
        const CondensedLanes donor(donor_, lanes);
        HalfResponse response{0, LanePairs::Zero(2 * kLanes, donor_.map(m).size())};
        for (int lane = 0; lane < count; ++lane) {
            Eigen::Matrix2Xd load = Eigen::Matrix2Xd::Zero(2, donor_.map(m).size());
            if (m + lane == 0) load.row(0) = pressure * donor_.pressure_load();
            for (std::size_t b = 0; b < forces.size(); ++b) forces[b].add(m + lane, pulls[b], load);
            response.set_lane(lane, load);
        }
        donor.reduce(response);
        for (int lane = 0; lane < count; ++lane) {
            for (const Family family : {Family::A, Family::B}) {
                if (m + lane == 0 && family == Family::B) continue;
                response.ring().row(lane + (family == Family::A ? 0 : kLanes)) =
                    donor_edge.col(ring_column(m + lane, family)).transpose().array();
            }
        }
        donor.expand(response.values);
        for (int lane = 0; lane < count; ++lane) {
            for (const Family family : {Family::A, Family::B}) {
                if (m + lane == 0 && family == Family::B) continue;
                displacement[static_cast<std::size_t>(ring_column(m + lane, family))] =
                    response.values.row(lane + (family == Family::A ? 0 : kLanes)).matrix().transpose();
            }
        }
    }
    return displacement;
}

}  // namespace graftwright
