#include "view/play_window.h"

#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <memory>
#include <stdexcept>

#include <SFML/Graphics/RenderWindow.hpp>
#include <SFML/System/Err.hpp>

#include "files/reader.h"
#include "files/writer.h"
#include "game/level_run.h"
#include "game/levels.h"
#include "game/settings.h"
#include "game/user_files.h"
#include "report/report_html.h"
#include "view/canvas.h"
#include "view/debrief_screen.h"
#include "view/frame_clock.h"
#include "view/game_view.h"
#include "view/key_names.h"
#include "view/keys_screen.h"
#include "view/level_editor.h"
#include "view/pause_screen.h"
#include "view/practice.h"
#include "view/sound.h"
#include "view/start_screen.h"
#include "view/widgets.h"

namespace graftwright {
namespace {

constexpr unsigned kFirstWidth = 1280, kFirstHeight = 800;
constexpr unsigned kFramesPerSecond = 60;

// The label of an attempt; the only clock that is read, and it decides nothing.
std::string now_words() {
    const std::time_t now = std::time(nullptr);
    std::tm utc{};
    gmtime_r(&now, &utc);
    char words[32];
    std::strftime(words, sizeof words, "%Y-%m-%dT%H:%M:%SZ", &utc);
    return words;
}

class PlayWindow {
  public:
    explicit PlayWindow(const PlayOptions& options);
    FrameReport run();

  private:
    enum class Screen { start, level, keys, practice, editor };
    void open_level(const Scenario& scenario, const std::string& path);
    void go_on();
    void leave_level(bool abandoned);
    void take_events();
    void take_level_event(const sf::Event& event);
    void set_paused(bool paused);
    void draw_start();
    void change_level(const std::string& path);
    void draw_editor();
    void read_all_levels();
    void draw_level(double frame_s);
    void draw_over_level();
    void keep_attempt();
    void enter_in_logbook(const Attempt& attempt);
    [[nodiscard]] std::string kept_words() const {
        return practice_->kept_words().empty() ? kept_in_ : practice_->kept_words() + " " + kept_in_;
    }
    [[nodiscard]] std::string label() const {
        const std::string name = nearest_name(settings_.trainee);
        return name.empty() ? "trainee" : name;
    }
    void write_report();
    void hear(const Snapshot& before, const Snapshot& after);
    void keep_settings();
    [[nodiscard]] StartModel start_model() const;
    [[nodiscard]] GameOptions game_options(const std::string& path) const;

