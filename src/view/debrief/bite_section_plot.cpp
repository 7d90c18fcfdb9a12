// One bite cut along its plane; see plots.h.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/units.h"
#include "base/words.h"
#include "figure/bite_section.h"
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
    const auto at = [&](Point mm) { return Point{wound.x + scale * mm.x, wound.y - scale * mm.y}; };
    const BiteSection cut = bite_section(scenario, bite, {}, kReach_mm);
    const auto slab = [&](Point corner_mm, Point opposite_mm, ImU32 colour) {
        const Point corner = at(corner_mm), opposite = at(opposite_mm);
        pen.box({corner.x, corner.y, opposite.x - corner.x, opposite.y - corner.y}, colour);
    };
    slab(cut.donor[0], cut.donor[2], ink(kDonorTissue));
    slab(cut.host[1], cut.host[3], ink(kHostTissue));
    const Point bottom{0.0, -std::max(donor, host)};
    pen.line(at({0.0, 0.0}), at(bottom), ink(tone::background), 2.0);
    for (const std::size_t side : {0U, 1U})
        slab(cut.taught[side].from, cut.taught[side + 2].to, ink(tone::accent, 0.24F));
    const bool through = metrics.has(BiteFlag::enters_chamber);
    const auto line = [&](const std::vector<Point>& line_mm) {
        std::vector<Point> points;
        for (const Point& mm : line_mm) points.push_back(at(mm));
        return points;
    };
    const ImU32 thread = bite.removed ? ink(tone::quiet, 0.5F) : through ? ink(tone::warning) : ink(tone::text);
    pen.way(line(cut.thread), thread, 2.0);
    if (cut.strand.empty()) {
        constexpr double kLeavesCut = 3.4;
        for (const Point end : {at(cut.thread.front()), at(cut.thread.back())}) {
            pen.disc(end, kLeavesCut, ink(tone::panel));
            pen.circle(end, kLeavesCut, thread, 1.8);
        }
    } else {
        pen.line(at(cut.strand.front()), at(cut.strand.back()), thread, 2.0);  // as laid: straight
    }

    const std::string name = fmt::format("{}", number);
    pen.words({place.x, place.y + 10.0}, name, Face::strong, chosen ? ink(tone::accent) : ink(tone::text));
    pen.words({place.x + ui.text_width(name, Face::strong) + 9.0, place.y + 10.0}, run_name(bite), Face::small,
              ink(tone::quiet));
    pen.words({place.x + place.width, place.y + 10.0}, bite.removed ? "taken out" : place_words(bite.host_deg),
              Face::small, ink(tone::quiet), WordsAt::right);
    const double foot = at(bottom).y + 12.0;
    const auto depth = [&](double x, double fraction, double length, WordsAt align) {
        const bool good = fraction >= kShallowest.value && fraction <= kDeepest.value;
        pen.words({x, foot}, fmt::format("{:.0f} %{}  {:.2f} mm", 100.0 * fraction, good ? "" : " !", length),
                  Face::small, good ? ink(tone::quiet) : ink(tone::warning), align);
    };
    depth(place.x, metrics.depth_fraction_graft, bite.graft_bite_mm, WordsAt::left);
    depth(place.x + place.width, metrics.depth_fraction_host, bite.host_bite_mm, WordsAt::right);
}

}  // namespace graftwright
