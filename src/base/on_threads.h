// Independent pieces of work on a few threads; which thread does which changes no result.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <functional>
#include <thread>
#include <vector>

namespace graftwright {

// Runs work(0 … count−1), each once, on up to `threads` threads, this one among them; returns when all
// are done. The work must not throw.
inline void on_threads(std::size_t count, int threads, const std::function<void(std::size_t)>& work) {
    std::atomic<std::size_t> next{0};
    const auto run = [&] {
        for (std::size_t i = next++; i < count; i = next++) work(i);
    };
    std::vector<std::thread> helpers;
    const auto extra = static_cast<std::size_t>(std::max(0, threads - 1));
    for (std::size_t t = 0; t < std::min(extra, count); ++t) helpers.emplace_back(run);
    run();
    for (std::thread& helper : helpers) helper.join();
}

}  // namespace graftwright
