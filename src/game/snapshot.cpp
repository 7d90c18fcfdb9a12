#include "game/snapshot.h"

#include <algorithm>

namespace graftwright {

bool has_aid(const Scenario& scenario, std::string_view name) {
    const std::vector<std::string>& aids = scenario.task.hand.aids;
    return std::find(aids.begin(), aids.end(), name) != aids.end();
}

bool Snapshot::aid(std::string_view name) const { return has_aid(*scenario, name); }

int Snapshot::bites_in_place() const {
    return static_cast<int>(std::count_if(bites.begin(), bites.end(),
                                          [](const LaidBite& laid) { return !laid.bite.removed && !laid.slack; }));
}

}  // namespace graftwright
