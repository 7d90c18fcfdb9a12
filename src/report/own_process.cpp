#include "report/own_process.h"

#include <array>
#include <cerrno>
#include <fcntl.h>
#include <stdexcept>
#include <string_view>
#include <system_error>
#include <unistd.h>

#include <sys/wait.h>

#include "base/sentence.h"

namespace graftwright {
namespace {

constexpr int kDone = 0, kThrown = 1, kCutShort = 2;  // how the process ends

std::system_error refusal() { return {errno, std::generic_category(), "the system starts no further process"}; }

// One end of a pipe.
class End {
  public:
    explicit End(int file) : file_(file) {}
    ~End() { shut(); }
    End(const End&) = delete;
    End& operator=(const End&) = delete;
    void shut() {
        if (file_ >= 0) close(file_);
        file_ = -1;
    }
    [[nodiscard]] bool write_all(std::string_view bytes) const {
        while (!bytes.empty()) {
            const ssize_t written = write(file_, bytes.data(), bytes.size());
            if (written < 0 && errno != EINTR) return false;
            if (written > 0) bytes.remove_prefix(static_cast<std::size_t>(written));
        }
        return true;
    }
    [[nodiscard]] std::string read_all() const {
        constexpr std::size_t kBlock = 1U << 16U;
        std::string all;
        std::array<char, kBlock> block{};
        for (;;) {
            const ssize_t count = read(file_, block.data(), block.size());
            if (count < 0 && errno == EINTR) continue;
            if (count <= 0) return all;
            all.append(block.data(), static_cast<std::size_t>(count));
        }
    }

  private:
    int file_;
};

int answered(const std::function<std::string()>& work, const End& out) {
    try {
        return out.write_all(work()) ? kDone : kCutShort;
    } catch (const std::exception& error) {
        return out.write_all(sentence_of(error)) ? kThrown : kCutShort;
    }
}

// How a process ended; a signal cut it short.
int end_of(pid_t process) {
    int status = 0;
    while (waitpid(process, &status, 0) < 0)
        if (errno != EINTR) return kCutShort;
    return WIFEXITED(status) ? WEXITSTATUS(status) : kCutShort;
}

}  // namespace

std::string in_own_process(const std::function<std::string()>& work) {
    std::array<int, 2> ends{};
    if (pipe2(ends.data(), O_CLOEXEC) != 0) throw refusal();
    End from(ends[0]), to(ends[1]);
    const pid_t process = fork();
    if (process < 0) throw refusal();
    // Without a word to what this process has open: neither buffers nor files are the other's to end.
    if (process == 0) _exit(answered(work, to));
    to.shut();
    std::string answer;
    try {
        answer = from.read_all();
    } catch (...) {
        from.shut();  // which ends the other, too
        (void)end_of(process);
        throw;
    }
    const int end = end_of(process);
    if (end == kThrown) throw std::runtime_error(answer);
    if (end != kDone) throw std::runtime_error("it takes more memory or threads than there are");
    return answer;
}

}  // namespace graftwright
