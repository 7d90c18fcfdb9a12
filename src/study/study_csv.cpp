#include "study/study_csv.h"

#include <fmt/format.h>

#include "base/csv.h"

namespace graftwright {
namespace {

const char* const kShortCaution =
    "Training only: not a medical device; simulated hands and a model eye; never serves to choose a suture in a person";

std::string number(const std::optional<double>& value) { return value ? fmt::format("{:.6g}", *value) : ""; }

}  // namespace

std::string study_csv_header() {
    return "scenario,hand,seed,trial,bites,cylinder_D,steep_axis_deg,mean_D,flattening_D,leak_pressure_mmHg,"
           "max_posterior_gape_um,max_step_um,total,optics,seal,apposition,technique,passed,worst_bite,worst_share_D,"
           "verdict,caution\r\n";
}

std::string study_csv_row(const std::string& scenario, const StudyOptions& options, const Trial& trial) {
    std::string row = fmt::format("{},{},{},{},{}", csv_field(scenario), csv_field(std::string(options.skill.name)),
                                  options.seed, trial.number, trial.bites);
    for (const std::optional<double>& value :
         {trial.cylinder_D, trial.steep_axis_deg, trial.mean_D, trial.flattening_D, trial.leak_pressure_mmHg,
          trial.posterior_gape_um, trial.step_um, trial.total, trial.optics, trial.seal, trial.apposition,
          trial.technique})
        row += "," + number(value);
    row += fmt::format(",{},{},{},{},{}\r\n", trial.passed ? "true" : "false",
                       trial.worst_bite ? std::to_string(*trial.worst_bite + 1) : "", number(trial.worst_share_D),
                       csv_field(trial.verdict), csv_field(kShortCaution));
    return row;
}

}  // namespace graftwright
