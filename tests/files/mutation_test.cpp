// Sound and bad files, damaged at random: whatever comes, a Result comes back, never a crash, a
// hang or a fault without words.
#include <algorithm>
#include <filesystem>
#include <random>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "files/reader.h"
#include "files/writer.h"
#include "shared.h"

using namespace graftwright;

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

class Vandal {
  public:
    std::string damage(std::string text, std::size_t most_wounds) {
        const std::size_t wounds = 1 + below(most_wounds);
        for (std::size_t i = 0; i < wounds && !text.empty(); ++i) wound(text);
        return text;
    }
    std::size_t below(std::size_t limit) { return static_cast<std::size_t>(dice_() % limit); }

  private:
    void wound(std::string& text) {
        static const std::vector<std::string> kTokens{"null",
                                                      "true",
                                                      "NaN",
                                                      "-1",
                                                      "1e308",
                                                      "1e999",
                                                      "-0.0",
                                                      "0",
                                                      "65",
                                                      "[",
                                                      "]",
                                                      "{",
                                                      "}",
                                                      "{}",
                                                      "[]",
                                                      "\"",
                                                      "\\",
                                                      ",",
                                                      ":",
                                                      "\"bites\"",
                                                      "\n",
                                                      "\r\n",
                                                      "\"x\"",
                                                      "1000",
                                                      "0.001",
                                                      "\\u00",
                                                      "\xff",
                                                      "\xc3",
                                                      "/",
                                                      "99999999999999999999",
                                                      std::string(1, '\0')};
        const std::size_t at = below(text.size());
        const std::size_t length = std::min(text.size() - at, 1 + below(30));
        switch (below(6)) {
            case 0:
                text.erase(at, length);
                break;
            case 1:
                text[at] = static_cast<char>(below(256));
                break;
            case 2:
                text.insert(at, kTokens[below(kTokens.size())]);
                break;
            case 3:
                text.insert(below(text.size()), text.substr(at, length));
                break;
            case 4:
                text.resize(at);
                break;
            default:
                replace_value(text, at, kTokens[below(kTokens.size())]);
        }
    }
    // The value after the next colon: damage that is still JSON, so that it gets past the grammar.
    static void replace_value(std::string& text, std::size_t from, const std::string& by) {
        const std::size_t colon = text.find(':', from);
        if (colon == text.npos) return;
        const std::size_t end = text.find_first_of(",}\n", colon);
        if (end != text.npos) text.replace(colon + 1, end - colon - 1, " " + by);
    }

    std::mt19937 dice_{20260302};  // the same wounds at every run
};

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
