#include "view/field/eye_vessels.h"

#include <cmath>
#include <cstdint>

#include "base/units.h"

namespace graftwright {
namespace {

// A small generator of our own: the same eye on every machine (constants: Knuth's MMIX).
class Chance {
  public:
    explicit Chance(std::uint64_t seed) : state_(seed) {}
    double between(double low, double high) {
        state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
        return low + (high - low) * static_cast<double>(state_ >> 40U) / static_cast<double>(1U << 24U);
    }

  private:
    std::uint64_t state_;
};

constexpr double kStep_mm = 0.07;
constexpr double kThinnest_mm = 0.014;

struct Walk {
    double angle, radius;  // where, about the eye
    double heading;        // against the way to the eye's centre, rad
    double width;          // mm
    int branchings;
};

struct Vessels {
    Canvas& canvas;
    Point centre;
    double limbus;
    Ink colour;
    Chance chance;

    void grow(Walk walk) {
        std::vector<StripPoint> points;
        double bend = 0.0;
        while (walk.radius > limbus + 0.02 && walk.radius < 10.0 && walk.width > kThinnest_mm && points.size() < 160) {
            const Point at{centre.x + walk.radius * std::cos(walk.angle),
                           centre.y + walk.radius * std::sin(walk.angle)};
            const double fade = std::min(1.0, (walk.radius - limbus) / 0.5 + 0.25);
            points.push_back({at, walk.width, faded(colour, fade)});
            // Vessels wind: the bend itself wanders, and is drawn back toward the limbus.
            bend = 0.90 * bend + chance.between(-0.05, 0.05);
            walk.heading = 0.93 * walk.heading + bend;
            walk.radius -= kStep_mm * std::cos(walk.heading);
            walk.angle += kStep_mm * std::sin(walk.heading) / walk.radius;
            walk.width *= 0.992;
            if (walk.branchings > 0 && chance.between(0.0, 1.0) < 0.035) {
                const double side = chance.between(0.0, 1.0) < 0.5 ? -1.0 : 1.0;
                Walk branch = walk;
                branch.heading += side * chance.between(0.45, 0.9);
                branch.width *= chance.between(0.5, 0.8);
                --branch.branchings;
                walk.heading -= side * 0.2;
                walk.width *= 0.88;
                grow(branch);
            }
        }
        canvas.strip(points);
    }
};

}  // namespace

void draw_vessels(Canvas& canvas, Point eye_centre, double limbus_mm) {
    struct Coat {
        int trunks;
        double width, alpha;
        std::uint32_t rgb;
    };
    // Deep ones broad and faint, then the fine red ones of the conjunctiva, densest near the limbus.
    const Coat coats[] = {{12, 0.17, 0.13, 0x96707c}, {13, 0.060, 0.42, 0xa0504a}, {30, 0.034, 0.36, 0xac5048}};
    std::uint64_t seed = 20120217;
    for (const Coat& coat : coats) {
        Vessels vessels{canvas, {eye_centre.x, -eye_centre.y}, limbus_mm, ink(coat.rgb, coat.alpha), Chance(seed++)};
        for (int trunk = 0; trunk < coat.trunks; ++trunk) {
            const double angle = (trunk + vessels.chance.between(0.0, 0.9)) * 2.0 * kPi / coat.trunks;
            const double start = coat.width < 0.05 ? limbus_mm + vessels.chance.between(0.4, 1.6) : 9.6;
            vessels.grow({angle, start, vessels.chance.between(-0.5, 0.5),
                          coat.width * vessels.chance.between(0.7, 1.25), coat.width < 0.05 ? 2 : 4});
        }
    }
}

}  // namespace graftwright
