#include "files/rules.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "base/units.h"
#include "base/words.h"
#include "files/limits.h"
#include "files/schema_words.h"

namespace graftwright {
namespace {

// For a message: two decimals are plenty, and fewer where they are zeros.
std::string rounded(double value) { return number_words(std::round(value * 100.0) / 100.0); }

// "run 1, bites 3 and 7 lie at one place", at the later of the two.
Finding at_one_place(const std::string& bites_pointer, std::size_t first, std::size_t second,
                     std::vector<std::string> stands_on) {
    const std::string owner = place_name(bites_pointer.substr(0, bites_pointer.rfind('/')));
    return {below(bites_pointer, second),
            fmt::format("{}bites {} and {} lie at one place, expected {}° or more between them at "
                        "the donor's or the host's edge",
                        owner.empty() ? "" : owner + ": ", first + 1, second + 1, number_words(kOnePlace_deg)),
            false,
            {},
            std::move(stands_on)};
}

bool cut_out(const Bite& bite) { return bite.removed; }
bool cut_out(const RunBite&) { return false; }

template <typename AnyBite>
void find_pairs(const std::vector<AnyBite>& bites, const std::string& pointer, Findings& findings) {
    for (std::size_t j = 1; j < bites.size() && j < kMostBites; ++j)
        for (std::size_t i = 0; i < j; ++i) {
            if (cut_out(bites[i]) || cut_out(bites[j])) continue;
            if (!one_place(bites[i].graft_deg, bites[j].graft_deg) || !one_place(bites[i].host_deg, bites[j].host_deg))
                continue;
            std::vector<std::string> stands_on;
            for (const std::size_t k : {i, j})
                for (const char* key : {"graft_deg", "host_deg", "removed"})
                    stands_on.push_back(below(below(pointer, k), key));
            findings.push_back(at_one_place(pointer, i, j, std::move(stands_on)));
        }
}

// Rules of bites and runs by themselves; `holder` is "" in an attempt, "/start" in a scenario.
Findings among_bites(const std::vector<Bite>& bites, const std::vector<Run>& runs, const std::string& holder,
                     std::size_t least) {
    Findings findings;
    const std::string bites_pointer = below(holder, "bites");
    const std::string runs_pointer = below(holder, "runs");
    std::size_t total = bites.size();
    std::vector<std::string> places{bites_pointer, runs_pointer};
    for (std::size_t r = 0; r < runs.size(); ++r) {
        total += runs[r].bites.size();
        places.push_back(below(below(runs_pointer, r), "bites"));
    }
    if (total < least || total > kMostBites)
        findings.push_back({bites.empty() && !runs.empty() ? runs_pointer : bites_pointer,
                            fmt::format("{} in all, expected {} to {} (bites of runs count)", counted(total, "bite"),
                                        least, kMostBites),
                            false,
                            {},
                            std::move(places)});
    find_pairs(bites, bites_pointer, findings);
    for (std::size_t b = 0; b < bites.size(); ++b) {
        const auto after = static_cast<std::size_t>(bites[b].removed_after);
        if (after == 0 || (after > b && after <= bites.size())) continue;
        const std::string pointer = below(below(bites_pointer, b), "removed_after");
        findings.push_back({pointer,
                            fmt::format("removed_after is {}, expected 0 or {} to {}: a bite is cut out after it was "
                                        "tied and before there were more",
                                        after, b + 1, bites.size()),
                            false,
                            {},
                            {pointer}});
    }
    for (std::size_t r = 0; r < runs.size(); ++r)
        find_pairs(runs[r].bites, below(below(runs_pointer, r), "bites"), findings);
    return findings;
}

// A bed in its cornea. Lengths across the axis unless said; the shell is a sphere of radius R.
class Bed {
  public:
    explicit Bed(const Eye& eye)
        : eye_(eye),
          radius_(eye.anterior_radius_mm - 0.5 * mm_from_um(eye.rim_thickness_um)),
          limbus_(0.5 * eye.limbus_diameter_mm) {}

    [[nodiscard]] double middle_radius() const { return radius_; }
    [[nodiscard]] double limbus() const { return limbus_; }
    [[nodiscard]] double shift() const { return std::hypot(eye_.bed_shift_mm[0], eye_.bed_shift_mm[1]); }
    [[nodiscard]] double largest_bed_radius() const { return 0.5 * eye_.bed_diameter_mm + 0.25 * eye_.bed_ovality_mm; }
    // Along the surface from the wound to the limbus, the shorter of the true rim at this place and
    // the rim of a centred bed: the model is a shell of revolution, its rim as wide all round.
    [[nodiscard]] double rim_width(double host_deg) const {
        const double turn = rad_from_deg(host_deg);
        const double along = eye_.bed_shift_mm[0] * std::cos(turn) + eye_.bed_shift_mm[1] * std::sin(turn);
        const double across2 = shift() * shift() - along * along;
        const double here = std::sqrt(std::max(0.0, limbus_ * limbus_ - across2)) - along;
        const double oval =
            0.25 * eye_.bed_ovality_mm * std::cos(2.0 * (turn - rad_from_deg(eye_.bed_ovality_axis_deg)));
        const double wound = 0.5 * eye_.bed_diameter_mm + std::max(0.0, oval);
        return arc(std::min(here, limbus_)) - arc(wound);
    }
    [[nodiscard]] double arc(double from_axis) const {
        return radius_ * std::asin(std::clamp(from_axis / radius_, 0.0, 1.0));
    }

