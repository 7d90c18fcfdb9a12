// What there is to see at one tick: the view draws this and nothing else, and never asks a solver.
//
// A plain value; the shared parts are immutable. Field frame mm (examiner's: x toward 0°, y toward 90°,
// origin at the bed's centre); section frame as in hand/needle.h.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/point.h"
#include "files/scenario.h"
#include "game/command.h"
#include "game/lesson.h"
#include "game/live_wound.h"
#include "game/question_in_hand.h"
#include "hand/donor_afloat.h"
#include "hand/knot_in_hand.h"
#include "hand/section_drive.h"

namespace graftwright {

// Labels of the stages, for those who draw or wait for one; what each is and does: stage/stages.h.
enum class Stage {
    aim,             // plane and entry of the next bite are set in the field
    approach_donor,  // needle over the donor: pitch and place
    drive_donor,
    approach_host,  // re-grasped, tip in the wound: pitch and height
    drive_host,
    tie,
    bury,  // ends cut short, knot to be turned in
    look,  // after bites 2 and 4: equal on both sides?
    ring_check,
    leak_check,
    answer,   // a drill's question, one step after another
    solving,  // the scorecard is being worked out
    debrief,
};

inline constexpr double kLoose_mN = 0.5;  // under this a thread lies visibly slack (our choice)

// A bite that lies in the eye.
struct LaidBite {
    Bite bite;
    Point entry, donor_edge, host_edge, exit;  // field; the first two move with the donor
    double tension_mN = 0.0;                   // now
    bool buried_in_host = false;               // where the knot went
    bool from_start = false;                   // lay there when the level opened
    bool loose = false;                        // tension gone
    std::optional<std::size_t> run;            // running thread that it belongs to; the open one counts last
    bool slack = false;                        // of the open run: the thread lies in it, nothing is drawn

    [[nodiscard]] bool holds() const { return !bite.removed && !loose && !slack; }
};

// A length of running thread on the surface, from the host exit of one bite to the donor entry of the next.
struct LaidSpan {
    std::size_t from = 0, to = 0;  // of Snapshot::bites
    std::size_t run = 0;
    double tension_mN = 0.0;  // now
    bool slack = false;       // of the open run
    bool knot = false;        // the last span of a closed run: its knot lies here …
    bool in_hand = false;     // … still being tied
    bool buried_in_host = false;
};

// The plane of the bite being aimed or driven.
struct BitePlane {
    Point entry;               // on the donor, field
    double direction_deg = 0;  // outward
    double skew_deg = 0;       // against the radius, + counter-clockwise
    Point donor_edge, host_edge;
    double entry_distance_mm = 0;  // donor's edge to entry, along the plane
};

struct SectionView {
    SectionTissue tissue;
    Needle needle;
    NeedlePose pose;
    double eversion_deg = 0.0;
    bool tip_in_donor = false, tip_in_host = false, tip_in_chamber = false;
    double tip_depth_um = 0.0, tip_thickness_um = 0.0;  // of the wall under the tip; 0 outside
    std::vector<Point> donor_track, host_track;         // flattened tissue
    PassResult donor_pass, host_pass;
    // The donor's front, then its back, from the left edge of the view to the wound, where they are now.
    std::vector<Point> donor_front, donor_back;
    double trauma_uJ = 0.0;
};

struct TieView {
    double loop_mN = 0.0, hand_mN = 0.0;
    double cut_limit_mN = 0.0, break_limit_mN = 0.0;
    int next_turns = 3;
    KnotKind kind = KnotKind::none;
    bool square = false, broken = false;
    double cut_mm = 0.0;
    std::vector<Throw> throws;
    std::optional<double> worked_mN;  // of a running thread: its slack was worked round at; 0: not yet
};

struct LeakView {
    bool saline = false;  // viscoelastic washed out
    bool swept = false, dry = false, stained = false;
    double pressure_mmHg = 0.0;
    struct Stream {
        double deg = 0.0;
        double strength = 0.0;  // 0 … 1, for drawing
    };
    std::vector<Stream> streams;  // dark streams in the stain, as they would be seen
};

// What a stage lets the hand ask for: a button of the console.
struct Offer {
    Command command;
    const char* label;  // in trade words, two or three of them
    bool lit = false;   // a latch that is on
    bool enabled = true;
};

// In the field: the pointer moves the aim and a press on the donor sets the needle down, or a press takes the choice
// there.
enum class PointerDoes { nothing, aim, choose };

struct Snapshot {
    std::shared_ptr<const Scenario> scenario;
    Layout layout;
    Stage stage = Stage::aim;
    int tick = 0;
    double time_s = 0.0;  // the attempt's clock; stands while paused
    double open_s = 0.0;  // until the fourth cardinal
    bool paused = false, fine = false, twin = false;
    std::string_view title;  // of the stage, in a word or two
    std::string prompt;      // what to do next, one sentence
    std::vector<Offer> offers;
    Command wheel = Command::none;  // what a notch asks for: the stage's one continuous thing
    PointerDoes pointer_does = PointerDoes::nothing;
    std::string notice;    // what has just happened, "" after a while
    bool warning = false;  // the notice is one to worry about

    DonorPose donor;
    bool forceps = false;
    Point forceps_at;  // on the donor, field
    double eversion_deg = 0.0;
    double viscoelastic = 1.0;  // 1 full … 0 chamber flat
    bool iris_in_wound = false;

    Point pointer;  // field, mm
    bool pointer_in_field = false;
    std::vector<LaidBite> bites;  // single ones, then run by run; the bite or run in hand stands last among them
    std::vector<LaidSpan> spans;  // of running threads, run by run
    std::optional<std::size_t> selected;  // of bites
    int bites_asked = 16;
    int bites_counted = 0;  // toward those asked, the open run's among them, one being tied not
    bool running = false;   // latch: the next bite belongs to a running thread
    std::optional<BitePlane> plane;
    std::optional<SectionView> section;
    std::optional<TieView> tie;
    std::optional<LeakView> leak;
    std::optional<QuestionView> question;
    std::optional<LessonView> lesson;  // the level teaches the controls; prompt is its words
    double trauma_uJ = 0.0;            // whole attempt
    int iris_caught = 0, endothelial_touches = 0;

    std::shared_ptr<const LiveWound> wound;  // as last adopted
    bool wound_is_old = false;               // older than 150 ms and something has moved since
    std::shared_ptr<const Debrief> debrief;
    std::vector<ConsoleButton> buttons;

    [[nodiscard]] bool aid(Aid which) const;   // does the level show this aid?
    [[nodiscard]] int bites_in_place() const;  // those in hand among them, not those of the open run
};

}  // namespace graftwright
