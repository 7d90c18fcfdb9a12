// Tensions of threads whose length is given, of single bites alone and with running threads among them.
#include <algorithm>

#include <Eigen/Cholesky>

#include "closure/knots.h"

namespace graftwright {
namespace {

// max over T ≥ 0 of Tᵀ r − ½ Tᵀ A T, A symmetric positive definite (work.flexibility, work.right): Lawson–Hanson's
// active set on the normal equations. Ends after finitely many exchanges; 3n + 10 rounds are never reached in
// practice and keep a bug from hanging. Into work.locked_tension.
void find_nonnegative_tensions(ThreadResponse::Work& work) {
    const auto n = static_cast<Eigen::Index>(work.locked.size());
    const Eigen::Ref<const Eigen::VectorXd> r(work.right.head(n));
    Eigen::Ref<Eigen::VectorXd> tension(work.locked_tension.head(n));
    tension.setZero();
    work.pulls.assign(static_cast<std::size_t>(n), true);
    const double tiny = 1e-14 * r.cwiseAbs().maxCoeff();
    for (Eigen::Index round = 0; round < 3 * n + 10; ++round) {
        work.active.clear();
        for (Eigen::Index i = 0; i < n; ++i) {
            if (work.pulls[static_cast<std::size_t>(i)]) work.active.push_back(i);
        }
        const auto count = static_cast<Eigen::Index>(work.active.size());
        Eigen::Ref<Eigen::MatrixXd> matrix(work.factor.topLeftCorner(count, count));
        Eigen::Ref<Eigen::VectorXd> trial(work.trial.head(count));
        for (Eigen::Index k = 0; k < count; ++k) {
            const Eigen::Index i = work.active[static_cast<std::size_t>(k)];
            trial[k] = r[i];
            for (Eigen::Index l = 0; l <= k; ++l) {
                matrix(k, l) = work.flexibility(i, work.active[static_cast<std::size_t>(l)]);
            }
        }
        Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>>(matrix).solveInPlace(trial);
        bool exchanged = false;
        for (Eigen::Index k = 0; k < count; ++k) {
            if (trial[k] < 0.0) {
                work.pulls[static_cast<std::size_t>(work.active[static_cast<std::size_t>(k)])] = false;
                exchanged = true;
            }
        }
        if (exchanged) continue;
        tension.setZero();
        for (Eigen::Index k = 0; k < count; ++k) tension[work.active[static_cast<std::size_t>(k)]] = trial[k];
        // The slack thread that most wants to pull comes back, one at a time.
        Eigen::Index wanted = -1;
        double most = tiny;
        for (Eigen::Index i = 0; i < n; ++i) {
            if (work.pulls[static_cast<std::size_t>(i)]) continue;
            const double want = r[i] - work.flexibility.col(i).head(n).dot(tension);
            if (want > most) {
                most = want;
                wanted = i;
            }
        }
        if (wanted < 0) return;
        work.pulls[static_cast<std::size_t>(wanted)] = true;
    }
}

}  // namespace

void Threads::find_locked_tensions(ThreadResponse& out) {
    ThreadResponse::Work& work = out.work;
    find_nonnegative_tensions(work);
    for (std::size_t k = 0; k < work.locked.size(); ++k) {
        if (work.locked_tension[static_cast<Eigen::Index>(k)] > 0.0)
            out.unknown[static_cast<std::size_t>(work.locked[k])] = out.unknowns++;
    }
}

// Unknowns of the program: a single bite or a span each, but one for all spans of a run without friction.
void Threads::find_spans_tensions(const std::vector<Knot>& knots, ThreadResponse& out) const {
    ThreadResponse::Work& work = out.work;
    std::vector<Eigen::Index>& of_thread = work.merged;
    of_thread.assign(size_, -1);
    const auto rubs = [&](const RunOfSpans& run) { return run.rubs() && knots[run.first].hold == Hold::locked; };
    Eigen::Index n = 0;
    for (const Eigen::Index b : work.locked) {
        const auto thread = static_cast<std::size_t>(b);
        const auto run = std::find_if(runs_.begin(), runs_.end(), [&](const RunOfSpans& one) {
            return thread >= one.first && thread < one.first + one.count;
        });
        const bool joined = run != runs_.end() && run->friction == 0.0 && thread > run->first;
        of_thread[thread] = joined ? of_thread[run->first] : n++;
    }
    std::size_t sliding = 0;
    for (const RunOfSpans& run : runs_) sliding += rubs(run) ? run.count : 0;
    TensionProgram& program = work.program;
    program.resize(n, sliding);
    program.flexibility.setZero();
    program.asked.setZero();
    const auto locked = static_cast<Eigen::Index>(work.locked.size());
    const auto unknown = [&](Eigen::Index k) {
        return of_thread[static_cast<std::size_t>(work.locked[static_cast<std::size_t>(k)])];
    };
    for (Eigen::Index k = 0; k < locked; ++k) {
        program.asked[unknown(k)] += work.right[k];
        for (Eigen::Index l = 0; l < locked; ++l) program.flexibility(unknown(k), unknown(l)) += work.flexibility(k, l);
    }
    sliding = 0;
    for (const RunOfSpans& run : runs_) {
        if (!rubs(run)) continue;
        for (std::size_t k = 0; k < run.count; ++k)
            program.bites[sliding++] = {of_thread[run.before(k)], of_thread[run.span(k)], knots[run.span(k)].grip};
    }
    program.solve();

    // Unknowns that slide together move as one; slack ones, and all that hang on them, do not move.
    std::vector<Eigen::Index>& leader = work.joined;
    leader.resize(static_cast<std::size_t>(n));
    for (Eigen::Index u = 0; u < n; ++u) leader[static_cast<std::size_t>(u)] = u;
    const auto join = [&](Eigen::Index a, Eigen::Index b) {
        const Eigen::Index low = std::min(leader[static_cast<std::size_t>(a)], leader[static_cast<std::size_t>(b)]);
        const Eigen::Index high = std::max(leader[static_cast<std::size_t>(a)], leader[static_cast<std::size_t>(b)]);
        for (Eigen::Index& one : leader)
            if (one == high) one = low;
    };
    for (std::size_t i = 0; i < program.bites.size(); ++i)
        if (program.slides(i)) join(program.bites[i].from, program.bites[i].to);
    for (Eigen::Index u = 0; u < n; ++u) {
        if (!program.slack(u) && program.tension()[u] > 0.0) continue;
        const Eigen::Index stuck = leader[static_cast<std::size_t>(u)];
        for (Eigen::Index& one : leader)
            if (one == stuck) one = -1;
    }
    work.active.assign(static_cast<std::size_t>(n), -1);  // unknowns of the response, by leader
    for (Eigen::Index k = 0; k < locked; ++k) {
        const Eigen::Index u = unknown(k);
        work.locked_tension[k] = std::max(0.0, program.tension()[u]);
        const Eigen::Index led_by = leader[static_cast<std::size_t>(u)];
        if (led_by < 0) continue;
        Eigen::Index& number = work.active[static_cast<std::size_t>(led_by)];
        if (number < 0) number = out.unknowns++;
        out.unknown[static_cast<std::size_t>(work.locked[static_cast<std::size_t>(k)])] = number;
    }
    sliding = 0;
    for (const RunOfSpans& run : runs_) {
        if (!rubs(run)) continue;
        for (std::size_t k = 0; k < run.count; ++k) out.slid[run.span(k)] = program.slid(sliding++);
    }
}

}  // namespace graftwright
