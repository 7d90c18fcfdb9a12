// Sound and bad files, damaged at random: whatever comes, a Result comes back, never a crash, a
// hang or a fault without words.
#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "../scenes/vandal.h"
#include "files/reader.h"
#include "files/writer.h"
#include "shared.h"

using namespace graftwright;
using graftwright::test::Vandal;

namespace {

std::vector<std::string> texts_of(const std::vector<std::string>& folders) {
    std::vector<std::string> paths;
    for (const std::string& folder : folders)
        for (const auto& entry : std::filesystem::directory_iterator(GRAFTWRIGHT_SOURCE_DIR + folder))
            if (entry.path().extension() == ".json" && entry.file_size() < 20000)
                paths.push_back(entry.path().string());
    std::sort(paths.begin(), paths.end());
    std::vector<std::string> texts;
    for (const std::string& path : paths) texts.push_back(read_text_file(path).value());
    std::erase(texts, "");
    return texts;
}

void require_words(const Faults& faults, const std::string& text) {
    const auto lines = 1 + std::count(text.begin(), text.end(), '\n');
    for (const Fault& fault : faults) {
        CAPTURE(text, fault.text());
        REQUIRE(fault.line >= 0);
        REQUIRE(fault.line <= lines);
        const bool tells = fault.message.find("expected") != std::string::npos ||
                           fault.message.find(" more fault") != std::string::npos;
        REQUIRE(tells);
    }
}

}  // namespace

TEST_CASE("mutations: six thousand damaged files all come back as a value or as faults with words", "[files][fuzz]") {
    const std::vector<std::string> sound_texts = texts_of({"/levels", "/levels/attempts"});
    const std::vector<std::string> bad_texts = texts_of({"/tests/data"});
    REQUIRE(sound_texts.size() >= 5);
    REQUIRE(bad_texts.size() > 40);
    Vandal vandal;
    int sound = 0;
    int faulty = 0;
    for (int i = 0; i < 6000; ++i) {
        const bool lightly = i % 2 == 0;
        const std::vector<std::string>& texts = lightly ? sound_texts : bad_texts;
        const std::string text = vandal.damage(texts[vandal.below(texts.size())], lightly ? 1 : 6);
        const Result<Attempt> attempt = read_attempt_for(Scenario{}, text, "m.json");
        const Result<Scenario> scenario = read_scenario(text, "m.json");
        const Result<RingCase> ring = read_ring_case(text, "m.json");
        if (attempt.ok()) {
            const Result<Attempt> again = read_attempt(write_attempt(attempt.value()), "m.json");
            CAPTURE(text);
            REQUIRE(again.ok());
            REQUIRE(again.value() == attempt.value());
        } else {
            require_words(attempt.faults(), text);
        }
        if (!scenario.ok()) require_words(scenario.faults(), text);
        if (!ring.ok()) require_words(ring.faults(), text);
        const bool read = attempt.ok() || scenario.ok() || ring.ok();
        (read ? sound : faulty)++;
    }
    // Both ways out were taken: the wounds were neither all deadly nor all harmless.
    CHECK(sound > 100);
    CHECK(faulty > 1000);
}
