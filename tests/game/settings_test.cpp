#include "game/settings.h"

#include <catch2/catch.hpp>

#include "../scenes/temporary_folder.h"
#include "files/reader.h"
#include "game/user_files.h"

namespace graftwright {
namespace {

using Catch::Matchers::Contains;
using test::TemporaryFolder;

TEST_CASE("settings: what is written is read again, and no file is the shipped ones", "[game][settings][quick]") {
    const TemporaryFolder folder;
    CHECK(read_settings(folder.file("settings.json")).value().sound);
    Settings settings;
    settings.trainee = "F\u00fcchsin 7";
    settings.left_handed = settings.reduced_motion = true;
    settings.sound = false;
    settings.keys.bind("R", Command::primary);
    write_settings(folder.file("settings.json"), settings);
    const Settings read = read_settings(folder.file("settings.json")).value();
    CHECK(read.trainee == settings.trainee);
    CHECK(read.left_handed);
    CHECK_FALSE(read.examiner_view);
    CHECK(read.reduced_motion);
    CHECK_FALSE(read.sound);
    CHECK(read.keys.command("R") == Command::primary);
}

TEST_CASE("settings: damaged ones, or of another version, are a fault with words and can be put aside",
          "[game][settings][quick]") {
    const std::string format = R"("format":"graftwright-settings")";
    for (const auto& [text, why] : std::vector<std::pair<std::string, std::string>>{
             {R"({"format":5})", "can't be understood"},
             {"", "can't be understood"},
             {"[]", "can't be understood"},
             {"{" + format + R"(,"version":"1"})", "another version"},
             {"{" + format + R"(,"version":2,"sound":false})", "another version"},
             {"{" + format + "}", "another version"}}) {
        CAPTURE(text);
        const TemporaryFolder folder;
        const std::string path = folder.write("settings.json", text);
        const Result<Settings> settings = read_settings(path);
        REQUIRE_FALSE(settings.ok());
        CHECK_THAT(settings.faults().front().message, Contains(why));
        CHECK_THAT(put_aside("The file of your settings", path, settings.faults().front().message),
                   Contains(why) && Contains("kept as " + path + ".aside-1."));
        CHECK(read_text_file(path + ".aside-1").value() == text);
        CHECK(read_settings(path).ok());
    }
}

TEST_CASE("settings: a value of another kind is as if it were not there", "[game][settings][quick]") {
    const TemporaryFolder folder;
    const std::string path = folder.write("settings.json", R"({"format":"graftwright-settings","version":1,
        "trainee":7,"left_handed":"yes","sound":null,"examiner_view":true,"keys":{"R":3,"Space":"no such","Q":"finish"}})");
    const Settings settings = read_settings(path).value();
    CHECK(settings.trainee.empty());
    CHECK_FALSE(settings.left_handed);
    CHECK(settings.sound);
    CHECK(settings.examiner_view);
    CHECK(settings.keys.command("Space") == Command::primary);
    CHECK(settings.keys.command("Q") == Command::finish);
}

TEST_CASE("user files: putting aside writes over nothing, and says where it could not", "[game][settings][quick]") {
    const TemporaryFolder folder;
    for (const std::string text : {"first", "second"}) (void)move_aside(folder.write("settings.json", text));
    CHECK(read_text_file(folder.file("settings.json.aside-1")).value() == "first");
    CHECK(read_text_file(folder.file("settings.json.aside-2")).value() == "second");
    CHECK_THAT(put_aside("The file", folder.file("none"), "can't be read"), Contains("could not be moved aside"));
}

TEST_CASE("user files: a folder that can't be made is said, not thrown, and nothing can be kept there",
          "[game][settings][quick]") {
    const TemporaryFolder folder;
    const UserFiles files(folder.write("a_file", "") + "/graftwright");
    CHECK_THAT(files.fault(), Contains("Nothing can be kept"));
    CHECK_THROWS_AS((void)files.keep({}), std::runtime_error);
    CHECK(UserFiles(folder.file("data")).fault().empty());
}

}  // namespace
}  // namespace graftwright
