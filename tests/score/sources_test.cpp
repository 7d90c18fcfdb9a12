// Figures are cited by number in comments and by their source wherever people read: nobody is left with a number.
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>

#include <catch2/catch.hpp>

#include "score/bite_metrics.h"

using namespace graftwright;

namespace {

namespace fs = std::filesystem;
const fs::path kRoot = GRAFTWRIGHT_SOURCE_DIR;
const std::regex kNumber("\\bT[0-9]{1,2}-[0-9]{2}\\b");

std::string text_of(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

std::set<std::string> numbers_in(const std::string& text) {
    std::set<std::string> numbers;
    for (auto it = std::sregex_iterator(text.begin(), text.end(), kNumber); it != std::sregex_iterator(); ++it)
        numbers.insert(it->str());
    return numbers;
}

}  // namespace

TEST_CASE("sources: every figure that a file cites by number is in levels/SOURCES.md, and none without need",
          "[score]") {
    std::set<std::string> listed, cited;
    const std::string page = text_of(kRoot / "levels/SOURCES.md");
    const std::regex row("\\| (T[0-9]{1,2}-[0-9]{2}) \\|[^|]{4,}\\|[^|]{4,}\\|[^|]{4,}\\|");
    for (auto it = std::sregex_iterator(page.begin(), page.end(), row); it != std::sregex_iterator(); ++it) {
        INFO(it->str());
        CHECK(listed.insert((*it)[1].str()).second);
    }
    for (const char* folder : {"src", "levels", "tests", "tools"})
        for (const fs::directory_entry& entry : fs::recursive_directory_iterator(kRoot / folder)) {
            const fs::path& file = entry.path();
            const std::set<std::string> kinds{".h", ".cpp", ".inc", ".json", ".md", ".csv", ".py"};
            if (!entry.is_regular_file() || !kinds.contains(file.extension().string()) ||
                file.filename() == "SOURCES.md")
                continue;
            for (const std::string& number : numbers_in(text_of(file))) {
                INFO(file << " cites " << number);
                CHECK(listed.contains(number));
                cited.insert(number);
            }
        }
    for (const std::string& number : listed) {
        INFO(number << " is cited nowhere");
        CHECK(cited.contains(number));
    }
    CHECK(listed.size() > 50);
}

TEST_CASE("sources: what is said of a limit names its source, not a number of a list", "[score]") {
    for (const FlagMeaning& meaning : flag_meanings()) {
        INFO(meaning.name << ": " << meaning.source);
        CHECK(numbers_in(meaning.source + meaning.limit).empty());
        CHECK(std::string(meaning.source).size() > 4);
    }
}
