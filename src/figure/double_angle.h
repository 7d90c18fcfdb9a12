// Whose dioptres: what each bite costs, as arrows on the doubled angle.
//
// An astigmatism of C dioptres, steep along a, is the arrow (C cos 2a, C sin 2a) = (2 J0, 2 J45): its length is
// dioptres, its direction twice the axis, and arrows add: attempt = ideal + sum of the shares + what no single bite
// explains.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/point.h"
#include "score/scorecard.h"

namespace graftwright {

struct DoubleAngle {
    struct Arrow {
        std::size_t bite = 0;  // in the order of bites_in_order
        Point tip;             // D
        double size_D = 0.0;
    };
    std::vector<Arrow> arrows;  // largest first
    Point attempt, sum;
    std::optional<Point> ideal;
    // Paper: four rings, the outermost at full_D; names of axes at twice their angle.
    static constexpr int kRings = 4;
    static constexpr int kAxes_deg[] = {0, 45, 90, 135};
    double step_D = 0.5, full_D = 2.0;

    // What no single bite explains.
    [[nodiscard]] Point left_over() const;
};

[[nodiscard]] Point double_angle_arrow(const PowerVector& power);
// "8.0 D @ 53°" of an arrow.
[[nodiscard]] std::string cylinder_words(Point arrow);

// Is the sum of all shares drawn too, from the ideal's end? It has to lie on the paper then.
enum class SumOfShares { left_out, drawn };
// Empty where the closure found no balance or no shares were worked out.
[[nodiscard]] std::optional<DoubleAngle> double_angle(const Scorecard& card, SumOfShares sum);

}  // namespace graftwright
