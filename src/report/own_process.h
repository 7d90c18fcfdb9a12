// Work of libraries that end the program where memory or threads are lacking: done in a process of its own, whose
// end is a failure like any other.
#pragma once

#include <functional>
#include <string>

namespace graftwright {

// What the work returns. What it throws is thrown here, as std::runtime_error with the same sentence; so is that the
// process could not be started or did not live to answer. Nothing else of what the work does is seen outside.
// To be called while no other thread is at work: its locks would stay locked in there.
[[nodiscard]] std::string in_own_process(const std::function<std::string()>& work);

}  // namespace graftwright
