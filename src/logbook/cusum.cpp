#include "logbook/cusum.h"

#include <cmath>

#include <fmt/format.h>

#include "base/check.h"

namespace graftwright {
namespace {

// Boundary lines at or below a value on the way down from infinity: +h1 k and −h0 k, k = 1, 2, … The number
// falls by one with every line that is passed downward; a value on a line has passed it.
int lines_below(double value, const CusumConstants& c) {
    // value in [h1, 2 h1) or so has one line (+h1) below it; (−h0, h1) has none above zero.
    if (value > 0.0) return static_cast<int>(std::ceil(value / c.h1)) - 1;
    return -static_cast<int>(std::floor(-value / c.h0));
}

}  // namespace

int CusumConstants::straight_successes() const { return static_cast<int>(std::ceil(h0 / s)); }
int CusumConstants::straight_failures() const { return static_cast<int>(std::ceil(h1 / (1.0 - s))); }

CusumConstants cusum_constants(const CusumRates& rates) {
    const double p0 = rates.acceptable, p1 = rates.unacceptable;
    GRAFTWRIGHT_CHECK(0.0 < p0 && p0 < p1 && p1 < 1.0, "failure rates need 0 < p0 < p1 < 1");
    GRAFTWRIGHT_CHECK(rates.alpha > 0.0 && rates.alpha < 0.5 && rates.beta > 0.0 && rates.beta < 0.5,
                      "error rates lie between 0 and 0.5");
    CusumConstants c;
    c.P = std::log(p1 / p0);
    c.Q = std::log((1.0 - p0) / (1.0 - p1));
    c.s = c.Q / (c.P + c.Q);
    c.a = std::log((1.0 - rates.beta) / rates.alpha);
    c.b = std::log((1.0 - rates.alpha) / rates.beta);
    c.h0 = c.b / (c.P + c.Q);
    c.h1 = c.a / (c.P + c.Q);
    return c;
}

const char* standing_words(Standing standing) {
    switch (standing) {
        case Standing::no_trials:
            return "not practised yet";
        case Standing::undecided:
            return "undecided: practise on";
        case Standing::competent:
            return "competent in this model";
        case Standing::below_standard:
            return "below the standard";
    }
    return "";
}

Cusum::Cusum(const CusumRates& rates) : constants_(cusum_constants(rates)) {}

void Cusum::add(bool success) {
    const double before = value();
    const double after = before + (success ? -constants_.s : 1.0 - constants_.s);
    curve_.push_back(after);
    if (!success) ++failures_;
    const int passed = lines_below(before, constants_) - lines_below(after, constants_);
    if (standing_ == Standing::no_trials) standing_ = Standing::undecided;
    if (passed < 0) {
        lines_down_ = 0;
        // Coming back up between the lines under zero only takes the word back; above +h1 is below standard.
        standing_ = after >= constants_.h1 ? Standing::below_standard : Standing::undecided;
    } else if (passed > 0) {
        lines_down_ += passed;
        const bool first_line = before > -constants_.h0 && after <= -constants_.h0;
        if (first_line || lines_down_ >= 2) {
            standing_ = Standing::competent;
            if (!competent_at_) competent_at_ = trials();
        } else if (standing_ == Standing::below_standard) {
            standing_ = Standing::undecided;
        }
    }
}

std::string competence_words(const CusumRates& rates) {
    const CusumConstants c = cusum_constants(rates);
    return fmt::format(
        "\"Competent\" here is a word of statistics: in a CUSUM chart of simulated attempts the failures fit a "
        "rate of {:g} % better than one of {:g} % (risks {:g} and {:g}); a new chart gets there with {} successes "
        "in a row. It speaks of this model and these limits only, other rates give another verdict, and it "
        "certifies nobody: who may operate is decided by supervising surgeons.",
        100 * rates.acceptable, 100 * rates.unacceptable, rates.alpha, rates.beta, c.straight_successes());
}

}  // namespace graftwright
