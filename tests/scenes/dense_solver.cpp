#include "dense_solver.h"

#include <cmath>

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

#include "closure/descent.h"

namespace graftwright {
namespace {

// A ring basis function: sign · (cos | sin) mθ.
struct Trig {
    int m;
    bool sine;
    double sign;
};

Trig even_basis(Eigen::Index column) {
    const int m = static_cast<int>((column + 1) / 2);
    return {m, column > 0 && column % 2 == 0, 1.0};
}
Trig odd_basis(Eigen::Index column) {
    const int m = static_cast<int>((column + 1) / 2);
    if (column == 0) return {0, false, 1.0};
    return column % 2 == 1 ? Trig{m, true, 1.0} : Trig{m, false, -1.0};
}

// Σ_j d_j a(θ_j) b(θ_j) from the sums C_q = Σ d cos qθ, S_q = Σ d sin qθ.
double product_sum(const Trig& a, const Trig& b, const Eigen::VectorXd& C, const Eigen::VectorXd& S) {
    const int low = std::abs(a.m - b.m), high = a.m + b.m;
    const double sign = 0.5 * a.sign * b.sign;
    if (a.sine == b.sine) return sign * (a.sine ? C[low] - C[high] : C[low] + C[high]);
    const int difference = a.sine ? a.m - b.m : b.m - a.m;  // sine's harmonic less the cosine's
    return sign * (S[high] + (difference >= 0 ? S[low] : -S[low]));
}

// Rows of Response::tangent and the components they couple.
struct Pair {
    int row, first, second;
};
constexpr std::array<Pair, 6> kPairs = {Pair{0, 0, 0}, Pair{1, 0, 3}, Pair{2, 3, 3},
                                        Pair{3, 1, 1}, Pair{4, 1, 2}, Pair{5, 2, 2}};

}  // namespace

DenseSolver::DenseSolver(const ClosureSystem& system, const WoundInterface& interface, const SolveOptions& options)
    : interface_(&interface), threads_(system, interface), options_(options), harmonics_(system.model().harmonics()) {
    const Eigen::Index orders = 2 * harmonics_ + 1;
    cosines_.resize(interface.points(), orders);
    sines_.resize(interface.points(), orders);
    for (int point = 0; point < interface.points(); ++point) {
        for (int q = 0; q < orders; ++q) {
            // The angle reduced exactly, so that symmetric attempts stay symmetric to the last bit.
            const double turns = static_cast<double>((q * point) % interface.points()) / interface.points();
            const double angle = 2.0 * kPi * turns;
            cosines_(point, q) = std::cos(angle);
            sines_(point, q) = std::sin(angle);
        }
    }
    const Eigen::Index unknowns = 2 * kRingUnknowns * system.model().columns();
    tangent_.resize(unknowns, unknowns);
}

void DenseSolver::evaluate(const ReducedSystem& reduced, const std::vector<Knot>& knots, const FibreState& fibres,
                           const RingMatrix& edges, Evaluation& out) {
    const Eigen::Index columns = edges.cols() / 2;
    interface_->respond(interface_->at_points(edges.leftCols(columns)), fibres, true, contact_);
    out.threads = threads_.respond(reduced, knots, edges);
    const RingMatrix contact_force = interface_->to_harmonics(contact_.force);
    out.gradient.resize(kRingUnknowns, edges.cols());
    reduced.stretch(edges, out.gradient);
    out.energy = 0.5 * out.gradient.cwiseProduct(edges).sum() - reduced.pressure_force.cwiseProduct(edges).sum() +
                 contact_.energy + out.threads.energy;
    out.gradient -= reduced.pressure_force;
    out.gradient.leftCols(columns) -= contact_force;
    out.load_norm = reduced.pressure_force.norm() + contact_force.norm();
    for (std::size_t b = 0; b < threads_.size(); ++b) {
        const double tension = out.threads.tension[static_cast<Eigen::Index>(b)];
        if (tension == 0.0) continue;
        out.gradient += tension * threads_.elongation_gradient(reduced, out.threads, b);
        out.load_norm += tension * reduced.loop_force.col(static_cast<Eigen::Index>(b)).norm();
    }
    for (std::size_t c = 0; c < threads_.crossings().size(); ++c) {
        out.load_norm += out.threads.pull[static_cast<Eigen::Index>(c)] * out.threads.by_end[c].norm() *
                         threads_.crossings()[c].host.even.norm();
    }
}

void DenseSolver::add_contact() {
    const Eigen::MatrixXd c_sums = interface_->arc() * contact_.tangent * cosines_;
    const Eigen::MatrixXd s_sums = interface_->arc() * contact_.tangent * sines_;
    const Eigen::Index columns = tangent_.cols() / kRingUnknowns / 2;  // the jumps'
    for (const Pair& pair : kPairs) {
        if (contact_.tangent.row(pair.row).cwiseAbs().maxCoeff() == 0.0) continue;
        const Eigen::VectorXd C = c_sums.row(pair.row), S = s_sums.row(pair.row);
        for (Eigen::Index b = 0; b < columns; ++b) {
            const Trig second = pair.second == 1 ? odd_basis(b) : even_basis(b);
            // Only the lower triangle is kept; a mixed pair fills both of its halves.
            for (Eigen::Index a = 0; a < columns; ++a) {
                const Eigen::Index i = kRingUnknowns * a + pair.first, j = kRingUnknowns * b + pair.second;
                if (pair.first == pair.second && i < j) continue;
                const Trig first = pair.first == 1 ? odd_basis(a) : even_basis(a);
                const double entry = product_sum(first, second, C, S);
                if (i >= j) {
                    tangent_(i, j) += entry;
                } else {
                    tangent_(j, i) += entry;
                }
            }
        }
    }
}

void DenseSolver::add_threads(const ReducedSystem& reduced, const std::vector<Knot>& knots, const ThreadResponse& at) {
    const Eigen::Index unknowns = tangent_.rows();
    const std::size_t crossings = threads_.crossings().size();
    const Eigen::Index count = at.unknowns;
    Eigen::MatrixXd gradients(unknowns, count + 8 * static_cast<Eigen::Index>(crossings));
    if (count > 0) {
        // Threads that slide together are one unknown: rows of 1 sum them up.
        Eigen::MatrixXd sums = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(knots.size()), count);
        Eigen::VectorXd spring = Eigen::VectorXd::Zero(sums.rows());
        gradients.leftCols(count).setZero();
        for (std::size_t b = 0; b < knots.size(); ++b) {
            const Eigen::Index k = at.unknown[b];
            if (k < 0) continue;
            sums(static_cast<Eigen::Index>(b), k) = 1.0;
            spring[static_cast<Eigen::Index>(b)] = 1.0 / knots[b].stiffness;
            gradients.col(k) += Eigen::VectorXd(threads_.elongation_gradient(reduced, at, b).reshaped());
        }
        Eigen::MatrixXd of_all = reduced.loop_compliance;
        of_all.diagonal() += spring;
        const Eigen::MatrixXd flexibility = sums.transpose() * of_all * sums;
        // Columns L⁻¹ of the loops, so that the sum of squares is G A⁻¹ Gᵀ.
        const Eigen::LLT<Eigen::MatrixXd> factor(flexibility);
        const Eigen::MatrixXd scaled = factor.matrixL().solve(gradients.leftCols(count).transpose()).transpose();
        gradients.leftCols(count) = scaled;
    }
    // Curvature of the crossing strands as squares of rows, one for each way in which their ends are held.
    Eigen::Index next = count;
    for (std::size_t c = 0; c < crossings; ++c) {
        const double tension = at.pull[static_cast<Eigen::Index>(c)];
        if (tension <= 0.0) continue;
        const Crossing& crossing = threads_.crossings()[c];
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 8, 8>> ways(crossing.curvature(at.ends[c]));
        for (Eigen::Index way = 0; way < 8; ++way) {
            const double stiffness = tension * ways.eigenvalues()[way];
            if (stiffness <= 0.0) continue;
            RingMatrix row = RingMatrix::Zero(kRingUnknowns, unknowns / kRingUnknowns);
            crossing.add_to_edges(std::sqrt(stiffness) * ways.eigenvectors().col(way), row);
            gradients.col(next++) = row.reshaped();
        }
    }
    if (next > 0) tangent_.selfadjointView<Eigen::Lower>().rankUpdate(gradients.leftCols(next));
}

