#include "closure/tension_program.h"

#include <algorithm>
#include <limits>

#include <Eigen/Cholesky>

#include "closure/index.h"

namespace graftwright {
namespace {

// A limit counts as kept within this share of the largest tension without limits. Where the active limits leave less
// than that share of a limit's own flexibility, they already fix it (two grips of nought, say): no direction is left.
constexpr double kKept = 1e-13, kNoDirection = 1e-9;

}  // namespace

void TensionProgram::resize(Index n, std::size_t bite_count) {
    flexibility.resize(n, n);
    asked.resize(n);
    bites.resize(bite_count);
    inverse_.resize(n, n);
    factor_.resize(n, n);
    for (Eigen::VectorXd* vector : {&tension_, &step_, &drop_}) vector->resize(n);
    active_.reserve(static_cast<std::size_t>(n));
    multiplier_.reserve(static_cast<std::size_t>(n));
    slid_.resize(bite_count);
    slides_.resize(bite_count);
    slack_.resize(static_cast<std::size_t>(n));
}

// Numbered: the threads' T ≥ 0, then two of each bite.
TensionProgram::Limit TensionProgram::limit(std::size_t number) const {
    const auto n = static_cast<std::size_t>(tension_.size());
    if (number < n) return {Index(number), -1, 0.0};
    const SlidingBite& bite = bites[(number - n) / 2];
    if ((number - n) % 2 == 0) return {bite.from, bite.to, -bite.grip};
    return {bite.to, bite.from, -bite.grip};
}

double TensionProgram::room(const Limit& of) const {
    return tension_[of.plus] - (of.minus < 0 ? 0.0 : tension_[of.minus]) - of.bound;
}

double TensionProgram::coupling(const Limit& a, const Limit& b) const {
    const auto column = [&](Index unknown) {
        return inverse_(a.plus, unknown) - (a.minus < 0 ? 0.0 : inverse_(a.minus, unknown));
    };
    return column(b.plus) - (b.minus < 0 ? 0.0 : column(b.minus));
}

void TensionProgram::take_up(std::size_t number) {
    const Limit wanted = limit(number);
    double multiplier = 0.0;
    for (;;) {
        const auto q = std::ssize(active_);
        // How the active limits' multipliers give way, and the way left for the tensions.
        Eigen::Ref<Eigen::VectorXd> drop(drop_.head(q));
        Eigen::Ref<Eigen::MatrixXd> gram(factor_.topLeftCorner(q, q));
        for (Index i = 0; i < q; ++i) {
            const Limit a = limit(at(active_, i));
            drop[i] = coupling(a, wanted);
            for (Index j = 0; j <= i; ++j) gram(i, j) = coupling(a, limit(at(active_, j)));
        }
        const double whole = coupling(wanted, wanted);
        if (q > 0) Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>>(gram).solveInPlace(drop);
        step_ = inverse_.col(wanted.plus);
        if (wanted.minus >= 0) step_ -= inverse_.col(wanted.minus);
        for (Index i = 0; i < q; ++i) {
            const Limit a = limit(at(active_, i));
            step_ -= drop[i] * inverse_.col(a.plus);
            if (a.minus >= 0) step_ += drop[i] * inverse_.col(a.minus);
        }
        const double way = step_[wanted.plus] - (wanted.minus < 0 ? 0.0 : step_[wanted.minus]);
        const double to_limit =
            way > kNoDirection * whole ? -room(wanted) / way : std::numeric_limits<double>::infinity();
        double to_release = std::numeric_limits<double>::infinity();
        std::size_t released = 0;
        for (std::size_t i = 0; i < active_.size(); ++i) {
            const double falls = drop[Index(i)];
            if (falls > 0.0 && multiplier_[i] / falls < to_release) {
                to_release = multiplier_[i] / falls;
                released = i;
            }
        }
        const double length = std::min(to_limit, to_release);
        // Both endless: limits that contradict each other, which T = 0 rules out; for rounding only.
        if (length == std::numeric_limits<double>::infinity()) return;
        if (to_limit < std::numeric_limits<double>::infinity()) tension_ += length * step_;
        for (std::size_t i = 0; i < active_.size(); ++i) multiplier_[i] -= length * drop[Index(i)];
        multiplier += length;
        if (to_limit <= to_release) {
            active_.push_back(number);
            multiplier_.push_back(multiplier);
            return;
        }
        active_.erase(active_.begin() + static_cast<std::ptrdiff_t>(released));
        multiplier_.erase(multiplier_.begin() + static_cast<std::ptrdiff_t>(released));
    }
}

void TensionProgram::solve() {
    const Index n = asked.size();
    inverse_.setIdentity();
    factor_ = flexibility;
    Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>>(factor_).solveInPlace(inverse_);
    tension_.noalias() = inverse_ * asked;
    active_.clear();
    multiplier_.clear();
    const std::size_t limits = static_cast<std::size_t>(n) + 2 * bites.size();
    // Every limit may come and go; never reached in practice, keeps a bug from hanging.
    const std::size_t most = 20 * limits + 10;
    const double kept = -kKept * tension_.cwiseAbs().maxCoeff();
    for (std::size_t round = 0; round < most; ++round) {
        std::size_t worst = limits;
        double least = kept;
        for (std::size_t number = 0; number < limits; ++number) {
            const double here = room(limit(number));
            if (here < least && std::find(active_.begin(), active_.end(), number) == active_.end()) {
                least = here;
                worst = number;
            }
        }
        if (worst == limits) break;
        take_up(worst);
    }
    tension_ = tension_.cwiseMax(0.0);  // of what a limit counts as kept
    std::fill(slid_.begin(), slid_.end(), 0.0);
    std::fill(slides_.begin(), slides_.end(), false);
    std::fill(slack_.begin(), slack_.end(), false);
    for (std::size_t i = 0; i < active_.size(); ++i) {
        if (active_[i] < static_cast<std::size_t>(n)) {
            slack_[active_[i]] = true;
            tension_[Index(active_[i])] = 0.0;
            continue;
        }
        const std::size_t of_bites = active_[i] - static_cast<std::size_t>(n);
        slides_[of_bites / 2] = true;
        // T_to at its upper limit: thread is drawn into the span behind.
        slid_[of_bites / 2] += of_bites % 2 == 0 ? multiplier_[i] : -multiplier_[i];
    }
}

}  // namespace graftwright
