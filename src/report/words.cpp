#include "report/words.h"

#include <fmt/format.h>

#include "closure/wound_model.h"

namespace graftwright {

std::string program_and_model(const Case& what) {
    const WoundModelOptions model;
    return fmt::format(
        "Graftwright {}; model: linear elastic shells of revolution, {} harmonics, contact at {} places around the "
        "wound, threads as locked loops tied in order{}",
        GRAFTWRIGHT_VERSION, model.harmonics, model.points,
        what.attempt.runs.empty() ? "" : "; running threads slide against friction");
}

std::string subject_of(const Case& what) {
    const std::string& title = what.scenario.title.empty() ? what.scenario.id : what.scenario.title;
    std::string subject = "Lanternmoor Teaching Clinic (invented) — " + title;
    if (!what.attempt.trainee.empty()) subject += " — " + what.attempt.trainee;
    return subject + fmt::format(" — Graftwright {}", GRAFTWRIGHT_VERSION);
}

const char* word_of(Whose whose) { return whose == Whose::attempt ? "attempt" : "ideal twin"; }

Picture empty_panel(std::string name, std::string title, const std::string& reason) {
    Picture picture = panel(std::move(name), std::move(title), reason);
    picture.canvas.rectangle({10, 50}, picture.width - 20, picture.height - 70, kPanel, {kFaintInk, 1.0, "4 4"});
    picture.canvas.paragraph({28, 190}, reason, picture.width - 56,
                             {15.0, Lettering::Anchor::start, false, kInk, false}, 21.0);
    return picture;
}

std::string why_nothing(const Case& what, Whose whose) {
    if (!what.card.converged()) return "No closure, so nothing to show: " + what.card.reason() + ".";
    if (whose == Whose::ideal) return "The ideal twin of this attempt found no balance.";
    return "";
}

}  // namespace graftwright
