// The machine's own tools that tests of pages ask: parsers, a browser.
#pragma once

#include <catch2/catch.hpp>

#include "running.h"

namespace graftwright::test {

// A tool of the machine's, its two outputs together.
[[nodiscard]] inline Ran tool(const std::string& command) {
    const Folder folder;
    const std::string out = folder.file("out");
    const int status = std::system((command + " >" + quoted(out) + " 2>&1 </dev/null").c_str());
    Ran ran;
    if (WIFEXITED(status)) ran.code = WEXITSTATUS(status);
    ran.out = text_of(out);
    INFO(command);
    REQUIRE(ran.code != 127);  // not installed: see test_packages in tools/lib/setup.sh
    return ran;
}

// Headless, with a profile of its own; without a sandbox, which root may not have.
[[nodiscard]] inline std::string chromium(const Folder& folder, const std::string& more) {
    return "HOME=" + quoted(folder.file("home")) + " chromium --headless --no-sandbox --disable-gpu " +
           "--disable-dev-shm-usage --hide-scrollbars --user-data-dir=" + quoted(folder.file("profile")) +
           " --enable-logging=stderr --v=0 " + more;
}

}  // namespace graftwright::test
