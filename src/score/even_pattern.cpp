#include "score/even_pattern.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"

namespace graftwright {

std::vector<double> cardinal_first_deg(int n) {
    std::vector<double> open, order;
    for (int k = 0; k < n; ++k) open.push_back(one_turn_deg(90.0 + 360.0 * k / n));
    std::sort(open.begin(), open.end());
    const auto take = [&](double angle) {
        const auto it = std::find_if(open.begin(), open.end(), [&](double a) { return apart_deg(a, angle) < 1e-6; });
        if (it == open.end()) return false;
        order.push_back(*it);
        open.erase(it);
        return true;
    };
    take(90.0);
    while (!open.empty()) {
        if (order.size() % 2 == 1 && take(order.back() + 180.0)) continue;
        const auto gap = [&](double angle) {
            double least = 180.0;
            for (const double tied : order) least = std::min(least, apart_deg(angle, tied));
            return least;
        };
        const auto across = [&](double angle) {  // the last pair's line
            return std::min(apart_deg(angle, order.back()), apart_deg(angle, order.back() + 180.0));
        };
        double best = open.front();
        for (const double angle : open) {
            const double wider = gap(angle) - gap(best);
            if (wider > 1e-6 || (wider > -1e-6 && across(angle) > across(best) + 1e-6)) best = angle;
        }
        take(best);
    }
    return order;
}

}  // namespace graftwright
