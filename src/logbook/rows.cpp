#include "logbook/rows.h"

#include <array>

#include <soci/soci.h>

namespace graftwright {
namespace {

// A number that may be missing, where the database finds or leaves it.
struct Cell {
    double value = 0.0;
    soci::indicator is = soci::i_null;

    void set(const std::optional<double>& from) {
        value = from.value_or(0.0);
        is = from ? soci::i_ok : soci::i_null;
    }
    [[nodiscard]] std::optional<double> get() const { return is == soci::i_ok ? std::optional(value) : std::nullopt; }
};

std::string metric_columns(const std::string& before_each) {
    std::string out;
    for (const MetricInfo& metric : kMetrics) out += ", " + before_each + metric.column;
    return out;
}

const char* const kPlainColumns =
    "id, trainee, scenario, scenario_hash, program, at_utc, bites, converged, passed, skills";

// An attempt's row in the library's hands.
struct AttemptCells {
    Entry entry;
    int converged = 0, passed = 0;
    std::array<Cell, kMetricCount> metrics;

    void set(const Entry& from) {
        entry = from;
        converged = from.converged ? 1 : 0;
        passed = from.passed ? 1 : 0;
        for (std::size_t m = 0; m < kMetricCount; ++m) metrics[m].set(from.measures[m]);
    }
    [[nodiscard]] Entry get() const {
        Entry out = entry;
        out.converged = converged != 0;
        out.passed = passed != 0;
        for (std::size_t m = 0; m < kMetricCount; ++m) out.measures[m] = metrics[m].get();
        return out;
    }
    void exchange_into(soci::statement& statement) {
        statement.exchange(soci::into(entry.number));
        for (std::string* text :
             {&entry.id, &entry.trainee, &entry.scenario, &entry.scenario_hash, &entry.program, &entry.at_utc})
            statement.exchange(soci::into(*text));
        for (int* whole : {&entry.bites, &converged, &passed}) statement.exchange(soci::into(*whole));
        statement.exchange(soci::into(entry.skills));
        for (Cell& cell : metrics) statement.exchange(soci::into(cell.value, cell.is));
    }
    void exchange_use(soci::statement& statement) {
        for (std::string* text :
             {&entry.id, &entry.trainee, &entry.scenario, &entry.scenario_hash, &entry.program, &entry.at_utc})
            statement.exchange(soci::use(*text));
        for (int* whole : {&entry.bites, &converged, &passed}) statement.exchange(soci::use(*whole));
        statement.exchange(soci::use(entry.skills));
        for (Cell& cell : metrics) statement.exchange(soci::use(cell.value, cell.is));
    }
};

struct BiteCells {
    long long entry = 0;
    int bite = 0;
    std::string flags;
    std::array<Cell, kBiteFields.size()> cells;

    void set(long long number, const BiteRow& row) {
        entry = number;
        bite = row.bite;
        flags = row.flags;
        for (std::size_t c = 0; c < cells.size(); ++c) cells[c].set(row.*kBiteFields[c].value);
    }
    [[nodiscard]] BiteRow get() const {
        BiteRow row;
        row.bite = bite;
        row.flags = flags;
        for (std::size_t c = 0; c < cells.size(); ++c) row.*kBiteFields[c].value = cells[c].get();
        return row;
    }
};

std::string bite_columns(const std::string& before_each) {
    std::string out;
    for (const BiteField& field : kBiteFields) out += ", " + before_each + field.name;
    return out;
}

void prepare(soci::statement& statement, const std::string& query) {
    statement.alloc();
    statement.prepare(query);
    statement.define_and_bind();
}

std::vector<Entry> fetch_all(soci::statement& statement, AttemptCells& cells) {
    std::vector<Entry> entries;
    statement.execute();
    while (statement.fetch()) entries.push_back(cells.get());
    return entries;
}

std::string select_attempts() {
    return std::string("SELECT entry, ") + kPlainColumns + metric_columns("") + " FROM graftwright_attempt";
}

}  // namespace

struct EntryWriter::Statements {
    AttemptCells attempt_cells;
    BiteCells bite_cells;
    long long number = 0;
    std::string text;
    soci::statement attempt, bite, attempt_text;

