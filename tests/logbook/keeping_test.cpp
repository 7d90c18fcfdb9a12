// What goes into a logbook comes out again, once, whole, and in order.
#include <limits>

#include "backends.h"
#include "made_entries.h"

using namespace graftwright;
using namespace graftwright::test;

namespace {

Entry without_number(Entry entry) {
    entry.number = 0;
    return entry;
}

}  // namespace

ON_EVERY_BACK_END("an attempt comes back as it went in, to the last bit") {
    Logbook logbook = opened(backend.fresh());
    Entry entry = made_entry(7);
    at(entry.measures, Metric::total) = 0.1 + 0.2;
    at(entry.measures, Metric::cylinder_D) = std::numeric_limits<double>::denorm_min();
    at(entry.measures, Metric::mean_D) = -std::numeric_limits<double>::max();
    at(entry.measures, Metric::hoa_rms_um) = 1.0 / 3.0 * 1e-300;
    at(entry.measures, Metric::seal) = 15.0;
    at(entry.measures, Metric::apposition) = std::nullopt;
    entry.per_bite[3].share_D = std::nextafter(2.0, 3.0);
    entry.per_bite[4].share_D = std::nullopt;
    REQUIRE(logbook.add(entry));
    const std::vector<Entry> back = all_entries(logbook);
    REQUIRE(back.size() == 1);
    CHECK(without_number(back[0]) == entry);
}

ON_EVERY_BACK_END("names with quotes, emoji, 200 characters and SQL in them come back unbroken") {
    Logbook logbook = opened(backend.fresh());
    std::string needles;
    for (int i = 0; i < 200; ++i) needles += "🪡";
    const std::vector<std::string> names = {"",
                                            "O'Rask",
                                            "\"Ilse\"",
                                            "'; DROP TABLE graftwright_attempt; --",
                                            ":trainee",
                                            "100 % _ \\ $1 ?",
                                            "Zoë — 日本 👩🏽‍⚕️",
                                            needles};
    int n = 0;
    for (const std::string& name : names) {
        INFO(name);
        REQUIRE(name_fault(name).empty());
        REQUIRE(logbook.add(made_entry(++n, name)));
        const std::vector<Entry> back = all_entries(logbook, {name, {}});
        REQUIRE(back.size() == 1);
        CHECK(back[0].trainee == name);
        CHECK(logbook.trainee_page(name).attempts_in_all == 1);
    }
    CHECK(logbook.trainees().size() == names.size());
}

ON_EVERY_BACK_END("an attempt file of twelve million characters is kept whole") {
    Logbook logbook = opened(backend.fresh());
    Entry entry = made_entry(1);
    entry.attempt_text = std::string(12'000'000, ' ') + "é'\"\\ { }\r\n";
    REQUIRE(logbook.add(entry));
    CHECK(all_entries(logbook).at(0).attempt_text == entry.attempt_text);
}

ON_EVERY_BACK_END("the same attempt is kept once, as it came first") {
    Logbook logbook = opened(backend.fresh());
    Entry entry = made_entry(5);
    CHECK(logbook.add(entry));
    at(entry.measures, Metric::total) = 1.0;
    CHECK_FALSE(logbook.add(entry));
    CHECK(logbook.count() == 1);
    CHECK(at(all_entries(logbook).at(0).measures, Metric::total) == at(made_entry(5).measures, Metric::total));
}

ON_EVERY_BACK_END("several attempts are added all or none") {
    Logbook logbook = opened(backend.fresh());
    std::vector<Entry> entries = {made_entry(1), made_entry(2)};
    entries[1].per_bite[1].bite = entries[1].per_bite[0].bite;  // the tables refuse it
    CHECK_THROWS_AS((void)logbook.add_all(entries), std::runtime_error);
    CHECK(logbook.count() == 0);
    // And the logbook is as good as before.
    CHECK(logbook.add_all({made_entry(1), made_entry(2), made_entry(1)}) == 2);
    CHECK(logbook.count() == 2);
}

ON_EVERY_BACK_END("entries are visited by trainee and time, however many there are") {
    Logbook logbook = opened(backend.fresh());
    std::vector<Entry> entries;
    for (int n = 0; n < 1203; ++n) entries.push_back(made_entry(2000 - n, n % 2 == 0 ? "A" : "B", "four", 1));
    CHECK(logbook.add_all(entries) == entries.size());
    std::vector<std::pair<std::string, std::string>> seen;
    logbook.visit({}, Logbook::With::numbers,
                  [&](const Entry& entry) { seen.emplace_back(entry.trainee, entry.at_utc); });
    CHECK(seen.size() == entries.size());
    CHECK(std::is_sorted(seen.begin(), seen.end()));
    CHECK(all_entries(logbook, {"B", {}}).size() == 601);
    CHECK(all_entries(logbook, {{}, "four"}).size() == 1203);
    CHECK(all_entries(logbook, {"A", "sixteen"}).empty());
}

ON_EVERY_BACK_END("logbooks merge without duplicates, in either order") {
    Logbook one = opened(backend.fresh()), other = opened(backend.fresh()), both = opened(backend.fresh());
    for (int n = 0; n < 20; ++n) (void)one.add(made_entry(n, n % 3 == 0 ? "A" : "B"));
    for (int n = 10; n < 30; ++n) (void)other.add(made_entry(n, n % 3 == 0 ? "A" : "B"));
    CHECK(both.merge(other) == 20);
    CHECK(both.merge(one) == 10);
    CHECK(both.merge(one) == 0);
    CHECK(one.merge(other) == 10);
    std::vector<Entry> a = all_entries(one), b = all_entries(both);
    REQUIRE(a.size() == 30);
    REQUIRE(b.size() == 30);
    for (std::size_t i = 0; i < a.size(); ++i) CHECK(without_number(a[i]) == without_number(b[i]));
    CHECK(one.merge(one) == 0);
}
