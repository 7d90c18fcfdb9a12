#include "logbook/private_copy.h"

#include <cstdlib>
#include <filesystem>
#include <stdexcept>

namespace graftwright {
namespace {

namespace fs = std::filesystem;

constexpr const char* kLogs[] = {"-wal", "-journal"};

bool holds_something(const std::string& path) {
    std::error_code none;
    const auto bytes = fs::file_size(path, none);
    return !none && bytes > 0;
}

void copy_own(const std::string& from, const std::string& to) {
    fs::copy_file(from, to);
    fs::permissions(to, fs::perms::owner_read | fs::perms::owner_write);
}

}  // namespace

bool has_unfinished_log(const std::string& path) {
    return holds_something(path + kLogs[0]) || holds_something(path + kLogs[1]);
}

PrivateCopy::PrivateCopy(const std::string& path) {
    std::string name = (fs::temp_directory_path() / "graftwright-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("there is no folder for temporary files");
    folder_ = name;
    path_ = folder_ + "/logbook.sqlite";
    try {
        copy_own(path, path_);
        for (const char* log : kLogs)
            if (holds_something(path + log)) copy_own(path + log, path_ + log);
    } catch (const fs::filesystem_error& error) {
        fs::remove_all(folder_);
        throw std::runtime_error("logbook " + path +
                                 ": it may only be read, and can't be copied to read it: " + error.code().message());
    }
}

PrivateCopy::~PrivateCopy() {
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
}

}  // namespace graftwright
