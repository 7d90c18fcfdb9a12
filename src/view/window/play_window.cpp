#include "view/window/play_window.h"

#include <algorithm>
#include <cstdlib>
#include <memory>
#include <stdexcept>
#include <variant>

#include <SFML/Graphics/RenderWindow.hpp>
#include <SFML/System/Err.hpp>

#include "files/reader.h"
#include "game/journals.h"
#include "game/levels.h"
#include "game/settings.h"
#include "game/user_files.h"
#include "view/editor/level_editor.h"
#include "view/kit/canvas.h"
#include "view/kit/widgets.h"
#include "view/practice/practice.h"
#include "view/window/frame_clock.h"
#include "view/window/key_names.h"
#include "view/window/keys_screen.h"
#include "view/window/level_play.h"
#include "view/window/sound.h"
#include "view/window/start_screen.h"

namespace graftwright {
namespace {

constexpr unsigned kFirstWidth = 1280, kFirstHeight = 800;
constexpr unsigned kFramesPerSecond = 60;

class PlayWindow {
  public:
    explicit PlayWindow(const PlayOptions& options);
    FrameReport run();

  private:
    enum class Screen { start, level, keys, practice, editor };
    // What the screen of a frame was asked for.
    enum class KeysChoice { stay, done };
    using Choice = std::variant<StartChoice, LevelPlay::Asked, TraineeChoice, EditorChoice, KeysChoice>;
    void open_level(const Scenario& scenario, const std::string& path);
    void go_on(const std::string& journal);
    void set_aside(const std::string& journal);
    void read_settings_file();
    void look_for_interrupted();
    void tell(const std::string& words);
    void leave_level();
    void take_events();
    void open_keys();
    [[nodiscard]] Choice draw_screen();
    void heed(const StartChoice& choice);
    void heed(const LevelPlay::Asked& asked);
    void heed(const TraineeChoice& choice);
    void heed(EditorChoice choice);
    void heed(KeysChoice choice);
    void change_level(const std::string& path);
    void read_all_levels();
    void keep_settings();
    [[nodiscard]] StartModel start_model() const;
    [[nodiscard]] std::vector<std::string> notices() const;
    void clear() { window_.clear(sf::Color(tone::background.r, tone::background.g, tone::background.b)); }

