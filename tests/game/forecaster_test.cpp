// A prediction beside the form: one thread, the newest question wins, nobody waits.
#include "game/forecaster.h"

#include <atomic>
#include <chrono>
#include <future>
#include <new>
#include <stdexcept>

#include <catch2/catch.hpp>

namespace graftwright {
namespace {

using std::chrono::milliseconds;

Scenario level(int bites) {
    Scenario scenario;
    scenario.id = "x";
    scenario.task.bites = bites;
    return scenario;
}

void wait_until_idle(const Forecaster& forecaster) {
    for (int i = 0; i < 5000 && forecaster.busy(); ++i) std::this_thread::sleep_for(milliseconds(1));
    REQUIRE_FALSE(forecaster.busy());
}

}  // namespace

TEST_CASE("forecaster: the newest question wins, those between are dropped, asking does not wait", "[game][form]") {
    std::promise<void> gate;
    std::shared_future<void> open(gate.get_future());
    std::atomic<int> worked{0};
    Forecaster forecaster([&](const Scenario&) {
        ++worked;
        open.wait();
        return BestClosure{};
    });
    CHECK(forecaster.latest() == nullptr);
    forecaster.ask(level(4));
    for (int i = 0; i < 5000 && worked == 0; ++i) std::this_thread::sleep_for(milliseconds(1));
    for (int bites = 5; bites <= 20; ++bites) forecaster.ask(level(bites));  // while the first is in work
    CHECK(forecaster.busy());
    gate.set_value();
    wait_until_idle(forecaster);
    REQUIRE(forecaster.latest());
    CHECK(forecaster.latest()->level.task.bites == 20);
    CHECK(worked == 2);
}

TEST_CASE("forecaster: words are no new question, and a thrown error is a reason", "[game][form]") {
    std::atomic<int> worked{0};
    Forecaster forecaster([&](const Scenario&) -> BestClosure {
        ++worked;
        throw std::runtime_error("no tissue");
    });
    Scenario scenario = level(4);
    forecaster.ask(scenario);
    wait_until_idle(forecaster);
    scenario.title = "Another";
    scenario.briefing = "words";
    scenario.order = 5;
    forecaster.ask(scenario);
    wait_until_idle(forecaster);
    CHECK(worked == 1);
    CHECK(forecaster.latest()->best.reason.find("no tissue") != std::string::npos);
    CHECK(forecaster.latest()->level == without_words(scenario));
}

TEST_CASE("forecaster: that memory ran out is a reason too", "[game][form]") {
    Forecaster forecaster([](const Scenario&) -> BestClosure { throw std::bad_alloc(); });
    forecaster.ask(level(4));
    wait_until_idle(forecaster);
    CHECK(forecaster.latest()->best.reason == "it could not be worked out: there is not enough memory");
}

TEST_CASE("forecaster: what no reason can be made of comes out at whoever asks for the answer", "[game][form]") {
    Forecaster forecaster([](const Scenario&) -> BestClosure { throw 7; });
    forecaster.ask(level(4));
    wait_until_idle(forecaster);
    CHECK_THROWS_AS(forecaster.latest(), int);
}

}  // namespace graftwright
