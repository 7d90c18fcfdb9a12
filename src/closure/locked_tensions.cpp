// Tensions of threads whose length is given, of single bites alone and with running threads among them.
#include <algorithm>

#include <Eigen/Cholesky>

#include "closure/index.h"
#include "closure/knots.h"

namespace graftwright {
namespace {

// max over T ≥ 0 of Tᵀ r − ½ Tᵀ A T, A symmetric positive definite (work.flexibility, work.right): Lawson–Hanson's
// active set on the normal equations. Ends after finitely many exchanges; 3n + 10 rounds are never reached in
// practice and keep a bug from hanging. Into work.locked_tension.
void find_nonnegative_tensions(ThreadResponse::Work& work) {
    const auto n = std::ssize(work.locked);
    const Eigen::Ref<const Eigen::VectorXd> r(work.right.head(n));
    Eigen::Ref<Eigen::VectorXd> tension(work.locked_tension.head(n));
    tension.setZero();
    work.pulls.assign(static_cast<std::size_t>(n), true);
    const double tiny = 1e-14 * r.cwiseAbs().maxCoeff();
    for (Index round = 0; round < 3 * n + 10; ++round) {
        work.active.clear();
        for (Index i = 0; i < n; ++i) {
            if (at(work.pulls, i)) work.active.push_back(i);
        }
        const auto count = std::ssize(work.active);
        Eigen::Ref<Eigen::MatrixXd> matrix(work.factor.topLeftCorner(count, count));
        Eigen::Ref<Eigen::VectorXd> trial(work.trial.head(count));
        for (Index k = 0; k < count; ++k) {
            const Index i = at(work.active, k);
            trial[k] = r[i];
            for (Index l = 0; l <= k; ++l) {
                matrix(k, l) = work.flexibility(i, at(work.active, l));
            }
        }
        Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>>(matrix).solveInPlace(trial);
        bool exchanged = false;
        for (Index k = 0; k < count; ++k) {
            if (trial[k] < 0.0) {
                at(work.pulls, at(work.active, k)) = false;
                exchanged = true;
            }
        }
        if (exchanged) continue;
        tension.setZero();
        for (Index k = 0; k < count; ++k) tension[at(work.active, k)] = trial[k];
        // The slack thread that most wants to pull comes back, one at a time.
        Index wanted = -1;
        double most = tiny;
        for (Index i = 0; i < n; ++i) {
            if (at(work.pulls, i)) continue;
            const double want = r[i] - work.flexibility.col(i).head(n).dot(tension);
            if (want > most) {
                most = want;
                wanted = i;
            }
        }
        if (wanted < 0) return;
        at(work.pulls, wanted) = true;
    }
}

// Which unknown of the program each locked thread is, into work.merged (−1: not locked): a single bite or a span each,
// but one for all spans of a run without friction. Returns how many there are.
Index number_unknowns(const std::vector<RunOfSpans>& runs, std::size_t threads, ThreadResponse::Work& work) {
    std::vector<Index>& of_thread = work.merged;
    of_thread.assign(threads, -1);
    Index n = 0;
    for (const Index b : work.locked) {
        const auto thread = static_cast<std::size_t>(b);
        const auto run = std::find_if(runs.begin(), runs.end(), [&](const RunOfSpans& one) {
            return thread >= one.first && thread < one.first + one.count;
        });
        const bool joined = run != runs.end() && run->friction == 0.0 && thread > run->first;
        of_thread[thread] = joined ? of_thread[run->first] : n++;
    }
    return n;
}

// Unknowns that slide together move as one, with the lowest of them; slack ones, and all that hang on them, do not
// move (−1).
void find_leaders(const TensionProgram& program, Index unknowns, std::vector<Index>& leader) {
    leader.resize(static_cast<std::size_t>(unknowns));
    for (Index u = 0; u < unknowns; ++u) at(leader, u) = u;
    const auto join = [&](Index a, Index b) {
        const Index low = std::min(at(leader, a), at(leader, b));
        const Index high = std::max(at(leader, a), at(leader, b));
        for (Index& one : leader)
            if (one == high) one = low;
    };
    for (std::size_t i = 0; i < program.bites.size(); ++i)
        if (program.slides(i)) join(program.bites[i].from, program.bites[i].to);
    for (Index u = 0; u < unknowns; ++u) {
        if (!program.slack(u) && program.tension()[u] > 0.0) continue;
        const Index stuck = at(leader, u);
        for (Index& one : leader)
            if (one == stuck) one = -1;
    }
}

}  // namespace

void Threads::find_locked_tensions(ThreadResponse& out) {
    ThreadResponse::Work& work = out.work;
    find_nonnegative_tensions(work);
    for (Index k = 0; k < std::ssize(work.locked); ++k)
        if (work.locked_tension[k] > 0.0) at(out.unknown, at(work.locked, k)) = out.unknowns++;
}

void Threads::find_spans_tensions(const std::vector<Knot>& knots, ThreadResponse& out) const {
    ThreadResponse::Work& work = out.work;
    const Index n = number_unknowns(runs_, size_, work);
    const std::vector<Index>& of_thread = work.merged;
    const auto rubs = [&](const RunOfSpans& run) { return run.rubs() && knots[run.first].hold == Hold::locked; };
    std::size_t sliding = 0;
    for (const RunOfSpans& run : runs_) sliding += rubs(run) ? run.count : 0;
    TensionProgram& program = work.program;
    program.resize(n, sliding);
    program.flexibility.setZero();
    program.asked.setZero();
    const auto locked = std::ssize(work.locked);
    const auto unknown = [&](Index k) { return at(of_thread, at(work.locked, k)); };
    for (Index k = 0; k < locked; ++k) {
        program.asked[unknown(k)] += work.right[k];
        for (Index l = 0; l < locked; ++l) program.flexibility(unknown(k), unknown(l)) += work.flexibility(k, l);
    }
    sliding = 0;
    for (const RunOfSpans& run : runs_) {
        if (!rubs(run)) continue;
        for (std::size_t k = 0; k < run.count; ++k)
            program.bites[sliding++] = {of_thread[run.before(k)], of_thread[run.span(k)], knots[run.span(k)].grip};
    }
    program.solve();

    std::vector<Index>& leader = work.joined;
    find_leaders(program, n, leader);
    work.active.assign(static_cast<std::size_t>(n), -1);  // unknowns of the response, by leader
    for (Index k = 0; k < locked; ++k) {
        const Index u = unknown(k);
        work.locked_tension[k] = std::max(0.0, program.tension()[u]);
        const Index led_by = at(leader, u);
        if (led_by < 0) continue;
        Index& number = at(work.active, led_by);
        if (number < 0) number = out.unknowns++;
        at(out.unknown, at(work.locked, k)) = number;
    }
    sliding = 0;
    for (const RunOfSpans& run : runs_) {
        if (!rubs(run)) continue;
        for (std::size_t k = 0; k < run.count; ++k) out.slid[run.span(k)] = program.slid(sliding++);
    }
}

}  // namespace graftwright
