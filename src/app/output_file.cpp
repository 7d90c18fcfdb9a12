#include "app/output_file.h"

#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <stdexcept>
#include <system_error>

namespace graftwright {
namespace {

std::runtime_error cannot_write(const std::string& path, int error) {
    return std::runtime_error("cannot write " + path + ": " + std::generic_category().message(error));
}

}  // namespace

void write_file(const std::string& path, const std::string& bytes) {
    struct Closer {
        void operator()(std::FILE* file) const { std::fclose(file); }
    };
    errno = 0;
    std::unique_ptr<std::FILE, Closer> file(std::fopen(path.c_str(), "wb"));
    if (!file) throw cannot_write(path, errno);
    const bool whole =
        std::fwrite(bytes.data(), 1, bytes.size(), file.get()) == bytes.size() && std::fflush(file.get()) == 0;
    const int error = errno;
    const bool closed = std::fclose(file.release()) == 0;
    if (whole && closed) return;
    std::error_code ignored;
    if (std::filesystem::is_regular_file(path, ignored)) std::filesystem::remove(path, ignored);
    throw cannot_write(path, whole ? errno : error);
}

}  // namespace graftwright
