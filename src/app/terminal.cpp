#include "app/terminal.h"

#include <cstdio>
#include <new>
#include <string_view>
#include <unistd.h>

#include "app/commands.h"
#include "base/plain_text.h"
#include "base/sentence.h"

namespace graftwright {
namespace {

void write(std::string_view text, std::FILE* to) { std::fwrite(text.data(), 1, text.size(), to); }

}  // namespace

void print(const std::string& text) { write(terminal_text(text), stdout); }

void print_data(const std::string& text) {
    if (isatty(STDOUT_FILENO) != 0)
        print(text);
    else
        write(text, stdout);
}

void say(const std::string& text) { write(terminal_text(text), stderr); }

void tell(const Faults& faults) {
    for (const Fault& fault : faults) write(one_line(fault.text()) + "\n", stderr);
}

int tell_machine_fault(const std::exception& error) {
    const char* const sentence = sentence_of(error);
    write("graftwright: the machine is at fault: ", stderr);
    try {
        write(one_line(sentence), stderr);
    } catch (const std::bad_alloc&) {
        // Where there is no memory, the sentence that says so is our own.
        write(sentence_of(std::bad_alloc()), stderr);
    }
    write("\n", stderr);
    return kMachineFault;
}

std::function<void(std::size_t, std::size_t)> progress_on_terminal(const std::string& what) {
    if (isatty(STDERR_FILENO) == 0) return {};
    return [what](std::size_t done, std::size_t all) {
        // Carriage return and "erase the line" are ours.
        std::fprintf(stderr, "\r%s %zu of %zu%s", what.c_str(), done, all, done == all ? "\r\033[K" : "");
        std::fflush(stderr);
    };
}

}  // namespace graftwright
