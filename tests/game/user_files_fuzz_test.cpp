// The files of a user's folder, damaged at random: none throws, none stops the game, none hangs it.
#include <algorithm>
#include <filesystem>

#include <catch2/catch.hpp>

#include "../scenes/temporary_folder.h"
#include "../scenes/vandal.h"
#include "game/journals.h"
#include "game/level_draft.h"
#include "game/settings.h"
#include "game_scenes.h"

namespace graftwright {
namespace {

using test::TemporaryFolder;
using test::Vandal;

std::string text_in(const std::string& path) { return read_text_file(path).value(); }

// Of two bites, by a pointer and its wheel.
std::string sound_journal(const TemporaryFolder& folder) {
    {
        Game game = scenes::new_game(folder.file("sound.jsonl"));
        scenes::play_bites(game, 2, {}, scenes::Device::mouse);
    }
    return text_in(folder.file("sound.jsonl"));
}

// Plays a journal again as the window does; the sum of it is that nothing aborts.
void play_again(const Journal& journal) {
    constexpr int kMostTicks = 20000;
    Game game = scenes::new_game();
    std::vector<Input> inputs = journal.inputs;
    std::erase_if(inputs, [](const Input& input) { return input.tick > kMostTicks; });
    play_inputs(game, inputs, std::clamp(journal.last_tick - game.session().tick(), 0, kTicksPerSecond));
}

TEST_CASE("damage: a thousand journals are each offered or put aside with a sentence, and play",
          "[game][journal][fuzz]") {
    const TemporaryFolder folder;
    const std::string sound = sound_journal(folder);
    Vandal vandal;
    int offered = 0, aside = 0;
    for (int i = 0; i < 1000; ++i) {
        const TemporaryFolder data;
        // Every other one is hurt in its first lines.
        const std::size_t hurt = i % 2 == 0 ? sound.size() : std::min<std::size_t>(sound.size(), 600);
        const std::string text = vandal.damage(sound.substr(0, hurt), 6) + sound.substr(hurt);
        data.write("journal.jsonl", text);
        CAPTURE(i, text.substr(0, 600));
        const Journals journals(data.file(""));
        const JournalsFound found = journals.look();
        offered += static_cast<int>(found.interrupted.size());
        aside += static_cast<int>(found.words.size());
        if (!found.words.empty()) REQUIRE(text_in(data.file("journal.jsonl.aside-1")) == text);
        for (const InterruptedAttempt& one : found.interrupted)
            if (i % 20 == 0) play_again(one.journal);
    }
    CHECK(offered > 200);
    CHECK(aside > 20);
}

TEST_CASE("damage: fifteen hundred settings are each read or a fault with words", "[game][settings][fuzz]") {
    const TemporaryFolder folder;
    Settings settings;
    settings.trainee = "heron";
    settings.keys.bind("R", Command::primary);
    write_settings(folder.file("settings.json"), settings);
    const std::string sound = text_in(folder.file("settings.json"));
    Vandal vandal;
    int read = 0, faulty = 0;
    for (int i = 0; i < 1500; ++i) {
        const std::string text = vandal.damage(sound, 1 + static_cast<std::size_t>(i % 3));
        CAPTURE(i, text);
        const Result<Settings> damaged = read_settings(folder.write("settings.json", text));
        (damaged.ok() ? read : faulty)++;
        if (damaged.ok())
            write_settings(folder.file("again.json"), damaged.value());
        else
            REQUIRE_FALSE(damaged.faults().front().message.empty());
    }
    CHECK(read > 50);
    CHECK(faulty > 500);
}

TEST_CASE("damage: a thousand levels left unsaved are each taken up or a fault with words", "[game][form][fuzz]") {
    const TemporaryFolder folder;
    LevelDraft draft = copy_of_level(scenes::sixteen(16), {});
    start_with_even_ring(draft, 4);
    const std::string sound = draft.text();
    Vandal vandal;
    int taken = 0, faulty = 0;
    for (int i = 0; i < 1000; ++i) {
        const std::string text = vandal.damage(sound, 1);
        CAPTURE(i, text);
        Result<LevelDraft> unsaved = take_up_unsaved(folder.write("unsaved-level.json", text));
        (unsaved.ok() ? taken : faulty)++;
        if (!unsaved.ok()) continue;
        LevelDraft again = unsaved.take();
        (void)checked(again);
        remove_start_bite(again, 0);
        add_start_bite(again);
        REQUIRE_FALSE(again.text().empty());
    }
    CHECK(taken > 50);
    CHECK(faulty > 100);
}

}  // namespace
}  // namespace graftwright
