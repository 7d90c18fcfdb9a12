// What several stages offer, and the two at the end, in which no hand acts.
#include "game/stage/stages.h"

namespace graftwright::stage {

Next end(Table& table) {
    if (table.threads.in_place() > 0) return Solving();
    table.say("Nothing is tied yet.", true);
    return {};
}

void Solving::show(const Table&, Snapshot& shot) const {
    shot.title = "Working it out";
    shot.prompt = "Working out what each bite did …";
}

void Over::show(const Table&, Snapshot& shot) const { shot.title = "Debrief"; }

void offer(Snapshot& shot, std::initializer_list<Offer> more) {
    shot.offers.insert(shot.offers.end(), more.begin(), more.end());
}

void offer_lip(Snapshot& shot) {
    offer(shot, {{Command::forceps, shot.forceps ? "Let lip go" : "Hold lip", shot.forceps},
                 {Command::evert_more, "Lift lip", false, shot.forceps},
                 {Command::evert_less, "Lower lip", false, shot.forceps}});
}

}  // namespace graftwright::stage