    PlayOptions options_;
    UserFiles files_;
    Settings settings_;
    std::vector<Level> levels_;
    StartModel start_model_;
    std::unique_ptr<Practice> practice_;
    sf::RenderWindow window_;
    Widgets widgets_;
    GameView view_;
    Sound sound_;
    StartScreen start_;
    KeysScreen keys_;
    LevelEditor editor_;
    DebriefScreen debrief_;
    ReplayUi replay_;
    Screen screen_ = Screen::start, under_keys_ = Screen::start;
    std::unique_ptr<LevelRun> run_;
    Scenario level_;
    std::string level_path_, kept_path_, kept_in_, notice_;
    std::vector<DeviceEvent> events_;
    Point pointer_;
    double draw_gl_ms_ = 0.0;
};

PlayWindow::PlayWindow(const PlayOptions& options)
    : options_(options),
      files_(options.data),
      window_(sf::VideoMode(kFirstWidth, kFirstHeight), "Graftwright"),
      editor_(files_) {
    window_.setPosition({0, 0});  // without a window manager it would stand too low
    window_.setFramerateLimit(options_.frames > 0 ? 0 : kFramesPerSecond);
    const Result<Settings> settings = read_settings(files_.settings());
    if (settings.ok())
        settings_ = settings.value();
    else
        notice_ = settings.faults().front().text();
    read_all_levels();
    practice_ = std::make_unique<Practice>(options_.logbook, files_.logbook(), options_.program, levels_);
    start_model_ = start_model();
    // A scripted hand and a frame count need nobody at the first screen.
    if (options_.scenario && (options_.hand || options_.frames > 0)) open_level(*options_.scenario, options_.scenario_path);
}

void PlayWindow::read_all_levels() {
    Result<std::vector<Level>> course = read_levels(options_.levels);
    if (!course.ok()) throw std::runtime_error(course.faults().front().text());
    levels_ = with_own_levels(course.take(), files_.levels());
}

StartModel PlayWindow::start_model() const {
    StartModel model;
    for (const Level& level : levels_) {
        LevelEntry entry;
        if (level.scenario)
            entry.scenario = *level.scenario;
        else
            entry.faults = level.faults;
        entry.file = level.path.substr(level.path.rfind('/') + 1);
        entry.path = level.path;
        entry.own = level.own;
        model.levels.push_back(entry);
    }
    model.settings = {settings_.trainee, settings_.left_handed, settings_.examiner_view, settings_.reduced_motion,
                      settings_.sound};
    model.sound_available = sound_.available();
    model.notice = notice_;
    if (options_.scenario) model.selected_id = options_.scenario->id;
    const Result<Journal> journal = read_journal(files_.journal());
    if (journal.ok() && !journal.value().ended && journal.value().last_tick > 0) {
        const Journal& left = journal.value();
        std::string title = left.head.scenario;
        for (const LevelEntry& level : model.levels)
            if (level.faults.empty() && level.scenario.id == title) title = level.scenario.title;
        model.interrupted = Interrupted{title, left.head.trainee, static_cast<int>(left.bites),
                                        static_cast<double>(left.last_tick) / kTicksPerSecond};
    }
    return model;
}

GameOptions PlayWindow::game_options(const std::string& path) const {
    GameOptions game;
    game.trainee = label();
    game.started = now_words();
    game.left_handed = settings_.left_handed;
    game.examiner_view = settings_.examiner_view;
    game.keys = settings_.keys;
    game.journal_path = files_.journal();
    game.scenario_path = path;
    return game;
}

// Without a path it is a trial of a level in the making: nothing of it is kept.
void PlayWindow::open_level(const Scenario& scenario, const std::string& path) {
    level_ = scenario;
    level_path_ = path;
    kept_in_.clear();
    kept_path_.clear();
    replay_ = {};
    GameOptions game = game_options(path);
    if (path.empty()) game.journal_path.clear();
    std::vector<TimedInput> script;
    if (options_.hand) {
        game.trainee = options_.hand->trainee;
        game.started = options_.hand->started;
        game.left_handed = options_.hand->left_handed;
        game.examiner_view = options_.hand->examiner_view;
        game.journal_path.clear();
        script = inputs_of(*options_.hand);
    }
    const auto model = std::make_shared<const ScenarioModel>(scenario);
    run_ = std::make_unique<LevelRun>(model, make_worker_service(model), game, std::move(script));
    screen_ = Screen::level;
}

// Plays the journal of an interrupted attempt again and goes on where it ended.
void PlayWindow::go_on() {
    const Result<Journal> read = read_journal(files_.journal());
    if (!read.ok()) return;
    const Journal& journal = read.value();
    const Result<std::string> text = read_text_file(journal.head.scenario_path);
    const Result<Scenario> scenario =
        text.ok() ? read_scenario(text.value(), journal.head.scenario_path) : Result<Scenario>(text.faults());
    if (!scenario.ok()) {
        notice_ = "The level of that attempt is gone: " + scenario.faults().front().text();
        start_model_ = start_model();
        return;
    }
    level_ = scenario.value();
    level_path_ = journal.head.scenario_path;
    kept_in_.clear();
    replay_ = {};
    GameOptions game = game_options(level_path_);
    game.trainee = journal.head.trainee;
    game.started = journal.head.started;
    game.left_handed = journal.head.left_handed;
    game.examiner_view = journal.head.examiner_view;
    game.resume_tick = journal.last_tick;
    const auto model = std::make_shared<const ScenarioModel>(level_);
    run_ = std::make_unique<LevelRun>(model, make_worker_service(model), game);
    run_->catch_up(timed(journal.inputs), journal.last_tick);
    screen_ = Screen::level;
}

void PlayWindow::leave_level(bool abandoned) {
    if (abandoned) run_->game().give_up();
    run_.reset();
    start_model_ = start_model();
    start_.reset();
    screen_ = level_path_.empty() ? Screen::editor : Screen::start;
}

void PlayWindow::keep_settings() {
    try {
        write_settings(files_.settings(), settings_);
    } catch (const std::runtime_error& error) {
        notice_ = error.what();  // a full disk stops no practice
    }
}

void PlayWindow::keep_attempt() {
    if (!run_ || !run_->game().session().over() || !kept_in_.empty()) return;
    if (level_path_.empty()) {
        kept_in_ = "A trial of a level in the making: the attempt is not kept.";
        return;
    }
    const Attempt attempt = run_->game().attempt();
    try {
        kept_path_ = options_.save.empty() ? files_.keep(attempt) : options_.save;
        if (!options_.save.empty()) write_whole(options_.save, write_attempt(attempt));
        kept_in_ = "Kept in " + kept_path_;
    } catch (const std::runtime_error& error) {
        kept_in_ = error.what();
    }
    enter_in_logbook(attempt);
}

// A scripted hand is nobody's practice, unless a logbook was named for it.
void PlayWindow::enter_in_logbook(const Attempt& attempt) {
    const std::shared_ptr<const Debrief>& debrief = run_->snapshot().debrief;
    if (debrief && (!run_->scripted() || !options_.logbook.empty()))
        practice_->keep({level_, write_attempt(attempt), debrief, now_words()});
}

// The page for the teacher, beside the attempt's own file.
void PlayWindow::write_report() {
    const Debrief& debrief = *run_->snapshot().debrief;
    const Case what{level_, debrief.attempt, debrief.card, find_experts(level_, options_.levels)};
    const std::string path = kept_path_.ends_with(".json") ? kept_path_.substr(0, kept_path_.size() - 5) + ".html"
                                                           : files_.folder() + "/report.html";
    try {
        write_whole(path, report_html(what));
        kept_in_ = "Report in " + path;
    } catch (const std::runtime_error& error) {
        kept_in_ = error.what();
    }
}

void PlayWindow::set_paused(bool paused) {
    if (run_->snapshot().paused != paused)
        events_.push_back({DeviceEvent::Kind::key, pointer_.x, pointer_.y, 0, 0.0, "@pause"});
}

void PlayWindow::take_level_event(const sf::Event& event) {
    const bool over = run_->game().session().over();
    if (event.type == sf::Event::KeyPressed && event.key.code == sf::Keyboard::Escape) {
        if (replay_.open)
            replay_.open = false;
        else if (!over && !run_->scripted())
            set_paused(!run_->snapshot().paused);
        return;
    }
    if (over || run_->snapshot().paused) return;
    if (const auto device = device_event(event, pointer_)) events_.push_back(*device);
}

void PlayWindow::take_events() {
    sf::Event event{};
    while (window_.pollEvent(event)) {
        if (event.type == sf::Event::Closed) window_.close();
        if (event.type == sf::Event::Resized) {
            window_.setView(sf::View(sf::FloatRect(0.0F, 0.0F, static_cast<float>(event.size.width),
                                                   static_cast<float>(event.size.height))));
        }
        const CanvasFit fit = CanvasFit::of(window_.getSize().x, window_.getSize().y);
        if (event.type == sf::Event::MouseMoved)
            pointer_ = fit.to_canvas({static_cast<double>(event.mouseMove.x), static_cast<double>(event.mouseMove.y)});
        if (event.type == sf::Event::MouseButtonPressed || event.type == sf::Event::MouseButtonReleased)
            pointer_ = fit.to_canvas({static_cast<double>(event.mouseButton.x), static_cast<double>(event.mouseButton.y)});
        if (screen_ == Screen::keys && keys_.awaits_key() && event.type == sf::Event::KeyPressed) {
            keys_.take_key(key_name(event.key), settings_.keys);
            continue;
        }
        widgets_.handle(event);
        if (screen_ == Screen::level && run_) take_level_event(event);
    }
}

void PlayWindow::hear(const Snapshot& before, const Snapshot& after) {
    sound_.set_on(settings_.sound);
    const auto locked = [](const Snapshot& shot) { return shot.tie && shot.tie->kind == KnotKind::locked; };
    if (locked(after) && !locked(before)) sound_.play(Cue::lock);
    if (after.warning && after.notice != before.notice) sound_.play(Cue::warn);
    if (after.section && before.section && after.section->pose.tip_rad != before.section->pose.tip_rad &&
        (after.section->tip_in_donor || after.section->tip_in_host) && after.tick / 24 != before.tick / 24)
        sound_.play(Cue::tick);
}

void PlayWindow::draw_start() {
    window_.clear(sf::Color(tone::background.r, tone::background.g, tone::background.b));
    practice_->show_results_of(label(), start_model_);
    if (!practice_->notice().empty()) start_model_.notice = practice_->notice();
    const StartChoice choice = start_.draw(widgets_.ui(), start_model_);
    settings_.trainee = choice.settings.trainee;
    settings_.left_handed = choice.settings.left_handed;
    settings_.examiner_view = choice.settings.examiner_view;
    settings_.reduced_motion = choice.settings.reduced_motion;
    settings_.sound = choice.settings.sound;
    switch (choice.what) {
    case StartChoice::What::play:
        keep_settings();
        for (const Level& level : levels_)
            if (level.scenario && level.scenario->id == choice.level_id) return open_level(*level.scenario, level.path);
        break;
    case StartChoice::What::go_on: go_on(); break;
    case StartChoice::What::set_aside:
        files_.set_journal_aside();
        start_model_ = start_model();
        break;
    case StartChoice::What::keys:
        under_keys_ = Screen::start;
        screen_ = Screen::keys;
        break;
    case StartChoice::What::practice:
        keep_settings();
        practice_->open(label());
        screen_ = Screen::practice;
        break;
    case StartChoice::What::make_level:
        editor_.open_new(levels_, settings_.examiner_view);
        screen_ = Screen::editor;
        break;
    case StartChoice::What::change_level: change_level(choice.path); break;
    case StartChoice::What::quit:
        keep_settings();
        window_.close();
        break;
    case StartChoice::What::none: break;
    }
}

void PlayWindow::change_level(const std::string& path) {
    for (const Level& level : levels_) {
        if (level.path != path) continue;
        notice_ = editor_.open(level, levels_, settings_.examiner_view);
        start_model_.notice = notice_;
        if (notice_.empty()) screen_ = Screen::editor;
        return;
    }
}

void PlayWindow::draw_editor() {
    window_.clear(sf::Color(tone::background.r, tone::background.g, tone::background.b));
    switch (editor_.draw(widgets_.ui())) {
    case LevelEditor::Wish::try_it: return open_level(editor_.trial(), "");
    case LevelEditor::Wish::leave:
        read_all_levels();
        start_model_ = start_model();
        start_.reset();
        screen_ = Screen::start;
        break;
    case LevelEditor::Wish::stay: break;
    }
}

void PlayWindow::draw_level(double frame_s) {
    const Snapshot before = run_->snapshot();
    run_->advance(frame_s, events_);
    events_.clear();
    hear(before, run_->snapshot());
    keep_attempt();
    const bool over = run_->game().session().over();
    if (replay_.open && !run_->timeline().empty()) {
        if (replay_.playing) replay_.t_s = std::min(replay_.end_s, replay_.t_s + replay_.speed * frame_s);
        Snapshot shot = run_->timeline().at(replay_.t_s);
        shot.buttons.clear();
        view_.draw(window_, shot);
        draw_gl_ms_ += view_.gl_ms();
        DebriefScreen::draw_replay(widgets_.ui(), replay_, shot.layout);
    } else if (!over) {
        view_.draw(window_, run_->snapshot());
        draw_gl_ms_ += view_.gl_ms();
        draw_over_level();
    } else {
        window_.clear(sf::Color(tone::background.r, tone::background.g, tone::background.b));
        switch (debrief_.draw(widgets_.ui(), run_->snapshot(), kept_words())) {
        case DebriefChoice::again: return open_level(Scenario(level_), std::string(level_path_));
        case DebriefChoice::levels: return leave_level(false);
        case DebriefChoice::report: write_report(); break;
        case DebriefChoice::replay: replay_ = {true, true, 0.0, run_->timeline().end_s()}; break;
        case DebriefChoice::none: break;
        }
    }
}

void PlayWindow::draw_over_level() {
    if (!run_->snapshot().paused || run_->scripted()) return;
    switch (draw_pause_screen(widgets_.ui(), level_.title.c_str(), level_path_.empty())) {
    case PauseChoice::go_on: set_paused(false); break;
    case PauseChoice::keys:
        under_keys_ = Screen::level;
        screen_ = Screen::keys;
        break;
    case PauseChoice::give_up: leave_level(true); break;
    case PauseChoice::quit: window_.close(); break;
    case PauseChoice::none: break;
    }
}

FrameReport PlayWindow::run() {
    FrameClock frames;
    const FrameClock::Clock::time_point opened = FrameClock::Clock::now();
    FrameClock::Clock::time_point last = opened;
    double first_frame_s = 0.0;
    while (window_.isOpen()) {
        const FrameClock::Clock::time_point start = FrameClock::Clock::now();
        const double frame_s = std::chrono::duration<double>(start - last).count();
        last = start;
        draw_gl_ms_ = 0.0;
        take_events();
        if (!window_.isOpen()) break;
        widgets_.begin(static_cast<float>(frame_s), window_.getSize());
        widgets_.ui().reduced_motion = settings_.reduced_motion;
        practice_->update();
        if (screen_ == Screen::start) {
            draw_start();
        } else if (screen_ == Screen::level) {
            draw_level(frame_s);
        } else if (screen_ == Screen::practice) {
            window_.clear(sf::Color(tone::background.r, tone::background.g, tone::background.b));
            if (practice_->draw(widgets_.ui())) screen_ = Screen::start;
        } else if (screen_ == Screen::editor) {
            draw_editor();
        } else {
            window_.clear(sf::Color(tone::background.r, tone::background.g, tone::background.b));
            if (keys_.draw(widgets_.ui(), settings_.keys)) {
                keep_settings();
                screen_ = under_keys_;
            }
        }
        const double ours_ms = FrameClock::ms_since(start) - draw_gl_ms_;
        widgets_.draw(window_);
        window_.display();
        if (frames.frames() == 0) first_frame_s = options_.seconds_before + std::chrono::duration<double>(FrameClock::Clock::now() - opened).count();
        frames.frame(ours_ms, FrameClock::ms_since(start));
        if (options_.frames > 0 && frames.frames() >= options_.frames) break;
    }
    editor_.lay_aside();
    window_.close();
    FrameReport report = frames.report(first_frame_s);
    report.logbook_fault = practice_->finish();
    return report;
}

}  // namespace

bool display_available() {
    const char* display = std::getenv("DISPLAY");  // NOLINT(concurrency-mt-unsafe): before any thread
    return display != nullptr && *display != '\0';
}

FrameReport play_in_window(const PlayOptions& options) {
    sf::err().rdbuf(nullptr);  // the library's remarks ("vertical sync not supported") help no trainee
    PlayWindow window(options);
    return window.run();
}

}  // namespace graftwright
