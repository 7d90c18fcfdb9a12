#include "base/on_threads.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <new>
#include <system_error>
#include <utility>
#include <vector>

namespace graftwright {
namespace {

// Joins whatever happens: a thread still running when it is let go of ends the program.
struct Joined {
    std::vector<std::thread> threads;
    Joined() = default;
    ~Joined() {
        for (std::thread& thread : threads) thread.join();
    }
    Joined(const Joined&) = delete;
    Joined& operator=(const Joined&) = delete;
};

}  // namespace

std::thread start_thread(std::function<void()> work) {
    try {
        return std::thread(std::move(work));
    } catch (const std::system_error& error) {
        throw std::system_error(error.code(), "the system starts no further thread");
    }
}

void on_threads(std::size_t count, int threads, const std::function<void(std::size_t)>& work,
                const ThreadStart& start) {
    std::atomic<std::size_t> next{0};
    std::mutex lock;
    std::exception_ptr failure;
    const auto run = [&] {
        try {
            for (std::size_t i = next++; i < count; i = next++) work(i);
        } catch (...) {
            next = count;
            const std::lock_guard<std::mutex> hold(lock);
            if (!failure) failure = std::current_exception();
        }
    };
    {
        Joined helpers;
        const std::size_t extra = std::min(static_cast<std::size_t>(std::max(0, threads - 1)), count);
        try {
            helpers.threads.reserve(extra);
            while (helpers.threads.size() < extra) helpers.threads.push_back(start(run));
        } catch (const std::system_error&) {
            // One that cannot be had: the others do its part.
        } catch (const std::bad_alloc&) {
        }
        run();
    }
    if (failure) std::rethrow_exception(failure);
}

}  // namespace graftwright
