// Finding an attempt's scenario, and files that can't be read at all.
#include <filesystem>
#include <fstream>
#include <string>

#include <catch2/catch.hpp>

#include "files/reader.h"
#include "files/writer.h"
#include "shared.h"

using namespace graftwright;
using graftwright::test::kData;
using graftwright::test::kLevels;
namespace fs = std::filesystem;

namespace {

// A folder of its own, gone with the test.
class Folder {
  public:
    explicit Folder(const std::string& name) : path_(fs::temp_directory_path() / ("graftwright-files-" + name)) {
        fs::remove_all(path_);
        fs::create_directories(path_);
    }
    ~Folder() { fs::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    std::string put(const std::string& name, const std::string& text) const {
        std::ofstream(path_ / name, std::ios::binary) << text;
        return (path_ / name).string();
    }
    [[nodiscard]] std::string path() const { return path_.string(); }

  private:
    fs::path path_;
};

Attempt attempt_at(const std::string& scenario) {
    Attempt attempt;
    attempt.scenario = scenario;
    attempt.bites.resize(1);
    return attempt;
}

}  // namespace

TEST_CASE("lookup: the shipped attempts are sound and find their scenario", "[files][shipped]") {
    int count = 0;
    for (const auto& entry : fs::directory_iterator(kLevels + "/attempts")) {
        const Result<AttemptInScenario> read = read_attempt_file(entry.path().string(), "", kLevels);
        INFO(entry.path().string());
        REQUIRE(read.ok());
        CHECK(read.value().scenario.id == read.value().attempt.scenario);
        ++count;
    }
    CHECK(count >= 3);
}

TEST_CASE("lookup: the demonstration attempts differ by what their names say and nothing else", "[files][shipped]") {
    const auto bites = [](const std::string& name) {
        return read_attempt_file(kLevels + "/attempts/" + name + ".json", "", kLevels).value().attempt.bites;
    };
    const std::vector<Bite> even = bites("even_sixteen");
    REQUIRE(even.size() == 16);
    std::vector<Bite> tight = bites("tight_pair");
    for (const std::size_t i : {0U, 1U}) {
        CHECK(tight[i].tension_mN == Approx(2.0 * even[i].tension_mN).margin(0.2));
        tight[i].tension_mN = even[i].tension_mN;
    }
    CHECK(tight == even);
    std::vector<Bite> off = bites("second_cardinal_off");
    CHECK(off[1].host_deg - off[1].graft_deg == Approx(11.0).margin(0.5));
    off[1] = even[1];
    CHECK(off == even);
}

TEST_CASE("lookup: a scenario next to the attempt is found, a shipped one of that id wins", "[files][lookup]") {
    const Folder folder("neighbours");
    Scenario own;
    own.id = "own";
    own.graft.thickness_um = 501;
    folder.put("z.json", write_scenario(own));
    folder.put("broken.json", "{\"format\":");
    const std::string path = folder.put("a.json", write_attempt(attempt_at("own")));
    const Result<AttemptInScenario> read = read_attempt_file(path, "", kLevels);
    REQUIRE(read.ok());
    CHECK(read.value().scenario == own);

    own.id = "sixteen";
    folder.put("z.json", write_scenario(own));
    const std::string shipped = folder.put("b.json", write_attempt(attempt_at("sixteen")));
    CHECK(read_attempt_file(shipped, "", kLevels).value().scenario.graft.thickness_um == 550);
    CHECK(read_attempt_file(shipped, kLevels + "/small-donor.json", kLevels).value().scenario.id == "small-donor");
}

TEST_CASE("lookup: an id that nobody has is a fault at its line", "[files][lookup][bad-input]") {
    const Faults faults = check_file(kData + "/unknown_scenario.json", kLevels);
    REQUIRE(faults.size() == 1);
    CHECK(faults[0].line == 4);
    CHECK(faults[0].message.starts_with("no scenario has the id \"no-such-level\", expected one of "));
    CHECK(faults[0].message.find("sixteen") != std::string::npos);
}

TEST_CASE("lookup: levels that are not there are to blame themselves, not who asks for one",
          "[files][lookup][bad-input]") {
    const Folder folder("no_levels");
    const std::string attempt = folder.put("a.json", write_attempt(attempt_at("sixteen")));
    const std::string nowhere = folder.path() + "/nowhere";
    const std::string none = nowhere + ": there is no such folder, expected the one with the level \"sixteen\"";
    CHECK(find_scenario("sixteen", "-", nowhere).faults().at(0).text() == none);
    CHECK(read_attempt_file(attempt, "", nowhere).faults().at(0).text() == none);
    CHECK(read_level("sixteen", nowhere).faults().at(0).text() == none);
    CHECK(read_level("sixteen", folder.path()).faults().at(0).text() ==
          folder.path() + ": the folder holds no level, expected \"sixteen\" there");
    CHECK(read_level("nobody", kLevels)
              .faults()
              .at(0)
              .text()
              .starts_with(kLevels + ": no scenario has the id \"nobody\""));
    // Beside the attempt one may lie all the same.
    Scenario own;
    own.id = "own";
    folder.put("own.json", write_scenario(own));
    const std::string of_own = folder.put("b.json", write_attempt(attempt_at("own")));
    CHECK(read_attempt_file(of_own, "", nowhere).ok());
}

TEST_CASE("lookup: a level is named by id or by file", "[files][lookup]") {
    CHECK(read_level("eight", kLevels).value().id == "eight");
    CHECK(read_level(kLevels + "/eight.json", "/no/such/folder").value().id == "eight");
    CHECK(read_level(kLevels + "/eight", kLevels).faults().at(0).file == kLevels + "/eight");
}

TEST_CASE("lookup: of more faults than are told at least the next is counted", "[files][bad-input]") {
    const auto last_of = [](int keys) {
        std::string text = "{\"format\": \"graftwright-scenario\", \"version\": 1, \"id\": \"many\"";
        for (int n = 0; n < keys; ++n) text += ", \"key" + std::to_string(n) + "\": 0";
        return read_scenario(text + "}", "many.json").faults().back().text();
    };
    CHECK(last_of(200).starts_with("many.json:1: unknown key"));
    CHECK(last_of(201) == "many.json: and at least 1 more fault");
    CHECK(last_of(900).starts_with("many.json: and at least "));
}

TEST_CASE("lookup: faults of a neighbouring scenario are told under its own name", "[files][lookup]") {
    const Folder folder("faulty");
    const std::string scenario =
        folder.put("s.json", R"({"format": "graftwright-scenario", "version": 1, "id": "s", "order": -1})");
    Attempt attempt = attempt_at("s");
    attempt.bites[0].tension_mN = -1;
    const std::string path = folder.put("a.json", write_attempt(attempt));
    const Result<AttemptInScenario> read = read_attempt_file(path, "", kLevels);
    REQUIRE_FALSE(read.ok());
    REQUIRE(read.faults().size() == 2);
    CHECK(read.faults()[0].file == path);
    CHECK(read.faults()[1].text() == scenario + ":1: order is -1, expected a whole number from 0 to 100000");
}

TEST_CASE("lookup: what can't be read is a fault, not an exception", "[files][lookup][bad-input]") {
    CHECK(read_text_file(kLevels).faults()[0].message == "is a folder, expected a file");
    CHECK(read_text_file(kLevels + "/no-such.json").faults()[0].message ==
          "can't be read, expected a file that exists and may be read");
    CHECK(check_file(kLevels + "/no-such.json", kLevels).size() == 1);
    CHECK_FALSE(find_scenario("nobody", "-", kLevels + "/no-such-folder").ok());
}

TEST_CASE("lookup: a file over 16 MiB is refused, however it goes on", "[files][lookup][bad-input]") {
    const Folder folder("large");
    const std::string path = folder.put("large.json", std::string((std::size_t{16} << 20) + 1, ' '));
    const Faults faults = check_file(path, kLevels);
    REQUIRE(faults.size() == 1);
    CHECK(faults[0].message == "the file is larger than 16 MiB, expected far less");
}
