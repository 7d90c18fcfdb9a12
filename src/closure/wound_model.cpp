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
    condense();
    foundation_.assign(static_cast<std::size_t>(options.harmonics) + 1, Eigen::Matrix4d::Zero());
    for (std::size_t m = 0; m <= 1; ++m) {
        const Eigen::Matrix4d& host = levels_.front().host[m].ring_stiffness();
        foundation_[m].diagonal() = kFoundation * host.diagonal();
    }
}

void WoundModel::condense() {
    levels_.resize(options_.levels_mmHg.size());
    for (std::size_t l = 0; l < levels_.size(); ++l) levels_[l].pressure = mpa_from_mmhg(options_.levels_mmHg[l]);
    for (int m = 0; m <= options_.harmonics; ++m) {
        const ShellSide::Stiffness donor = donor_.elastic_stiffness(m), donor_p = donor_.stiffness_per_pressure(m);
        const ShellSide::Stiffness host = host_.elastic_stiffness(m), host_p = host_.stiffness_per_pressure(m);
        for (Level& level : levels_) {
            ShellSide::Stiffness donor_here = donor, host_here = host;
            donor_here.add_scaled(donor_p, level.pressure);
            host_here.add_scaled(host_p, level.pressure);
            level.donor.emplace_back(std::move(donor_here));
            level.host.emplace_back(std::move(host_here));
            const Eigen::Matrix4d& k_host = level.host.back().ring_stiffness();
            const Eigen::LLT<Eigen::Matrix4d> glued(level.donor.back().ring_stiffness() + k_host);
            GRAFTWRIGHT_CHECK(glued.info() == Eigen::Success, "donor and host glued together are stable");
            level.host_share.push_back(glued.solve(k_host).transpose());
            const Eigen::Matrix4d stiffness = k_host - level.host_share.back() * k_host;
            level.jump_stiffness.push_back(0.5 * (stiffness + stiffness.transpose()));
            level.glued_factor.push_back(glued.matrixL());
        }
    }
    HarmonicLoads pressure{Eigen::MatrixX2d::Zero(donor_.interior_size(0) + kRingUnknowns, 2),
                           Eigen::MatrixX2d::Zero(host_.interior_size(0) + kRingUnknowns, 2)};
    pressure.donor.col(0) = donor_.pressure_load();
    pressure.host.col(0) = host_.pressure_load();
    for (Level& level : levels_) {
        level.pressure_load = empty_load();
        reduce_harmonic(level, 0, pressure, level.pressure_load);
    }
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
    for (int m = 0; m <= options_.harmonics; ++m) {
        load.donor.push_back({donor_.interior_size(m), Eigen::Matrix2Xd(2, 0)});
        load.host.push_back({host_.interior_size(m), Eigen::Matrix2Xd(2, 0)});
    }
    return load;
}

WoundModel::HarmonicLoads WoundModel::harmonic_loads(const ThreadPath& path, int m) const {
    HarmonicLoads loads{Eigen::MatrixX2d::Zero(donor_.interior_size(m) + kRingUnknowns, 2),
                        Eigen::MatrixX2d::Zero(host_.interior_size(m) + kRingUnknowns, 2)};
    donor_.add_point_forces(m, path.donor, loads.donor);
    host_.add_point_forces(m, path.host, loads.host);
    return loads;
}

void WoundModel::reduce_harmonic(const Level& level, int m, const HarmonicLoads& loads, WoundLoad& result) const {
    const auto h = static_cast<std::size_t>(m);
    const Eigen::Matrix<double, kRingUnknowns, 2> donor = level.donor[h].ring_load(loads.donor);
    const Eigen::Matrix<double, kRingUnknowns, 2> host = level.host[h].ring_load(loads.host);
    const Eigen::Matrix<double, kRingUnknowns, 2> both = donor + host;
    const Eigen::Matrix<double, kRingUnknowns, 2> force = host - level.host_share[h] * both;
    const Eigen::Matrix<double, kRingUnknowns, 2> half =
        level.glued_factor[h].triangularView<Eigen::Lower>().solve(both);
    for (const Family family : {Family::A, Family::B}) {
        if (m == 0 && family == Family::B) continue;
        const Eigen::Index side = family == Family::A ? 0 : 1;
        result.jump_force.col(ring_column(m, family)) = force.col(side);
        result.glued_half.col(ring_column(m, family)) = half.col(side);
    }
    result.donor[h] = level.donor[h].half_response(loads.donor);
    result.host[h] = level.host[h].half_response(loads.host);
}

std::vector<WoundLoad> WoundModel::reduce(const ThreadPath& path) const {
    std::vector<WoundLoad> result(levels_.size(), empty_load());
    for (int m = 0; m <= options_.harmonics; ++m) {
        const HarmonicLoads loads = harmonic_loads(path, m);
        for (std::size_t l = 0; l < levels_.size(); ++l) reduce_harmonic(levels_[l], m, loads, result[l]);
    }
    return result;
}

std::vector<Eigen::VectorXd> WoundModel::donor_displacement(double pressure, const RingMatrix& jump,
                                                            const std::vector<const ThreadPath*>& paths,
                                                            const Eigen::VectorXd& tensions, int up_to_harmonic) const {
    const int last = std::min(up_to_harmonic, options_.harmonics);
    std::vector<Eigen::VectorXd> displacement(static_cast<std::size_t>(2 * last + 1));
    for (int m = 0; m <= last; ++m) {
        const CondensedHarmonic donor(donor_, m, pressure), host(host_, m, pressure);
        HarmonicLoads loads{Eigen::MatrixX2d::Zero(donor_.interior_size(m) + kRingUnknowns, 2),
                            Eigen::MatrixX2d::Zero(host_.interior_size(m) + kRingUnknowns, 2)};
        if (m == 0) {
            loads.donor.col(0) = pressure * donor_.pressure_load();
            loads.host.col(0) = pressure * host_.pressure_load();
        }
        for (std::size_t b = 0; b < paths.size(); ++b) {
            const double tension = tensions[static_cast<Eigen::Index>(b)];
            if (tension == 0.0) continue;
            const HarmonicLoads bite = harmonic_loads(*paths[b], m);
            loads.donor += tension * bite.donor;
            loads.host += tension * bite.host;
        }
        const Eigen::Matrix<double, kRingUnknowns, 2> ring_loads =
            donor.ring_load(loads.donor) + host.ring_load(loads.host);
        const Eigen::LLT<Eigen::Matrix4d> glued(donor.ring_stiffness() + host.ring_stiffness());
        for (const Family family : {Family::A, Family::B}) {
            if (m == 0 && family == Family::B) continue;
            const Eigen::Index column = ring_column(m, family), side = family == Family::A ? 0 : 1;
            const Eigen::Vector4d ring = glued.solve(ring_loads.col(side) - host.ring_stiffness() * jump.col(column));
            displacement[static_cast<std::size_t>(column)] = donor.solution(ring, loads.donor.col(side));
        }
    }
    return displacement;
}

}  // namespace graftwright