  private:
    const Eye& eye_;
    double radius_;
    double limbus_;
};

const std::vector<std::string> kEyeShape{
    "/eye/bed_diameter_mm",    "/eye/bed_ovality_mm", "/eye/bed_ovality_axis_deg", "/eye/bed_shift_mm",
    "/eye/bed_shift_mm/0",     "/eye/bed_shift_mm/1", "/eye/rim_thickness_um",     "/eye/limbus_diameter_mm",
    "/eye/anterior_radius_mm", "/graft/diameter_mm",  "/graft/thickness_um",       "/thread/break_mN"};

// One bite against its eye. `pointer` is the bite's; the eye's values are known to be sound.
void hold_path(const BitePath& bite, const std::string& pointer, const Scenario& scenario,
               const std::vector<std::string>& stands_on, Findings& findings) {
    const auto at_most = [&](const char* key, double value, double limit, const std::string& what) {
        if (value <= limit) return;
        std::vector<std::string> values = stands_on;
        values.push_back(below(pointer, key));
        if (std::string_view(key) == "host_bite_mm") values.push_back(below(pointer, "host_deg"));
        findings.push_back(
            {below(pointer, key),
             fmt::format("{}: {} is {}, expected at most {}", place_name(pointer), key, number_words(value), what),
             false,
             {},
             std::move(values)});
    };
    const double graft_um = scenario.graft.thickness_um;
    const double rim_um = scenario.eye.rim_thickness_um;
    at_most("graft_depth_um", bite.graft_depth_um, graft_um,
            "the donor's thickness, " + number_words(graft_um) + " µm");
    at_most("host_depth_um", bite.host_depth_um, rim_um, "the rim's thickness, " + number_words(rim_um) + " µm");
    const Bed bed(scenario.eye);
    const double rim_mm = bed.rim_width(bite.host_deg);
    at_most("host_bite_mm", bite.host_bite_mm, rim_mm,
            "the rim's width to the limbus at this place, " + rounded(rim_mm) + " mm");
    const double donor_mm = kLongestDonorBite * bed.arc(0.5 * scenario.graft.diameter_mm);
    at_most("graft_bite_mm", bite.graft_bite_mm, donor_mm,
            rounded(donor_mm) + " mm in this donor, short of its centre");
}

void hold_tension(double tension_mN, const std::string& pointer, const Scenario& scenario,
                  const std::vector<std::string>& stands_on, Findings& findings) {
    if (tension_mN <= scenario.thread.break_mN) return;
    std::vector<std::string> values = stands_on;
    values.push_back(below(pointer, "tension_mN"));
    findings.push_back(
        {below(pointer, "tension_mN"),
         fmt::format("{}: tension_mN is {}, expected at most the thread's breaking "
                     "load, {} mN",
                     place_name(pointer), number_words(tension_mN), number_words(scenario.thread.break_mN)),
         false,
         {},
         std::move(values)});
}

Findings bites_in_eye(const std::vector<Bite>& bites, const std::vector<Run>& runs, const std::string& holder,
                      const Scenario& scenario, const std::vector<std::string>& stands_on) {
    Findings findings;
    for (std::size_t i = 0; i < bites.size(); ++i) {
        const std::string pointer = below(below(holder, "bites"), i);
        hold_path(bites[i], pointer, scenario, stands_on, findings);
        hold_tension(bites[i].tension_mN, pointer, scenario, stands_on, findings);
    }
    for (std::size_t r = 0; r < runs.size(); ++r) {
        const std::string pointer = below(below(holder, "runs"), r);
        for (std::size_t i = 0; i < runs[r].bites.size(); ++i)
            hold_path(runs[r].bites[i], below(below(pointer, "bites"), i), scenario, stands_on, findings);
        hold_tension(runs[r].tension_mN, pointer, scenario, stands_on, findings);
    }
    return findings;
}

Findings shape_of_eye(const Scenario& scenario) {
    Findings findings;
    const auto fault = [&](const char* pointer, const std::string& message) {
        findings.push_back({pointer, message, false, {}, kEyeShape});
    };
    const Eye& eye = scenario.eye;
    const Bed bed(eye);
    const double widest = 2.0 * kWidestLimbus * bed.middle_radius();
    if (eye.limbus_diameter_mm > widest)
        fault("/eye/limbus_diameter_mm",
              fmt::format("eye.limbus_diameter_mm is {}, expected at most {} on a sphere of this "
                          "anterior_radius_mm",
                          number_words(eye.limbus_diameter_mm), rounded(widest)));
    const double rim = bed.limbus() - bed.largest_bed_radius() - bed.shift();
    if (bed.limbus() - bed.largest_bed_radius() < kLeastRim_mm)
        fault("/eye/bed_diameter_mm",
              fmt::format("eye.bed_diameter_mm is {}, expected a bed at least {} mm inside the limbus "
                          "all round (limbus_diameter_mm {})",
                          number_words(eye.bed_diameter_mm), number_words(kLeastRim_mm),
                          number_words(eye.limbus_diameter_mm)));
    else if (rim < kLeastRim_mm)
        fault("/eye/bed_shift_mm",
              fmt::format("eye.bed_shift_mm moves the bed by {} mm, expected a bed at least {} mm "
                          "inside the limbus all round: a shift of at most {} mm",
                          rounded(bed.shift()), number_words(kLeastRim_mm), rounded(rim + bed.shift() - kLeastRim_mm)));
    const double misfit = scenario.graft.diameter_mm - eye.bed_diameter_mm;
    if (std::fabs(misfit) > kMostMisfit_mm)
        fault("/graft/diameter_mm", fmt::format("graft.diameter_mm is {}, expected within {} mm of the bed's {} mm",
                                                number_words(scenario.graft.diameter_mm), number_words(kMostMisfit_mm),
                                                number_words(eye.bed_diameter_mm)));
    return findings;
}

}  // namespace

Findings rules_of(const Scenario& scenario) {
    Findings findings = shape_of_eye(scenario);
    Findings more = among_bites(scenario.start.bites, scenario.start.runs, "/start", 0);
    if (findings.empty()) {  // a bite can be held against an eye that makes sense
        const Findings held = bites_in_eye(scenario.start.bites, scenario.start.runs, "/start", scenario, kEyeShape);
        more.insert(more.end(), held.begin(), held.end());
    }
    findings.insert(findings.end(), more.begin(), more.end());
    const Findings marks = rules_of_task(scenario);
    findings.insert(findings.end(), marks.begin(), marks.end());
    return findings;
}

Findings rules_of(const Attempt& attempt) { return among_bites(attempt.bites, attempt.runs, "", 1); }

Findings rules_of(const Attempt& attempt, const Scenario& scenario) {
    return bites_in_eye(attempt.bites, attempt.runs, "", scenario, {});
}

Findings rules_of(const RingCase& ring) {
    Findings findings;
    const std::vector<std::string> shape{"/R_mid_mm", "/wound_r_mm", "/limbus_r_mm", "/sclera", "/sclera/R_mm"};
    const double widest = kWidestLimbus * std::min(ring.R_mid_mm, ring.sclera.R_mm);
    if (ring.limbus_r_mm > widest)
        findings.push_back({"/limbus_r_mm",
                            fmt::format("limbus_r_mm is {}, expected at most {} on these spheres",
                                        number_words(ring.limbus_r_mm), rounded(widest)),
                            false,
                            {},
                            shape});
    if (ring.wound_r_mm > ring.limbus_r_mm - kLeastRim_mm)
        findings.push_back({"/wound_r_mm",
                            fmt::format("wound_r_mm is {}, expected at least {} mm inside the limbus",
                                        number_words(ring.wound_r_mm), number_words(kLeastRim_mm)),
                            false,
                            {},
                            shape});
    const auto arc = [&](double r) { return ring.R_mid_mm * std::asin(std::clamp(r / ring.R_mid_mm, 0.0, 1.0)); };
    const bool sound = findings.empty();
    const double donor = kLongestDonorBite * arc(ring.wound_r_mm);
    const double rim = arc(ring.limbus_r_mm) - arc(ring.wound_r_mm);
    for (std::size_t j = 0; j < ring.bites.size() && j < kMostBites; ++j) {
        const RingBite& bite = ring.bites[j];
        const std::string pointer = below("/bites", j);
        const auto at_most = [&](const char* key, double value, double limit) {
            if (!sound || value <= limit) return;
            std::vector<std::string> values = shape;
            values.push_back(below(pointer, key));
            findings.push_back({below(pointer, key),
                                fmt::format("{}: {} is {}, expected at most {} in this ring", place_name(pointer), key,
                                            number_words(value), rounded(limit)),
                                false,
                                {},
                                std::move(values)});
        };
        at_most("graft_mm", bite.graft_mm, donor);
        at_most("host_mm", bite.host_mm, rim);
        for (std::size_t i = 0; i < j; ++i)
            if (one_place(ring.bites[i].deg, bite.deg))
                findings.push_back(
                    at_one_place("/bites", i, j, {below(below("/bites", i), "deg"), below(pointer, "deg")}));
    }
    return findings;
}

Findings rules_of(const HandRecord& hand) {
    Findings findings;
    for (std::size_t i = 1; i < hand.events.size() && findings.size() < kMostFaults; ++i) {
        if (hand.events[i].t_s >= hand.events[i - 1].t_s) continue;
        const std::string here = below(below(below("", "events"), i), "t_s");
        const std::string before = below(below(below("", "events"), i - 1), "t_s");
        findings.push_back({here,
                            fmt::format("t_s is {}, expected at least {}, the time of the event before",
                                        number_words(hand.events[i].t_s), number_words(hand.events[i - 1].t_s)),
                            false,
                            {},
                            {here, before}});
    }
    return findings;
}

}  // namespace graftwright