void DenseSolver::assemble(const ReducedSystem& reduced, const std::vector<Knot>& knots, const Evaluation& at) {
    tangent_.setZero();
    const Eigen::Index columns = tangent_.cols() / kRingUnknowns / 2;
    for (Eigen::Index column = 0; column < columns; ++column) {
        const auto m = static_cast<std::size_t>((column + 1) / 2);
        const Eigen::Index jump = 4 * column, donor = 4 * (columns + column);
        tangent_.block<4, 4>(jump, jump) = reduced.host[m];
        if (m < reduced.foundation.size()) tangent_.block<4, 4>(jump, jump) += reduced.foundation[m];
        tangent_.block<4, 4>(donor, jump) = reduced.host[m];
        tangent_.block<4, 4>(donor, donor) = reduced.donor[m] + reduced.host[m];
    }
    add_contact();
    add_threads(reduced, knots, at.threads);
}

SolveSummary DenseSolver::minimise(const ReducedSystem& reduced, const std::vector<Knot>& knots,
                                   const FibreState& fibres, RingMatrix& edges) {
    DescentWork<Evaluation> work;
    return descend(
        options_, edges, work,
        [&](const RingMatrix& at, Evaluation& out) { evaluate(reduced, knots, fibres, at, out); },
        [&](const Evaluation& at, RingMatrix& step, SolveSummary&) {
            assemble(reduced, knots, at);
            const Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>> factor(tangent_);
            if (factor.info() != Eigen::Success) return false;
            step.reshaped() = factor.solve(Eigen::VectorXd(-at.gradient.reshaped()));
            return true;
        });
}

}  // namespace graftwright
