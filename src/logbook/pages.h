// The two large questions, put to a database. Private to this room.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "logbook/group_summary.h"
#include "logbook/trainee_page.h"

namespace soci {
class session;
}

namespace graftwright {

// A trainee's levels by id, whatever version of a level it was.
[[nodiscard]] std::vector<LevelCount> read_levels_of(soci::session& session, const std::string& trainee);
[[nodiscard]] TraineePage read_trainee_page(soci::session& session, const std::string& trainee,
                                            const TraineePageOptions& options);
// shown: a trainee's name as the summary may say it.
[[nodiscard]] GroupSummary read_group_summary(soci::session& session, const CusumRates& rates,
                                              const std::function<std::string(const std::string&)>& shown);

}  // namespace graftwright
