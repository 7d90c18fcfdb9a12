// Directions that surgeons have published: which way the cornea goes, without a figure.
//
// `ours` is positive where the model goes the source's way. Tensions prescribed at 15 mmHg unless said, so
// that no tying order comes into it: 16 bites at 15 mN, the pair at 90° and 270° at 30 mN.
#pragma once

#include "published_rows.h"
#include "running_rows.h"

namespace graftwright::published {

[[nodiscard]] inline double second_bite_against_last(const Scenario& scenario, const ScenarioModel& model) {
    constexpr double kSlip_deg = 5.0;  // on the host side alone
    const auto cylinder = [&](std::size_t which) {
        std::vector<Bite> bites = scenes::even_bites(scenario, 16);
        bites[which].host_deg += kSlip_deg;
        return scenes::tied(model, bites).keratometry->cylinder_D;
    };
    return cylinder(1) - cylinder(15);
}

// Mean tangential power over the donor's part of the suture (D): ∫Km dρ = [ρ Ka].
[[nodiscard]] inline double power_over_suture(const AnteriorSurface& front, double deg) {
    constexpr double kEntry = 2.9, kNearWound = 3.7;  // mm from the axis
    const double angle = rad_from_deg(deg);
    return (kNearWound * axial_power_D(front, kNearWound, angle) - kEntry * axial_power_D(front, kEntry, angle)) /
           (kNearWound - kEntry);
}

[[nodiscard]] inline Rows sign_rows() {
    const Scenario scenario = scenes::standard_scenario();
    const ScenarioModel model(scenario);
    const auto solved = [&](const std::vector<Bite>& bites) { return scenes::prescribed(model, bites, 15.0); };
    const auto with_pair = [&](double factor, const scenes::EvenBite& even = {}) {
        std::vector<Bite> bites = scenes::even_bites(scenario, 16, even);
        for (const double at : {90.0, 270.0}) scenes::nearest(bites, at).tension_mN *= factor;
        return solved(bites);
    };
    const auto even = solved(scenes::even_bites(scenario, 16));
    const auto tight = with_pair(2.0), loose = with_pair(0.5);
    const auto central = [](const scenes::PrescribedClosure& closure, double deg) {
        return closure.keratometry.power.along_D(deg);
    };
    const auto shallow = solved(scenes::even_bites(scenario, 16, {15.0, 0.5, 1.1}));
    const auto tied_all = scenes::tied(model, scenes::even_bites(scenario, 16));
    std::vector<Bite> half_removed = scenes::even_bites(scenario, 16);
    for (std::size_t b = 8; b < 16; ++b) half_removed[b].removed = true;
    const double longer = with_pair(2.0, {15.0, 0.92, 1.25}).keratometry.cylinder_D -
                          with_pair(2.0, {15.0, 0.92, 0.75}).keratometry.cylinder_D;

    const char* const rowsey = "Rowsey, Ophthalmology 1983;90(2), ten caveats";
    const char* const van_rij = "van Rij & Waring, Am J Ophthalmol 1984;98:773";
    const auto direction = [](const char* id, const char* what, const char* unit, double ours, const char* source,
                              const char* note = "") {
        return PublishedRow{id, what, unit, std::nullopt, 0.0, ours, true, source, note};
    };
    return {
        direction("T3-16", "tightening steepens its own meridian", "D", central(tight, 90) - central(even, 90),
                  "Eye 1993 doi:10.1038/eye.1993.144: tighten in the flat meridian"),
        direction("T3-37", "opening a bite flattens its meridian", "D", central(even, 90) - central(loose, 90),
                  "AAO BCSC: sutures in the steep meridian are removed", "half the tension stands for opening"),
        direction("T4-01/4", "flatter directly over the suture", "D",
                  power_over_suture(even.front, 90) - power_over_suture(tight.front, 90), rowsey,
                  "mean over the donor's part of the suture"),
        direction("T4-01/5", "loose: steeper 90° away", "D", central(loose, 0) - central(even, 0), rowsey),
        direction("T4-01/6a", "tight: steeper centrally on its meridian", "D", central(tight, 90) - central(even, 90),
                  rowsey),
        direction("T4-01/6b", "tight: flatter 90° away", "D", central(even, 0) - central(tight, 0), rowsey),
        direction("T4-02/a", "the ring is smaller on the tight meridian", "µm",
                  um_from_mm(even.host_edge_u_at(90) - tight.host_edge_u_at(90)), van_rij,
                  "theirs at the limbus, ours at the bed's edge"),
        direction("T4-02/b", "the ring is larger across it", "µm",
                  um_from_mm(tight.host_edge_u_at(0) - even.host_edge_u_at(0)), van_rij,
                  "theirs at the limbus, ours at the bed's edge"),
        direction("T3-13", "taking sutures out (8 of 16) steepens the graft", "D",
                  scenes::tied(model, half_removed).keratometry->mean_D - tied_all.keratometry->mean_D,
                  "Mathers et al., Cornea 1991;10:221", "Cornea 1999;18:638 found the other sign: not universal"),
        direction("T3-34", "shallow bites open the wound at the back", "mrad",
                  1e3 * (even.mean_bs_rad() - shallow.mean_bs_rad()), "May et al., Cornea 2013;32:319; AAO BCSC",
                  "half depth against 0.92"),
        direction("T4-04", "longer bites do more at equal tension", "D", longer, "Hamill, Focal Points 1992 (AAO)",
                  "cylinder of a tight pair, 1.25 against 0.75 mm"),
        direction("T3-35", "the second bite's slip costs most", "D", second_bite_against_last(scenario, model),
                  "AAO BCSC", "5° on the host side: second bite against last, tied in order"),
    };
}

[[nodiscard]] inline Rows all_rows() {
    Rows all;
    for (const Rows& rows : {leak_rows(), donor_size_rows(), membrane_rows(), hand_rows(), sign_rows(), running_rows()}) {
        all.insert(all.end(), rows.begin(), rows.end());
    }
    return all;
}

}  // namespace graftwright::published
