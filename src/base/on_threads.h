// Independent pieces of work on a few threads; which thread does which changes no result.
#pragma once

#include <cstddef>
#include <functional>
#include <thread>

namespace graftwright {

// Starts work on a thread of its own; throws std::system_error, in words, where the machine gives none.
using ThreadStart = std::function<std::thread(std::function<void()> work)>;
[[nodiscard]] std::thread start_thread(std::function<void()> work);

// Runs work(0 … count−1), each once, on up to `threads` threads, this one among them; returns when all
// are done. Threads that the machine does not give are done without, in the end on this one alone.
// What the work throws comes out here (the first of it), once every thread has stopped; pieces not yet
// begun are left then.
void on_threads(std::size_t count, int threads, const std::function<void(std::size_t)>& work,
                const ThreadStart& start = start_thread);

}  // namespace graftwright
