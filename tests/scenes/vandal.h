// Damages texts at random, the same way at every run: bytes, tokens, lengths, values.
#pragma once

#include <algorithm>
#include <random>
#include <string>
#include <vector>

namespace graftwright::test {

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

}  // namespace graftwright::test
