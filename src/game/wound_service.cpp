// The live solver behind a queue: on a thread of its own, or, where none is to be had, when its answer is taken.
#include <algorithm>
#include <condition_variable>
#include <exception>
#include <memory>
#include <mutex>
#include <optional>
#include <system_error>
#include <thread>
#include <utility>

#include "base/check.h"
#include "base/on_threads.h"
#include "game/live_solver.h"

namespace graftwright {
namespace {

struct Task {
    std::optional<WoundQuestion> question;
    std::optional<Attempt> attempt;
};
struct Answer {
    std::shared_ptr<const LiveWound> wound;
    std::shared_ptr<const Debrief> debrief;
    std::exception_ptr failure;  // thrown at whoever takes the answer
};

Answer work_on(LiveSolver& solver, const Task& task, int threads) {
    Answer answer;
    if (task.question) answer.wound = solver.solve(*task.question);
    if (task.attempt) answer.debrief = solver.debrief(*task.attempt, threads);
    return answer;
}

// Works when the answer is taken.
class InlineService final : public WoundService {
  public:
    explicit InlineService(std::shared_ptr<const ScenarioModel> model) : solver_(std::move(model)) {}
    void ask(const WoundQuestion& question) override { task_ = {question, std::nullopt}; }
    void ask_debrief(const Attempt& attempt) override { task_ = {std::nullopt, attempt}; }
    [[nodiscard]] bool ready() const override { return true; }
    [[nodiscard]] std::shared_ptr<const LiveWound> take() override { return work().wound; }
    [[nodiscard]] std::shared_ptr<const Debrief> take_debrief() override { return work().debrief; }

  private:
    static constexpr int kThreads = 2;  // of the shares; changes no result
    Answer work() {
        Answer answer = work_on(solver_, task_, kThreads);
        task_ = {};
        return answer;
    }
    LiveSolver solver_;
    Task task_;
};

// One thread, one task at a time. The lock guards the hand-over only; no solve happens under it.
class WorkerService final : public WoundService {
  public:
    WorkerService(std::shared_ptr<const ScenarioModel> model, const ThreadStart& start)
        : solver_(std::move(model)), thread_(start([this] { run(); })) {}
    ~WorkerService() override {
        {
            const std::lock_guard lock(mutex_);
            stop_ = true;
        }
        wake_.notify_all();
        thread_.join();
    }

    void ask(const WoundQuestion& question) override { hand_over({question, std::nullopt}); }
    void ask_debrief(const Attempt& attempt) override { hand_over({std::nullopt, attempt}); }
    [[nodiscard]] bool ready() const override {
        const std::lock_guard lock(mutex_);
        return answer_.has_value();
    }
    [[nodiscard]] std::shared_ptr<const LiveWound> take() override { return wait().wound; }
    [[nodiscard]] std::shared_ptr<const Debrief> take_debrief() override { return wait().debrief; }

  private:
    // The frame needs a core of its own.
    static int threads() { return std::max(1, static_cast<int>(std::thread::hardware_concurrency()) - 1); }

    void hand_over(Task task) {
        {
            const std::lock_guard lock(mutex_);
            GRAFTWRIGHT_CHECK(!task_ && !busy_, "one question at a time");
            answer_.reset();
            task_ = std::move(task);
        }
        wake_.notify_all();
    }
    Answer wait() {
        std::unique_lock lock(mutex_);
        wake_.wait(lock, [this] { return answer_.has_value(); });
        Answer answer = std::move(*answer_);
        answer_.reset();
        if (answer.failure) std::rethrow_exception(answer.failure);
        return answer;
    }
    [[nodiscard]] Answer answer_to(const Task& task) {
        try {
            return work_on(solver_, task, threads());
        } catch (...) {
            return {nullptr, nullptr, std::current_exception()};
        }
    }
    void run() {
        std::unique_lock lock(mutex_);
        for (;;) {
            wake_.wait(lock, [this] { return stop_ || task_; });
            if (stop_) return;
            const Task task = std::move(*task_);
            task_.reset();
            busy_ = true;
            lock.unlock();
            Answer answer = answer_to(task);
            lock.lock();
            busy_ = false;
            answer_ = std::move(answer);
            wake_.notify_all();
        }
    }

    LiveSolver solver_;
    mutable std::mutex mutex_;
    std::condition_variable wake_;
    std::optional<Task> task_;
    std::optional<Answer> answer_;
    bool busy_ = false, stop_ = false;
    std::thread thread_;  // last: starts when all else stands
};

}  // namespace

std::unique_ptr<WoundService> make_inline_service(std::shared_ptr<const ScenarioModel> model) {
    return std::make_unique<InlineService>(std::move(model));
}
std::unique_ptr<WoundService> make_worker_service(std::shared_ptr<const ScenarioModel> model,
                                                  const ThreadStart& start) {
    try {
        return std::make_unique<WorkerService>(model, start);
    } catch (const std::system_error&) {
        return make_inline_service(std::move(model));  // no thread to be had: the frames wait for the wound
    }
}

}  // namespace graftwright
