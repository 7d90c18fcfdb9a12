#include "game/lesson_steps.h"

namespace graftwright {
namespace {

using enum Command;

constexpr double kLiftedEnough_deg = 15.0, kSteepened_deg = 8.0, kDrawn_mN = 10.0;  // our choice

double pitch(const Snapshot& shot) { return shot.section ? shot.section->pose.pitch_deg() : 0.0; }
bool after_tying(const Snapshot& shot) { return shot.bites_in_place() > 0 && shot.stage == Stage::aim; }

}  // namespace

LessonStart lesson_start(const Snapshot& shot) { return {shot.bites_in_place(), pitch(shot)}; }

const std::vector<LessonStep>& lesson_steps() {
    static const std::vector<LessonStep> kSteps{
        {"Hold: take the donor's lip with the forceps near 12 o'clock. Click it with the right button, or press {forceps}.",
         {forceps},
         {Stage::aim},
         [](const Snapshot& s, const LessonStart&) { return s.forceps; }},
        {"Lift the lip until it stands up by 15° or more: {evert_more} lifts, {evert_less} lowers.",
         {evert_more},
         {Stage::aim},
         [](const Snapshot& s, const LessonStart&) { return s.eversion_deg >= kLiftedEnough_deg; }},
        {"Aim at 12 o'clock, some 1.1 mm inside the donor's edge: pointer or arrow keys. Then set the needle down: click, "
         "or {primary}.",
         {primary, left, right, up, down},
         {Stage::aim},
         [](const Snapshot& s, const LessonStart&) { return s.stage == Stage::approach_donor; }},
        {"Steepen the needle, so that it goes deep: wheel, or {down}. Watch the section, top right.",
         {down, up},
         {Stage::approach_donor},
         [](const Snapshot& s, const LessonStart& then) { return pitch(s) > then.pitch_deg + kSteepened_deg; }},
        {"Drive: {primary} begins, then turn the wrist, never push: wheel or {turn_forward}.",
         {primary},
         {Stage::approach_donor, Stage::drive_donor},
         [](const Snapshot& s, const LessonStart&) {
             return s.stage == Stage::drive_donor && s.section && s.section->tip_in_donor;
         }},
        {"Turn on until the tip stands in the wound, then take the needle anew there: {primary}.",
         {turn_forward, primary},
         {Stage::drive_donor},
         [](const Snapshot& s, const LessonStart&) { return s.stage == Stage::approach_host; }},
        {"Set the tip on the rim's wound face as deep as in the donor ({left} deeper, {right} higher); then drive on: "
         "{primary}.",
         {left, right, primary},
         {Stage::approach_host},
         [](const Snapshot& s, const LessonStart&) { return s.stage == Stage::drive_host; }},
        {"Turn until the tip comes up out of the rim; then pull the needle through: {primary}.",
         {turn_forward, primary},
         {Stage::drive_host},
         [](const Snapshot& s, const LessonStart&) { return s.stage == Stage::tie; }},
        {"Tie: wind the first throw, three turns, with {primary}.",
         {primary},
         {Stage::tie},
         [](const Snapshot& s, const LessonStart&) { return s.tie && !s.tie->throws.empty(); }},
        {"Draw the ends until the thread stands at about 15 mN: wheel or {tighter}. Too tight cuts the tissue.",
         {tighter, looser},
         {Stage::tie},
         [](const Snapshot& s, const LessonStart&) { return s.tie && s.tie->loop_mN >= kDrawn_mN; }},
        {"Lock it: the next throw the other way round keeps the tension. {primary}, and once more for a third.",
         {primary},
         {Stage::tie},
         [](const Snapshot& s, const LessonStart&) {
             return s.tie && s.tie->kind == KnotKind::locked && s.tie->throws.size() >= 3;
         }},
        {"Cut the ends short: {primary}.",
         {primary},
         {Stage::tie},
         [](const Snapshot& s, const LessonStart&) { return s.stage == Stage::bury; }},
        {"Bury the knot: turn it into the donor ({bury_donor}) or the rim ({bury_host}).",
         {bury_donor, bury_host},
         {Stage::bury},
         [](const Snapshot& s, const LessonStart&) { return after_tying(s); }},
        {"Check the rings: {ring_check}. With one bite they are still the donor's own; later they tell you everything.",
         {ring_check},
         {Stage::aim},
         [](const Snapshot& s, const LessonStart&) { return s.stage == Stage::ring_check; }},
        {"Look, then go back: {back}.",
         {back},
         {Stage::ring_check},
         [](const Snapshot& s, const LessonStart&) { return s.stage == Stage::aim; }},
        {"Check for leaks: {leak_check}.",
         {leak_check},
         {Stage::aim},
         [](const Snapshot& s, const LessonStart&) { return s.stage == Stage::leak_check; }},
        {"Wash the chamber to saline ({wash}), sweep the wound for iris ({sweep}), dry ({dry}) and stain ({stain}), in that order.",
         {wash, sweep, dry, stain},
         {Stage::leak_check},
         [](const Snapshot& s, const LessonStart&) {
             return s.leak && s.leak->saline && s.leak->swept && s.leak->dry && s.leak->stained;
         }},
        {"Raise the pressure ({raise_pressure}): one bite holds no chamber. With three and more, dark streams show where it "
         "leaks. Then back: {back}.",
         {raise_pressure, back},
         {Stage::leak_check},
         [](const Snapshot& s, const LessonStart&) { return s.stage == Stage::aim; }},
        {"Cut out: select the bite ({next_bite}, or click its thread) and cut it: {cut_out}. Time and tissue are the price.",
         {next_bite, cut_out},
         {Stage::aim},
         [](const Snapshot& s, const LessonStart& then) { return s.bites_in_place() < then.bites_in_place; }},
        {"Now once more on your own: hold, aim, drive, tie, at 12 o'clock. About 0.9 of the thickness deep on both sides.",
         {},
         {},
         [](const Snapshot& s, const LessonStart& then) {
             return s.stage == Stage::aim && s.bites_in_place() > then.bites_in_place;
         }},
        {"That was all of it. To the debrief: {finish}.",
         {finish},
         {},
         [](const Snapshot& s, const LessonStart&) { return s.stage == Stage::debrief; }},
    };
    return kSteps;
}

}  // namespace graftwright
