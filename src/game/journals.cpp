#include "game/journals.h"

#include <algorithm>
#include <filesystem>
#include <unistd.h>

#include "game/user_files.h"

namespace graftwright {
namespace {

namespace fs = std::filesystem;

constexpr const char* kStem = "journal";
constexpr const char* kEnding = ".jsonl";

// journal.jsonl, journal-2.jsonl …: not what was put aside.
bool is_journal(const std::string& name) {
    const std::string stem = kStem, ending = kEnding;
    if (!name.starts_with(stem) || !name.ends_with(ending)) return false;
    const std::string number = name.substr(stem.size(), name.size() - stem.size() - ending.size());
    return number.empty() ||
           (number.size() > 1 && number[0] == '-' && number.find_first_not_of("0123456789", 1) == std::string::npos);
}

bool is_empty(const std::string& path) {
    std::error_code error;
    return fs::file_size(path, error) == 0 && !error;
}

// Nothing is lost when it is written over. One that has hardly begun may be another window's, unless it is locked.
bool spent(const HeldFile& file) {
    if (!file.held() || file.error() != 0) return false;
    if (is_empty(file.path())) return file.locked();
    const Result<Journal> journal = read_journal(file.path());
    return journal.ok() && (journal.value().ended || (journal.value().last_tick == 0 && file.locked()));
}

}  // namespace

std::string Journals::name(int number) const {
    return folder_ + "/" + kStem + (number > 1 ? "-" + std::to_string(number) : "") + kEnding;
}

JournalsFound Journals::look() const {
    JournalsFound found;
    std::vector<std::pair<fs::file_time_type, std::string>> paths;
    std::error_code error;
    for (fs::directory_iterator file(folder_, error), end; !error && file != end; file.increment(error)) {
        std::error_code unknown;
        if (is_journal(file->path().filename().string()))
            paths.emplace_back(fs::last_write_time(file->path(), unknown), file->path().string());
    }
    std::sort(paths.rbegin(), paths.rend());
    for (const auto& [time, path] : paths) {
        const HeldFile file(path, HeldFile::Open::existing);
        if (file.elsewhere() || is_empty(path)) continue;
        Result<Journal> journal = read_journal(path);
        if (journal.ok() && !journal.value().ended && journal.value().last_tick > 0)
            found.interrupted.push_back({path, journal.take()});
        else if (!journal.ok())
            found.words.push_back(put_aside("The journal of an attempt", path, journal.faults().front().message));
    }
    return found;
}

std::shared_ptr<HeldFile> Journals::fresh() const {
    constexpr int kMost = 1000;
    std::shared_ptr<HeldFile> file;
    for (int number = 1; number <= kMost; ++number) {
        file = std::make_shared<HeldFile>(name(number), HeldFile::Open::or_make);
        if (file->made() || (spent(*file) && ::ftruncate(file->fd(), 0) == 0)) return file;
        std::error_code unknown;
        if (!file->held() && !file->elsewhere() && !fs::exists(file->path(), unknown))
            break;  // nothing can be made here
    }
    // No name is free: written over is none of them.
    return file->held() ? std::make_shared<HeldFile>("", HeldFile::Open::existing) : file;
}

std::string Journals::set_aside(const std::string& path) const {
    const HeldFile file(path, HeldFile::Open::existing);
    if (file.elsewhere()) return "That attempt is being played in another window.";
    return move_aside(path).empty() ? "The journal " + path + " could not be moved aside." : "";
}

}  // namespace graftwright
