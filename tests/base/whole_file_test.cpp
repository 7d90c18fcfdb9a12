// A file is written whole or not at all: the older one stays, nothing is left beside it.
#include "base/whole_file.h"

#include <csignal>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <thread>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <sys/resource.h>
#include <sys/stat.h>

#include "../scenes/temporary_folder.h"

using namespace graftwright;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Folder = graftwright::test::TemporaryFolder;

namespace {

namespace fs = std::filesystem;

std::string text_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

std::size_t files_in(const Folder& folder) {
    std::size_t count = 0;
    for (const auto& entry : fs::directory_iterator(folder.file("")))
        if (!entry.path().empty()) ++count;
    return count;
}

unsigned mode_of(const std::string& path) {
    struct stat there {};
    REQUIRE(stat(path.c_str(), &there) == 0);
    return there.st_mode & 07777U;
}

// A disk that takes so many bytes of a file and no more.
class SmallDisk {
  public:
    explicit SmallDisk(rlim_t bytes) : former_(std::signal(SIGXFSZ, SIG_IGN)) {
        REQUIRE(getrlimit(RLIMIT_FSIZE, &limit_) == 0);
        const rlimit small{bytes, limit_.rlim_max};
        REQUIRE(setrlimit(RLIMIT_FSIZE, &small) == 0);
    }
    ~SmallDisk() {
        setrlimit(RLIMIT_FSIZE, &limit_);
        std::signal(SIGXFSZ, former_);
    }
    SmallDisk(const SmallDisk&) = delete;
    SmallDisk& operator=(const SmallDisk&) = delete;

  private:
    rlimit limit_{};
    void (*former_)(int);
};

}  // namespace

TEST_CASE("whole file: it is there as it was given, alone, in place of the older one", "[base]") {
    const Folder folder;
    const std::string path = folder.file("report.html");
    const std::string bytes("a\0b\r\n\xFF", 6);
    write_whole(path, bytes);
    CHECK(text_of(path) == bytes);
    write_whole(path, "second");
    CHECK(text_of(path) == "second");
    CHECK(files_in(folder) == 1);
}

TEST_CASE("whole file: on a full disk the older one stays, and nothing beside it", "[base]") {
    const Folder folder;
    const std::string path = folder.write("report.html", "the older one");
    const std::string fresh = folder.file("fresh.html"), large(100000, 'x');
    {
        const SmallDisk disk(4096);
        CHECK_THROWS_WITH(write_whole(path, large), Contains("cannot write " + path + ": File too large"));
        CHECK_THROWS_WITH(write_whole(fresh, large), Contains("cannot write " + fresh + ": File too large"));
    }
    CHECK(text_of(path) == "the older one");
    CHECK(files_in(folder) == 1);
}

TEST_CASE("whole file: given up in the middle, nothing has happened", "[base]") {
    const Folder folder;
    const std::string path = folder.write("group.html", "the older one");
    const auto give_up = [&] {
        WholeFile file(path);
        file.add("half of");
        throw std::runtime_error("the database is gone");
    };
    CHECK_THROWS_WITH(give_up(), "the database is gone");
    CHECK(text_of(path) == "the older one");
    CHECK(files_in(folder) == 1);
}

TEST_CASE("whole file: somebody's file of a like name is not touched", "[base]") {
    const Folder folder;
    const std::string theirs = ".graftwright-" + std::to_string(getpid()) + "-1.new";
    folder.write(theirs, "theirs");
    folder.write("level.json.new", "theirs too");
    write_whole(folder.file("level.json"), "ours");
    CHECK(text_of(folder.file(theirs)) == "theirs");
    CHECK(text_of(folder.file("level.json.new")) == "theirs too");
    CHECK(text_of(folder.file("level.json")) == "ours");
    CHECK(files_in(folder) == 3);
}

TEST_CASE("whole file: an older one's permissions stay, a new one's are the user's usual ones", "[base]") {
    const Folder folder;
    const std::string older = folder.write("older", "1"), fresh = folder.file("fresh");
    REQUIRE(chmod(older.c_str(), 0640) == 0);
    const mode_t usual = umask(0027);
    write_whole(older, "2");
    write_whole(fresh, "2");
    umask(usual);
    CHECK(mode_of(older) == 0640);
    CHECK(mode_of(fresh) == 0640);
    REQUIRE(chmod(older.c_str(), 0604) == 0);
    write_whole(older, "3");
    CHECK(mode_of(older) == 0604);
}

TEST_CASE("whole file: a link stays a link, and what it leads to is written", "[base]") {
    const Folder folder;
    fs::create_directory(folder.file("there"));
    folder.write("there/report.html", "the older one");
    fs::create_symlink("there/report.html", folder.file("report.html"));
    fs::create_symlink("there/none-yet.html", folder.file("new.html"));
    write_whole(folder.file("report.html"), "new");
    write_whole(folder.file("new.html"), "new");
    CHECK(fs::is_symlink(folder.file("report.html")));
    CHECK(fs::is_symlink(folder.file("new.html")));
    CHECK(text_of(folder.file("there/report.html")) == "new");
    CHECK(text_of(folder.file("there/none-yet.html")) == "new");
}

TEST_CASE("whole file: what is no file on a disk is written to directly", "[base]") {
    const Folder folder;
    const std::string pipe = folder.file("pipe");
    REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
    std::string heard;
    std::thread reader([&] { heard = text_of(pipe); });
    write_whole(pipe, "to whoever listens");
    reader.join();
    CHECK(heard == "to whoever listens");
    CHECK(fs::is_fifo(pipe));
    CHECK(files_in(folder) == 1);
    write_whole("/dev/null", "gone");
    CHECK(fs::is_character_file("/dev/null"));
    if (fs::exists("/dev/full"))
        CHECK_THROWS_WITH(write_whole("/dev/full", "x"), "cannot write /dev/full: No space left on device");
}

TEST_CASE("whole file: the system's reason is said with the path as it was given", "[base]") {
    const Folder folder;
    CHECK_THROWS_WITH(write_whole("", "x"), "cannot write : No such file or directory");
    const std::string nowhere = folder.file("no/such/folder.html"), a_folder = folder.file("");
    CHECK_THROWS_WITH(write_whole(nowhere, "x"), "cannot write " + nowhere + ": No such file or directory");
    CHECK_THROWS_WITH(write_whole(a_folder, "x"), "cannot write " + a_folder + ": Is a directory");
    const std::string slashed = folder.file("none/");
    CHECK_THROWS_WITH(write_whole(slashed, "x"), "cannot write " + slashed + ": Is a directory");
    fs::create_symlink("round", folder.file("round"));
    CHECK_THROWS_WITH(write_whole(folder.file("round"), "x"),
                      StartsWith("cannot write " + folder.file("round") + ": "));
}
