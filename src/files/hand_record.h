// What a hand's devices did, and a file of it: a scripted hand.
//
// Positions in design pixels of the game's canvas (1280 × 800, game/layout.h), so that a record means the
// same on every screen. Holds what the file says and does nothing: see game/input.h.
#pragma once

#include <string>
#include <vector>

namespace graftwright {

enum class HandDoes { move, press, release, wheel, key };

// The one shape of an input, from the device to the journal, an attempt's events and a scripted hand.
struct Input {
    HandDoes what = HandDoes::move;
    double x = 0.0, y = 0.0;  // move, press, release
    int button = 0;           // press, release: 0 left, 1 right
    double notches = 0.0;     // wheel, + away from the hand
    std::string key;          // key, by its name; repeats of a held key come as presses
    int tick = 0;             // at which it acts (1/240 s); 0: not yet said
    friend bool operator==(const Input&, const Input&) = default;
};

// A line of the file: an input by its time.
struct HandInput : Input {
    double t_s = 0.0;  // since the level opened; the tick nearest to it
    int times = 1;     // so many of it, every second tick
    friend bool operator==(const HandInput&, const HandInput&) = default;
};

struct HandRecord {
    std::string scenario = "sixteen";
    std::string trainee = "scripted hand";
    std::string started;
    bool left_handed = false, examiner_view = false;
    std::vector<HandInput> events;
    friend bool operator==(const HandRecord&, const HandRecord&) = default;
};

}  // namespace graftwright
