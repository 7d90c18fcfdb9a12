// Which global unknowns an element's twenty local ones are made of, and where its stiffness goes.
//
// Interior unknowns first, numbered from the far end (apex, held sclera) to the wound, so that a load near the wound
// touches only the tail of a forward substitution; the wound ring's u, v, w, b_s last. Constraints are in the map:
// at the apex regularity (shell_side.h), at the limbus U and W turn into each other and slopes are not shared.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "shell/envelope_cholesky.h"
#include "shell/meridian.h"
#include "shell/shell_element.h"

namespace graftwright {

inline constexpr int kRingUnknowns = 4;  // u, v, w, b_s

struct UnknownMap {
    struct Term {
        int unknown = -1;
        double factor = 0.0;
    };
    // Adds factor · k(a, b) of an element to the entry (row, column) of the lower triangle.
    struct Entry {
        int element, a, b, row, column;
        double factor;
    };

    [[nodiscard]] static UnknownMap donor(const Meridian& meridian, int m);
    [[nodiscard]] static UnknownMap host(const Meridian& meridian);
    // Of interior and ring.
    [[nodiscard]] int size() const { return interior_size + kRingUnknowns; }

    int interior_size = 0;
    // Each local unknown of each element is a sum of at most two global ones.
    std::vector<std::array<std::array<Term, 2>, kElementUnknowns>> elements;
    std::vector<int> lowest;  // unknown of each element
    std::shared_ptr<const Envelope> envelope;
    std::vector<Entry> entries;

  private:
    void close();
    void find_entries();
};

}  // namespace graftwright
