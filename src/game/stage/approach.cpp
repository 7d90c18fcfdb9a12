// Approach: the needle's pitch and place before it is driven.
#include "files/event_kind.h"
#include "game/stage/stages.h"

namespace graftwright::stage {
namespace {

constexpr double kPitchStep_deg = 1.0, kTipStep_mm = 0.02;

}  // namespace

Next Approach::act(Table& table, const Action& action) {
    const bool on_host = side == BiteSide::host;
    BiteInHand& bite = table.bite;
    if (action.kind == Action::Kind::drag) bite.shift_tip_by(action.at.x, -action.at.y);
    if (action.kind == Action::Kind::forceps) bite.set_eversion(table.eversion_deg);
    const double tip_mm = action.amount * kTipStep_mm;
    switch (action.command) {
        case Command::up:
            bite.pitch_by(-action.amount * kPitchStep_deg);
            break;
        case Command::down:
            bite.pitch_by(action.amount * kPitchStep_deg);
            break;
        case Command::left:
            on_host ? bite.shift_tip_by(0.0, tip_mm) : bite.shift_tip_by(-tip_mm, 0.0);
            break;
        case Command::right:
            on_host ? bite.shift_tip_by(0.0, -tip_mm) : bite.shift_tip_by(tip_mm, 0.0);
            break;
        case Command::tip_deeper:
            bite.shift_tip_by(0.0, tip_mm);
            break;
        case Command::tip_higher:
            bite.shift_tip_by(0.0, -tip_mm);
            break;
        case Command::evert_more:
        case Command::evert_less:
        case Command::forceps:
            bite.set_eversion(table.eversion_deg);
            break;
        case Command::primary:
            return Drive(side);
        case Command::back:
            if (on_host)
                table.lose_bite(EventKind::abandoned, "The needle is taken back out; the bite is given up.");
            else
                bite.give_up();
            return Aim();
        default:
            break;
    }
    return {};
}

void Approach::show(const Table&, Snapshot& shot) const {
    using enum Command;
    const bool host = side == BiteSide::host;
    shot.title = host ? "Re-grasp" : "Approach";
    shot.prompt = host ? "Set the tip on the host's wound face at the donor's depth, then drive."
                       : "Steepen the needle and lift the lip, then drive.";
    shot.wheel = down;
    offer(shot, {{primary, "Drive"}});
    offer_lip(shot);
    offer(shot, {{down, "Steeper"},
                 {up, "Flatter"},
                 {left, host ? "Tip deeper" : "Tip inward"},
                 {right, host ? "Tip higher" : "Tip outward"},
                 {back, "Give up bite"}});
}

}  // namespace graftwright::stage
