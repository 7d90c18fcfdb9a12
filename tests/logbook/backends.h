// The same suite on both back ends: a behaviour is written once and runs on SQLite as a case of its own, and
// on a real PostgreSQL together with all the others (postgresql_test.cpp), which is started for it.
#pragma once

#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "../scenes/temporary_folder.h"
#include "logbook/logbook.h"

namespace graftwright::test {

class Backend {
  public:
    Backend() = default;
    virtual ~Backend() = default;
    Backend(const Backend&) = delete;
    Backend& operator=(const Backend&) = delete;
    // A place where no logbook is yet.
    [[nodiscard]] virtual LogbookPlace fresh() = 0;
};

class SqliteBackend : public Backend {
  public:
    [[nodiscard]] LogbookPlace fresh() override {
        return LogbookPlace::of(folder_.file("logbook " + std::to_string(++made_) + ".sqlite"));
    }

  private:
    TemporaryFolder folder_;
    int made_ = 0;
};

struct Behaviour {
    const char* name;
    void (*holds_on)(Backend&);
};
[[nodiscard]] inline std::vector<Behaviour>& behaviours() {
    static std::vector<Behaviour> all;
    return all;
}
struct RegisteredBehaviour {
    RegisteredBehaviour(const char* name, void (*holds_on)(Backend&)) { behaviours().push_back({name, holds_on}); }
};

[[nodiscard]] inline Logbook opened(const LogbookPlace& place, const LogbookOptions& options = {}) {
    Result<Logbook> logbook = Logbook::open(place, options);
    if (!logbook.ok()) throw std::runtime_error(logbook.faults().front().text());
    return logbook.take();
}

[[nodiscard]] inline std::vector<Entry> all_entries(Logbook& logbook, const LogbookSelection& selection = {}) {
    std::vector<Entry> entries;
    logbook.visit(selection, Logbook::With::everything, [&](const Entry& entry) { entries.push_back(entry); });
    return entries;
}

}  // namespace graftwright::test

#define GRAFTWRIGHT_BEHAVIOUR_2(name, function)                                                \
    static void function(graftwright::test::Backend& backend);                                 \
    static const graftwright::test::RegisteredBehaviour registered_##function(name, function); \
    TEST_CASE("SQLite: " name, "[logbook][sqlite]") {                                          \
        graftwright::test::SqliteBackend sqlite;                                               \
        function(sqlite);                                                                      \
    }                                                                                          \
    static void function(graftwright::test::Backend& backend)
#define GRAFTWRIGHT_BEHAVIOUR_1(name, line) GRAFTWRIGHT_BEHAVIOUR_2(name, behaviour_##line)
#define GRAFTWRIGHT_BEHAVIOUR_0(name, line) GRAFTWRIGHT_BEHAVIOUR_1(name, line)
// ON_EVERY_BACK_END("a sentence") { … uses `backend` … }
#define ON_EVERY_BACK_END(name) GRAFTWRIGHT_BEHAVIOUR_0(name, __COUNTER__)
