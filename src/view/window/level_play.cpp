#include "view/window/level_play.h"

#include <algorithm>
#include <ctime>
#include <filesystem>
#include <stdexcept>

#include "base/whole_file.h"
#include "files/reader.h"
#include "files/writer.h"
#include "report/report_html.h"
#include "view/kit/theme.h"
#include "view/window/key_names.h"

namespace graftwright {
namespace {

// The label of an attempt; the only clock that is read, and it decides nothing.
std::string now_words() {
    const std::time_t now = std::time(nullptr);
    std::tm utc{};
    gmtime_r(&now, &utc);
    char words[32];
    std::strftime(words, sizeof words, "%Y-%m-%dT%H:%M:%SZ", &utc);
    return words;
}

// The level that a journal's inputs were meant for; in another one they would be another attempt.
Result<Scenario> level_of(const JournalHead& head) {
    std::error_code none;
    if (!std::filesystem::is_regular_file(head.scenario_path, none))
        return Fault{head.scenario_path, 0, "its level is gone"};
    const Result<std::string> text = read_text_file(head.scenario_path);
    if (!text.ok()) return text.faults();
    Result<Scenario> scenario = read_scenario(text.value(), head.scenario_path);
    if (scenario.ok() && !head.level.empty() && head.level != level_fingerprint(scenario.value()))
        return Fault{head.scenario_path, 0, "its level has been changed since"};
    return scenario;
}

}  // namespace

std::string LevelPlay::label(const Settings& settings) {
    const std::string name = nearest_name(settings.trainee);
    return name.empty() ? "trainee" : name;
}

GameOptions LevelPlay::game_options(const std::string& path) const {
    std::error_code none;
    GameOptions game;
    game.trainee = label(around_.settings);
    game.started = now_words();
    game.left_handed = around_.settings.left_handed;
    game.examiner_view = around_.settings.examiner_view;
    game.keys = around_.settings.keys;
    if (!path.empty()) game.scenario_path = std::filesystem::absolute(path, none).string();
    return game;
}

void LevelPlay::begin(const Scenario& scenario, const std::string& path, const GameOptions& game,
                      std::vector<Input> script) {
    level_ = scenario;
    path_ = path;
    kept_in_.clear();
    kept_path_.clear();
    replay_ = {};
    const auto model = std::make_shared<const ScenarioModel>(scenario);
    run_ = std::make_unique<LevelRun>(model, make_worker_service(model), game, std::move(script));
}

void LevelPlay::open(const Scenario& scenario, const std::string& path) {
    GameOptions game = game_options(path);
    std::vector<Input> script;
    if (const std::optional<HandRecord>& hand = around_.options.hand) {
        game.trainee = hand->trainee;
        game.started = hand->started;
        game.left_handed = hand->left_handed;
        game.examiner_view = hand->examiner_view;
        script = inputs_of(*hand);
    } else if (!path.empty() && around_.options.frames == 0) {
        game.journal = around_.journals.fresh();
    }
    begin(scenario, path, game, std::move(script));
}

std::string LevelPlay::go_on(const std::string& journal_path) {
    const auto file = std::make_shared<HeldFile>(journal_path, HeldFile::Open::existing);
    if (file->elsewhere()) return "That attempt is being played in another window.";
    const Result<Journal> read = read_journal(journal_path);
    if (!read.ok()) return "The journal of that attempt " + read.faults().front().message + ".";
    const Journal& journal = read.value();
    if (journal.ended) return "That attempt was ended in another window.";
    const std::string& path = journal.head.scenario_path;
    const Result<Scenario> scenario = level_of(journal.head);
    if (!scenario.ok()) return "That attempt can't go on: " + scenario.faults().front().text();
    GameOptions game = game_options(path);
    game.trainee = journal.head.trainee;
    game.started = journal.head.started;
    game.left_handed = journal.head.left_handed;
    game.examiner_view = journal.head.examiner_view;
    game.journal = file;
    game.resume_tick = journal.last_tick;
    begin(scenario.value(), path, game, {});
    run_->catch_up(journal.inputs, journal.last_tick);
    return "";
}

void LevelPlay::leave(bool abandoned) {
    if (abandoned) run_->game().give_up();
    run_.reset();
}

void LevelPlay::set_paused(bool paused, Point pointer) {
    if (run_->snapshot().paused != paused)
        inputs_.push_back({HandDoes::key, pointer.x, pointer.y, 0, 0.0, "@pause"});
}

void LevelPlay::take_event(const sf::Event& event, Point pointer) {
    pointer_ = pointer;
    const bool over = run_->game().session().over();
    if (event.type == sf::Event::KeyPressed && event.key.code == sf::Keyboard::Escape) {
        if (replay_.open)
            replay_.open = false;
        else if (!over && !run_->scripted())
            set_paused(!run_->snapshot().paused, pointer);
        return;
    }
    if (over || run_->snapshot().paused) return;
    if (const auto input = input_of(event, pointer)) inputs_.push_back(*input);
}

void LevelPlay::advance(double frame_s) {
    const Snapshot before = run_->snapshot();
    run_->advance(frame_s, inputs_);
    inputs_.clear();
    hear(before, run_->snapshot());
    keep_attempt();
    if (replaying() && replay_.playing) replay_.t_s = std::min(replay_.end_s, replay_.t_s + replay_.speed * frame_s);
}

LevelPlay::Asked LevelPlay::draw(sf::RenderWindow& window, Ui& ui) {
    gl_ms_ = 0.0;
    if (replaying()) {
        draw_replay(window, ui);
        return {};
    }
    if (run_->game().session().over()) {
        window.clear(sf::Color(tone::background.r, tone::background.g, tone::background.b));
        return {PauseChoice::none, debrief_.draw(ui, run_->snapshot(), kept_words())};
    }
    view_.draw(window, run_->snapshot());
    gl_ms_ = view_.gl_ms();
    if (!run_->snapshot().paused || run_->scripted()) return {};
    return {draw_pause_screen(ui, level_.title.c_str(), trial()), DebriefChoice::none};
}

void LevelPlay::draw_replay(sf::RenderWindow& window, Ui& ui) {
    Snapshot shot = run_->timeline().at(replay_.t_s);
    shot.buttons.clear();
    view_.draw(window, shot);
    gl_ms_ = view_.gl_ms();
    DebriefScreen::draw_replay(ui, replay_, shot.layout);
}

LevelPlay::Wish LevelPlay::heed(const Asked& asked) {
    switch (asked.pause) {
        case PauseChoice::go_on:
            set_paused(false, pointer_);
            break;
        case PauseChoice::keys:
            return Wish::keys;
        case PauseChoice::give_up:
            leave(true);
            return Wish::leave;
        case PauseChoice::quit:
            return Wish::quit;
        case PauseChoice::none:
            break;
    }
    switch (asked.debrief) {
        case DebriefChoice::again:
            open(Scenario(level_), std::string(path_));
            break;
        case DebriefChoice::levels:
            leave(false);
            return Wish::leave;
        case DebriefChoice::report:
            write_report();
            break;
        case DebriefChoice::replay:
            replay_ = {true, true, 0.0, run_->timeline().end_s()};
            break;
        case DebriefChoice::none:
            break;
    }
    return Wish::stay;
}

void LevelPlay::keep_attempt() {
    if (!run_->game().session().over() || !kept_in_.empty()) return;
    if (trial()) {
        kept_in_ = "A trial of a level in the making: the attempt is not kept.";
        return;
    }
    const Attempt attempt = run_->game().attempt();
    const std::string& named = around_.options.save;
    try {
        kept_path_ = named.empty() ? around_.files.keep(attempt) : named;
        if (!named.empty()) write_whole(named, write_attempt(attempt));
        kept_in_ = "Kept in " + kept_path_;
    } catch (const std::runtime_error& error) {
        kept_in_ = error.what();
    }
    enter_in_logbook(attempt);
}

// A scripted hand is nobody's practice, unless a logbook was named for it.
void LevelPlay::enter_in_logbook(const Attempt& attempt) {
    const std::shared_ptr<const Debrief>& debrief = run_->snapshot().debrief;
    if (debrief && (!run_->scripted() || !around_.options.logbook.empty()))
        around_.practice.keep({level_, write_attempt(attempt), debrief, now_words()});
}

std::string LevelPlay::kept_words() const {
    const std::string& logbook = around_.practice.kept_words();
    return logbook.empty() ? kept_in_ : logbook + " " + kept_in_;
}

// The page for the teacher, beside the attempt's own file.
void LevelPlay::write_report() {
    const Debrief& debrief = *run_->snapshot().debrief;
    const Case what{level_, debrief.attempt, debrief.card, find_experts(level_, around_.options.levels)};
    const std::string path = kept_path_.ends_with(".json") ? kept_path_.substr(0, kept_path_.size() - 5) + ".html"
                                                           : around_.files.folder() + "/report.html";
    try {
        write_whole(path, report_html(what));
        kept_in_ = "Report in " + path;
    } catch (const std::runtime_error& error) {
        kept_in_ = error.what();
    }
}

void LevelPlay::hear(const Snapshot& before, const Snapshot& after) {
    Sound& sound = around_.sound;
    sound.set_on(around_.settings.sound);
    const auto locked = [](const Snapshot& shot) { return shot.tie && shot.tie->kind == KnotKind::locked; };
    if (locked(after) && !locked(before)) sound.play(Cue::lock);
    const bool told = after.notice == before.notice || after.notice == run_->game().journal_fault();
    if (after.warning && !told) sound.play(Cue::warn);
    if (after.section && before.section && after.section->pose.tip_rad != before.section->pose.tip_rad &&
        (after.section->tip_in_donor || after.section->tip_in_host) && after.tick / 24 != before.tick / 24)
        sound.play(Cue::tick);
}

}  // namespace graftwright
