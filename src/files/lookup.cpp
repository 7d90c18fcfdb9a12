// Files on the disk: reading them whole, finding an attempt's scenario, checking any of them.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <optional>
#include <set>
#include <system_error>

#include "base/nearest_word.h"
#include "files/document.h"
#include "files/reader.h"
#include "files/schema.h"
#include "files/syntax_words.h"

namespace graftwright {
namespace {

namespace fs = std::filesystem;

const char* const kStandardInput = "<stdin>";

std::string shown_name(const std::string& path) { return path == "-" ? kStandardInput : path; }

// At most one byte more than a file may have, so that an endless stream ends.
std::string read_bounded(std::istream& stream) {
    std::string text;
    char block[1 << 16];
    while (text.size() <= kLargestFileBytes) {
        stream.read(block, sizeof block);
        text.append(block, static_cast<std::size_t>(stream.gcount()));
        if (!stream) break;
    }
    return text;
}

std::vector<fs::path> json_files(const fs::path& folder) {
    std::vector<fs::path> files;
    std::error_code error;
    for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
        std::error_code unknown;
        const std::string name = at->path().filename().string();
        if (name.ends_with(".json") && !name.ends_with(".schema.json") && at->is_regular_file(unknown))
            files.push_back(at->path());
    }
    std::sort(files.begin(), files.end());  // the order of a folder is the file system's whim
    return files;
}

// The id of a file that is a scenario, be it a faulty one.
std::optional<std::string> scenario_id(std::string_view text) {
    const Result<Json> root = parse_document(text, "");
    if (!root.ok()) return std::nullopt;
    const Json& object = root.value();
    if (object.value("format", Json()) != "graftwright-scenario") return std::nullopt;
    const Json id = object.value("id", Json());
    return id.is_string() ? std::optional(id.get<std::string>()) : std::nullopt;
}

std::string listed(const std::set<std::string>& ids) {
    constexpr std::size_t kMostListed = 24;  // a screen line or two; the course has about sixteen
    std::string words;
    std::size_t count = 0;
    for (const std::string& id : ids) {
        if (++count > kMostListed) return words + ", …";
        words += (words.empty() ? "" : ", ") + id;
    }
    return words;
}

std::string folder_of(const std::string& attempt_path) {
    const fs::path folder = attempt_path == "-" ? fs::path() : fs::path(attempt_path).parent_path();
    return folder.empty() ? "." : folder.string();
}

// What an attempt says of its scenario, however faulty the rest may be; the default where silent.
std::string named_scenario(const Json& root) {
    const Json id = root.value("scenario", Json(Attempt{}.scenario));
    return id.is_string() ? id.get<std::string>() : "";
}

template <typename Value>
Faults faults_of(const Result<Value>& result) {
    return result.ok() ? Faults{} : result.faults();
}

// A schema lies among the levels, so `check levels/*.json` comes by: it must be the one built in.
Faults faults_of_schema(const std::string& text, const std::string& name) {
    for (const FileKind kind : {FileKind::scenario, FileKind::attempt, FileKind::ring, FileKind::hand})
        if (text == schema_text(kind)) return {};
    return {{name, 0, "differs from the schema built into this program, expected the same text"}};
}

// The scenario with that id in the first folder that has it. asking: the file that names the id; it is not to blame
// where the levels' folder, the first of them, has no level at all.
Result<Scenario> scenario_in(const std::vector<std::string>& folders, const std::string& id,
                             const std::string& asking) {
    std::set<std::string> known;
    bool levels_there = false;
    for (const std::string& folder : folders) {
        for (const fs::path& path : json_files(folder)) {
            const Result<std::string> text = read_text_file(path.string());
            if (!text.ok()) continue;
            const std::optional<std::string> found = scenario_id(text.value());
            if (!found) continue;
            if (*found == id) return read_scenario(text.value(), path.string());
            known.insert(*found);
        }
        if (&folder == &folders.front()) levels_there = !known.empty();
    }
    std::error_code unknown;
    const std::string& levels_dir = folders.front();
    if (!fs::is_directory(levels_dir, unknown))
        return Fault{levels_dir, 0, "there is no such folder, expected the one with the level " + in_quotes(id)};
    if (!levels_there) return Fault{levels_dir, 0, "the folder holds no level, expected " + in_quotes(id) + " there"};
    const std::optional<std::string> meant = nearest_word(id, known);
    return Fault{asking, 0,
                 "no scenario has the id " + in_quotes(id) + (meant ? " (did you mean " + in_quotes(*meant) + "?)" : "") +
                     ", expected one of " + listed(known)};
}

Result<AttemptInScenario> attempt_in_scenario(const std::string& text, const std::string& attempt_path,
                                              const std::string& scenario_path, const std::string& levels_dir) {
    const std::string name = shown_name(attempt_path);
    const Result<Json> root = parse_document(text, name);
    if (!root.ok()) return root.faults();
    Result<Scenario> scenario = [&]() -> Result<Scenario> {
        if (scenario_path.empty()) return find_scenario(named_scenario(root.value()), attempt_path, levels_dir);
        Result<std::string> scenario_text = read_text_file(scenario_path);
        if (!scenario_text.ok()) return scenario_text.faults();
        return read_scenario(scenario_text.value(), shown_name(scenario_path));
    }();
    if (scenario.ok()) {
        Result<Attempt> attempt = read_attempt_for(scenario.value(), text, name);
        if (!attempt.ok()) return attempt.faults();
        return AttemptInScenario{scenario.take(), attempt.take(), text};
    }
    // Without its scenario the attempt can still be read by itself.
    const Result<Attempt> attempt = read_attempt(text, name);
    Faults faults = attempt.ok() ? Faults{} : attempt.faults();
    const bool unnamed = named_scenario(root.value()).empty() && scenario_path.empty();
    if (unnamed && !faults.empty()) return faults;  // said already: scenario is no text
    for (Fault fault : scenario.faults()) {
        if (fault.file == name && fault.line == 0)
            fault.line = faults_from({{"/scenario", "", false, {}, {}}}, text, name).front().line;
        faults.push_back(std::move(fault));
    }
    return faults;
}

}  // namespace

