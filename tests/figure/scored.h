// Shipped attempts, scored once on a coarse model: figures hang on no fine number.
#pragma once

#include <functional>
#include <map>
#include <string>

#include "../scenes/attempts.h"
#include "base/check.h"
#include "files/reader.h"
#include "score/scorecard.h"

namespace graftwright {

struct Scored {
    Scenario scenario;
    Attempt attempt;
    Scorecard card;
};

inline Scored scored_anew(const std::string& name, std::size_t bites = 64) {
    const std::string levels = GRAFTWRIGHT_SOURCE_DIR "/levels";
    Result<AttemptInScenario> read = read_attempt_file(levels + "/attempts/" + name + ".json", "", levels);
    GRAFTWRIGHT_CHECK(read.ok(), "shipped attempts can be read");
    AttemptInScenario one = read.take();
    if (one.attempt.bites.size() > bites) one.attempt.bites.resize(bites);
    Scorecard card = score_attempt(ScenarioModel(one.scenario, scenes::coarse_options()), one.attempt);
    return {one.scenario, one.attempt, std::move(card)};
}

inline const Scored& scored(const std::string& name) {
    static std::map<std::string, Scored> kept;
    const auto found = kept.find(name);
    return found != kept.end() ? found->second : kept.emplace(name, scored_anew(name)).first->second;
}

}  // namespace graftwright
