#include "game/journal.h"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <sstream>
#include <stdexcept>

#include <nlohmann/json.hpp>

#include "files/reader.h"
#include "game/device_json.h"

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

}  // namespace

struct JournalWriter::File {
    std::FILE* stream = nullptr;
    std::string path;
    ~File() {
        if (stream != nullptr) std::fclose(stream);
    }
    void write(const std::string& line) const {
        if (std::fputs((line + "\n").c_str(), stream) == EOF || std::fflush(stream) != 0)
            throw std::runtime_error("the journal " + path + " could not be written: " + std::strerror(errno));
    }
};

JournalWriter::JournalWriter(const std::string& path, const JournalHead& head, int resume_tick)
    : file_(std::make_unique<File>()), resume_tick_(resume_tick) {
    file_->path = path;
    file_->stream = std::fopen(path.c_str(), resume_tick > 0 ? "ab" : "wb");
    if (file_->stream == nullptr)
        throw std::runtime_error("the journal " + path + " could not be opened: " + std::strerror(errno));
    // A line that was cut short by the crash ends here, so that it spoils no other.
    file_->write(resume_tick > 0 ? std::string() : head_line(head));
}

JournalWriter::~JournalWriter() = default;

void JournalWriter::line(int tick, const std::string& key, const std::string& json) {
    if (tick <= resume_tick_) return;
    file_->write("{\"tick\":" + std::to_string(tick) + (key.empty() ? "" : ",\"" + key + "\":" + json) + "}");
}

void JournalWriter::input(int tick, const DeviceEvent& event) { line(tick, "input", device_json(event)); }
void JournalWriter::bite(int tick, const Bite& bite) {
    const Json json{{"graft_deg", bite.graft_deg},           {"host_deg", bite.host_deg},
                    {"graft_depth_um", bite.graft_depth_um}, {"host_depth_um", bite.host_depth_um},
                    {"graft_bite_mm", bite.graft_bite_mm},   {"host_bite_mm", bite.host_bite_mm},
                    {"tension_mN", bite.tension_mN},         {"throws", bite.throws}};
    line(tick, "bite", json.dump());
}
void JournalWriter::beat(int tick) { line(tick, "", ""); }
void JournalWriter::end(int tick) { line(tick, "end", "true"); }

Result<Journal> read_journal(const std::string& path) {
    const Result<std::string> text = read_text_file(path);
    if (!text.ok()) return text.faults();
    Journal journal;
    std::istringstream lines(text.value());
    std::string line;
    int number = 0;
    while (std::getline(lines, line)) {
        ++number;
        if (line.empty()) continue;
        const Json json = Json::parse(line, nullptr, false);
        if (number == 1) {
            if (!json.is_object() || text_of(json, "format") != kFormat || json.value("version", 0) != kVersion)
                return Fault{path, 1, "this is no journal of this version"};
            journal.head = {text_of(json, "scenario"),    text_of(json, "scenario_path"), text_of(json, "trainee"),
                            text_of(json, "started"),     flag_of(json, "left_handed"),   flag_of(json, "examiner_view")};
            continue;
        }
        const auto tick = json.is_object() ? json.find("tick") : json.end();
        if (!json.is_object() || tick == json.end() || !tick->is_number_integer()) continue;  // cut short
        journal.last_tick = tick->get<int>();
        if (const auto input = json.find("input"); input != json.end())
            if (const auto event = device_from_json(input->dump())) journal.inputs.emplace_back(journal.last_tick, *event);
        if (json.contains("bite")) ++journal.bites;
        if (json.contains("end")) journal.ended = true;
    }
    if (number == 0) return Fault{path, 0, "the journal is empty"};
    return journal;
}

}  // namespace graftwright
