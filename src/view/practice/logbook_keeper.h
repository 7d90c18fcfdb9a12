// The game's hand on the logbook: finished attempts go in, a trainee's practice comes out, on a thread of its own.
//
// No call here waits for a database; what was asked comes back through news(), which a frame may call as often
// as it likes. Attempts go before questions, and of two questions of a kind only the later is answered. One
// that could not be entered (server away, disk full) is tried again with the next one and once at the end; its
// own file is kept by the window in any case. No clock is read: whoever hands in an attempt says when it is.
#pragma once

#include <condition_variable>
#include <deque>
#include <exception>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "files/attempt.h"
#include "files/scenario.h"
#include "game/live_wound.h"
#include "logbook/logbook.h"

namespace graftwright {

struct FinishedAttempt {
    Scenario scenario;
    std::string text;  // the attempt's file
    std::shared_ptr<const Debrief> debrief;
    std::string ended_utc;
};

struct LogbookNews {
    // Of attempts handed in: empty: nothing new; "": all are in the logbook; else why not, as a sentence.
    std::optional<std::string> kept;
    std::optional<std::vector<LevelCount>> levels;
    std::shared_ptr<const TraineePage> page;
    std::string page_fault, levels_fault;  // instead of a page, of levels
    std::string notice;                    // about how the logbook was opened
};

class LogbookKeeper {
  public:
    LogbookKeeper(LogbookPlace place, LogbookOptions options, std::string program);
    // Waits for attempts in hand, at most as long as the database waits for its locks or its server (logbook/limits.h).
    ~LogbookKeeper();
    LogbookKeeper(const LogbookKeeper&) = delete;
    LogbookKeeper& operator=(const LogbookKeeper&) = delete;

    void keep(FinishedAttempt attempt);
    void ask_levels(const std::string& trainee);
    void ask_page(const std::string& trainee, const std::string& scenario);
    // What there is to tell since the last call. Throws what the machine's fault has ended the thread with.
    [[nodiscard]] LogbookNews news();
    // Enters what is left and ends. Why something could not be entered, or "".
    std::string finish();
    [[nodiscard]] const LogbookPlace& place() const { return place_; }

  private:
    struct PageQuestion {
        std::string trainee, scenario;
    };
    struct Wanted {
        std::deque<FinishedAttempt> attempts;
        std::optional<std::string> levels;
        std::optional<PageQuestion> page;
        bool end = false;
        [[nodiscard]] bool any() const { return !attempts.empty() || levels || page || end; }
    };

    void run();
    void work();
    void enter(const std::deque<FinishedAttempt>& attempts);
    void enter_waiting();
    void answer(const Wanted& wanted);
    Logbook& opened();
    template <typename Tell>
    void tell(const Tell& what);

    LogbookPlace place_;
    LogbookOptions options_;
    std::string program_;
    // The thread's own.
    std::optional<Logbook> logbook_;
    std::vector<Entry> waiting_;  // for a logbook that could not be reached
    std::string fault_;           // why the waiting ones are waiting

    std::mutex mutex_;  // of the three below, and held only to move them
    Wanted wanted_;
    LogbookNews news_;
    std::exception_ptr failure_;  // what ended the thread early: news() throws it
    std::condition_variable asked_;
    std::thread thread_;
};

}  // namespace graftwright
