#include "game/session.h"

#include <cmath>
#include <utility>
#include <variant>

#include "base/point.h"

namespace graftwright {
namespace {

bool same_question(const WoundQuestion& a, const WoundQuestion& b) {
    return a.bites == b.bites && a.runs == b.runs && a.pressure_mmHg == b.pressure_mmHg && a.map == b.map;
}

}  // namespace

Session::Session(std::shared_ptr<const ScenarioModel> model, std::unique_ptr<WoundService> service, std::string trainee,
                 std::string started)
    : service_(std::move(service)), table_(std::move(model), std::move(trainee), std::move(started)) {}

Stage Session::stage() const {
    return std::visit([](const auto& stage) { return stage.label(); }, stage_);
}

bool Session::in_play() const {
    return !paused_ && std::visit([](const auto& stage) { return stage.kInPlay; }, stage_);
}

void Session::go(stage::Next next) {
    if (next) stage_ = std::move(*next);
}

bool Session::can_step() const {
    if (const auto* solving = std::get_if<stage::Solving>(&stage_); solving && solving->asked) return service_->ready();
    return !asked_ || table_.tick + 1 < asked_->tick + kSolveTicks || service_->ready();
}

void Session::step(const std::vector<Action>& actions) {
    ++table_.tick;
    ask_and_adopt();
    for (const Action& action : actions) act(action);
    if (!in_play()) return;
    table_.pass_time(1);
    go(std::visit([this](auto& stage) { return stage.step(table_); }, stage_));
    const Point push = table_.bite.push_mN();
    table_.chamber.step(table_.threads.in_place(), std::hypot(push.x, push.y));
    table_.donor.step();
    const std::optional<double> limit = table_.scenario().task.time_limit_s;
    if (limit && table_.active_ticks >= *limit * kTicksPerSecond) {
        table_.say(
            table_.threads.open_run.empty() ? "Time is up." : "Time is up. The run that is not tied does not count.",
            true);
        go(stage::end(table_));
    }
}

void Session::act(const Action& action) {
    const auto tell_stage = [&] { go(std::visit([&](auto& stage) { return stage.act(table_, action); }, stage_)); };
    if (action.kind == Action::Kind::point) {  // paused or not
        table_.pointer = action.at;
        return tell_stage();
    }
    if (action.command == Command::pause) {
        paused_ = !paused_;
        return;
    }
    if (action.command == Command::twin) twin_ = !twin_;
    if (!in_play()) return;
    if (action.command == Command::fine) fine_ = !fine_;
    if (action.kind == Action::Kind::select) std::visit([&](auto& stage) { stage.select(table_, action.at); }, stage_);
    table_.act(action);
    tell_stage();
}

void Session::record(Event event) { table_.threads.attempt.events.push_back(std::move(event)); }

WoundQuestion Session::question() const {
    WoundQuestion question;
    question.tick = table_.tick;
    question.bites = table_.threads.attempt.bites;
    question.runs = table_.threads.attempt.runs;
    if (const std::optional<Tying>& tying = table_.tying)
        tying->run ? question.runs.push_back(*tying->run) : question.bites.push_back(tying->bite);
    std::visit([&](const auto& stage) { stage.ask(table_, question); }, stage_);
    return question;
}

void Session::ask_and_adopt() {
    if (asked_ && table_.tick >= asked_->tick + kSolveTicks) {
        table_.wound = service_->take();
        table_.shown = std::move(asked_);
        asked_.reset();
    }
    if (asked_ || over()) return;
    if (auto* solving = std::get_if<stage::Solving>(&stage_)) return work_out(*solving);
    WoundQuestion now = question();
    if (table_.shown && same_question(*table_.shown, now)) return;
    service_->ask(now);
    asked_ = std::move(now);
}

void Session::work_out(stage::Solving& solving) {
    if (!solving.asked) {
        service_->ask_debrief(attempt());
        solving.asked = true;
    } else if (service_->ready()) {
        debrief_ = service_->take_debrief();
        stage_ = stage::Over();
    }
}

Snapshot Session::snapshot() const {
    Snapshot shot;
    shot.stage = stage();
    shot.paused = paused_;
    shot.fine = fine_;
    shot.twin = twin_;
    table_.show(shot);
    std::visit([&](const auto& stage) { stage.show(table_, shot); }, stage_);
    shot.wound_is_old = asked_ && table_.shown && table_.tick - table_.shown->tick > kOldPictureTicks;
    shot.debrief = debrief_;
    return shot;
}

}  // namespace graftwright
