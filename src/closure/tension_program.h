// Tensions of threads whose length is given, some of them spans that slide through a bite against friction.
//
//   max over T of  Tᵀ r − ½ Tᵀ A T,   T_i ≥ 0,   |T_to − T_from| ≤ grip  at each bite between two spans
// A: flexibility, symmetric positive definite (mm/N); r: elongation asked for (mm). The multiplier at a bite is how
// much thread has slid there. Dual active-set method of Goldfarb and Idnani (Math. Program. 27 (1983) 1, from memory;
// tests hold the answer to the conditions of the maximum): starts from the maximum without limits, takes up the most
// violated one at a time, ends after finitely many. Solved again for as many threads, it allocates nothing. N, mm.
#pragma once

#include <vector>

#include <Eigen/Core>

namespace graftwright {

class TensionProgram {
  public:
    struct SlidingBite {
        Eigen::Index from = 0, to = 0;  // unknowns before and behind it
        double grip = 0.0;
    };

    // All of one size n from the next solve on; what is in them is of no meaning.
    void resize(Eigen::Index n, std::size_t bites);

    Eigen::MatrixXd flexibility;  // A, given
    Eigen::VectorXd asked;        // r, given
    std::vector<SlidingBite> bites;

    void solve();

    [[nodiscard]] const Eigen::VectorXd& tension() const { return tension_; }
    // Thread that slid through a bite from the span before into the span behind it, + or −.
    [[nodiscard]] double slid(std::size_t bite) const { return slid_[bite]; }
    [[nodiscard]] bool slides(std::size_t bite) const { return slides_[bite]; }
    [[nodiscard]] bool slack(Eigen::Index unknown) const { return slack_[static_cast<std::size_t>(unknown)]; }

  private:
    // A limit n·T ≥ b: +T_plus − T_minus ≥ −grip, minus < 0 where it is T_plus ≥ 0.
    struct Limit {
        Eigen::Index plus = 0, minus = -1;
        double bound = 0.0;
    };
    [[nodiscard]] Limit limit(std::size_t number) const;
    [[nodiscard]] double room(const Limit& of) const;
    // nᵀ A⁻¹ m of two limits.
    [[nodiscard]] double coupling(const Limit& a, const Limit& b) const;
    void take_up(std::size_t number);

    Eigen::MatrixXd inverse_, factor_;
    Eigen::VectorXd tension_, step_, drop_;
    std::vector<std::size_t> active_;
    std::vector<double> multiplier_;
    std::vector<double> slid_;
    std::vector<bool> slides_, slack_;
};

}  // namespace graftwright
