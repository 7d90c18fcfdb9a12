#include "hand/tying_order.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "base/angle.h"

namespace graftwright {
namespace {

// Slots count counter-clockwise from 12 o'clock.
class Ring {
  public:
    explicit Ring(std::size_t slots) : tied_(slots, false) {}

    // Ties a slot and then the one opposite, where there is such a slot.
    void tie(std::size_t slot) {
        const std::size_t n = tied_.size();
        put(slot % n);
        if (n % 2 == 0) put((slot + n / 2) % n);
    }
    [[nodiscard]] bool complete() const { return order_.size() == tied_.size(); }
    [[nodiscard]] const std::vector<std::size_t>& order() const { return order_; }
    // The middle of the widest gap counter-clockwise of a tied slot; the first tied wins a tie.
    [[nodiscard]] std::size_t middle_of_widest_gap() const {
        std::size_t best = 0, width = 0;
        for (const std::size_t slot : order_) {
            std::size_t gap = 1;
            while (!tied_[(slot + gap) % tied_.size()]) ++gap;
            if (gap <= width) continue;
            width = gap;
            best = slot + gap / 2;
        }
        return best;
    }

  private:
    void put(std::size_t slot) {
        if (tied_[slot]) return;
        tied_[slot] = true;
        order_.push_back(slot);
    }
    std::vector<bool> tied_;
    std::vector<std::size_t> order_;
};

}  // namespace

std::vector<double> tying_order_deg(int bites) {
    if (bites < 1) return {};
    const auto n = static_cast<std::size_t>(bites);
    Ring ring(n);
    ring.tie(0);
    if (n % 4 == 0) ring.tie(3 * n / 4);  // 3 o'clock, then 9
    while (!ring.complete()) ring.tie(ring.middle_of_widest_gap());
    std::vector<double> angles;
    for (const std::size_t slot : ring.order())
        angles.push_back(one_turn_deg(90.0 + 360.0 * static_cast<double>(slot) / static_cast<double>(n)));
    return angles;
}

TaskSlots task_slots(Pattern pattern, int bites) {
    const auto round_from = [](double first_deg, int count) {
        std::vector<double> slots;
        for (int k = 0; k < count; ++k) slots.push_back(one_turn_deg(first_deg + 360.0 * k / count));
        return slots;
    };
    constexpr double kTwelve_deg = 90.0;
    const int half = bites / 2, others = bites - half;
    switch (pattern) {
        case Pattern::running:
            return {{}, {round_from(kTwelve_deg + 180.0 / bites, bites)}};
        case Pattern::double_running: {
            const double past_deg = 90.0 / std::max(1, half);  // a quarter of a run's gap past 12 o'clock, then three
            return {{}, {round_from(kTwelve_deg + past_deg, half), round_from(kTwelve_deg + 3.0 * past_deg, others)}};
        }
        case Pattern::combined:
            return {tying_order_deg(half), {round_from(kTwelve_deg + 180.0 / std::max(1, half), others)}};
        case Pattern::interrupted:
            break;
    }
    return {tying_order_deg(bites), {}};
}

}  // namespace graftwright
