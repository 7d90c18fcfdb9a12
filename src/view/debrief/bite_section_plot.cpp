// One bite cut along its plane; see plots.h.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/units.h"
#include "score/bite_metrics.h"
#include "score/bite_words.h"
#include "view/debrief/plots.h"
#include "view/kit/pen.h"
#include "view/kit/words.h"

namespace graftwright {
namespace {

constexpr double kReach_mm = 1.42;  // to either side of the wound
constexpr double kHeadRoom = 24.0;  // pixels above the tissue, for the number
constexpr double kFootRoom = 22.0;  // below it, for the depths
inline constexpr Tone kDonorTissue{0x3f, 0x55, 0x60}, kHostTissue{0x5b, 0x54, 0x4c};

}  // namespace

void draw_bite_section(const Ui& ui, const Rect& place, const Scenario& scenario, const OrderedBite& bite,
                       const BiteMetrics& metrics, std::size_t number, bool chosen) {
    const PlotPen pen(ui);
    const double donor = mm_from_um(scenario.graft.thickness_um), host = mm_from_um(scenario.eye.rim_thickness_um);
    const double scale =
        std::min(place.width / (2.0 * kReach_mm), (place.height - kHeadRoom - kFootRoom) / std::max(donor, host));
    const Point wound{place.x + place.width / 2.0, place.y + kHeadRoom};
    const auto at = [&](double x, double y) { return Point{wound.x + scale * x, wound.y - scale * y}; };
    const auto slab = [&](double from, double to, double thickness, Tone colour) {
        const Point corner = at(from, 0.0);
        pen.box({corner.x, corner.y, scale * (to - from), scale * thickness}, ink(colour));
    };
    slab(-kReach_mm, 0.0, donor, kDonorTissue);
    slab(0.0, kReach_mm, host, kHostTissue);
    pen.line(at(0.0, 0.0), at(0.0, -std::max(donor, host)), ink(tone::background), 2.0);
    // The depth that is taught, on either side of the wound.
    for (const auto& [from, to, thickness] : {std::array{-kReach_mm, 0.0, donor}, {0.0, kReach_mm, host}}) {
        const Point top = at(from, -kShallowest.value * thickness), low = at(to, -kDeepest.value * thickness);
        pen.box({top.x, top.y, low.x - top.x, low.y - top.y}, ink(tone::accent, 0.24F));
    }
    const bool through = std::find(metrics.flags.begin(), metrics.flags.end(), "enters-chamber") != metrics.flags.end();
    std::vector<Point> way;
    for (const Point& mm : bite_section(bite)) way.push_back(at(mm.x, mm.y));
    const ImU32 thread = bite.removed ? ink(tone::quiet, 0.5F) : through ? ink(tone::warning) : ink(tone::text);
    pen.way(way, thread, 2.0);
    if (bite.run) {
        constexpr double kLeavesCut = 3.4;
        for (const Point end : {way.front(), way.back()}) {
            pen.disc(end, kLeavesCut, ink(tone::panel));
            pen.circle(end, kLeavesCut, thread, 1.8);
        }
    } else {
        pen.line(way.front(), way.back(), thread, 2.0);  // the strand on the surface
    }

    const std::string name = fmt::format("{}", number);
    pen.words({place.x, place.y + 10.0}, name, Face::strong, chosen ? ink(tone::accent) : ink(tone::text));
    pen.words({place.x + ui.text_width(name, Face::strong) + 9.0, place.y + 10.0}, run_name(bite), Face::small,
              ink(tone::quiet));
    pen.words({place.x + place.width, place.y + 10.0}, bite.removed ? "taken out" : place_words(bite.host_deg),
              Face::small, ink(tone::quiet), WordsAt::right);
    const double foot = at(0.0, -std::max(donor, host)).y + 12.0;
    const auto depth = [&](double x, double fraction, double length, WordsAt align) {
        const bool good = fraction >= kShallowest.value && fraction <= kDeepest.value;
        pen.words({x, foot}, fmt::format("{:.0f} %{}  {:.2f} mm", 100.0 * fraction, good ? "" : " !", length),
                  Face::small, good ? ink(tone::quiet) : ink(tone::warning), align);
    };
    depth(place.x, metrics.depth_fraction_graft, bite.graft_bite_mm, WordsAt::left);
    depth(place.x + place.width, metrics.depth_fraction_host, bite.host_bite_mm, WordsAt::right);
}

}  // namespace graftwright
