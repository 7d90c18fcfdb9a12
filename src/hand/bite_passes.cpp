#include "hand/bite_passes.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/point.h"
#include "base/units.h"

namespace graftwright {
namespace {

constexpr double kTrackSpacing_mm = 0.01;  // fine enough to draw at 400 px/mm
// What an attempt may say (levels/attempt.schema.json). A bite shorter than that holds nothing and
// tears out as the shortest does; an angle of 0 is excluded there.
constexpr double kLeastBite_mm = 0.2, kMostBite_mm = 3.0;
constexpr double kLeastDepth_um = 1.0;
constexpr double kLeastSurface_deg = 1.0;

double bite_in_range(double mm) { return std::clamp(mm, kLeastBite_mm, kMostBite_mm); }
double depth_in_range(double depth_mm, double thickness_mm) {
    return std::clamp(um_from_mm(depth_mm), kLeastDepth_um, um_from_mm(thickness_mm));
}
// Angle between a direction and the surface y = 0, 0 … 90°.
double against_surface_deg(Point direction) {
    const double deg = deg_from_rad(std::atan2(std::abs(direction.y), std::abs(direction.x)));
    return std::max(deg, kLeastSurface_deg);
}
bool is_tissue(Where place) { return place == Where::donor || place == Where::host; }

}  // namespace

void BitePasses::new_stroke() {
    for (Pass* pass : {&donor_, &host_}) {
        pass->open = false;
        if (!pass->result.complete) pass->result = {};
    }
}

std::vector<DriveEvent> BitePasses::take_events() { return std::exchange(events_, {}); }

void BitePasses::open(Pass& pass, Point flat) {
    pass = {};
    pass.open = true;
    pass.track.push_back(flat);
}

void BitePasses::close(Pass& pass) {
    if (!pass.open) return;
    pass.open = false;
    pass.result = {};
    report(DriveEvent::withdrawn);
}

void BitePasses::leave_donor_face(const WoundSection& section, double depth_mm) {
    donor_.result.complete = true;
    donor_.result.depth_um = depth_in_range(depth_mm, section.tissue.donor_thickness_mm);
    report(DriveEvent::left_face);
}

void BitePasses::enter_host(const WoundSection& section, double depth_mm) {
    open(host_, {0.0, -depth_mm});
    host_.result.depth_um = depth_in_range(depth_mm, section.tissue.rim_thickness_mm);
    report(DriveEvent::entered_face);
}

void BitePasses::cross_front(Where from, Where to, const WoundSection& section, Point at, Point heading) {
    if (to == Where::donor) {
        const Point flat = section.lip.flattened(at);
        open(donor_, flat);
        host_ = {};
        donor_.result.bite_mm = bite_in_range(section.lip.edge_x - flat.x);
        donor_.result.surface_deg = against_surface_deg(section.lip.flattened_direction(at, heading));
        report(DriveEvent::entered_front);
    } else if (from == Where::donor) {
        close(donor_);
    } else if (from == Where::host && host_.open) {
        host_.result.complete = true;
        host_.result.bite_mm = bite_in_range(at.x);
        host_.result.surface_deg = against_surface_deg(heading);
        host_.track.push_back(at);
        report(DriveEvent::left_front);
    } else if (to == Where::host && host_.open) {  // turned back into its own exit
        host_.result.complete = false;
    }
}

void BitePasses::cross_face(Where from, Where to, const WoundSection& section, Point at) {
    if (from == Where::donor && donor_.open) {
        const double depth = section.depth(Where::donor, at);
        donor_.track.push_back({section.lip.edge_x, -depth});
        leave_donor_face(section, depth);
    } else if (to == Where::donor && donor_.open) {  // turned back into its own exit
        donor_.result.complete = false;
        donor_.result.depth_um = 0.0;
    } else if (to == Where::host) {
        enter_host(section, -at.y);
    } else if (from == Where::host) {
        close(host_);
    }
}

void BitePasses::cross_back(Where from, Where to, const WoundSection& section) {
    if (to == Where::chamber) {
        if (from == Where::donor && donor_.open) donor_.result.through_back = true;
        if (from == Where::host && host_.open) host_.result.through_back = true;
        report(DriveEvent::through_back);
        return;
    }
    report(DriveEvent::back_in_tissue);
    if (to == Where::donor) return;
    // Round the donor's back edge: through and through.
    if (donor_.open && !donor_.result.complete) leave_donor_face(section, section.tissue.donor_thickness_mm);
    if (to == Where::gap) {
        close(host_);  // the host's way back, underneath its face
    } else if (to == Where::host && !host_.open && donor_.result.complete) {
        enter_host(section, section.tissue.rim_thickness_mm);
        host_.result.through_back = true;
    }
}

void BitePasses::cross(Where from, Where to, const WoundSection& section, Point at, Point heading) {
    if (from == Where::donor && to == Where::host) {  // a wound without a gap
        cross_face(Where::donor, Where::gap, section, at);
        cross_face(Where::gap, Where::host, section, at);
    } else if (from == Where::host && to == Where::donor) {
        cross_face(Where::host, Where::gap, section, at);
        cross_face(Where::gap, Where::donor, section, at);
    } else if (from == Where::chamber || to == Where::chamber) {
        cross_back(from, to, section);
    } else if ((from == Where::front && is_tissue(to)) || (is_tissue(from) && to == Where::front)) {
        cross_front(from, to, section, at, heading);
    } else if (from == Where::gap || to == Where::gap) {
        cross_face(from, to, section, at);
    }
}

void BitePasses::tip_at(Where place, const WoundSection& section, Point at) {
    if (!is_tissue(place)) return;
    Pass& pass = place == Where::donor ? donor_ : host_;
    if (!pass.open) return;
    const Point flat = place == Where::donor ? section.lip.flattened(at) : at;
    std::vector<Point>& track = pass.track;
    // Drawn back: the track ends where the tip now is.
    while (track.size() > 1 &&
           distance(flat, track[track.size() - 2]) < distance(track.back(), track[track.size() - 2]))
        track.pop_back();
    if (track.empty() || distance(flat, track.back()) >= kTrackSpacing_mm) track.push_back(flat);
}

}  // namespace graftwright
