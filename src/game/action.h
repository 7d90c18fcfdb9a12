// What the hand does, after its device is forgotten: every change in the game is one of these.
#pragma once

#include "base/point.h"
#include "game/command.h"

namespace graftwright {

struct Action {
    enum class Kind {
        point,    // the pointer is at `at` (field, mm)
        command,  // `command`, `amount` steps of it (signed for none; fine already divided in)
        drag,     // drawn by `at` in the section (mm, x outward, y up)
        forceps,  // latched at `at` (field, mm), or let go
        carry,    // the forceps are moved by `at` (field, mm)
        select,   // the bite nearest to `at` (field, mm)
    };
    Kind kind = Kind::command;
    Command command = Command::none;
    double amount = 1.0;
    Point at;
};

}  // namespace graftwright
