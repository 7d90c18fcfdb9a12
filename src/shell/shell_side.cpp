#include "shell/shell_side.h"

#include <algorithm>

#include "base/check.h"

namespace graftwright {
namespace {

double sector_factor(int m) { return m == 0 ? 2.0 * kPi : kPi; }

bool is_odd(int local) { return local % kFields == 1 || local % kFields == 4; }  // V, B

}  // namespace

ShellSide::ShellSide(const Meridian& meridian, double poisson_ratio, bool pressure_stiffens)
    : meridian_(meridian), poisson_ratio_(poisson_ratio), pressure_stiffens_(pressure_stiffens) {
    for (const ShellElement& element : meridian_.elements()) {
        stiffness_.push_back(element_stiffness(element, poisson_ratio));
    }
    if (meridian_.side() == WoundSide::donor) {
        for (int m = 0; m < kDonorMaps; ++m) maps_.push_back(UnknownMap::donor(meridian_, m));
    } else {
        maps_.push_back(UnknownMap::host(meridian_));
    }
}

const UnknownMap& ShellSide::map(int m) const {
    return maps_[maps_.size() == 1 ? 0 : static_cast<std::size_t>(std::min(m, kDonorMaps - 1))];
}

EnvelopeMatrix ShellSide::stiffness(const LaneCases& lanes) const {
    const UnknownMap& unknowns = map(lanes.front().m);
    Lanes sector, pressure, m;
    for (int lane = 0; lane < kLanes; ++lane) {
        const LaneCase& one = lanes[static_cast<std::size_t>(lane)];
        GRAFTWRIGHT_CHECK(&map(one.m) == &unknowns, "lanes of one shape");
        sector[lane] = sector_factor(one.m);
        pressure[lane] = pressure_stiffens_ ? one.pressure : 0.0;
        m[lane] = one.m;
    }
    const Lanes m_sector = m * sector, m2 = m * m;
    EnvelopeMatrix result(unknowns.envelope);
    for (const UnknownMap::Entry& entry : unknowns.entries) {
        const ElementStiffness& k = stiffness_[static_cast<std::size_t>(entry.element)];
        const int a = entry.a, b = entry.b;
        // m turns cosines into sines: its first power couples V, B with U, W, A, the others each with their own.
        if (is_odd(a) != is_odd(b)) {
            result.at(entry.row, entry.column) +=
                m_sector * (entry.factor * k.elastic[1](a, b) + pressure * (entry.factor * k.pressure[1](a, b)));
        } else {
            const double f = entry.factor;
            result.at(entry.row, entry.column) +=
                sector * ((f * k.elastic[0](a, b) + m2 * (f * k.elastic[2](a, b))) +
                          pressure * (f * k.pressure[0](a, b) + m2 * (f * k.pressure[2](a, b))));
        }
    }
    return result;
}

EnvelopeMatrix ShellSide::stiffness(int m, double pressure) const {
    LaneCases lanes;
    lanes.fill({m, pressure});
    return stiffness(lanes);
}

Eigen::VectorXd ShellSide::pressure_load() const {
    const UnknownMap& unknowns = map(0);
    Eigen::VectorXd load = Eigen::VectorXd::Zero(unknowns.size());
    for (std::size_t e = 0; e < stiffness_.size(); ++e) {
        for (int a = 0; a < kElementUnknowns; ++a) {
            for (const UnknownMap::Term& term : unknowns.elements[e][static_cast<std::size_t>(a)]) {
                if (term.unknown < 0) continue;
                load[term.unknown] += 2.0 * kPi * term.factor * stiffness_[e].pressure_load[a];
            }
        }
    }
    return load;
}

FieldAmplitudes ShellSide::fields_in(int e, int m, double s, const Eigen::VectorXd& solution) const {
    const UnknownMap& unknowns = map(m);
    const ShellElement& element = meridian_.elements()[static_cast<std::size_t>(e)];
    const double x = (s - element.s_begin) / element.length;
    const Eigen::Vector4d value = hermite(x, element.length, 0), slope = hermite(x, element.length, 1),
                          second = hermite(x, element.length, 2);
    FieldAmplitudes result;
    for (int end = 0; end < 2; ++end) {
        for (int kind = 0; kind < 2; ++kind) {
            for (std::size_t field = 0; field < kFields; ++field) {
                const auto local = static_cast<std::size_t>(10 * end + kFields * kind) + field;
                double amplitude = 0.0;
                for (const UnknownMap::Term& term : unknowns.elements[static_cast<std::size_t>(e)][local]) {
                    if (term.unknown >= 0) amplitude += term.factor * solution[term.unknown];
                }
                const int shape = 2 * end + kind;
                result.value[field] += value[shape] * amplitude;
                result.slope[field] += slope[shape] * amplitude;
                result.second[field] += second[shape] * amplitude;
            }
        }
    }
    return result;
}

}  // namespace graftwright
