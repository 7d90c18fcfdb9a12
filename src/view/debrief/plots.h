// The pictures of the debrief, each drawn from a figure (src/figure) into a rectangle of the canvas.
//
// All of them as an examiner facing the eye sees it: 0° = 3 o'clock on the right, 90° = 12 o'clock on
// top, and they say so. Dioptres are corneal powers; a steep axis is where the cornea is steepest.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <SFML/Graphics/Image.hpp>
#include <SFML/Graphics/Texture.hpp>

#include "base/point.h"
#include "base/rect.h"
#include "figure/colour_scale.h"
#include "figure/curvature_map.h"
#include "figure/double_angle.h"
#include "figure/leak_clock.h"
#include "files/scenario.h"
#include "game/live_wound.h"
#include "score/bites_in_order.h"
#include "view/kit/plot_geometry.h"
#include "view/kit/ui.h"

namespace graftwright {

// Axial power over the donor: colours, contour lines, scale, steep meridian. Made once, drawn often.
class PowerMapPlot {
  public:
    PowerMapPlot(const CurvatureMap& map, const PowerScale& scale);
    void draw(const Ui& ui, const Rect& place, const std::optional<Keratometry>& reading, Side eye) const;

  private:
    void draw_contours(const Ui& ui, const PolarFrame& frame) const;
    void draw_scale(const Ui& ui, const Rect& place) const;

    struct Level {
        double power_D = 0.0;
        std::vector<std::vector<Point>> lines;  // mm
    };
    PowerScale scale_;
    double radius_mm_;
    sf::Texture texture_;
    std::vector<Level> levels_;
};
// pixels × pixels, row 0 at the top; clear outside the map's circle.
[[nodiscard]] sf::Image power_image(const CurvatureMap& map, const PowerScale& scale, unsigned pixels);

// The ring light as the cornea mirrors it.
void draw_rings(const Ui& ui, const Rect& place, const LiveWound& wound);

// Of a closure that has an ideal.
void draw_double_angle(const Ui& ui, const Rect& place, const DoubleAngle& data, std::optional<std::size_t> chosen);

void draw_leak_clock(const Ui& ui, const Rect& place, const LeakClock& clock);

// One bite cut along its plane, true to scale both ways: donor left, host right. A running thread leaves the cut at
// its circles, to and from its neighbours.
void draw_bite_section(const Ui& ui, const Rect& place, const Scenario& scenario, const OrderedBite& bite,
                       const BiteMetrics& metrics, std::size_t number, bool chosen);

}  // namespace graftwright
