#include "view/practice/logbook_keeper.h"

#include <stdexcept>
#include <utility>

#include "base/on_threads.h"
#include "base/sentence.h"

namespace graftwright {

LogbookKeeper::LogbookKeeper(LogbookPlace place, LogbookOptions options, std::string program)
    : place_(std::move(place)),
      options_(options),
      program_(std::move(program)),
      thread_(start_thread([this] { run(); })) {}

LogbookKeeper::~LogbookKeeper() { finish(); }

void LogbookKeeper::keep(FinishedAttempt attempt) {
    const std::lock_guard lock(mutex_);
    wanted_.attempts.push_back(std::move(attempt));
    asked_.notify_one();
}

void LogbookKeeper::ask_levels(const std::string& trainee) {
    const std::lock_guard lock(mutex_);
    wanted_.levels = trainee;
    asked_.notify_one();
}

void LogbookKeeper::ask_page(const std::string& trainee, const std::string& scenario) {
    const std::lock_guard lock(mutex_);
    wanted_.page = PageQuestion{trainee, scenario};
    asked_.notify_one();
}

LogbookNews LogbookKeeper::news() {
    const std::lock_guard lock(mutex_);
    if (failure_) std::rethrow_exception(failure_);
    return std::exchange(news_, {});
}

std::string LogbookKeeper::finish() {
    if (thread_.joinable()) {
        {
            const std::lock_guard lock(mutex_);
            wanted_.end = true;
            asked_.notify_one();
        }
        thread_.join();
    }
    if (failure_ && fault_.empty()) return "the logbook's thread has ended early";
    return waiting_.empty() ? "" : fault_;
}

template <typename Tell>
void LogbookKeeper::tell(const Tell& what) {
    const std::lock_guard lock(mutex_);
    what(news_);
}

void LogbookKeeper::run() {
    try {
        work();
    } catch (...) {
        const std::lock_guard lock(mutex_);
        failure_ = std::current_exception();
    }
}

void LogbookKeeper::work() {
    bool just_tried = false;
    for (bool end = false; !end;) {
        Wanted wanted;
        {
            std::unique_lock lock(mutex_);
            asked_.wait(lock, [&] { return wanted_.any(); });
            wanted = std::exchange(wanted_, {});
        }
        end = wanted.end;
        just_tried = !wanted.attempts.empty();
        if (just_tried) enter(wanted.attempts);
        if (!end) answer(wanted);
    }
    if (!waiting_.empty() && !just_tried) enter_waiting();  // a silent server is not waited for twice
    logbook_.reset();
}

Logbook& LogbookKeeper::opened() {
    if (logbook_) return *logbook_;
    Result<Logbook> logbook = Logbook::open(place_, options_);
    if (!logbook.ok()) throw std::runtime_error(logbook.faults().front().text());
    logbook_.emplace(logbook.take());
    if (!logbook_->notice().empty()) tell([&](LogbookNews& news) { news.notice = logbook_->notice(); });
    return *logbook_;
}

void LogbookKeeper::enter(const std::deque<FinishedAttempt>& attempts) {
    for (const FinishedAttempt& one : attempts) {
        const Debrief& debrief = *one.debrief;
        Result<Entry> entry =
            make_entry(one.scenario, debrief.attempt, one.text, debrief.card, {program_, one.ended_utc},
                       debrief.drill ? std::optional(debrief.drill->passed) : std::nullopt);
        if (entry.ok())
            waiting_.push_back(entry.take());
        else
            tell([&](LogbookNews& news) { news.kept = entry.faults().front().message; });
    }
    enter_waiting();
}

// Whatever goes wrong, the attempts stay in hand and the logbook is opened anew the next time.
void LogbookKeeper::enter_waiting() {
    if (waiting_.empty()) return;
    try {
        (void)opened().add_all(waiting_);
        waiting_.clear();
        fault_.clear();
        tell([](LogbookNews& news) { news.kept = ""; });
    } catch (const std::exception& error) {
        logbook_.reset();
        fault_ = sentence_of(error);
        tell([&](LogbookNews& news) { news.kept = fault_; });
    }
}

void LogbookKeeper::answer(const Wanted& wanted) {
    if (!wanted.page && !wanted.levels) return;
    try {
        if (wanted.page) {
            TraineePageOptions options;
            options.scenario = wanted.page->scenario;
            auto page = std::make_shared<const TraineePage>(opened().trainee_page(wanted.page->trainee, options));
            tell([&](LogbookNews& news) { news.page = std::move(page); });
        }
        if (wanted.levels) {
            std::vector<LevelCount> levels = opened().levels_of(*wanted.levels);
            tell([&](LogbookNews& news) { news.levels = std::move(levels); });
        }
    } catch (const std::exception& error) {
        logbook_.reset();
        const std::string fault = sentence_of(error);
        tell([&](LogbookNews& news) {
            if (wanted.page) news.page_fault = fault;
            if (wanted.levels) news.levels_fault = fault;
        });
    }
}

}  // namespace graftwright