Result<std::string> read_text_file(const std::string& path) {
    std::string text;
    if (path == "-") {
        text = read_bounded(std::cin);
    } else {
        std::error_code error;
        if (fs::is_directory(path, error)) return Fault{path, 0, "is a folder, expected a file"};
        std::ifstream stream(path, std::ios::binary);
        if (!stream) return Fault{path, 0, "can't be read, expected a file that exists and may be read"};
        text = read_bounded(stream);
        if (stream.bad()) return Fault{path, 0, "can't be read to its end"};
    }
    if (text.size() > kLargestFileBytes)
        return Fault{shown_name(path), 0, "the file is larger than 16 MiB, expected far less"};
    return text;
}

Result<Scenario> find_scenario(const std::string& id, const std::string& attempt_path, const std::string& levels_dir) {
    std::vector<std::string> folders{levels_dir};
    const std::string beside = folder_of(attempt_path);
    std::error_code unknown;
    if (!fs::equivalent(beside, levels_dir, unknown)) folders.push_back(beside);
    return scenario_in(folders, id, shown_name(attempt_path));
}

Result<Scenario> read_level(const std::string& id_or_file, const std::string& levels_dir) {
    const bool file = id_or_file == "-" || id_or_file.find('/') != std::string::npos || id_or_file.ends_with(".json");
    if (!file) return scenario_in({levels_dir}, id_or_file, levels_dir);
    const Result<std::string> text = read_text_file(id_or_file);
    if (!text.ok()) return text.faults();
    return read_scenario(text.value(), shown_name(id_or_file));
}

Result<AttemptInScenario> read_attempt_file(const std::string& attempt_path, const std::string& scenario_path,
                                            const std::string& levels_dir) {
    const Result<std::string> text = read_text_file(attempt_path);
    if (!text.ok()) return text.faults();
    return attempt_in_scenario(text.value(), attempt_path, scenario_path, levels_dir);
}

Faults check_file(const std::string& path, const std::string& levels_dir) {
    const Result<std::string> text = read_text_file(path);
    if (!text.ok()) return text.faults();
    const std::string name = shown_name(path);
    const Result<Json> root = parse_document(text.value(), name);
    if (!root.ok()) return root.faults();
    const Json& object = root.value();
    if (path.ends_with(".schema.json")) return faults_of_schema(text.value(), name);
    const Json format = object.value("format", Json());
    if (format == "graftwright-scenario") return faults_of(read_scenario(text.value(), name));
    if (format == "graftwright-attempt") {
        const Result<AttemptInScenario> both = attempt_in_scenario(text.value(), path, "", levels_dir);
        return both.ok() ? Faults{} : both.faults();
    }
    if (format == "graftwright-ring" || (format.is_null() && object.contains("R_mid_mm")))
        return faults_of(read_ring_case(text.value(), name));
    if (format == "graftwright-hand") return faults_of(read_hand_record(text.value(), name));
    const std::string expected =
        ", expected \"graftwright-scenario\", \"graftwright-attempt\", \"graftwright-ring\" or \"graftwright-hand\"";
    if (!object.contains("format"))
        return faults_from({{"", "key \"format\" is missing" + expected, false, {}, {}}}, text.value(), name);
    const std::string shown = format.is_string() ? in_quotes(format.get<std::string>()) : "no text";
    return faults_from({{"/format", "format is " + shown + expected, false, {}, {}}}, text.value(), name);
}

}  // namespace graftwright
