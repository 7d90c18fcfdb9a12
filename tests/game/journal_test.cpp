// A dead machine costs a second at most.
#include "game/journal.h"

#include <csignal>
#include <filesystem>
#include <fstream>
#include <sys/resource.h>
#include <unistd.h>

#include <catch2/catch.hpp>

#include "files/reader.h"
#include "files/writer.h"
#include "run_scenes.h"

namespace graftwright {
namespace {

class ScratchFile {
  public:
    explicit ScratchFile(const std::string& name)
        : path_((std::filesystem::temp_directory_path() / ("graftwright_" + name + std::to_string(::getpid()))).string()) {}
    ~ScratchFile() { std::filesystem::remove(path_); }
    ScratchFile(const ScratchFile&) = delete;
    ScratchFile& operator=(const ScratchFile&) = delete;
    [[nodiscard]] const std::string& path() const { return path_; }

  private:
    std::string path_;
};

// Plays a journal again and goes on with it.
Game resumed(const Journal& journal, const std::string& path) {
    GameOptions options;
    options.trainee = journal.head.trainee;
    options.started = journal.head.started;
    options.journal = scenes::held_journal(path);
    options.resume_tick = journal.last_tick;
    Game game(scenes::shared_model(), make_inline_service(scenes::shared_model()), options);
    play_inputs(game, journal.inputs, 0);
    play_inputs(game, {}, journal.last_tick - game.session().tick());
    return game;
}

TEST_CASE("journal: after a crash everything but the last second is there, and goes on", "[game][quick]") {
    const ScratchFile file("journal");
    std::string bites_before;
    int tick_before = 0;
    {
        Game game = scenes::new_game(file.path());
        scenes::play_bites(game, 3);
        scenes::RobotHand(game, scenes::Device::keyboard).wait(100);
        bites_before = write_attempt(game.session().attempt());
        tick_before = game.session().tick();
    }  // the machine dies here
    std::ofstream(file.path(), std::ios::app) << R"({"tick":99999,"inp)";  // in the middle of a line
    const auto journal = read_journal(file.path());
    REQUIRE(journal.ok());
    CHECK_FALSE(journal.value().ended);
    CHECK(journal.value().bites == 3);
    CHECK(journal.value().last_tick > tick_before - kTicksPerSecond);

    Game again = resumed(journal.value(), file.path());
    CHECK(write_attempt(again.session().attempt()) == bites_before);
    scenes::MeantBite fourth;
    fourth.at_deg = 180.0;
    scenes::RobotHand hand(again, scenes::Device::keyboard);
    hand.bite(fourth);
    CHECK(again.session().attempt().bites.size() == 4);
    hand.finish();
    const auto ended = read_journal(file.path());
    REQUIRE(ended.ok());
    CHECK(ended.value().bites == 4);
    CHECK(ended.value().ended);
}

TEST_CASE("journal: a run that was half laid when the machine died is laid and tied to the same bits", "[game][run][quick]") {
    const ScratchFile file("run_journal");
    const Scenario level = scenes::run_level(Pattern::running, 5);
    const scenes::MeantRun meant = scenes::meant_run(5);
    scenes::RunTable whole(level);
    whole.hand.run(meant);
    REQUIRE(whole.attempt().runs.size() == 1);
    int tick_before = 0;
    {
        GameOptions options;
        options.journal = scenes::held_journal(file.path());
        scenes::RunTable killed(level, scenes::Device::keyboard, options);
        for (int i = 0; i < 3; ++i) killed.hand.bite(meant.bites[static_cast<std::size_t>(i)]);
        tick_before = killed.game.session().tick();
    }  // the machine dies here
    const auto journal = read_journal(file.path());
    REQUIRE(journal.ok());
    GameOptions options;
    options.journal = scenes::held_journal(file.path());
    options.resume_tick = journal.value().last_tick;
    scenes::RunTable again(level, scenes::Device::keyboard, options);
    play_inputs(again.game, journal.value().inputs, 0);
    again.hand.wait(tick_before - again.game.session().tick());  // the hand goes on where it was
    REQUIRE(again.shot().bites.size() == 3);
    CHECK(again.shot().bites.back().slack);
    for (std::size_t i = 3; i < 5; ++i) again.hand.bite(meant.bites[i]);
    again.hand.tie_run(meant);
    CHECK(write_attempt(again.game.attempt()) == write_attempt(whole.game.attempt()));
    CHECK(read_journal(file.path()).value().bites == 5);
}

TEST_CASE("journal: a file that is none is a fault and stays as it is", "[game][quick]") {
    const ScratchFile file("no_journal");
    std::ofstream(file.path()) << "{\"format\":\"something else\"}\n";
    const auto journal = read_journal(file.path());
    REQUIRE_FALSE(journal.ok());
    CHECK(journal.faults().front().line == 1);
    CHECK(std::filesystem::file_size(file.path()) == 28);
    CHECK_FALSE(read_journal(file.path() + ".missing").ok());
}

// A disk that takes no more than so many bytes of a file, for as long as this lives.
class FullDisk {
  public:
    explicit FullDisk(rlim_t bytes) : signal_(std::signal(SIGXFSZ, SIG_IGN)) {
        REQUIRE(::getrlimit(RLIMIT_FSIZE, &before_) == 0);
        const rlimit now{bytes, before_.rlim_max};
        REQUIRE(::setrlimit(RLIMIT_FSIZE, &now) == 0);
    }
    ~FullDisk() {
        ::setrlimit(RLIMIT_FSIZE, &before_);
        std::signal(SIGXFSZ, signal_);
    }
    FullDisk(const FullDisk&) = delete;
    FullDisk& operator=(const FullDisk&) = delete;

