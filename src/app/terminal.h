// The one place where words leave the program: results to standard output, everything else to standard error.
//
// What is for people is made fit for a terminal (base/plain_text.h), whatever a file or an argument put into it.
// Data (JSON, CSV, a page) has escapes of its own and goes out as it is, but to a terminal like all else.
#pragma once

#include <cstddef>
#include <exception>
#include <functional>
#include <string>

#include "base/result.h"

namespace graftwright {

void print(const std::string& text);
void print_data(const std::string& text);
// To standard error.
void say(const std::string& text);
void tell(const Faults& faults);
// Says the sentence of a broken machine; returns the exit code.
int tell_machine_fault(const std::exception& error);
// Does what may fail by the machine's fault, and says so where it does; the exit code.
template <typename Work>
[[nodiscard]] int tried(const Work& work) {
    try {
        return work();
    } catch (const std::exception& error) {
        return tell_machine_fault(error);
    }
}
// "solving closure 3 of 18", rewritten in place; empty where standard error is no terminal.
[[nodiscard]] std::function<void(std::size_t done, std::size_t all)> progress_on_terminal(const std::string& what);

}  // namespace graftwright
