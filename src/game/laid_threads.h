// The threads in the eye: the attempt as far as it is tied, and beside it what its file does not hold.
//
// A running thread is laid bite by bite into the open run (slack: it tethers and holds nothing), tied as a whole and
// only then part of the attempt. Bites are counted as in score/bites_in_order.h, those of the open run last.
#pragma once

#include <optional>
#include <vector>

#include "files/attempt.h"
#include "files/scenario.h"
#include "hand/donor_afloat.h"

namespace graftwright {

struct LaidThreads {
    // Of a single bite or of a run.
    struct Laid {
        std::vector<std::size_t> tethers;  // one a bite; none once it is cut out
        bool buried_in_host = false, from_start = false;
    };
    // Where a bite counted in order is kept.
    struct Place {
        enum class In { single, tied_run, open_run } in = In::single;
        std::size_t run = 0, number = 0;
    };

    Attempt attempt;
    std::vector<Laid> laid;         // beside attempt.bites
    std::vector<Laid> laid_runs;    // beside attempt.runs
    std::vector<RunBite> open_run;  // laid, not tied; kept while its knot is tied
    bool running = false;           // latch: the next bite belongs to a running thread
    bool open_run_warned = false;   // that it would not count

    // What lies there when the level opens.
    void begin(const Scenario& scenario, DonorAfloat& donor);
    [[nodiscard]] bool as_begun(const Scenario& scenario) const;

    [[nodiscard]] std::size_t in_place() const;  // tied and not removed
    [[nodiscard]] std::size_t count() const;     // removed ones and those of the open run among them
    [[nodiscard]] Place place_of(std::size_t b) const;

    void tie(const Bite& bite, bool in_host, DonorAfloat& donor);
    void tie(Run run, bool in_host, DonorAfloat& donor);  // the open run, which is open no more
    void cut(std::size_t single, DonorAfloat& donor);
    void cut_run(std::size_t run, DonorAfloat& donor);

    // Before a change that can be undone.
    void remember();
    // false: nothing to undo.
    [[nodiscard]] bool undo(DonorAfloat& donor);

  private:
    struct Before {
        std::vector<Bite> bites;
        std::vector<Laid> laid;
        std::vector<Run> runs;
        std::vector<Laid> laid_runs;
        std::vector<RunBite> open_run;
    };
    void restore_bites(Before& before, DonorAfloat& donor);
    void restore_runs(Before& before, DonorAfloat& donor);

    std::vector<Before> history_;
};

// Single bites beside such a level's running thread are temporary, and come out again.
[[nodiscard]] bool in_running_pattern(const Scenario& scenario);

}  // namespace graftwright
