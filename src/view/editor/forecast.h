// The predicted best closure of a level in the making, in a table beside what the level asks for.
#pragma once

#include <memory>
#include <string>

#include "game/forecaster.h"
#include "view/kit/ui.h"

namespace graftwright {

struct ForecastNews {
    std::shared_ptr<const Forecast> forecast;  // null: none yet
    bool current = false;                      // it is of the form as it now stands
    bool sound = true;                         // the form has no faults
};

// Dimmed, and said so, where the form has moved on since.
void draw_level_forecast(Ui& ui, const ForecastNews& news);

// The sentence on top: what the figures below are of.
[[nodiscard]] std::string forecast_state(const ForecastNews& news);
// The warnings and verdicts below the table, those that warn first.
struct ForecastLine {
    std::string words;
    bool warns = false;
};
[[nodiscard]] std::vector<ForecastLine> forecast_lines(const Forecast& forecast);

}  // namespace graftwright
