// What the tip's way through the wound amounts to: events, the two passes, their tracks.
//
// The tip goes from place to place (wound_section.h); each crossing of a surface opens, completes,
// reopens or closes a pass. Donor: front → wound face. Host: wound face → front. A pass that went
// through the back and reached the wound underneath counts as through and through: its depth is the
// whole thickness. Turning back reopens what was complete; coming out on the side where it went in,
// or out of the donor's front short of the wound, closes the pass as `withdrawn`.
#pragma once

#include <vector>

#include "hand/wound_section.h"

namespace graftwright {

class BitePasses {
  public:
    // The needle is set down anew: passes that are not complete are forgotten, complete ones kept.
    void new_stroke();
    // The tip crosses from one place to the next at a point, heading so (in space).
    void cross(Where from, Where to, const WoundSection& section, Point at, Point heading);
    // The tip is here now, in this place; extends or shortens the track.
    void tip_at(Where place, const WoundSection& section, Point at);

    [[nodiscard]] std::vector<DriveEvent> take_events();
    [[nodiscard]] const PassResult& donor() const { return donor_.result; }
    [[nodiscard]] const PassResult& host() const { return host_.result; }
    [[nodiscard]] const std::vector<Point>& track(BiteSide side) const {
        return side == BiteSide::donor ? donor_.track : host_.track;
    }

  private:
    struct Pass {
        PassResult result;
        std::vector<Point> track;
        bool open = false;  // the needle lies in it, so turning back can undo it
    };

    void report(DriveEvent event) { events_.push_back(event); }
    void open(Pass& pass, Point flat);
    void close(Pass& pass);
    void leave_donor_face(const WoundSection& section, double depth_mm);
    void enter_host(const WoundSection& section, double depth_mm);
    void cross_front(Where from, Where to, const WoundSection& section, Point at, Point heading);
    void cross_face(Where from, Where to, const WoundSection& section, Point at);
    void cross_back(Where from, Where to, const WoundSection& section);

    Pass donor_, host_;
    std::vector<DriveEvent> events_;
};

}  // namespace graftwright
