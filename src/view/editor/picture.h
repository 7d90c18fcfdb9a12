// The eye of a level in the making, from above and to scale: limbus, bed, donor, starting bites and running
// threads, hours.
#pragma once

#include <optional>

#include "base/rect.h"
#include "files/scenario.h"
#include "view/kit/ui.h"

namespace graftwright {

struct LevelPicture {
    bool examiner_view = true;  // else the surgeon's: 6 o'clock at the top
    std::optional<std::size_t> chosen_bite;
};

// Values that no eye has are drawn at the edge of what one may have.
void draw_level_picture(const Ui& ui, const Rect& place, const Scenario& scenario, const LevelPicture& how);

}  // namespace graftwright
