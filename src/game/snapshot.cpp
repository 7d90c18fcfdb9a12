#include "game/snapshot.h"

#include <algorithm>

namespace graftwright {

bool Snapshot::aid(Aid which) const { return scenario->task.hand.has(which); }

int Snapshot::bites_in_place() const {
    return static_cast<int>(std::count_if(bites.begin(), bites.end(),
                                          [](const LaidBite& laid) { return !laid.bite.removed && !laid.slack; }));
}

}  // namespace graftwright
