#include "closure/wound_model.h"

#include <cmath>

#include <Eigen/Cholesky>

#include "base/check.h"

namespace graftwright {
namespace {

// Half-way point (MPa) of the interpolation variable p/(p + p0): about the pressure at which a
// shell of this shape would buckle if it were negative, where the stiffness has its nearest pole.
constexpr double kInterpolationPressure = 50.0 * kMPaPerMmHg;

template <typename Action>
void for_each_column(int harmonics, Action&& action) {
    for (int m = 0; m <= harmonics; ++m) {
        action(m, Family::A, ring_column(m, Family::A));
        if (m > 0) action(m, Family::B, ring_column(m, Family::B));
    }
}

}  // namespace

double WoundLoad::compliance(const WoundLoad& a, const WoundLoad& b) {
    double sum = a.glued_half.cwiseProduct(b.glued_half).sum();
    for (std::size_t c = 0; c < a.donor.size(); ++c) {
        sum += HalfResponse::compliance(a.donor[c], b.donor[c]) + HalfResponse::compliance(a.host[c], b.host[c]);
    }
    return sum;
}

WoundModel::WoundModel(const EyeShape& shape, const WoundModelOptions& options)
    : shape_(shape),
      options_(options),
      donor_(Meridian::donor(shape, options.mesh), shape.poisson_ratio, shape.pressure_stiffens),
      host_(Meridian::host(shape, options.mesh), shape.poisson_ratio, shape.pressure_stiffens) {
    GRAFTWRIGHT_CHECK(options.points >= 2 * options.harmonics + 1, "enough points for the harmonics");
    GRAFTWRIGHT_CHECK(!options.levels_mmHg.empty(), "at least one pressure level");
    for (double pressure_mmHg : options_.levels_mmHg) levels_.push_back(condense(mpa_from_mmhg(pressure_mmHg)));
    foundation_.assign(static_cast<std::size_t>(options.harmonics) + 1, Eigen::Matrix4d::Zero());
    for (std::size_t m = 0; m <= 1; ++m) {
        const Eigen::Matrix4d& host = levels_.front().host[m].ring_stiffness();
        foundation_[m].diagonal() = kFoundation * host.diagonal();
    }
}

WoundModel::Level WoundModel::condense(double pressure) const {
    Level level;
    level.pressure = pressure;
    for (int m = 0; m <= options_.harmonics; ++m) {
        level.donor.emplace_back(donor_, m, pressure);
        level.host.emplace_back(host_, m, pressure);
        const Eigen::Matrix4d& k_donor = level.donor.back().ring_stiffness();
        const Eigen::Matrix4d& k_host = level.host.back().ring_stiffness();
        const Eigen::LLT<Eigen::Matrix4d> glued(k_donor + k_host);
        GRAFTWRIGHT_CHECK(glued.info() == Eigen::Success, "donor and host glued together are stable");
        level.host_share.push_back(glued.solve(k_host).transpose());
        const Eigen::Matrix4d stiffness = k_host - level.host_share.back() * k_host;
        level.jump_stiffness.push_back(0.5 * (stiffness + stiffness.transpose()));
        level.glued_factor.push_back(glued.matrixL());
    }
    level.pressure_load = empty_load();
    reduce_column(level, 0, 0, {donor_.pressure_load(), host_.pressure_load()}, level.pressure_load);
    return level;
}

Eigen::VectorXd WoundModel::level_weights(double pressure) const {
    const auto count = static_cast<Eigen::Index>(levels_.size());
    const auto variable = [](double p) { return p / (p + kInterpolationPressure); };
    GRAFTWRIGHT_CHECK(count > 1 || std::abs(pressure - levels_.front().pressure) < 1e-12,
                      "a model of one level serves that pressure only");
    Eigen::VectorXd weights = Eigen::VectorXd::Ones(count);
    const double x = variable(pressure);
    for (Eigen::Index i = 0; i < count; ++i) {
        const double x_i = variable(levels_[static_cast<std::size_t>(i)].pressure);
        for (Eigen::Index k = 0; k < count; ++k) {
            if (k == i) continue;
            const double x_k = variable(levels_[static_cast<std::size_t>(k)].pressure);
            weights[i] *= (x - x_k) / (x_i - x_k);
        }
    }
    return weights;
}

WoundLoad WoundModel::empty_load() const {
    WoundLoad load;
    load.jump_force = RingMatrix::Zero(kRingUnknowns, columns());
    load.glued_half = RingMatrix::Zero(kRingUnknowns, columns());
    load.donor.resize(static_cast<std::size_t>(columns()));
    load.host.resize(static_cast<std::size_t>(columns()));
    for_each_column(options_.harmonics, [&](int m, Family, Eigen::Index column) {
        const auto c = static_cast<std::size_t>(column);
        load.donor[c] = {donor_.interior_size(m), Eigen::VectorXd()};
        load.host[c] = {host_.interior_size(m), Eigen::VectorXd()};
    });
    return load;
}

WoundModel::ColumnLoads WoundModel::column_loads(const ThreadPath& path, int m, Family family) const {
    ColumnLoads loads{Eigen::VectorXd::Zero(donor_.interior_size(m) + kRingUnknowns),
                      Eigen::VectorXd::Zero(host_.interior_size(m) + kRingUnknowns)};
    for (const PointForce& force : path.donor) donor_.add_point_force(m, family, force, loads.donor);
    for (const PointForce& force : path.host) host_.add_point_force(m, family, force, loads.host);
    return loads;
}

void WoundModel::reduce_column(const Level& level, int m, Eigen::Index column, const ColumnLoads& loads,
                               WoundLoad& result) const {
    const auto h = static_cast<std::size_t>(m);
    const auto c = static_cast<std::size_t>(column);
    const Eigen::Vector4d donor = level.donor[h].ring_load(loads.donor);
    const Eigen::Vector4d host = level.host[h].ring_load(loads.host);
    const Eigen::Vector4d both = donor + host;
    result.jump_force.col(column) = host - level.host_share[h] * both;
    result.glued_half.col(column) = level.glued_factor[h].triangularView<Eigen::Lower>().solve(both);
    result.donor[c] = level.donor[h].half_response(loads.donor);
    result.host[c] = level.host[h].half_response(loads.host);
}

WoundLoad WoundModel::reduce(const ThreadPath& path, std::size_t level) const {
    WoundLoad result = empty_load();
    for_each_column(options_.harmonics, [&](int m, Family family, Eigen::Index column) {
        reduce_column(levels_[level], m, column, column_loads(path, m, family), result);
    });
    return result;
}

std::vector<Eigen::VectorXd> WoundModel::donor_displacement(double pressure, const RingMatrix& jump,
                                                            const std::vector<const ThreadPath*>& paths,
                                                            const Eigen::VectorXd& tensions) const {
    std::vector<Eigen::VectorXd> displacement(static_cast<std::size_t>(columns()));
    std::vector<CondensedHarmonic> donor, host;
    for (int m = 0; m <= options_.harmonics; ++m) {
        donor.emplace_back(donor_, m, pressure);
        host.emplace_back(host_, m, pressure);
    }
    for_each_column(options_.harmonics, [&](int m, Family family, Eigen::Index column) {
        const auto h = static_cast<std::size_t>(m);
        ColumnLoads loads{Eigen::VectorXd::Zero(donor_.interior_size(m) + kRingUnknowns),
                          Eigen::VectorXd::Zero(host_.interior_size(m) + kRingUnknowns)};
        if (m == 0) {
            loads.donor += pressure * donor_.pressure_load();
            loads.host += pressure * host_.pressure_load();
        }
        for (std::size_t b = 0; b < paths.size(); ++b) {
            const double tension = tensions[static_cast<Eigen::Index>(b)];
            if (tension == 0.0) continue;
            const ColumnLoads bite = column_loads(*paths[b], m, family);
            loads.donor += tension * bite.donor;
            loads.host += tension * bite.host;
        }
        const Eigen::Matrix4d& k_host = host[h].ring_stiffness();
        const Eigen::Matrix4d glued = donor[h].ring_stiffness() + k_host;
        const Eigen::Vector4d ring = glued.llt().solve(donor[h].ring_load(loads.donor) +
                                                       host[h].ring_load(loads.host) -
                                                       k_host * jump.col(column));
        displacement[static_cast<std::size_t>(column)] = donor[h].solution(ring, loads.donor);
    });
    return displacement;
}

RingMatrix WoundModel::donor_ring(const std::vector<Eigen::VectorXd>& displacement) const {
    RingMatrix ring(kRingUnknowns, columns());
    for (Eigen::Index c = 0; c < columns(); ++c) {
        ring.col(c) = displacement[static_cast<std::size_t>(c)].tail<kRingUnknowns>();
    }
    return ring;
}

}  // namespace graftwright
