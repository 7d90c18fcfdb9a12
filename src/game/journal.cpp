#include "game/journal.h"

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <limits>
#include <utility>

#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <unistd.h>

#include "files/input_json.h"
#include "files/writer.h"
#include "hand/section_drive.h"

namespace graftwright {
namespace {

constexpr const char* kFormat = "graftwright-journal";
constexpr int kVersion = 1;

using Json = nlohmann::ordered_json;

std::string head_line(const JournalHead& head) {
    const Json json{{"format", kFormat},
                    {"version", kVersion},
                    {"scenario", head.scenario},
                    {"scenario_path", head.scenario_path},
                    {"level", head.level},
                    {"trainee", head.trainee},
                    {"started", head.started},
                    {"left_handed", head.left_handed},
                    {"examiner_view", head.examiner_view}};
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string text_of(const Json& object, const char* key) {
    const auto found = object.find(key);
    return found != object.end() && found->is_string() ? found->get<std::string>() : std::string();
}
bool flag_of(const Json& object, const char* key) {
    const auto found = object.find(key);
    return found != object.end() && found->is_boolean() && found->get<bool>();
}

// What is wrong with a head; "" nothing.
std::string head_fault(const Json& head) {
    if (!head.is_object() || text_of(head, "format") != kFormat) return "can't be understood";
    const auto version = head.find("version");
    if (version == head.end() || !version->is_number_integer()) return "can't be understood";
    return *version == kVersion ? "" : "was written by another version of the program";
}

// Of a line after one at `before`; empty: no line of ours. A second has its line, so what goes back or leaps is damaged.
std::optional<int> tick_of(const Json& line, int before) {
    constexpr int kMostAhead = 60 * kTicksPerSecond;
    constexpr int kMost = std::numeric_limits<int>::max() - kMostAhead;  // a hundred days
    const auto tick = line.is_object() ? line.find("tick") : line.end();
    if (!line.is_object() || tick == line.end() || !tick->is_number_integer()) return std::nullopt;
    const auto number = tick->get<std::int64_t>();
    if (number < std::max(before, 1) || number > before + kMostAhead || number > kMost) return std::nullopt;
    return static_cast<int>(number);
}

void take_line(const std::string& line, Journal& journal) {
    constexpr std::size_t kLongest = 4096;  // ours have a few hundred characters
    if (line.size() > kLongest) return;
    const Json json = Json::parse(line, nullptr, false);
    const std::optional<int> tick = tick_of(json, journal.last_tick);
    if (!tick) return;
    journal.last_tick = *tick;
    if (const auto object = json.find("input"); object != json.end())
        if (std::optional<Input> input = input_from_json(object->dump())) {
            input->tick = *tick;
            journal.inputs.push_back(std::move(*input));
        }
    if (json.contains("bite")) ++journal.bites;
    if (json.contains("end")) journal.ended = true;
}

std::string disk_words(int error) {
    switch (error) {
    case ENOSPC:
    case EDQUOT:
    case EFBIG: return "the disk is full";
    case EACCES:
    case EPERM:
    case EBADF:
    case EROFS: return "the folder can't be written";
    case ENOENT:
    case ENOTDIR: return "its folder is not there";
    default: return "the disk won't";
    }
}

}  // namespace

JournalWriter::JournalWriter(std::shared_ptr<HeldFile> file, const JournalHead& head, int resume_tick)
    : file_(std::move(file)), resume_tick_(resume_tick) {
    // A line that was cut short by the crash ends here, so that it spoils no other.
    write(resume_tick > 0 ? "\n" : head_line(head) + "\n");
}

void JournalWriter::write(const std::string& text) {
    if (!file_) return;  // the attempt has ended
    int error = file_->held() ? 0 : file_->error();
    if (file_->held()) waiting_ += text;
    while (error == 0 && !waiting_.empty()) {
        const ssize_t written = ::write(file_->fd(), waiting_.data(), waiting_.size());
        if (written > 0)
            waiting_.erase(0, static_cast<std::size_t>(written));
        else if (written == 0 || errno != EINTR)
            error = written == 0 ? EIO : errno;
    }
    fault_ = file_->held() && waiting_.empty() ? "" : "Not journaled for now: " + disk_words(error) + ".";
}

void JournalWriter::line(int tick, const std::string& key, const std::string& json) {
    if (tick <= resume_tick_) return;
    write("{\"tick\":" + std::to_string(tick) + (key.empty() ? "" : ",\"" + key + "\":" + json) + "}\n");
}

void JournalWriter::input(const Input& input) { line(input.tick, "input", input_json(input)); }
void JournalWriter::bite(int tick, const Bite& bite) {
    const Json json{{"graft_deg", bite.graft_deg},           {"host_deg", bite.host_deg},
                    {"graft_depth_um", bite.graft_depth_um}, {"host_depth_um", bite.host_depth_um},
                    {"graft_bite_mm", bite.graft_bite_mm},   {"host_bite_mm", bite.host_bite_mm},
                    {"tension_mN", bite.tension_mN},         {"throws", bite.throws}};
    line(tick, "bite", json.dump());
}
void JournalWriter::beat(int tick) { line(tick, "", ""); }
void JournalWriter::end(int tick) {
    resume_tick_ = std::min(resume_tick_, tick - 1);  // an end is always new
    line(tick, "end", "true");
    file_.reset();
    fault_.clear();
}

Result<Journal> read_journal(const std::string& path) {
    // An attempt of hours has some 100 MB; what is larger was made by nobody's hand.
    constexpr std::uintmax_t kLargest = std::uintmax_t{1} << 30;
    std::error_code error;
    const std::uintmax_t size = std::filesystem::is_regular_file(path, error) ? std::filesystem::file_size(path, error) : 0;
    std::ifstream lines(path, std::ios::binary);
    if (error || size == 0 || size > kLargest || !lines) return Fault{path, 0, "can't be read"};
    std::string line;
    std::getline(lines, line);
    const Json head = Json::parse(line, nullptr, false);
    if (const std::string fault = head_fault(head); !fault.empty()) return Fault{path, 1, fault};
    Journal journal;
    journal.head = {text_of(head, "scenario"), text_of(head, "scenario_path"), text_of(head, "level"),
                    text_of(head, "trainee"),  text_of(head, "started"),       flag_of(head, "left_handed"),
                    flag_of(head, "examiner_view")};
    bool more = false;
    while (std::getline(lines, line)) {
        more = more || !line.empty();
        take_line(line, journal);
    }
    if (more && journal.last_tick == 0) return Fault{path, 2, "can't be understood after its head"};
    return journal;
}

std::string level_fingerprint(const Scenario& scenario) {
    std::uint64_t hash = 0xcbf29ce484222325U;  // FNV-1a: it tells levels apart and hides nothing
    for (const char letter : write_scenario(scenario)) hash = (hash ^ static_cast<unsigned char>(letter)) * 0x100000001b3U;
    return fmt::format("{:016x}", hash);
}

}  // namespace graftwright
