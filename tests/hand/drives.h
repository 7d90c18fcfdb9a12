// Small words for driving a needle in tests of the hand.
#pragma once

#include <cstring>
#include <string>
#include <vector>

#include "hand/section_drive.h"

namespace graftwright::drives {

inline const char* name(DriveEvent event) {
    switch (event) {
        case DriveEvent::entered_front:
            return "entered_front";
        case DriveEvent::left_face:
            return "left_face";
        case DriveEvent::entered_face:
            return "entered_face";
        case DriveEvent::left_front:
            return "left_front";
        case DriveEvent::through_back:
            return "through_back";
        case DriveEvent::back_in_tissue:
            return "back_in_tissue";
        case DriveEvent::withdrawn:
            return "withdrawn";
    }
    return "?";
}

// Events since the last call, "entered_front left_face".
inline std::string events(SectionDrive& drive) {
    std::string text;
    for (const DriveEvent event : drive.take_events()) text += (text.empty() ? "" : " ") + std::string(name(event));
    return text;
}

inline void turn(SectionDrive& drive, double deg, double deg_per_tick = 0.125) {
    HandTick hand;
    hand.eversion_deg = drive.eversion_deg();
    const int ticks = static_cast<int>(std::abs(deg) / deg_per_tick + 0.5);
    hand.turn_deg = deg / ticks;
    for (int i = 0; i < ticks; ++i) drive.step(hand);
}

inline void shift(SectionDrive& drive, Point total, int ticks) {
    HandTick hand;
    hand.eversion_deg = drive.eversion_deg();
    hand.shift_mm = {total.x / ticks, total.y / ticks};
    for (int i = 0; i < ticks; ++i) drive.step(hand);
}

inline void lift(SectionDrive& drive, double eversion_deg) {
    HandTick hand;
    hand.eversion_deg = eversion_deg;
    while (drive.eversion_deg() != eversion_deg) drive.step(hand);
}

// The tip at a point at a pitch, the needle turned back from there by some degrees.
inline NeedlePose before(const Needle& needle, Point tip, double pitch_deg, double back_deg) {
    NeedlePose pose = needle_at(needle, tip, pitch_deg);
    pose.tip_rad -= rad_from_deg(back_deg);
    return pose;
}

// A running hash (FNV-1a) over the bits of numbers: same state, same value.
class BitHash {
  public:
    void add(double value) {
        unsigned char bytes[sizeof value];
        std::memcpy(bytes, &value, sizeof value);
        for (const unsigned char byte : bytes) hash_ = (hash_ ^ byte) * 1099511628211ULL;
    }
    void add(Point p) { add(p.x), add(p.y); }
    [[nodiscard]] unsigned long long value() const { return hash_; }

  private:
    unsigned long long hash_ = 14695981039346656037ULL;
};

}  // namespace graftwright::drives
