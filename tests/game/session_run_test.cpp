// Running threads as a hand lays, draws, ties and cuts them. Nothing here is solved: what is held is what the hand did
// and what the wound was asked.
#include <cmath>

#include <catch2/catch.hpp>

#include "base/random.h"
#include "files/writer.h"
#include "run_scenes.h"

namespace graftwright {
namespace {

using Catch::Contains;
using scenes::Device;
using scenes::even_run;
using scenes::meant_run;
using scenes::MeantBite;
using scenes::MeantRun;
using scenes::run_level;
using scenes::RunTable;

void lay(RunTable& table, int bites, int of = 0) {
    const MeantRun meant = meant_run(of == 0 ? bites : of);
    for (int i = 0; i < bites; ++i) table.hand.bite(meant.bites[static_cast<std::size_t>(i)]);
}

MeantBite at(double deg) {
    MeantBite bite;
    bite.at_deg = deg;
    return bite;
}

TEST_CASE("run: it is laid slack, bite by bite, and is part of the attempt once it is tied", "[game][run][quick]") {
    const Device device = GENERATE(Device::keyboard, Device::mouse, Device::mouse_and_wheel);
    RunTable table(run_level(Pattern::running, 4), device);
    CHECK(table.shot().running);
    lay(table, 4);
    CHECK(table.attempt().runs.empty());
    CHECK(table.attempt().bites.empty());
    Snapshot shot = table.shot();
    REQUIRE(shot.bites.size() == 4);
    CHECK(shot.bites_in_place() == 0);
    CHECK(shot.bites_counted == 4);
    CHECK(shot.spans.size() == 3);  // it is closed by its knot only
    for (const LaidBite& bite : shot.bites) {
        CHECK(bite.slack);
        CHECK(bite.run == 0U);
        CHECK(bite.tension_mN == 0.0);
    }
    table.hand.tie_run(meant_run(4));
    REQUIRE(table.attempt().runs.size() == 1);
    const Run& run = table.attempt().runs.front();
    REQUIRE(run.bites.size() == 4);
    for (std::size_t k = 0; k < 4; ++k) {
        CHECK(run.bites[k].host_deg == Approx(22.5 + 90.0 * static_cast<double>(k)).margin(0.4));
        CHECK(run.bites[k].graft_depth_um / 550.0 == Approx(0.92).margin(0.04));
    }
    CHECK(run.tension_mN == Approx(12.0).margin(0.3));
    CHECK(run.friction == Run{}.friction);
    shot = table.shot();
    CHECK(shot.stage == Stage::aim);
    CHECK(shot.bites_in_place() == 4);
    REQUIRE(shot.spans.size() == 4);
    CHECK(shot.spans.back().knot);
    CHECK(shot.spans.back().from == 3);
    CHECK(shot.spans.back().to == 0);
    CHECK(table.noted("run_bite") == 4);
    CHECK(table.noted("run_tied") == 1);
    CHECK(table.noted("tied") == 0);
    const auto read = read_attempt_for(table.model->scenario(), write_attempt(table.game.attempt()), "attempt.json");
    REQUIRE(read.ok());
    CHECK(read.value().runs == table.attempt().runs);
}

TEST_CASE("run: a slack thread holds nothing; the wound is asked about it from the knot on", "[game][run][quick]") {
    RunTable table(run_level(Pattern::running, 4));
    lay(table, 3, 4);
    table.hand.wait(30);
    for (const WoundQuestion& question : table.asked->questions) CHECK(question.runs.empty());
    table.hand.ask(Command::tie_run);
    REQUIRE(table.shot().stage == Stage::tie);
    table.hand.ask(Command::primary);
    table.hand.ask(Command::tighter, 8);
    table.hand.wait(60);
    const WoundQuestion drawn = table.asked->questions.back();
    REQUIRE(drawn.runs.size() == 1);
    CHECK(drawn.runs.front().bites.size() == 3);
    CHECK(drawn.runs.front().tension_mN == Approx(8.0).margin(1e-9));
    CHECK(drawn.runs.front().worked_mN == 0.0);  // drawn at its ends alone
    table.hand.ask(Command::work_round);
    table.hand.ask(Command::tighter, 4);
    table.hand.wait(60);
    const WoundQuestion worked = table.asked->questions.back();
    CHECK(worked.runs.front().tension_mN == Approx(12.0).margin(1e-9));
    CHECK(worked.runs.front().worked_mN == Approx(8.0).margin(1e-9));  // what it was worked at, not what came after
}

TEST_CASE("run: working the slack round takes its time, is said and noted, and ends with the lock",
          "[game][run][quick]") {
    RunTable table(run_level(Pattern::running, 4));
    lay(table, 4);
    table.hand.ask(Command::tie_run);
    table.hand.ask(Command::work_round);
    CHECK_THAT(table.shot().notice, Contains("Draw the ends first"));
    CHECK(table.noted("slack_worked") == 0);
    table.hand.ask(Command::primary);
    table.hand.ask(Command::tighter, 12);
    table.hand.wait(60);
    const double before_s = table.shot().time_s;
    const int tick_before = table.game.session().tick();
    table.hand.ask(Command::work_round);
    const double passed_s = static_cast<double>(table.game.session().tick() - tick_before) / kTicksPerSecond;
    CHECK(table.shot().time_s - before_s - passed_s == Approx(4 * 1.5).margin(1e-9));
    CHECK(table.shot().notice == "Slack worked round at 12 mN.");
    CHECK(table.noted("slack_worked") == 1);
    table.hand.ask(Command::primary);  // reversed: locks
    table.hand.ask(Command::work_round);
    CHECK(table.shot().warning);
    CHECK(table.noted("slack_worked") == 1);
}

TEST_CASE("run: two bites make none, throws come off before the lock, and a locked run is not let go",
          "[game][run][quick]") {
    RunTable table(run_level(Pattern::running, 4));
    lay(table, 2, 4);
    table.hand.ask(Command::tie_run);
    CHECK(table.shot().stage == Stage::aim);
    CHECK_THAT(table.shot().notice, Contains("three bites"));
    table.hand.bite(at(202.5));
    table.hand.ask(Command::tie_run);
    table.hand.ask(Command::primary);
    table.hand.ask(Command::back);
    CHECK(table.shot().stage == Stage::aim);
    CHECK(table.shot().bites.size() == 3);
    CHECK(table.shot().bites.front().slack);
    table.hand.ask(Command::tie_run);
    table.hand.ask(Command::primary, 2);
    table.hand.ask(Command::back);
    CHECK(table.shot().stage == Stage::tie);
}

TEST_CASE("run: a thread that breaks or tears out takes all its bites with it", "[game][run][quick]") {
    Scenario scenario = run_level(Pattern::running, 3);
    const bool breaks = GENERATE(true, false);
    if (breaks)
        scenario.thread.break_mN = 30.0;
    else
        scenario.graft.modulus_kPa = 40.0;  // tears out
    RunTable table(scenario);
    lay(table, 3);
    table.hand.ask(Command::tie_run);
    table.hand.ask(Command::primary);
    table.hand.ask(Command::tighter, 60);
    table.hand.wait(600);
    CHECK(table.shot().stage == Stage::aim);
    CHECK(table.shot().bites.empty());
    CHECK(table.attempt().runs.empty());
    CHECK(table.noted("thread_broke") + table.noted("tore_out") == 1);
}

TEST_CASE("run: drawn back bite by bite while it is open", "[game][run][quick]") {
    RunTable table(run_level(Pattern::running, 4));
    lay(table, 3, 4);
    table.hand.ask(Command::back);
    CHECK(table.shot().bites.size() == 2);
    table.hand.ask(Command::cut_out);  // the last of them is the selected one
    CHECK(table.shot().bites.size() == 1);
    CHECK(table.noted("run_bite_out") == 2);
    table.hand.ask(Command::running_thread);
    CHECK(table.shot().running);
    CHECK(table.shot().warning);  // half laid: tie it or draw it back
    table.hand.ask(Command::back);
    table.hand.ask(Command::running_thread);
    CHECK_FALSE(table.shot().running);
}

TEST_CASE("run: a single bite that comes out after it was tied comes out after the last knot", "[game][run][quick]") {
    RunTable table(run_level(Pattern::running, 4, 4));
    CHECK(table.shot().bites_counted == 0);  // the temporary ones are not what the level asks for
    table.hand.cut_out(3);
    CHECK(table.attempt().bites[3].removed_after == 4);
    table.hand.run(meant_run(4));
    REQUIRE(table.attempt().runs.size() == 1);
    CHECK(table.shot().bites_counted == 4);
    CHECK_THAT(table.shot().prompt, Contains("temporary"));
    for (const std::size_t b : {0U, 1U, 2U}) table.hand.cut_out(b);
    for (const std::size_t b : {0U, 1U, 2U}) {
        CHECK(table.attempt().bites[b].removed);
        CHECK(table.attempt().bites[b].removed_after == 0);
    }
    CHECK(table.shot().bites_in_place() == 4);
    const std::string text = write_attempt(table.game.attempt());
    CHECK(read_attempt_for(table.model->scenario(), text, "attempt.json").ok());
}

TEST_CASE("run: once tied it is cut out whole, and undone where the level allows", "[game][run][quick]") {
    Scenario scenario = run_level(Pattern::double_running, 8);
    scenario.task.hand.aids.push_back(Aid::undo);
    RunTable table(scenario);
    table.hand.run(meant_run(4));
    MeantRun second = meant_run(4, 67.5);
    second.bury_in_host = true;
    table.hand.run(second);
    REQUIRE(table.attempt().runs.size() == 2);
    CHECK(table.shot().bites[4].run == 1U);
    CHECK(table.shot().bites[4].buried_in_host);
    const std::vector<Run> both = table.attempt().runs;
    table.hand.cut_out(1);
    REQUIRE(table.attempt().runs.size() == 1);
    CHECK(table.attempt().runs.front() == both[1]);
    CHECK(table.noted("run_cut_out") == 1);
    table.hand.ask(Command::undo);
    CHECK(table.attempt().runs == both);
    table.hand.ask(Command::undo);  // the second knot
    CHECK(table.attempt().runs.size() == 1);
    CHECK(table.shot().bites.size() == 8);
    CHECK(table.shot().bites.back().slack);
    table.hand.ask(Command::undo, 5);  // its four bites, and the first knot
    CHECK(table.attempt().runs.empty());
    CHECK(table.shot().bites.size() == 4);
}

TEST_CASE("run: in a combined level single bites are tied first and refused after the run", "[game][run][quick]") {
    RunTable table(run_level(Pattern::combined, 6));
    CHECK_FALSE(table.shot().running);
    table.hand.bite(at(90.0));
    table.hand.bite(at(270.0));
    REQUIRE(table.attempt().bites.size() == 2);
    CHECK_THAT(table.shot().prompt, Contains("Bite 3 of 6"));
    table.hand.switch_running(true);
    table.hand.bite(at(0.0));
    CHECK_THAT(table.shot().prompt, Contains("Bite 4 of 6"));
    table.hand.bite(at(45.0));
    table.hand.bite(at(135.0));
    table.hand.bite(at(200.0));
    CHECK_THAT(table.shot().prompt, Contains("tie it"));
    table.hand.tie_run(meant_run(4));
    REQUIRE(table.attempt().runs.size() == 1);
    table.hand.switch_running(false);
    table.hand.ask(Command::primary);
    CHECK(table.shot().stage == Stage::aim);
    CHECK(table.shot().warning);
    table.hand.cut_out(2);  // the run's first bite
    CHECK(table.attempt().runs.empty());
    table.hand.bite(at(0.0));
    CHECK(table.attempt().bites.size() == 3);
}

TEST_CASE("run: a level's own runs lie in the eye from the start and are cut out whole", "[game][run][quick]") {
    Scenario scenario = run_level(Pattern::double_running, 8);
    scenario.start.runs.push_back(even_run(4, 0.0));
    RunTable table(scenario);
    REQUIRE(table.shot().bites.size() == 4);
    CHECK(table.shot().bites.front().from_start);
    CHECK_FALSE(table.shot().bites.front().slack);
    CHECK(table.shot().spans.size() == 4);
    CHECK(table.attempt().runs == scenario.start.runs);
    table.hand.wait(5);
    CHECK(table.asked->questions.back().runs == scenario.start.runs);
    table.hand.cut_out(2);
    CHECK(table.attempt().runs.empty());
    CHECK(table.shot().bites.empty());
}

TEST_CASE("run: what is not tied does not count, and is warned of once", "[game][run][quick]") {
    RunTable table(run_level(Pattern::running, 4, 4));
    lay(table, 3, 4);
    table.hand.ask(Command::finish);
    CHECK(table.shot().stage == Stage::aim);
    CHECK_THAT(table.shot().notice, Contains("not tied"));
    table.hand.finish();
    REQUIRE(table.game.session().over());
    REQUIRE(table.asked->attempts.size() == 1);
    CHECK(table.asked->attempts.front().runs.empty());
    CHECK(table.asked->attempts.front().bites.size() == 4);
}

TEST_CASE("run: bites of runs count among the 64, and a run lies nowhere twice", "[game][run][quick]") {
    Scenario scenario = run_level(Pattern::combined, 64);
    for (int i = 0; i < 61; ++i) {
        Bite bite;
        bite.graft_deg = bite.host_deg = 5.0 * i;
        scenario.start.bites.push_back(bite);
    }
    RunTable table(scenario);
    table.hand.switch_running(true);
    table.hand.bite(at(307.0));
    REQUIRE(table.shot().bites.size() == 62);
    table.hand.bite(at(307.0));
    CHECK(table.shot().bites.size() == 62);
    CHECK_THAT(table.shot().notice, Contains("here already"));
    table.hand.ask(Command::back);
    table.hand.wait(600);
    table.hand.ask(Command::back);
    table.hand.wait(30);
    table.hand.bite(at(325.0));
    table.hand.bite(at(343.0));
    REQUIRE(table.shot().bites.size() == 64);
    table.hand.ask(Command::primary);
    CHECK(table.shot().stage == Stage::aim);
    CHECK_THAT(table.shot().notice, Contains("64 bites"));
}

TEST_CASE("run: whatever commands come in whatever order, the attempt is one that a file may hold",
          "[game][run][quick]") {
    Scenario scenario = run_level(Pattern::combined, 8, 2);
    scenario.task.hand.aids.push_back(Aid::undo);
    const auto seed = GENERATE(range<std::uint64_t>(1, 5));
    RunTable table(scenario);
    RandomStream random(seed, 0);
    const std::vector<Command> commands{
        Command::running_thread, Command::tie_run, Command::work_round, Command::primary, Command::back,
        Command::cut_out,        Command::undo,    Command::next_bite,  Command::tighter, Command::bury_host};
    table.hand.switch_running(true);
    double deg = 10.0;
    for (int i = 0; i < 80; ++i) {
        while (table.shot().section) {  // nothing of a needle half way is of interest here
            table.hand.ask(Command::back);
            table.hand.wait(200);
        }
        if (table.shot().stage == Stage::aim && random.below(2) == 0) {
            table.hand.bite(at(deg));
            deg = std::fmod(deg + 41.0, 360.0);
        }
        const std::size_t now = random.below(commands.size());
        if (commands[now] == Command::tie_run && random.below(2) == 0)
            table.hand.tie_run(MeantRun{});  // to its end, which single commands seldom find
        else
            table.hand.ask(commands[now], commands[now] == Command::tighter ? 9 : 1);
        table.hand.wait(20);
        const Snapshot shot = table.shot();
        for (const LaidSpan& span : shot.spans) {
            REQUIRE(span.from < shot.bites.size());
            REQUIRE(shot.bites[span.from].run == span.run);
            REQUIRE(shot.bites[span.to].run == span.run);
        }
        std::size_t tied = table.attempt().bites.size();
        for (const Run& run : table.attempt().runs) tied += run.bites.size();
        const std::string text = write_attempt(table.attempt());
        if (tied > 0) REQUIRE(read_attempt_for(scenario, text, "attempt.json").ok());
    }
    CHECK(table.noted("run_bite") > 0);
    CHECK(table.noted("run_tied") + table.noted("run_bite_out") > 0);
}

TEST_CASE("run: levels of single bites know nothing of it", "[game][run][quick]") {
    RunTable table(run_level(Pattern::interrupted, 4));
    const std::vector<ConsoleButton> buttons = table.shot().buttons;
    for (const ConsoleButton& button : buttons)
        CHECK((button.command != Command::running_thread && button.command != Command::tie_run));
    table.hand.ask(Command::running_thread);
    CHECK_FALSE(table.shot().running);
    table.hand.ask(Command::tie_run);
    CHECK(table.shot().stage == Stage::aim);
    CHECK(table.shot().notice.empty());
    table.hand.bite(at(90.0));
    CHECK(table.attempt().bites.size() == 1);
}

}  // namespace
}  // namespace graftwright
