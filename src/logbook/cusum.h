// The learning-curve CUSUM: does a row of successes and failures still fit an acceptable failure rate?
//
// With acceptable and unacceptable failure rates p0 < p1 and error rates alpha, beta:
//   P = ln(p1/p0), Q = ln((1−p0)/(1−p1)), s = Q/(P+Q), a = ln((1−beta)/alpha), b = ln((1−alpha)/beta),
//   h0 = b/(P+Q), h1 = a/(P+Q);
// each success takes s off the chart, each failure adds 1 − s (figures T8-07; worked numbers T8-08).
// Boundary lines stand at −h0, −2 h0, … and at +h1, +2 h1, …
//
// "Competent" (T8-11): the chart crosses −h0 from above, or any two consecutive boundary lines downward with
// none crossed upward between. It then fits p0 better than p1, at these error rates, for trials that are
// independent and alike. It is a statement about a row of simulated trials and certifies nobody; the choice
// of p0 and p1 decides much of it (T8-10). A line crossed upward after that takes the word back.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace graftwright {

struct CusumRates {
    double acceptable = 0.10;    // p0; 10 % and 20 % are in use for a manual skill (T8-09, T8-10)
    double unacceptable = 0.20;  // p1
    double alpha = 0.1;          // risk of calling an acceptable hand unacceptable
    double beta = 0.1;           // risk of calling an unacceptable hand acceptable
};

struct CusumConstants {
    double P = 0, Q = 0, s = 0, a = 0, b = 0, h0 = 0, h1 = 0;
    // Successes in a row that bring a new chart across −h0.
    [[nodiscard]] int straight_successes() const;
    // Failures in a row that bring a new chart across +h1.
    [[nodiscard]] int straight_failures() const;
};

// Needs 0 < acceptable < unacceptable < 1 and alpha, beta in (0, 0.5).
[[nodiscard]] CusumConstants cusum_constants(const CusumRates& rates);

enum class Standing {
    no_trials,
    undecided,       // between the lines: practise on
    competent,       // by the definition above, and no line crossed upward since
    below_standard,  // a line was crossed upward last: the failures fit p1 better than p0
};
[[nodiscard]] const char* standing_words(Standing standing);

class Cusum {
  public:
    explicit Cusum(const CusumRates& rates);

    void add(bool success);

    [[nodiscard]] const CusumConstants& constants() const { return constants_; }
    [[nodiscard]] const std::vector<double>& curve() const { return curve_; }  // after each trial
    [[nodiscard]] double value() const { return curve_.empty() ? 0.0 : curve_.back(); }
    [[nodiscard]] std::size_t trials() const { return curve_.size(); }
    [[nodiscard]] std::size_t failures() const { return failures_; }
    [[nodiscard]] Standing standing() const { return standing_; }
    // The trial (from 1) at which "competent" was reached first, whatever came later.
    [[nodiscard]] std::optional<std::size_t> competent_at() const { return competent_at_; }

  private:
    CusumConstants constants_;
    std::vector<double> curve_;
    std::size_t failures_ = 0;
    int lines_down_ = 0;  // boundary lines crossed downward since the last one crossed upward
    Standing standing_ = Standing::no_trials;
    std::optional<std::size_t> competent_at_;
};

// What "competent" means here, for every page that says the word.
[[nodiscard]] std::string competence_words(const CusumRates& rates);

}  // namespace graftwright
