// Where the level editor's parts stand, canvas pixels. Private to its screen.
#pragma once

#include "base/rect.h"
#include "game/layout.h"

namespace graftwright::editor_places {

inline constexpr double kEdge = 32.0, kInset = 18.0, kRowWidth = 654.0;
inline constexpr Rect kGroups{kEdge, 88.0, 702.0, 34.0};
inline constexpr Rect kForm{kEdge, 130.0, 702.0, 646.0};
inline constexpr Rect kBiteList{kEdge, 130.0, 702.0, 292.0};
inline constexpr Rect kBite{kEdge, 430.0, 702.0, 346.0};
inline constexpr Rect kPicture{kEdge + 718.0, 88.0, 498.0, 352.0};
inline constexpr Rect kForecast{kEdge + 718.0, 452.0, 498.0, 324.0};

}  // namespace graftwright::editor_places
