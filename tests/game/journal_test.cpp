// A dead machine costs a second at most.
#include "game/journal.h"

#include <filesystem>
#include <fstream>
#include <unistd.h>

#include <catch2/catch.hpp>

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
    options.journal_path = path;
    options.resume_tick = journal.last_tick;
    Game game(scenes::shared_model(), make_inline_service(scenes::shared_model()), options);
    play_inputs(game, timed(journal.inputs), 0);
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
        options.journal_path = file.path();
        scenes::RunTable killed(level, scenes::Device::keyboard, options);
        for (int i = 0; i < 3; ++i) killed.hand.bite(meant.bites[static_cast<std::size_t>(i)]);
        tick_before = killed.game.session().tick();
    }  // the machine dies here
    const auto journal = read_journal(file.path());
    REQUIRE(journal.ok());
    GameOptions options;
    options.journal_path = file.path();
    options.resume_tick = journal.value().last_tick;
    scenes::RunTable again(level, scenes::Device::keyboard, options);
    play_inputs(again.game, timed(journal.value().inputs), 0);
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

TEST_CASE("journal: a folder that can't be written is the machine's fault", "[game][quick]") {
    CHECK_THROWS_AS(JournalWriter("/nowhere/journal.jsonl", JournalHead{}), std::runtime_error);
}

}  // namespace
}  // namespace graftwright
