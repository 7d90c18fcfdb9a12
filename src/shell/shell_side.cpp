#include "shell/shell_side.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"

namespace graftwright {
namespace {

constexpr int kU = 0, kV = 1, kW = 2, kA = 3, kB = 4;
// Marks the four ring values until the interior's size is known.
constexpr int kRingMark = 1'000'000;

int ring_slot(int field) { return field == kB ? -1 : field; }

double sector_factor(int m) { return m == 0 ? 2.0 * kPi : kPi; }

}  // namespace

ShellSide::ShellSide(const Meridian& meridian, double poisson_ratio, bool pressure_stiffens)
    : meridian_(meridian), poisson_ratio_(poisson_ratio), pressure_stiffens_(pressure_stiffens) {
    for (const ShellElement& element : meridian_.elements()) {
        stiffness_.push_back(element_stiffness(element, poisson_ratio));
    }
    if (meridian_.side() == WoundSide::donor) {
        for (int m = 0; m <= 3; ++m) maps_.push_back(donor_map(m));
    } else {
        maps_.push_back(host_map());
    }
}

const ShellSide::UnknownMap& ShellSide::map(int m) const {
    return maps_[maps_.size() == 1 ? 0 : static_cast<std::size_t>(std::min(m, 3))];
}

ShellSide::UnknownMap ShellSide::donor_map(int m) const {
    UnknownMap result;
    const std::size_t count = meridian_.elements().size();
    result.elements.resize(count);
    int next = 0;
    for (std::size_t node = 0; node <= count; ++node) {
        std::array<std::array<Term, 2>, 10> terms{};
        const auto free = [&](int local) { terms[static_cast<std::size_t>(local)][0] = {next++, 1.0}; };
        if (node == 0) {
            if (m == 0) {
                free(kW);
                for (int field : {kU, kV, kA, kB}) free(kFields + field);
            } else if (m == 1) {
                free(kU);
                terms[kV][0] = {terms[kU][0].unknown, -1.0};
                free(kA);
                terms[kB][0] = {terms[kA][0].unknown, -1.0};
                free(kFields + kW);
            } else if (m == 2) {
                for (int field : {kU, kV, kA, kB}) free(kFields + field);
            }
        } else {
            for (int field = 0; field < kFields; ++field) {
                if (node == count && ring_slot(field) >= 0) {
                    terms[static_cast<std::size_t>(field)][0] = {kRingMark + ring_slot(field), 1.0};
                } else {
                    free(field);
                }
            }
            for (int field = 0; field < kFields; ++field) free(kFields + field);
        }
        for (std::size_t local = 0; local < 10; ++local) {
            if (node < count) result.elements[node][local] = terms[local];
            if (node > 0) result.elements[node - 1][10 + local] = terms[local];
        }
    }
    result.interior_size = next;
    close_map(result);
    return result;
}

ShellSide::UnknownMap ShellSide::host_map() const {
    // Numbered from the held end toward the wound, as the donor is from the apex: a load near the
    // wound then touches only the tail of a forward substitution.
    UnknownMap result;
    const auto& elements = meridian_.elements();
    const std::size_t count = elements.size();
    result.elements.resize(count);
    int next = 0;
    const auto slopes = [&](std::size_t element, std::size_t offset) {
        for (std::size_t field = 0; field < kFields; ++field) {
            result.elements[element][offset + kFields + field][0] = {next + static_cast<int>(field), 1.0};
        }
    };
    for (std::size_t node = count + 1; node-- > 0;) {
        std::array<std::array<Term, 2>, kFields> value{};
        for (int field = 0; node < count && field < kFields; ++field) {
            const bool on_ring = node == 0 && ring_slot(field) >= 0;
            value[static_cast<std::size_t>(field)][0] = {on_ring ? kRingMark + ring_slot(field) : next++, 1.0};
        }
        const bool limbus = node > 0 && node < count && elements[node].radius != elements[node - 1].radius;
        if (node < count) {
            for (std::size_t field = 0; field < kFields; ++field) result.elements[node][field] = value[field];
            if (limbus) {
                // The same displacement in the sclera's frame: turned by the jump of the slope.
                const double jump = elements[node].alpha_begin - elements[node - 1].alpha_at(elements[node].s_begin);
                const int u = value[kU][0].unknown, w = value[kW][0].unknown;
                result.elements[node][kU] = {Term{u, std::cos(jump)}, Term{w, -std::sin(jump)}};
                result.elements[node][kW] = {Term{u, std::sin(jump)}, Term{w, std::cos(jump)}};
            }
            slopes(node, 0);
            if (limbus) next += kFields;  // the rim's end has slopes of its own
        }
        if (node > 0) {
            for (std::size_t field = 0; field < kFields; ++field) result.elements[node - 1][10 + field] = value[field];
            slopes(node - 1, 10);
        }
        next += kFields;
    }
    result.interior_size = next;
    close_map(result);
    return result;
}

void ShellSide::close_map(UnknownMap& map) {
    for (auto& element : map.elements) {
        int low = map.interior_size, high = -1;
        for (auto& terms : element) {
            for (Term& term : terms) {
                if (term.unknown >= kRingMark) {
                    term.unknown = map.interior_size + (term.unknown - kRingMark);
                } else if (term.unknown >= 0) {
                    low = std::min(low, term.unknown);
                    high = std::max(high, term.unknown);
                }
            }
        }
        map.bandwidth = std::max(map.bandwidth, high - low);
    }
}

ShellSide::Stiffness ShellSide::assemble(int m, bool pressure_part) const {
    const UnknownMap& unknowns = map(m);
    const int n = unknowns.interior_size;
    Stiffness result{BandMatrix(n, unknowns.bandwidth), Eigen::MatrixXd::Zero(n, kRingUnknowns),
                     Eigen::Matrix4d::Zero()};
    if (pressure_part && !pressure_stiffens_) return result;
    const double sector = sector_factor(m), mm = static_cast<double>(m);
    ElementMatrix k;
    for (std::size_t e = 0; e < stiffness_.size(); ++e) {
        const auto& part = pressure_part ? stiffness_[e].pressure : stiffness_[e].elastic;
        k = sector * (part[0] + mm * part[1] + mm * mm * part[2]);
        const auto& terms = unknowns.elements[e];
        for (int a = 0; a < kElementUnknowns; ++a) {
            for (const Term& row : terms[static_cast<std::size_t>(a)]) {
                if (row.unknown < 0) continue;
                for (int b = 0; b < kElementUnknowns; ++b) {
                    for (const Term& column : terms[static_cast<std::size_t>(b)]) {
                        if (column.unknown < 0) continue;
                        const double entry = row.factor * column.factor * k(a, b);
                        if (row.unknown >= n && column.unknown >= n) {
                            result.ring(row.unknown - n, column.unknown - n) += entry;
                        } else if (column.unknown >= n) {
                            result.coupling(row.unknown, column.unknown - n) += entry;
                        } else if (row.unknown < n && row.unknown >= column.unknown) {
                            result.interior.at(row.unknown, column.unknown) += entry;
                        }
                    }
                }
            }
        }
    }
    return result;
}

ShellSide::Stiffness ShellSide::stiffness(int m, double pressure) const {
    Stiffness result = elastic_stiffness(m);
    result.add_scaled(stiffness_per_pressure(m), pressure);
    return result;
}

void ShellSide::Stiffness::add_scaled(const Stiffness& other, double factor) {
    interior.add_scaled(other.interior, factor);
    coupling += factor * other.coupling;
    ring += factor * other.ring;
}

Eigen::VectorXd ShellSide::pressure_load() const {
    const UnknownMap& unknowns = map(0);
    Eigen::VectorXd load = Eigen::VectorXd::Zero(unknowns.interior_size + kRingUnknowns);
    for (std::size_t e = 0; e < stiffness_.size(); ++e) {
        for (int a = 0; a < kElementUnknowns; ++a) {
            for (const Term& term : unknowns.elements[e][static_cast<std::size_t>(a)]) {
                if (term.unknown < 0) continue;
                load[term.unknown] += 2.0 * kPi * term.factor * stiffness_[e].pressure_load[a];
            }
        }
    }
    return load;
}

void ShellSide::add_point_force(int m, Family family, const PointForce& force, Eigen::VectorXd& load) const {
    Eigen::MatrixX2d both = Eigen::MatrixX2d::Zero(load.size(), 2);
    add_point_forces(m, {force}, both);
    load += both.col(family == Family::A ? 0 : 1);
}

void ShellSide::add_point_forces(int m, const std::vector<PointForce>& forces, Eigen::MatrixX2d& load) const {
    const UnknownMap& unknowns = map(m);
    GRAFTWRIGHT_CHECK(load.rows() == unknowns.interior_size + kRingUnknowns, "a load of this harmonic");
    // Work on the unknowns of one element, families A and B; put into the load when the element changes.
    Eigen::Matrix<double, kElementUnknowns, 2> work = Eigen::Matrix<double, kElementUnknowns, 2>::Zero();
    int at = -1;
    double theta = 0.0, cosine = 1.0, sine = 0.0;  // forces of one strand mostly share their angle
    const auto put = [&] {
        if (at < 0) return;
        for (int local = 0; local < kElementUnknowns; ++local) {
            for (const Term& term : unknowns.elements[static_cast<std::size_t>(at)][static_cast<std::size_t>(local)]) {
                if (term.unknown >= 0) load.row(term.unknown) += term.factor * work.row(local);
            }
        }
        work.setZero();
    };
    for (const PointForce& force : forces) {
        const int e = meridian_.element_at(force.s);
        if (e != at) {
            put();
            at = e;
        }
        const ShellElement& element = meridian_.elements()[static_cast<std::size_t>(e)];
        const double r = element.radius * std::sin(element.alpha_at(force.s));
        const double blur = force.spread > 0.0 ? m * force.spread / r : 0.0;
        const double gauss = std::exp(-0.5 * blur * blur);
        if (force.theta != theta) {
            theta = force.theta;
            cosine = std::cos(m * theta);
            sine = std::sin(m * theta);
        }
        const double c = gauss * cosine, sn = gauss * sine;
        const Eigen::RowVector2d even(c, sn);                                // of u, w, b_s
        const Eigen::RowVector2d odd(m == 0 ? 1.0 : sn, m == 0 ? 0.0 : -c);  // of v, b_θ
        // A normal force at height z also squeezes or stretches the wall: by Poisson's effect it works on
        //   −ν/(1−ν) [ (ε_s+ε_θ) z + (χ_s+χ_θ) ½ (z² − t²/20) ],
        // the resultants of the normal stress between the force and the shear stress that carries it off.
        const double t = element.thickness, z = force.z;
        const double squeeze = -poisson_ratio_ / (1.0 - poisson_ratio_) * force.along_normal;
        const double on_stretch = squeeze * z, on_bend = squeeze * 0.5 * (z * z - t * t / 20.0);
        const double cos_over_r = std::cos(element.alpha_at(force.s)) / r, m_over_r = m / r;
        // On the hoop strain's m V/r: (cos, sin) of V's own family is ±∂/∂θ, so V works with `even` there.
        Eigen::Matrix<double, kFields, 2> on_value;
        on_value.row(0) = (force.along_meridian + on_stretch * cos_over_r) * even;
        on_value.row(1) = force.along_circumference * odd + on_stretch * m_over_r * even;
        on_value.row(2) = (force.along_normal + on_stretch * 2.0 / element.radius) * even;
        on_value.row(3) = (force.along_meridian * z + on_bend * cos_over_r) * even;
        on_value.row(4) = force.along_circumference * z * odd + on_bend * m_over_r * even;
        const double x = (force.s - element.s_begin) / element.length;
        const Eigen::Vector4d shape = hermite(x, element.length, 0), slope = hermite(x, element.length, 1);
        for (int end = 0; end < 2; ++end) {
            for (int kind = 0; kind < 2; ++kind) {
                const int first = 10 * end + kFields * kind, function = 2 * end + kind;
                work.middleRows<kFields>(first) += shape[function] * on_value;
                work.row(first) += slope[function] * on_stretch * even;
                work.row(first + 3) += slope[function] * on_bend * even;
            }
        }
    }
    put();
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
                for (const Term& term : unknowns.elements[static_cast<std::size_t>(e)][local]) {
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