    explicit Statements(soci::session& session) : attempt(session), bite(session), attempt_text(session) {
        attempt_cells.exchange_use(attempt);
        attempt.exchange(soci::into(number));
        prepare(attempt, std::string("INSERT INTO graftwright_attempt (") + kPlainColumns + metric_columns("") +
                             ") VALUES (:id, :trainee, :scenario, :scenario_hash, :program, :at_utc, :bites, "
                             ":converged, :passed, :skills" +
                             metric_columns(":") + ") ON CONFLICT (id) DO NOTHING RETURNING entry");
        bite.exchange(soci::use(bite_cells.entry));
        bite.exchange(soci::use(bite_cells.bite));
        bite.exchange(soci::use(bite_cells.flags));
        for (Cell& cell : bite_cells.cells) bite.exchange(soci::use(cell.value, cell.is));
        prepare(bite, "INSERT INTO graftwright_bite (entry, bite, flags" + bite_columns("") +
                          ") VALUES (:entry, :bite, :flags" + bite_columns(":") + ")");
        attempt_text.exchange(soci::use(number));
        attempt_text.exchange(soci::use(text));
        prepare(attempt_text, "INSERT INTO graftwright_text (entry, attempt_text) VALUES (:entry, :text)");
    }
};

EntryWriter::EntryWriter(soci::session& session) : statements_(std::make_unique<Statements>(session)) {}
EntryWriter::~EntryWriter() = default;

std::optional<long long> EntryWriter::write(const Entry& entry) {
    Statements& s = *statements_;
    s.attempt_cells.set(entry);
    if (!s.attempt.execute(true)) return std::nullopt;
    // To the end of its one row: a statement left in the middle would hold up the commit.
    const long long number = s.number;
    while (s.attempt.fetch()) continue;
    s.number = number;
    for (const BiteRow& row : entry.per_bite) {
        s.bite_cells.set(s.number, row);
        s.bite.execute(true);
    }
    s.text = entry.attempt_text;
    s.attempt_text.execute(true);
    return number;
}

std::vector<Entry> read_entries(soci::session& session, const EntryFilter& filter,
                                const std::optional<EntryCursor>& behind, int most) {
    const std::string trainee = filter.trainee.value_or(""), scenario = filter.scenario.value_or("");
    const EntryCursor from = behind.value_or(EntryCursor{});
    AttemptCells cells;
    soci::statement statement(session);
    cells.exchange_into(statement);
    std::string where;
    const auto narrow = [&](const std::string& condition) {
        where += (where.empty() ? " WHERE " : " AND ") + condition;
    };
    if (filter.trainee) {
        narrow("trainee = :trainee");
        statement.exchange(soci::use(trainee));
    }
    if (filter.scenario) {
        narrow("scenario = :scenario");
        statement.exchange(soci::use(scenario));
    }
    if (behind) {
        narrow("(trainee, at_utc, entry) > (:last_trainee, :last_at, :last_entry)");
        statement.exchange(soci::use(from.trainee));
        statement.exchange(soci::use(from.at_utc));
        statement.exchange(soci::use(from.number));
    }
    statement.exchange(soci::use(most));
    prepare(statement, select_attempts() + where + " ORDER BY trainee, at_utc, entry LIMIT :most");
    return fetch_all(statement, cells);
}

std::vector<Entry> read_latest(soci::session& session, const std::string& trainee, const std::string& scenario,
                               int most) {
    AttemptCells cells;
    soci::statement statement(session);
    cells.exchange_into(statement);
    statement.exchange(soci::use(trainee));
    if (!scenario.empty()) statement.exchange(soci::use(scenario));
    statement.exchange(soci::use(most));
    prepare(statement, select_attempts() + " WHERE trainee = :trainee" +
                           (scenario.empty() ? "" : " AND scenario = :scenario") +
                           " ORDER BY at_utc DESC, entry DESC LIMIT :most");
    return fetch_all(statement, cells);
}

void read_bites(soci::session& session, Entry& entry) {
    BiteCells cells;
    soci::statement statement(session);
    statement.exchange(soci::into(cells.bite));
    statement.exchange(soci::into(cells.flags));
    for (Cell& cell : cells.cells) statement.exchange(soci::into(cell.value, cell.is));
    statement.exchange(soci::use(entry.number));
    prepare(statement,
            "SELECT bite, flags" + bite_columns("") + " FROM graftwright_bite WHERE entry = :entry ORDER BY bite");
    statement.execute();
    entry.per_bite.clear();
    while (statement.fetch()) entry.per_bite.push_back(cells.get());
}

void read_text(soci::session& session, Entry& entry) {
    session << "SELECT attempt_text FROM graftwright_text WHERE entry = :entry", soci::use(entry.number),
        soci::into(entry.attempt_text);
}

}  // namespace graftwright
