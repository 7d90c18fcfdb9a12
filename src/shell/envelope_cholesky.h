// Symmetric positive definite matrices whose rows begin late, and their Cholesky factor: six at a time.
//
// All matrices of one shape are worked side by side, one in each lane of every entry: the chamber pressures of one
// harmonic, or several harmonics of one side. A lane's arithmetic is what it would be alone. Only the lower
// triangle from each row's first entry on is stored (the envelope, which factoring does not leave).
// The last `left_standing` unknowns are not eliminated: with those before them eliminated,
//   K = (L 0; C I) (I 0; 0 S) (L 0; C I)ᵀ,  S the Schur complement;  forward substitution of (f, g) gives
//   (L⁻¹ f, g − C L⁻¹ f): half of the answer and the load that is left for S.
// Cost n·b²/2 to factor and n·b a right-hand side and lane. A lane whose matrix is not positive definite is reported,
// never divided by: its numbers mean nothing from there on, the other lanes' are what they are alone.
#pragma once

#include <memory>
#include <vector>

#include <Eigen/Core>

namespace graftwright {

inline constexpr int kLanes = 6;  // three SSE registers, and room for the five pressures of a wound model
using Lanes = Eigen::Array<double, kLanes, 1>;
// Two columns side by side: a column of this holds one unknown, the first column's lanes, then the second's.
using LanePairs = Eigen::Array<double, 2 * kLanes, Eigen::Dynamic>;

// Where each row's entries begin, and where they are kept.
struct Envelope {
    explicit Envelope(std::vector<int> first_columns);
    // Rows of one width: j >= i - bandwidth.
    Envelope(int size, int bandwidth);

    [[nodiscard]] int size() const { return static_cast<int>(first.size()); }

    std::vector<int> first;
    std::vector<std::ptrdiff_t> row;  // entry (i, j) is number row[i] + j
    std::size_t count = 0;
};

class EnvelopeMatrix {
  public:
    explicit EnvelopeMatrix(std::shared_ptr<const Envelope> envelope)
        : envelope_(std::move(envelope)), values_(envelope_->count, Lanes::Zero()) {}

    [[nodiscard]] int size() const { return envelope_->size(); }
    // Entry of the lower triangle, first column of the row <= j <= i.
    [[nodiscard]] Lanes& at(int i, int j) { return values_[index(i, j)]; }
    [[nodiscard]] const Lanes& at(int i, int j) const { return values_[index(i, j)]; }
    [[nodiscard]] Eigen::MatrixXd dense(int lane) const;

  private:
    friend class EnvelopeCholesky;
    [[nodiscard]] std::size_t index(int i, int j) const {
        return static_cast<std::size_t>(envelope_->row[static_cast<std::size_t>(i)] + j);
    }
    [[nodiscard]] int first(int i) const { return envelope_->first[static_cast<std::size_t>(i)]; }

    std::shared_ptr<const Envelope> envelope_;
    std::vector<Lanes> values_;
};

class EnvelopeCholesky {
  public:
    explicit EnvelopeCholesky(EnvelopeMatrix matrix, int left_standing = 0);
    // False where a pivot of this lane, of any, was not positive (those of the unknowns left standing are not looked
    // at).
    [[nodiscard]] bool ok(int lane) const { return ok_[lane]; }
    [[nodiscard]] bool ok() const { return ok_.all(); }
    [[nodiscard]] int size() const { return factor_.size(); }
    // S of one lane.
    [[nodiscard]] Eigen::MatrixXd complement(int lane) const;
    // In place. `x` holds the unknowns from `begin` on, those before it being zero.
    void forward(LanePairs& x, int begin = 0) const;
    // The other half, in place: from (y, q) to (L⁻ᵀ (y − Cᵀ q), q). `x` holds all unknowns.
    void backward(LanePairs& x) const;

  private:
    EnvelopeMatrix factor_;  // reciprocals on the diagonal, S in the last rows
    int eliminated_ = 0;
    Eigen::Array<bool, kLanes, 1> ok_;
};

}  // namespace graftwright
