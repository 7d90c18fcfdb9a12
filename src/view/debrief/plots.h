// The pictures of the debrief, each from plain data into a rectangle of the canvas.
//
// All of them as an examiner facing the eye sees it: 0° = 3 o'clock on the right, 90° = 12 o'clock on
// top, and they say so. Dioptres are corneal powers; a steep axis is where the cornea is steepest.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <SFML/Graphics/Texture.hpp>

#include "files/scenario.h"
#include "game/live_wound.h"
#include "score/bites_in_order.h"
#include "view/kit/contour.h"
#include "view/kit/plot_geometry.h"
#include "view/kit/power_colours.h"
#include "view/kit/ui.h"

namespace graftwright {

// Axial power over the donor: colours, contour lines, scale, steep meridian. Made once, drawn often.
class PowerMapPlot {
  public:
    PowerMapPlot(const SurfaceMap& map, const PowerRange& range);
    void draw(const Ui& ui, const Rect& place, const std::optional<Keratometry>& reading, Side eye) const;

  private:
    void draw_contours(const Ui& ui, const PolarFrame& frame) const;
    void draw_scale(const Ui& ui, const Rect& place) const;

    PowerRange range_;
    double reach_mm_, radius_mm_;
    sf::Texture texture_;
    std::vector<Contour> contours_;
};

// The ring light as the cornea mirrors it.
void draw_rings(const Ui& ui, const Rect& place, const LiveWound& wound);

// Whose dioptres: what each bite costs, as arrows on the doubled angle.
struct DoubleAngle {
    struct Arrow {
        std::size_t bite = 0;
        Point tip;  // D, double_angle_arrow
        double size_D = 0.0, steep_axis_deg = 0.0;
    };
    std::vector<Arrow> bites;
    Point sum, ideal, attempt;  // attempt = ideal + sum + interactions
    double full_D = 1.0, step_D = 1.0;

    [[nodiscard]] Point interactions() const { return {attempt.x - ideal.x - sum.x, attempt.y - ideal.y - sum.y}; }
};
// Empty where the closure found no balance or no shares were worked out.
[[nodiscard]] std::optional<DoubleAngle> double_angle(const Scorecard& card);
// "8.0 D @ 53°" for a point of that plot.
[[nodiscard]] std::string cylinder_words(Point arrow);
void draw_double_angle(const Ui& ui, const Rect& place, const DoubleAngle& data, std::optional<std::size_t> chosen);

// How hard the wound presses by the clock, against the pressure it has to hold.
struct LeakClock {
    std::vector<Point> seal;           // x: deg, y: mmHg; in order of angle
    double eye_mmHg = 15.0;            // the chamber's pressure in the picture
    std::optional<double> asked_mmHg;  // of the leak test
    double leak_mmHg = 0.0, weakest_deg = 0.0;
    bool capped = false;
    double full_mmHg = 100.0;       // at the outermost circle
    std::vector<double> bites_deg;  // single bites, marked at the rim; may be empty
    // Running threads: at from_deg radial through the rim, then slanting on the surface to the next bite's entry.
    struct Span {
        double from_deg = 0.0, to_deg = 0.0;
        bool knot = false;
    };
    std::vector<Span> spans;

    // Distance from the middle, 0 … 1: a square root, so that 15 mmHg can be told from none beside 400.
    [[nodiscard]] double share(double mmHg) const;
};
[[nodiscard]] std::optional<LeakClock> leak_clock(const Scenario& scenario, const ClosureMeasures& measures);
// Marks the bites of an attempt, and its running threads, at the clock's rim.
void mark_bites(LeakClock& clock, const Attempt& attempt);
void draw_leak_clock(const Ui& ui, const Rect& place, const LeakClock& clock);

// One bite cut along its plane, true to scale both ways: donor left, host right. A running thread leaves the cut at
// its circles, to and from its neighbours.
void draw_bite_section(const Ui& ui, const Rect& place, const Scenario& scenario, const OrderedBite& bite,
                       const BiteMetrics& metrics, std::size_t number, bool chosen);

}  // namespace graftwright
