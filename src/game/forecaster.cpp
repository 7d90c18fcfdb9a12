#include "game/forecaster.h"

#include <exception>
#include <utility>

#include "base/on_threads.h"
#include "base/sentence.h"

namespace graftwright {

Scenario without_words(Scenario scenario) {
    scenario.id = "level";
    scenario.title.clear();
    scenario.briefing.clear();
    scenario.teaches.clear();
    scenario.order = 0;
    return scenario;
}

Forecaster::Forecaster(Work work) : work_(std::move(work)), thread_(start_thread([this] { run(); })) {}

Forecaster::~Forecaster() {
    {
        const std::lock_guard<std::mutex> hold(lock_);
        over_ = true;
    }
    wake_.notify_one();
    thread_.join();
}

void Forecaster::ask(const Scenario& scenario) {
    Scenario level = without_words(scenario);
    {
        const std::lock_guard<std::mutex> hold(lock_);
        if (last_asked_ && *last_asked_ == level) return;
        last_asked_ = level;
        waiting_ = std::move(level);
    }
    wake_.notify_one();
}

std::shared_ptr<const Forecast> Forecaster::latest() const {
    const std::lock_guard<std::mutex> hold(lock_);
    if (failure_) std::rethrow_exception(failure_);
    return latest_;
}

bool Forecaster::busy() const {
    const std::lock_guard<std::mutex> hold(lock_);
    return working_ || waiting_.has_value();
}

void Forecaster::run() {
    std::unique_lock<std::mutex> hold(lock_);
    for (;;) {
        wake_.wait(hold, [this] { return over_ || waiting_.has_value(); });
        if (over_) return;
        const std::optional<Scenario> level = std::exchange(waiting_, std::nullopt);
        working_ = true;
        hold.unlock();
        std::shared_ptr<const Forecast> answer;
        std::exception_ptr failure;
        try {
            answer = answer_to(*level);
        } catch (...) {
            failure = std::current_exception();
        }
        hold.lock();
        working_ = false;
        latest_ = std::move(answer);
        failure_ = failure;
    }
}

std::shared_ptr<const Forecast> Forecaster::answer_to(const Scenario& level) const {
    Forecast forecast{level, {}};
    try {
        forecast.best = work_(level);
    } catch (const std::exception& error) {
        forecast.best.reason = std::string("it could not be worked out: ") + sentence_of(error);
    }
    return std::make_shared<const Forecast>(std::move(forecast));
}

}  // namespace graftwright
