// Runs the built program as a user's shell would and keeps what came out of it.
#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <unistd.h>
#include <vector>

#include <sys/wait.h>

#include "../scenes/temporary_folder.h"

namespace graftwright::test {

inline const std::string kRoot = GRAFTWRIGHT_SOURCE_DIR;
inline const std::string kAttempts = kRoot + "/levels/attempts/";
inline const std::string kData = kRoot + "/tests/data/";

struct Ran {
    int code = -1;  // −1: ended by a signal
    std::string out, err;
};

[[nodiscard]] inline std::string text_of(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

using Folder = TemporaryFolder;

[[nodiscard]] inline std::string quoted(const std::string& word) {
    std::string out = "'";
    for (const char c : word) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return out + "'";
}

// arguments after the program's name; input on its standard input; out_to: "" keeps the output.
[[nodiscard]] inline Ran run(const std::vector<std::string>& arguments, const std::string& input = "",
                             const std::string& out_to = "") {
    const Folder folder;
    const std::string in = folder.write("in", input), out = folder.file("out"), err = folder.file("err");
    std::string command = "env -u GRAFTWRIGHT_LEVELS " + quoted(GRAFTWRIGHT_PROGRAM);
    for (const std::string& argument : arguments) command += " " + quoted(argument);
    command += " <" + quoted(in) + " >" + quoted(out_to.empty() ? out : out_to) + " 2>" + quoted(err);
    const int status = std::system(command.c_str());  // NOLINT(cert-env33-c,concurrency-mt-unsafe)
    Ran ran;
    // The shell says 128 + n where signal n ended the program.
    if (WIFEXITED(status) && WEXITSTATUS(status) < 128) ran.code = WEXITSTATUS(status);
    ran.out = text_of(out);
    ran.err = text_of(err);
    return ran;
}

[[nodiscard]] inline std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

// A good attempt at "sixteen": n even bites, cheap to score.
[[nodiscard]] inline std::string even_attempt(int n) {
    std::string bites;
    for (int k = 0; k < n; ++k) {
        const std::string deg = std::to_string(90 + 360.0 * ((k % 2) * ((n + 1) / 2) + k / 2) / n);
        bites += (k == 0 ? "" : ",\n") + std::string(R"(  {"graft_deg": )") + deg + R"(, "host_deg": )" + deg +
                 R"(, "graft_depth_um": 506, "host_depth_um": 570})";
    }
    return "{ \"format\": \"graftwright-attempt\", \"version\": 1, \"scenario\": \"sixteen\",\n\"bites\": [\n" + bites +
           "\n] }\n";
}

}  // namespace graftwright::test