    PlayOptions options_;
    UserFiles files_;
    Journals journals_;
    std::unique_ptr<HeldFile> first_window_;
    Settings settings_;
    std::vector<Level> levels_;
    StartModel start_model_;
    std::unique_ptr<Practice> practice_;
    sf::RenderWindow window_;
    Widgets widgets_;
    Sound sound_;
    StartScreen start_;
    KeysScreen keys_;
    LevelEditor editor_;
    std::unique_ptr<LevelPlay> level_;
    Screen screen_ = Screen::start, under_keys_ = Screen::start;
    std::vector<InterruptedAttempt> interrupted_;
    std::vector<std::string> told_;  // about the user's files, as long as the window is open
    std::string notice_;             // about what was asked for last
    Point pointer_;
};

PlayWindow::PlayWindow(const PlayOptions& options)
    : options_(options),
      files_(options.data),
      journals_(options.data),
      window_(sf::VideoMode(kFirstWidth, kFirstHeight), "Graftwright"),
      editor_(files_) {
    window_.setPosition({0, 0});  // without a window manager it would stand too low
    window_.setFramerateLimit(options_.frames > 0 ? 0 : kFramesPerSecond);
    tell(files_.fault());
    read_settings_file();
    read_all_levels();
    practice_ = std::make_unique<Practice>(options_.logbook, files_.logbook(), options_.program, levels_);
    level_ = std::make_unique<LevelPlay>(LevelPlay::Around{options_, files_, journals_, settings_, *practice_, sound_});
    look_for_interrupted();
    start_model_ = start_model();
    // A scripted hand and a frame count need nobody at the first screen.
    if (options_.scenario && (options_.hand || options_.frames > 0))
        open_level(*options_.scenario, options_.scenario_path);
}

void PlayWindow::tell(const std::string& words) {
    if (!words.empty() && std::find(told_.begin(), told_.end(), words) == told_.end()) told_.push_back(words);
}

void PlayWindow::read_settings_file() {
    const Result<Settings> settings = read_settings(files_.settings());
    if (settings.ok())
        settings_ = settings.value();
    else
        tell(put_aside("The file of your settings", files_.settings(), settings.faults().front().message));
}

// A window that only measures its frames leaves every journal alone.
void PlayWindow::look_for_interrupted() {
    if (options_.frames > 0) return;
    if (!first_window_ || first_window_->elsewhere())
        first_window_ = std::make_unique<HeldFile>(files_.window_lock(), HeldFile::Open::or_make);
    JournalsFound found = journals_.look();
    interrupted_ = std::move(found.interrupted);
    for (const std::string& words : found.words) tell(words);
}

std::vector<std::string> PlayWindow::notices() const {
    std::vector<std::string> words;
    if (!notice_.empty()) words.push_back(notice_);
    if (!practice_->notice().empty()) words.push_back(practice_->notice());
    if (first_window_ && first_window_->elsewhere())
        words.emplace_back(
            "The game is open in another window too. Each window keeps a journal of its own; an attempt "
            "in hand there is not offered here.");
    words.insert(words.end(), told_.begin(), told_.end());
    return words;
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
    if (options_.scenario) model.selected_id = options_.scenario->id;
    for (const auto& [path, left] : interrupted_) {
        std::string title = left.head.scenario;
        for (const LevelEntry& level : model.levels)
            if (level.faults.empty() && level.scenario.id == left.head.scenario) title = level.scenario.title;
        model.interrupted.push_back({path, title, left.head.trainee, static_cast<int>(left.bites),
                                     static_cast<double>(left.last_tick) / kTicksPerSecond});
    }
    return model;
}

void PlayWindow::open_level(const Scenario& scenario, const std::string& path) {
    level_->open(scenario, path);
    screen_ = Screen::level;
}

void PlayWindow::go_on(const std::string& journal) {
    notice_ = level_->go_on(journal);
    if (notice_.empty()) {
        screen_ = Screen::level;
        return;
    }
    look_for_interrupted();
    start_model_ = start_model();
}

void PlayWindow::set_aside(const std::string& journal) {
    notice_ = journals_.set_aside(journal);
    look_for_interrupted();
    start_model_ = start_model();
}

void PlayWindow::leave_level() {
    look_for_interrupted();
    start_model_ = start_model();
    start_.reset();
    screen_ = level_->trial() ? Screen::editor : Screen::start;
}

void PlayWindow::open_keys() {
    under_keys_ = screen_;
    screen_ = Screen::keys;
}

void PlayWindow::keep_settings() {
    try {
        write_settings(files_.settings(), settings_);
    } catch (const std::runtime_error& error) {
        notice_ = error.what();  // a full disk stops no practice
    }
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
            pointer_ =
                fit.to_canvas({static_cast<double>(event.mouseButton.x), static_cast<double>(event.mouseButton.y)});
        if (screen_ == Screen::keys && keys_.awaits_key() && event.type == sf::Event::KeyPressed) {
            keys_.take_key(key_name(event.key), settings_.keys);
            continue;
        }
        widgets_.handle(event);
        if (screen_ == Screen::level && level_->running()) level_->take_event(event, pointer_);
    }
}

void PlayWindow::heed(const StartChoice& choice) {
    settings_.trainee = choice.settings.trainee;
    settings_.left_handed = choice.settings.left_handed;
    settings_.examiner_view = choice.settings.examiner_view;
    settings_.reduced_motion = choice.settings.reduced_motion;
    settings_.sound = choice.settings.sound;
    switch (choice.what) {
        case StartChoice::What::play:
            keep_settings();
            for (const Level& level : levels_)
                if (level.scenario && level.scenario->id == choice.level_id)
                    return open_level(*level.scenario, level.path);
            break;
        case StartChoice::What::go_on:
            go_on(choice.path);
            break;
        case StartChoice::What::set_aside:
            set_aside(choice.path);
            break;
        case StartChoice::What::keys:
            open_keys();
            break;
        case StartChoice::What::practice:
            keep_settings();
            practice_->open(LevelPlay::label(settings_));
            screen_ = Screen::practice;
            break;
        case StartChoice::What::make_level:
            editor_.open_new(levels_, settings_.examiner_view);
            screen_ = Screen::editor;
            break;
        case StartChoice::What::change_level:
            change_level(choice.path);
            break;
        case StartChoice::What::quit:
            keep_settings();
            window_.close();
            break;
        case StartChoice::What::none:
            break;
    }
}

void PlayWindow::change_level(const std::string& path) {
    for (const Level& level : levels_) {
        if (level.path != path) continue;
        notice_ = editor_.open(level, levels_, settings_.examiner_view);
        if (notice_.empty()) screen_ = Screen::editor;
        return;
    }
}

void PlayWindow::heed(EditorChoice choice) {
    switch (editor_.heed(choice)) {
        case LevelEditor::Wish::try_it:
            return open_level(editor_.trial(), "");
        case LevelEditor::Wish::leave:
            read_all_levels();
            start_model_ = start_model();
            start_.reset();
            screen_ = Screen::start;
            break;
        case LevelEditor::Wish::stay:
            break;
    }
}

void PlayWindow::heed(const LevelPlay::Asked& asked) {
    switch (level_->heed(asked)) {
        case LevelPlay::Wish::leave:
            leave_level();
            break;
        case LevelPlay::Wish::keys:
            open_keys();
            break;
        case LevelPlay::Wish::quit:
            window_.close();
            break;
        case LevelPlay::Wish::stay:
            break;
    }
}

void PlayWindow::heed(const TraineeChoice& choice) {
    if (practice_->heed(choice)) screen_ = Screen::start;
}

void PlayWindow::heed(KeysChoice choice) {
    if (choice == KeysChoice::stay) return;
    keep_settings();
    screen_ = under_keys_;
}

PlayWindow::Choice PlayWindow::draw_screen() {
    if (screen_ != Screen::level) clear();
    Ui& ui = widgets_.ui();
    switch (screen_) {
        case Screen::level:
            return level_->draw(window_, ui);
        case Screen::practice:
            return practice_->draw(ui);
        case Screen::editor:
            return editor_.draw(ui);
        case Screen::keys:
            return keys_.draw(ui, settings_.keys) ? KeysChoice::done : KeysChoice::stay;
        case Screen::start:
            break;
    }
    return start_.draw(ui, start_model_);
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
        take_events();
        if (!window_.isOpen()) break;
        widgets_.begin(static_cast<float>(frame_s), window_.getSize());
        widgets_.ui().reduced_motion = settings_.reduced_motion;
        practice_->update();
        const bool in_level = screen_ == Screen::level;
        if (in_level) level_->advance(frame_s);
        if (screen_ == Screen::start) {
            fill_in(start_model_, practice_->results_of(LevelPlay::label(settings_)));
            start_model_.notices = notices();
        }
        const Choice choice = draw_screen();
        const double ours_ms = FrameClock::ms_since(start) - (in_level ? level_->gl_ms() : 0.0);
        widgets_.draw(window_);
        window_.display();
        if (frames.frames() == 0)
            first_frame_s =
                options_.seconds_before + std::chrono::duration<double>(FrameClock::Clock::now() - opened).count();
        frames.frame(ours_ms, FrameClock::ms_since(start));
        std::visit([this](const auto& asked) { heed(asked); }, choice);
        if (options_.frames > 0 && frames.frames() >= options_.frames) break;
    }
    editor_.lay_aside();
    window_.close();
    FrameReport report = frames.report(first_frame_s);
    report.logbook_fault = practice_->finish();
    return report;
}

}  // namespace

FrameReport play_in_window(const PlayOptions& options) {
    sf::err().rdbuf(nullptr);  // the library's remarks ("vertical sync not supported") help no trainee
    PlayWindow window(options);
    return window.run();
}

}  // namespace graftwright
