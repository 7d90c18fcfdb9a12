// What the table shows: bites and spans where they lie now, and its part of the snapshot.
#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

#include "base/point.h"
#include "base/units.h"
#include "closure/tying.h"
#include "game/table.h"
#include "score/bites_in_order.h"

namespace graftwright {
namespace {

Point at_angle(double radius, double deg) { return polar(radius, rad_from_deg(deg)); }

TieView view_of(const Tying& tying) {
    const KnotInHand& knot = tying.knot;
    TieView tie;
    tie.loop_mN = knot.loop_mN();
    tie.hand_mN = knot.hand_mN();
    tie.cut_limit_mN = tying.limits.cut_mN;
    tie.break_limit_mN = tying.limits.break_mN;
    if (tying.run) tie.worked_mN = *tying.run->worked_mN;
    tie.next_turns = tying.next_turns;
    tie.kind = knot.kind();
    tie.square = knot.square();
    tie.broken = knot.broken();
    tie.cut_mm = knot.cut_mm();
    tie.throws = knot.throws();
    return tie;
}

}  // namespace

LaidBite Table::laid_as(const BitePath& path) const {
    LaidBite laid;
    const DonorPose pose = donor.pose();
    static_cast<BitePath&>(laid.bite) = path;
    const double half_gap = 0.5 * kOpenGap_mm * (threads.in_place() >= kBitesThatAnchorADonor ? 0.3 : 1.0);
    const auto on_donor = [&](double inward, double sideways) {
        const double radius = bed_radius_mm(scenario(), path.graft_deg) - half_gap - inward;
        const Point at = at_angle(radius, path.graft_deg), t = at_angle(sideways, path.graft_deg + 90.0);
        return pose.to_field({at.x + t.x, at.y + t.y});
    };
    const auto on_host = [&](double outward, double sideways) {
        const Point at = at_angle(bed_radius_mm(scenario(), path.host_deg) + half_gap + outward, path.host_deg);
        const Point t = at_angle(sideways, path.host_deg + 90.0);
        return Point{at.x + t.x, at.y + t.y};
    };
    laid.entry = on_donor(path.graft_bite_mm, path.graft_skew_mm);
    laid.donor_edge = on_donor(0.0, 0.0);
    laid.host_edge = on_host(0.0, 0.0);
    laid.exit = on_host(path.host_bite_mm, path.host_skew_mm);
    return laid;
}

LaidBite Table::laid_bite(std::size_t b) const {
    const LaidThreads::Place place = threads.place_of(b);
    if (place.in != LaidThreads::Place::In::single) return laid_run_bite(place);
    const Bite& single = threads.attempt.bites[b];
    LaidBite laid = laid_as(single);
    laid.bite = single;
    laid.buried_in_host = threads.laid[b].buried_in_host;
    laid.from_start = threads.laid[b].from_start;
    const bool known = wound && wound->converged && b < wound->tension_mN.size();
    laid.tension_mN = known ? wound->tension_mN[b] : single.tension_mN;
    laid.loose = laid.tension_mN < kLoose_mN;
    return laid;
}

// As last solved, where that question had this run; else what its knot holds.
double Table::run_tension_mN(std::size_t run, std::size_t number) const {
    const std::vector<Run>& tied = threads.attempt.runs;
    const bool in_hand = tying && tying->run;
    if (run == tied.size() && !in_hand) return 0.0;
    const double at_knot_mN = run < tied.size() ? tied[run].tension_mN : tying->run->tension_mN;
    if (!wound || !wound->converged || !shown || run >= shown->runs.size()) return at_knot_mN;
    if (number >= shown->runs[run].bites.size()) return at_knot_mN;
    std::size_t b = shown->bites.size() + number;
    for (std::size_t r = 0; r < run; ++r) b += shown->runs[r].bites.size();
    return b < wound->tension_mN.size() ? wound->tension_mN[b] : at_knot_mN;
}

LaidBite Table::laid_run_bite(const LaidThreads::Place& place) const {
    const bool tied = place.in == LaidThreads::Place::In::tied_run, in_hand = tying && tying->run;
    const std::vector<Run>& runs = threads.attempt.runs;
    LaidBite laid = laid_as(tied ? runs[place.run].bites[place.number] : threads.open_run[place.number]);
    laid.bite.throws.clear();
    laid.bite.tension_mN = tied ? runs[place.run].tension_mN : in_hand ? tying->run->tension_mN : 0.0;
    laid.run = place.run;
    laid.slack = !tied && !in_hand;
    laid.tension_mN = run_tension_mN(place.run, place.number);
    if (tied) {
        laid.buried_in_host = threads.laid_runs[place.run].buried_in_host;
        laid.from_start = threads.laid_runs[place.run].from_start;
        laid.loose = laid.tension_mN < kLoose_mN;
    }
    return laid;
}

std::vector<LaidSpan> Table::laid_spans() const {
    const std::size_t tied = threads.attempt.runs.size();
    const bool in_hand = tying && tying->run;
    std::vector<Run> closed = threads.attempt.runs;
    if (in_hand) closed.push_back(*tying->run);
    std::vector<LaidSpan> spans;
    std::size_t number = 0;
    for (const RunSpan& span : run_spans(threads.attempt.bites.size(), closed)) {
        number = spans.empty() || spans.back().run != span.run ? 0 : number + 1;
        LaidSpan laid;
        laid.from = span.from;
        laid.to = span.to;
        laid.run = span.run;
        laid.knot = span.knot;
        laid.in_hand = span.run == tied;
        laid.buried_in_host = !laid.in_hand && threads.laid_runs[span.run].buried_in_host;
        const bool known =
            wound && wound->converged && span.run < wound->span_mN.size() && number < wound->span_mN[span.run].size();
        laid.tension_mN = known ? wound->span_mN[span.run][number] : closed[span.run].tension_mN;
        spans.push_back(laid);
    }
    if (in_hand) return spans;
    const std::size_t first = threads.count() - threads.open_run.size();
    for (std::size_t k = 0; k + 1 < threads.open_run.size(); ++k) {
        LaidSpan laid;
        laid.from = first + k;
        laid.to = first + k + 1;
        laid.run = tied;
        laid.slack = true;
        spans.push_back(laid);
    }
    return spans;
}

void Table::show(Snapshot& shot) const {
    shot.scenario = std::shared_ptr<const Scenario>(model, &scenario());
    shot.tick = tick;
    shot.time_s = time_s();
    shot.open_s = static_cast<double>(open_ticks) / kTicksPerSecond;
    if (tick < notice_until) {
        shot.notice = notice;
        shot.warning = warning;
    }
    shot.donor = donor.pose();
    shot.forceps = donor.held();
    if (shot.forceps) shot.forceps_at = donor.hold_point();
    shot.eversion_deg = eversion_deg;
    shot.viscoelastic = chamber.viscoelastic();
    shot.iris_in_wound = iris_caught > 0 && !chamber.view().swept;
    shot.pointer = pointer;
    for (std::size_t b = 0; b < threads.count(); ++b) shot.bites.push_back(laid_bite(b));
    shot.spans = laid_spans();
    shot.running = threads.running;
    shot.bites_counted = bites_counted();
    shot.selected = selected;
    shot.bites_asked = scenario().task.bites;
    if (bite.section() != nullptr) {
        shot.plane = bite.plane(donor.pose());
        shot.section = bite.view();
    }
    if (tying) {
        shot.tie = view_of(*tying);
        if (!tying->run) {
            shot.bites.push_back(laid_as(tying->bite));  // the one in hand, last
            shot.bites.back().bite = tying->bite;
            shot.bites.back().tension_mN = tying->bite.tension_mN;
        }
    }
    shot.trauma_uJ = trauma_uJ;
    shot.iris_caught = iris_caught;
    shot.endothelial_touches = endothelial_touches;
    shot.wound = wound;
}

}  // namespace graftwright
