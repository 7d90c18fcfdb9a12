#include "view/practice/practice.h"

#include <utility>

namespace graftwright {
namespace {

// The usual file may be begun anew where it is damaged (it is moved aside whole); one that was named may not.
LogbookOptions options_for(const std::string& named) {
    LogbookOptions options;
    options.start_fresh_if_damaged = named.empty();
    return options;
}

}  // namespace

Practice::Practice(const std::string& place, const std::string& usual, const std::string& program,
                   const std::vector<Level>& levels)
    : keeper_(LogbookPlace::of(place.empty() ? usual : place), options_for(place), program) {
    model_.place = keeper_.place().shown();
    model_.on_server = keeper_.place().server();
    for (const Level& level : levels) {
        if (!level.scenario) continue;
        const bool closure = level.scenario->kind == ScenarioKind::closure;
        model_.course.push_back(
            {level.scenario->id, level.scenario->title, closure ? std::optional(level.scenario->pass) : std::nullopt});
    }
}

void Practice::keep(FinishedAttempt attempt) {
    kept_words_.clear();
    results_asked_ = false;
    keeper_.keep(std::move(attempt));
}

const std::vector<LevelCount>& Practice::results_of(const std::string& trainee) {
    if (!results_asked_ || results_of_ != trainee) {
        if (results_of_ != trainee) results_.clear();
        results_of_ = trainee;
        results_asked_ = true;
        keeper_.ask_levels(trainee);
    }
    return results_;
}

void Practice::update() {
    LogbookNews news = keeper_.news();
    if (news.kept) {
        const bool entered = news.kept->empty();
        kept_words_ = entered ? "In the logbook." : "Not in the logbook (the first screen says why).";
        fault_words_ = entered ? "" : "Not in the logbook, only in its file: " + *news.kept;
    }
    if (!news.levels_fault.empty()) fault_words_ = "No logbook for now: " + news.levels_fault;
    if (!news.notice.empty()) opened_words_ = news.notice;
    if (news.levels) results_ = std::move(*news.levels);
    if (news.page && news.page->trainee == model_.trainee && news.page->options.scenario == model_.scenario) {
        model_.page = std::move(news.page);
        model_.fault.clear();
    }
    if (!news.page_fault.empty()) model_.fault = news.page_fault;
}

void Practice::open(const std::string& trainee) {
    if (model_.trainee != trainee) model_.scenario.clear();
    model_.trainee = trainee;
    model_.page.reset();
    ask_page();
}

void Practice::ask_page() {
    model_.fault.clear();
    keeper_.ask_page(model_.trainee, model_.scenario);
}

bool Practice::heed(const TraineeChoice& choice) {
    if (choice.what == TraineeChoice::What::level && choice.scenario != model_.scenario) {
        model_.scenario = choice.scenario;  // the page before stands until the new one has come
        ask_page();
    }
    return choice.what == TraineeChoice::What::done;
}

}  // namespace graftwright
