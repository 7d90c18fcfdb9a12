#include "files/document.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <optional>
#include <unordered_map>
#include <utility>

#include "files/counting_iterator.h"
#include "files/syntax_words.h"

namespace graftwright {
namespace {

// Both passes over a text listen to the library's parser and differ only in what they keep.
class Listener : public nlohmann::json_sax<Json> {
  public:
    explicit Listener(const LineCount& count) : count_(count) {}

    bool null() override { return value(nullptr, count_.line); }
    bool boolean(bool b) override { return value(b, count_.line); }
    bool number_integer(std::int64_t n) override { return value(n, count_.line_of_number()); }
    bool number_unsigned(std::uint64_t n) override { return value(n, count_.line_of_number()); }
    bool number_float(double x, const std::string&) override {
        constexpr double kExactIntegers = 9007199254740992.0;  // 2^53
        const bool whole = std::trunc(x) == x && std::fabs(x) <= kExactIntegers;
        if (whole && !(x == 0.0 && std::signbit(x)))
            return value(static_cast<std::int64_t>(x), count_.line_of_number());
        return value(x, count_.line_of_number());
    }
    bool string(std::string& s) override { return value(std::move(s), count_.line); }
    bool binary(Json::binary_t&) override { return false; }  // JSON text has none
    bool key(std::string& k) override { return take_key(std::move(k), count_.line); }
    bool start_object(std::size_t) override { return open(Json::object(), count_.line); }
    bool start_array(std::size_t) override { return open(Json::array(), count_.line); }
    bool end_object() override { return close(); }
    bool end_array() override { return close(); }

  protected:
    virtual bool value(Json v, int line) = 0;
    virtual bool open(Json container, int line) = 0;
    virtual bool take_key(std::string k, int line) = 0;
    virtual bool close() = 0;

  private:
    const LineCount& count_;
};

// First pass: the tree, and what is wrong with the text as text.
class TreeBuilder final : public Listener {
  public:
    TreeBuilder(const LineCount& count, std::string_view text, const std::string& file_name)
        : Listener(count), text_(text), file_name_(file_name) {}

    bool parse_error(std::size_t position, const std::string&, const nlohmann::detail::exception& what) override {
        faults.push_back(syntax_fault(text_, position, what.what(), file_name_));
        return false;
    }

    Json root;
    Faults faults;

  private:
    struct Level {
        Json* container;
        std::string key;  // of the value to come
        bool in_events;
        std::unordered_map<std::string, int> lines = {};  // first line of each key
    };

    bool add(Json v, int line, Json** placed) {
        if (levels_.empty()) {
            root = std::move(v);
            *placed = &root;
            return true;
        }
        Level& level = levels_.back();
        const std::size_t most = level.in_events ? kMostEventEntries : kMostEntries;
        if (level.container->size() >= most) {
            faults.push_back(
                {file_name_, line,
                 "more than " + std::to_string(most) + " entries in one list or object, expected far fewer"});
            return false;
        }
        if (level.container->is_array()) {
            level.container->push_back(std::move(v));
            *placed = &level.container->back();
        } else {
            *placed = &((*level.container)[level.key] = std::move(v));
        }
        return true;
    }

    bool value(Json v, int line) override {
        Json* placed = nullptr;
        return add(std::move(v), line, &placed);
    }
    bool open(Json container, int line) override {
        if (levels_.size() >= kDeepestNesting) {
            faults.push_back(
                {file_name_, line,
                 "brackets nested more than " + std::to_string(kDeepestNesting) + " deep, expected far fewer"});
            return false;
        }
        const bool is_events = levels_.size() == 1 && levels_.back().key == "events";
        const bool in_events = is_events || (!levels_.empty() && levels_.back().in_events);
        Json* placed = nullptr;
        if (!add(std::move(container), line, &placed)) return false;
        levels_.push_back({placed, {}, in_events});
        return true;
    }
    bool take_key(std::string k, int line) override {
        Level& level = levels_.back();
        const auto [first, is_new] = level.lines.emplace(k, line);
        if (!is_new && faults.size() < kMostFaults)
            faults.push_back({file_name_, line,
                              "key " + in_quotes(k) + " stands twice in one object (first on line " +
                                  std::to_string(first->second) + "), expected it once"});
        level.key = std::move(k);
        return true;
    }
    bool close() override {
        levels_.pop_back();
        return true;
    }

    std::string_view text_;
    const std::string& file_name_;
    std::vector<Level> levels_;
};

struct Lines {
    int key = 0;
    int value = 0;
};

// Second pass, only where something is wrong: the lines of the places asked for. Keeping a line for
// every value of every sound file would cost more than the tree itself.
class LineFinder final : public Listener {
  public:
    LineFinder(const LineCount& count, std::map<std::string, std::optional<Lines>>& wanted)
        : Listener(count), wanted_(wanted) {}

    bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception&) override {
        return false;  // the first pass has said so already
    }

