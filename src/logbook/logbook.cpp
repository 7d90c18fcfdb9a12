#include "logbook/logbook.h"

#include <algorithm>

#include <soci/soci.h>

#include "files/reader.h"
#include "files/writer.h"
#include "logbook/digest.h"
#include "logbook/opening.h"
#include "logbook/pages.h"
#include "logbook/rows.h"

namespace graftwright {
namespace {

constexpr int kPageOfEntries = 500;  // read at a time; a few hundred KiB

}  // namespace

struct Logbook::Inside {
    OpenedDatabase opened;
    // Statements prepared once; they live on the connection.
    std::unique_ptr<EntryWriter> writer;

    [[nodiscard]] Database& database() const { return *opened.database; }
    EntryWriter& writer_on(soci::session& session) {
        if (!writer) writer = std::make_unique<EntryWriter>(session);
        return *writer;
    }
    ~Inside() { writer.reset(); }
};

Logbook::Logbook(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Logbook::~Logbook() = default;
Logbook::Logbook(Logbook&&) noexcept = default;
Logbook& Logbook::operator=(Logbook&&) noexcept = default;

Result<Logbook> Logbook::open(const LogbookPlace& place, const LogbookOptions& options) {
    Result<OpenedDatabase> opened = open_database(place, options);
    if (!opened.ok()) return opened.faults();
    auto inside = std::make_unique<Inside>();
    inside->opened = opened.take();
    return Logbook(std::move(inside));
}

// Damage found while the logbook is in use: a copy is kept then too, and the sentence says where.
template <typename Work>
auto Logbook::guarded(Work&& work) {
    try {
        return std::forward<Work>(work)();
    } catch (const LogbookDamaged& damage) {
        throw LogbookUnreadable("logbook " + place().shown() + ": " +
                                damaged_words(damage.what(), place().path(), inside_->database().may_write()));
    }
}

bool Logbook::add(const Entry& entry) { return add_all({entry}) == 1; }

// In one transaction that keeps other writers out.
std::size_t Logbook::write(const std::function<std::size_t(EntryWriter&)>& work) {
    return guarded([&] {
        try {
            return inside_->database().write([&](soci::session& session) { return work(inside_->writer_on(session)); });
        } catch (...) {
            // A statement that failed would leak its parameters when it is used again.
            inside_->writer.reset();
            throw;
        }
    });
}

std::size_t Logbook::add_all(const std::vector<Entry>& entries) {
    return write([&](EntryWriter& writer) {
        std::size_t added = 0;
        for (const Entry& entry : entries)
            if (writer.write(entry)) ++added;
        return added;
    });
}

std::size_t Logbook::merge(Logbook& other) {
    return write([&](EntryWriter& writer) {
        std::size_t added = 0;
        other.visit({}, With::everything, [&](const Entry& entry) {
            if (writer.write(entry)) ++added;
        });
        return added;
    });
}

long long Logbook::count() {
    return guarded([&] {
        return inside_->database().run([](soci::session& session) {
            long long count = 0;
            session << "SELECT count(*) FROM graftwright_attempt", soci::into(count);
            return count;
        });
    });
}

std::vector<std::string> Logbook::trainees() {
    return guarded([&] {
        return inside_->database().run([](soci::session& session) {
            std::vector<std::string> names;
            std::string name;
            soci::statement each =
                (session.prepare << "SELECT DISTINCT trainee FROM graftwright_attempt ORDER BY trainee",
                 soci::into(name));
            each.execute();
            while (each.fetch()) names.push_back(name);
            return names;
        });
    });
}

std::vector<std::string> Logbook::trainees_to_show(bool anonymous) {
    std::vector<std::string> names = trainees();
    if (anonymous)
        std::sort(names.begin(), names.end(), [&](const std::string& a, const std::string& b) {
            return pseudonym_of(a) < pseudonym_of(b);
        });
    return names;
}

std::vector<LevelCount> Logbook::levels_of(const std::string& trainee) {
    return guarded([&] {
        return inside_->database().run([&](soci::session& session) { return read_levels_of(session, trainee); });
    });
}

TraineePage Logbook::trainee_page(const std::string& trainee, const TraineePageOptions& options) {
    return guarded([&] {
        return inside_->database().run(
            [&](soci::session& session) { return read_trainee_page(session, trainee, options); });
    });
}

GroupSummary Logbook::group_summary(bool anonymous, const CusumRates& rates) {
    return guarded([&] {
        return inside_->database().run([&](soci::session& session) {
            GroupSummary summary = read_group_summary(
                session, rates, [&](const std::string& name) { return anonymous ? pseudonym_of(name) : name; });
            summary.anonymous = anonymous;
            return summary;
        });
    });
}

void Logbook::visit(const LogbookSelection& selection, With what, const std::function<void(const Entry&)>& each) {
    std::optional<EntryCursor> behind;
    for (;;) {
        std::vector<Entry> page = guarded([&] {
            return inside_->database().run([&](soci::session& session) {
                std::vector<Entry> entries =
                    read_entries(session, {selection.trainee, selection.scenario}, behind, kPageOfEntries);
                for (Entry& entry : entries) {
                    if (what != With::numbers) read_bites(session, entry);
                    if (what == With::everything) read_text(session, entry);
                }
                return entries;
            });
        });
        for (const Entry& entry : page) each(entry);
        if (page.size() < static_cast<std::size_t>(kPageOfEntries)) return;
        behind = EntryCursor{page.back().trainee, page.back().at_utc, page.back().number};
    }
}

std::string Logbook::pseudonym_of(const std::string& trainee) const {
    return pseudonym(inside_->opened.pseudonym_key, trainee);
}

Entry Logbook::anonymous(Entry entry) const {
    // The fingerprint was taken of a text with the name in it: with the rest of that text, names could be tried.
    entry.id = keyed_hex(inside_->opened.pseudonym_key, entry.id);
    entry.trainee = pseudonym_of(entry.trainee);
    if (entry.attempt_text.empty()) return entry;
    const Result<Attempt> read = read_attempt(entry.attempt_text, "attempt");
    if (!read.ok()) {
        entry.attempt_text.clear();
        return entry;
    }
    // Labels and the free words of events are a person's own; bites and runs are numbers.
    Attempt attempt = read.value();
    attempt.trainee = entry.trainee;
    attempt.started.clear();
    attempt.events.clear();
    entry.attempt_text = write_attempt(attempt);
    return entry;
}

const std::string& Logbook::notice() const { return inside_->opened.notice; }
const LogbookPlace& Logbook::place() const { return inside_->opened.database->place(); }

}  // namespace graftwright
