#include "game/user_files.h"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <stdexcept>

#include "base/whole_file.h"
#include "files/writer.h"

namespace graftwright {
namespace {

namespace fs = std::filesystem;

// The first of stem, stem-2, stem-3 … that is not there yet.
std::string free_name(const std::string& stem, const std::string& ending) {
    std::error_code unknown;
    std::string path = stem + ending;
    for (int n = 2; fs::exists(path, unknown); ++n) path = stem + "-" + std::to_string(n) + ending;
    return path;
}

// Letters, digits and dashes only, so that it is a file's name on any disk.
std::string plain(std::string words) {
    std::transform(words.begin(), words.end(), words.begin(), [](char c) {
        return std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '-';
    });
    return words.substr(0, 60);
}

}  // namespace

UserFiles::UserFiles(std::string folder) : folder_(std::move(folder)) {
    std::error_code error;
    fs::create_directories(folder_ + "/attempts", error);
    if (!error) fs::create_directories(levels(), error);
    if (error) fault_ = "Nothing can be kept: the folder " + folder_ + " could not be made (" + error.message() + ").";
}

std::string UserFiles::keep(const Attempt& attempt) const {
    const std::string path = free_name(folder_ + "/attempts/" + plain(attempt.scenario + "-" + attempt.started), ".json");
    write_whole(path, write_attempt(attempt));
    return path;
}

std::string move_aside(const std::string& path) {
    std::error_code error;
    std::string to;
    for (int n = 1; to.empty() || fs::exists(to, error); ++n) to = path + ".aside-" + std::to_string(n);
    fs::rename(path, to, error);
    return error ? "" : to;
}

std::string put_aside(const std::string& what, const std::string& path, const std::string& why) {
    const std::string kept = move_aside(path);
    return what + " " + why + (kept.empty() ? ", and could not be moved aside: " + path : "; it is kept as " + kept) + ".";
}

}  // namespace graftwright
