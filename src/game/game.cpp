#include "game/game.h"

#include <utility>

#include "base/point.h"
#include "files/event_kind.h"
#include "game/console.h"
#include "score/bites_in_order.h"

namespace graftwright {
namespace {

// A file of an attempt holds some 30,000 inputs; an attempt that has more keeps its bites but no replay.
constexpr std::size_t kMostInputs = 30000;

}  // namespace

Game::Game(std::shared_ptr<const ScenarioModel> model, std::unique_ptr<WoundService> service,
           const GameOptions& options)
    : session_(model, std::move(service), options.trainee, options.started),
      input_(options.keys, options.left_handed, options.examiner_view) {
    if (options.journal) {
        JournalHead head;
        head.scenario = model->scenario().id;
        head.scenario_path = options.scenario_path;
        head.level = level_fingerprint(model->scenario());
        head.trainee = options.trainee;
        head.started = options.started;
        head.left_handed = options.left_handed;
        head.examiner_view = options.examiner_view;
        journal_ = std::make_unique<JournalWriter>(options.journal, head, options.resume_tick);
    }
    session_.record(event_of(0.0, EventKind::setup,
                             {{"left_handed", options.left_handed}, {"examiner_view", options.examiner_view}}));
    bites_written_ = bite_count(session_.attempt());
    if (model->scenario().task.hand.lesson) lesson_.emplace();
    shot_ = snapshot();
}

void Game::step(std::vector<Input> inputs) {
    std::vector<Action> actions;
    const int tick = session_.tick() + 1;
    for (Input& input : inputs) {
        input.tick = tick;
        // Keys are kept by what they mean, so that a record outlives a change of keys.
        if (input.what == HandDoes::key) input.key = input_.meaning_of(input.key);
        const std::vector<Action> meant = input_.map(input, shot_);
        actions.insert(actions.end(), meant.begin(), meant.end());
        if (meant.empty() && input.what == HandDoes::move) continue;  // it did nothing
        if (journal_) journal_->input(input);
        if (inputs_.size() < kMostInputs) inputs_.push_back(std::move(input));
    }
    const bool was_over = session_.over();
    session_.step(actions);
    Snapshot shot = session_.snapshot();
    if (lesson_) lesson_->watch(shot);
    shot_ = completed(std::move(shot));
    if (!journal_) return;
    if (bites_written_ < bite_count(session_.attempt())) {
        const std::vector<OrderedBite> bites = bites_in_order(session_.attempt());
        for (; bites_written_ < bites.size(); ++bites_written_) journal_->bite(tick, bites[bites_written_]);
    }
    if (tick % kTicksPerSecond == 0 && !session_.over()) journal_->beat(tick);
    if (session_.over() && !was_over) journal_->end(tick);
}

Snapshot Game::completed(Snapshot shot) const {
    shot.layout = input_.layout();
    const Point at = input_.pointer();
    shot.pointer_in_field = shot.layout.field().holds(at.x, at.y);
    if (lesson_ && !session_.over()) {
        shot.lesson = lesson_->view(input_.keys());
        shot.prompt = shot.lesson->words;
    }
    if (shot.notice.empty() && !journal_fault().empty()) {
        shot.notice = journal_fault();
        shot.warning = true;
    }
    shot.buttons = console_buttons(shot, input_.keys());
    return shot;
}

Attempt Game::attempt() const {
    Attempt attempt = session_.attempt();
    if (inputs_.size() >= kMostInputs) return attempt;
    for (const Input& input : inputs_) attempt.events.push_back(input_event(input));
    return attempt;
}

void Game::give_up() {
    if (journal_) journal_->end(session_.tick());
}

void play_inputs(Game& game, const std::vector<Input>& inputs, int more_ticks,
                 const std::function<void(std::size_t done_s, std::size_t all_s)>& progress) {
    Script script(inputs);
    int left = more_ticks;
    const int all_s = ((inputs.empty() ? game.session().tick() : inputs.back().tick) + more_ticks) / kTicksPerSecond;
    const auto tell = [&](int done_s) {
        if (progress) progress(static_cast<std::size_t>(done_s), static_cast<std::size_t>(all_s));
    };
    while (!game.session().over() && (!script.played() || left-- > 0)) {
        const int tick = game.session().tick() + 1;
        game.step(script.due(tick));
        if (tick % kTicksPerSecond == 0 && tick / kTicksPerSecond < all_s) tell(tick / kTicksPerSecond);
    }
    tell(all_s);
}

}  // namespace graftwright
