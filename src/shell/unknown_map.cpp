#include "shell/unknown_map.h"

#include <algorithm>
#include <cmath>

namespace graftwright {
namespace {

constexpr int kU = 0, kV = 1, kW = 2, kA = 3, kB = 4;
// Marks the four ring values until the interior's size is known.
constexpr int kRingMark = 1'000'000;

int ring_slot(int field) { return field == kB ? -1 : field; }

}  // namespace

UnknownMap UnknownMap::donor(const Meridian& meridian, int m) {
    UnknownMap result;
    const std::size_t count = meridian.elements().size();
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
    result.close();
    return result;
}

UnknownMap UnknownMap::host(const Meridian& meridian) {
    // Numbered from the held end toward the wound, as the donor is from the apex: a load near the
    // wound then touches only the tail of a forward substitution.
    UnknownMap result;
    const auto& elements = meridian.elements();
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
    result.close();
    return result;
}

void UnknownMap::close() {
    std::vector<int> first(static_cast<std::size_t>(size()));
    for (std::size_t i = 0; i < first.size(); ++i) first[i] = static_cast<int>(i);
    for (auto& element : elements) {
        int low = size();
        for (auto& terms : element) {
            for (Term& term : terms) {
                if (term.unknown >= kRingMark) term.unknown = interior_size + (term.unknown - kRingMark);
                if (term.unknown >= 0) low = std::min(low, term.unknown);
            }
        }
        lowest.push_back(low);
        for (const auto& terms : element) {
            for (const Term& term : terms) {
                if (term.unknown < 0) continue;
                int& begin = first[static_cast<std::size_t>(term.unknown)];
                begin = std::min(begin, low);
            }
        }
    }
    envelope = std::make_shared<const Envelope>(std::move(first));
    find_entries();
}

void UnknownMap::find_entries() {
    for (std::size_t e = 0; e < elements.size(); ++e) {
        for (int a = 0; a < kElementUnknowns; ++a) {
            for (int b = 0; b <= a; ++b) {
                for (const Term& row : elements[e][static_cast<std::size_t>(a)]) {
                    for (const Term& column : elements[e][static_cast<std::size_t>(b)]) {
                        if (row.unknown < 0 || column.unknown < 0) continue;
                        // The element's matrix is symmetric: (a, b) speaks for (b, a) too.
                        const bool diagonal = row.unknown == column.unknown;
                        if (a == b && row.unknown < column.unknown) continue;
                        const double twice = diagonal && a != b ? 2.0 : 1.0;
                        entries.push_back({static_cast<int>(e), a, b, std::max(row.unknown, column.unknown),
                                           std::min(row.unknown, column.unknown), twice * row.factor * column.factor});
                    }
                }
            }
        }
    }
}

}  // namespace graftwright
