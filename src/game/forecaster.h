// The best closure of a level worked out beside the form: one thread, the newest question wins.
//
// ask() never waits: a question not yet begun is dropped for the next, one in work is finished and its
// answer kept until a newer one comes. Whoever shows an answer compares its level with the form's.
#pragma once

#include <condition_variable>
#include <exception>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>

#include "files/scenario.h"
#include "study/best_closure.h"

namespace graftwright {

struct Forecast {
    Scenario level;  // without_words
    BestClosure best;
};

// What a prediction depends on: name, title, briefing and place in the course are left out.
[[nodiscard]] Scenario without_words(Scenario scenario);

class Forecaster {
  public:
    using Work = std::function<BestClosure(const Scenario&)>;
    explicit Forecaster(Work work = best_closure);
    ~Forecaster();
    Forecaster(const Forecaster&) = delete;
    Forecaster& operator=(const Forecaster&) = delete;

    // A level that was asked for last is not worked out again.
    void ask(const Scenario& scenario);
    // null: none yet. A prediction that failed says so itself; throws what kept even that from being said.
    [[nodiscard]] std::shared_ptr<const Forecast> latest() const;
    [[nodiscard]] bool busy() const;

  private:
    void run();
    [[nodiscard]] std::shared_ptr<const Forecast> answer_to(const Scenario& level) const;

    Work work_;
    mutable std::mutex lock_;
    std::condition_variable wake_;
    std::optional<Scenario> last_asked_, waiting_;
    bool working_ = false, over_ = false;
    std::shared_ptr<const Forecast> latest_;
    std::exception_ptr failure_;
    std::thread thread_;  // last: it uses all the others
};

}  // namespace graftwright