  private:
    rlimit before_{};
    void (*signal_)(int);
};

TEST_CASE("journal: a full disk stops no attempt, is told, and what waited goes in when there is room",
          "[game][journal][quick]") {
    const ScratchFile file("full_journal"), roomy("roomy_journal");
    const auto play = [](Game& game, int ticks) {
        for (int i = 0; i < ticks; ++i) game.step({{HandDoes::key, 0.0, 0.0, 0, 0.0, "@fine"}});
    };
    {
        Game game = scenes::new_game(file.path());
        {
            const FullDisk disk(1000);  // in the middle of a line
            play(game, 300);
            CHECK(game.session().tick() == 300);
            CHECK(game.snapshot().notice == "Not journaled for now: the disk is full.");
            CHECK(game.snapshot().warning);
            CHECK(std::filesystem::file_size(file.path()) == 1000);
            const auto half = read_journal(file.path());
            REQUIRE(half.ok());
            CHECK(half.value().last_tick > 0);
        }
        play(game, 1);
        CHECK(game.journal_fault().empty());
        CHECK(game.snapshot().notice.empty());
    }
    {
        Game game = scenes::new_game(roomy.path());
        play(game, 301);
    }
    CHECK(read_text_file(file.path()).value() == read_text_file(roomy.path()).value());
}

TEST_CASE("journal: a folder that can't be written stops no attempt, and is told", "[game][journal][quick]") {
    Game game = scenes::new_game("/nowhere/journal.jsonl");
    game.step({});
    CHECK(game.session().tick() == 1);
    CHECK_THAT(game.snapshot().notice, Catch::StartsWith("Not journaled for now"));
    game.give_up();
    CHECK(game.journal_fault().empty());
}

TEST_CASE("journal: ticks that no attempt can have are left out, and what follows stands", "[game][journal][quick]") {
    const ScratchFile file("odd_ticks");
    std::ofstream(file.path()) << R"({"format":"graftwright-journal","version":1}
{"tick":240}
{"tick":1e300}
{"tick":-1}
{"tick":9223372036854775807}
{"tick":18446744073709551615}
{"tick":2147483647,"bite":{}}
{"tick":100,"bite":{}}
{"tick":"480"}
{"tick":300,"input":{"do":"wheel","notches":1e300}}
{"tick":301,"input":{"do":"press","button":-1e300}}
{"tick":302,"input":{"do":"move","x":1e300}}
{"tick":303,"input":[]}
{"tick":480,"input":{"do":"key","key":"@primary"}}
)";
    const auto journal = read_journal(file.path());
    REQUIRE(journal.ok());
    CHECK(journal.value().last_tick == 480);
    CHECK(journal.value().bites == 0);
    REQUIRE(journal.value().inputs.size() == 1);
    CHECK(journal.value().inputs.front().tick == 480);
}

TEST_CASE("journal: one that two windows wrote into is read as far as it makes sense", "[game][journal][quick]") {
    const auto journal = read_journal(std::string(GRAFTWRIGHT_SOURCE_DIR) + "/tests/data/journal_two_windows.jsonl");
    REQUIRE(journal.ok());
    CHECK(journal.value().head.scenario == "eight");
    CHECK(journal.value().last_tick == 2640);
    CHECK(journal.value().inputs.size() == 12);  // the line that begins with a hole is left out
}

TEST_CASE("journal: an hour of a fast mouse is more than other files may have, and is read", "[game][journal][quick]") {
    const ScratchFile file("long_journal");
    {
        std::ofstream out(file.path());
        out << R"({"format":"graftwright-journal","version":1})" << '\n';
        for (int tick = 1; tick <= 300000; ++tick)
            out << R"({"tick":)" << tick << R"(,"input":{"do":"move","x":405.123456789,"y":400.123456789}})" << '\n';
    }
    REQUIRE(std::filesystem::file_size(file.path()) > std::uintmax_t{16} << 20);
    const auto journal = read_journal(file.path());
    REQUIRE(journal.ok());
    CHECK(journal.value().inputs.size() == 300000);
}

TEST_CASE("journal: a level has another fingerprint when anything in it is changed", "[game][journal][quick]") {
    const Scenario level = scenes::sixteen(16);
    Scenario changed = level;
    changed.task.bites = 15;
    CHECK(level_fingerprint(level) == level_fingerprint(Scenario(level)));
    CHECK(level_fingerprint(level) != level_fingerprint(changed));
    const ScratchFile file("fingerprint");
    { (void)scenes::new_game(file.path()); }
    CHECK(read_journal(file.path()).value().head.level == level_fingerprint(level));
}

}  // namespace
}  // namespace graftwright
