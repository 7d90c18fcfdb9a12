// The stages of an attempt, a file each: what a stage accepts, what it does in a tick, what it shows and says.
//
// A stage acts on the table and answers with the stage that comes next, or with none to stay. Each has a label and a
// show(), which adds to Table::show: title, prompt, what wheel and pointer do, offers; what else it does not mention it
// does as Still does. A new one: its source beside these, its lines here, its place in AnyStage, and a label in Stage
// (snapshot.h) for those who must tell it from others.
#pragma once

#include <initializer_list>
#include <optional>
#include <utility>
#include <variant>

#include "base/point.h"
#include "game/question_in_hand.h"
#include "game/table.h"
#include "hand/section_drive.h"

namespace graftwright::stage {

struct Next;

struct Still {
    static constexpr bool kInPlay = true;  // the hand acts and the clock goes
    Next act(Table&, const Action&);       // after what may be done at any stage (Table::act)
    Next step(Table&);                     // a tick, before the donor has moved
    void select(Table& table, Point field) { table.select_near(field); }
    void ask(const Table&, WoundQuestion&) const {}  // more than the threads that are tied
};

// Plane and entry of the next bite are set in the field; all that needs no needle is asked for here.
struct Aim : Still {
    [[nodiscard]] Stage label() const { return Stage::aim; }
    Next act(Table& table, const Action& action);
    void show(const Table& table, Snapshot& shot) const;
};

// The needle over the donor, or re-grasped with its tip in the wound before the host: pitch and place.
struct Approach : Still {
    explicit Approach(BiteSide of) : side(of) {}
    BiteSide side;
    [[nodiscard]] Stage label() const { return side == BiteSide::host ? Stage::approach_host : Stage::approach_donor; }
    Next act(Table& table, const Action& action);
    void show(const Table& table, Snapshot& shot) const;
};

struct Drive : Still {
    explicit Drive(BiteSide through) : side(through) {}
    BiteSide side;
    [[nodiscard]] Stage label() const { return side == BiteSide::host ? Stage::drive_host : Stage::drive_donor; }
    Next act(Table& table, const Action& action);
    Next step(Table& table);
    void show(const Table& table, Snapshot& shot) const;
};

// Throws and tension of the knot in Table::tying.
struct Tie : Still {
    [[nodiscard]] Stage label() const { return Stage::tie; }
    Next act(Table& table, const Action& action);
    Next step(Table& table);
    void show(const Table& table, Snapshot& shot) const;
};

// The ends are cut short; the knot is turned in on one side.
struct Bury : Still {
    [[nodiscard]] Stage label() const { return Stage::bury; }
    Next act(Table& table, const Action& action);
    void show(const Table& table, Snapshot& shot) const;
};

// After bites 2 and 4: is there as much donor on both sides?
struct Look : Still {
    [[nodiscard]] Stage label() const { return Stage::look; }
    Next act(Table& table, const Action& action);
    void show(const Table& table, Snapshot& shot) const;
};

// A drill's question, one step after another.
struct Answer : Still {
    explicit Answer(QuestionInHand question) : asking(std::move(question)) {}
    QuestionInHand asking;
    [[nodiscard]] Stage label() const { return Stage::answer; }
    Next act(Table& table, const Action& action);
    void select(Table& table, Point field);
    void ask(const Table& table, WoundQuestion& question) const;
    void show(const Table& table, Snapshot& shot) const;
};

// Looks from the aim or out of a question, and goes back there. Begun by its constructor.
struct RingCheck : Still {
    explicit RingCheck(Table& table, std::optional<QuestionInHand> question = {});
    std::optional<QuestionInHand> asking;
    [[nodiscard]] Stage label() const { return Stage::ring_check; }
    Next act(Table& table, const Action& action);
    void ask(const Table& table, WoundQuestion& question) const;
    void show(const Table& table, Snapshot& shot) const;
};
struct LeakCheck : Still {
    explicit LeakCheck(Table& table, std::optional<QuestionInHand> question = {});
    std::optional<QuestionInHand> asking;
    [[nodiscard]] Stage label() const { return Stage::leak_check; }
    Next act(Table& table, const Action& action);
    Next step(Table& table);
    void ask(const Table& table, WoundQuestion& question) const;
    void show(const Table& table, Snapshot& shot) const;
};

// The scorecard is being worked out; then it is there. The session asks for it.
struct Solving : Still {
    static constexpr bool kInPlay = false;
    bool asked = false;
    [[nodiscard]] Stage label() const { return Stage::solving; }
    void show(const Table& table, Snapshot& shot) const;
};
struct Over : Still {
    static constexpr bool kInPlay = false;
    [[nodiscard]] Stage label() const { return Stage::debrief; }
    void show(const Table& table, Snapshot& shot) const;
};

using AnyStage = std::variant<Aim, Approach, Drive, Tie, Bury, Look, Answer, RingCheck, LeakCheck, Solving, Over>;

struct Next : std::optional<AnyStage> {
    using std::optional<AnyStage>::optional;
};

inline Next Still::act(Table&, const Action&) { return {}; }
inline Next Still::step(Table&) { return {}; }

// To the scorecard, unless nothing is tied.
[[nodiscard]] Next end(Table& table);

void offer(Snapshot& shot, std::initializer_list<Offer> more);
void offer_lip(Snapshot& shot);  // what the forceps do with it

}  // namespace graftwright::stage