  private:
    struct Level {
        std::string pointer;
        bool list;
        std::size_t count = 0;
        std::string key = {};
        int key_line = 0;
    };

    std::string here(int line) {
        if (levels_.empty()) {
            note("", {line, line});
            return "";
        }
        Level& level = levels_.back();
        std::string pointer = level.list ? below(level.pointer, level.count++) : below(level.pointer, level.key);
        note(pointer, {level.list ? line : level.key_line, line});
        return pointer;
    }
    void note(const std::string& pointer, Lines lines) {
        const auto found = wanted_.find(pointer);
        if (found != wanted_.end()) found->second = lines;
    }
    bool value(Json, int line) override {
        here(line);
        return true;
    }
    bool open(Json container, int line) override {
        levels_.push_back({here(line), container.is_array()});
        return true;
    }
    bool take_key(std::string k, int line) override {
        levels_.back().key = std::move(k);
        levels_.back().key_line = line;
        return true;
    }
    bool close() override {
        levels_.pop_back();
        return true;
    }

    std::map<std::string, std::optional<Lines>>& wanted_;
    std::vector<Level> levels_;
};

// Lets the library read the text; false where a listener or the grammar stopped it.
template <typename Made>
bool listen(std::string_view text, LineCount& count, Made& listener) {
    return Json::sax_parse(CountingIterator(text.data(), &count), CountingIterator(text.data() + text.size(), &count),
                           &listener);
}

std::string above(const std::string& pointer) { return pointer.substr(0, pointer.rfind('/')); }

bool holds(const std::string& outer, const std::string& inner) {
    return inner.starts_with(outer) && (inner.size() == outer.size() || inner[outer.size()] == '/');
}

}  // namespace

std::string below(const std::string& pointer, std::string_view key) {
    std::string result = pointer + "/";
    for (const char c : key) {
        if (c == '~')
            result += "~0";
        else if (c == '/')
            result += "~1";
        else
            result += c;
    }
    return result;
}

std::string below(const std::string& pointer, std::size_t index) { return pointer + "/" + std::to_string(index); }

Result<Json> parse_document(std::string_view text, const std::string& file_name) {
    if (text.size() > kLargestFileBytes)
        return Fault{file_name, 0, "the file is larger than 16 MiB, expected far less"};
    if (text.find_first_not_of(" \t\r\n") == text.npos)
        return Fault{file_name, 1, "the file is empty, expected one JSON object"};
    // The library takes a NUL for the end of the text and would read no further.
    if (const std::size_t nul = text.find('\0'); nul != text.npos)
        return Fault{file_name, line_at(text, nul), "a NUL byte, expected text only"};
    LineCount count;
    TreeBuilder builder(count, text, file_name);
    const bool whole = listen(text, count, builder);
    if (!builder.faults.empty()) return std::move(builder.faults);
    if (!whole) return Fault{file_name, count.line, "not JSON here, expected one JSON object"};
    if (!builder.root.is_object())
        return Fault{file_name, 1, "the outermost value is no object, expected one JSON object in { }"};
    return std::move(builder.root);
}

Faults faults_from(const Findings& findings, std::string_view text, const std::string& file_name) {
    std::map<std::string, std::optional<Lines>> wanted;
    for (const Finding& finding : findings) {
        std::string pointer = finding.pointer;
        wanted[pointer];
        while (!pointer.empty()) wanted[pointer = above(pointer)];
    }
    if (!text.empty() && !findings.empty()) {
        LineCount count;
        LineFinder finder(count, wanted);
        (void)listen(text, count, finder);  // a sound text: the first pass has read it
    }
    Faults faults;
    for (const Finding& finding : findings) {
        std::string pointer = finding.pointer;
        while (!wanted[pointer] && !pointer.empty()) pointer = above(pointer);
        const Lines lines = wanted[pointer].value_or(Lines{});
        faults.push_back({file_name, finding.at_key ? lines.key : lines.value, finding.message, finding.pointer});
    }
    std::stable_sort(faults.begin(), faults.end(), [](const Fault& a, const Fault& b) { return a.line < b.line; });
    if (faults.size() > kMostFaults) {
        const std::size_t more = faults.size() - kMostFaults;
        faults.resize(kMostFaults);
        // At least: nobody looks for more than are told.
        faults.push_back(
            {file_name, 0, "and at least " + std::to_string(more) + " more fault" + (more == 1 ? "" : "s")});
    }
    return faults;
}

Findings without_void(Findings findings, const Findings& before) {
    std::erase_if(findings, [&](const Finding& finding) {
        return std::any_of(before.begin(), before.end(), [&](const Finding& spoiled) {
            return !spoiled.spoils.empty() &&
                   std::any_of(finding.stands_on.begin(), finding.stands_on.end(),
                               [&](const std::string& p) { return holds(spoiled.spoils, p); });
        });
    });
    return findings;
}

}  // namespace graftwright
