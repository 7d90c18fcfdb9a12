// A logbook as earlier versions of the program left it.
#pragma once

#include <string>

#include <soci/soci.h>

#include "logbook/database.h"
#include "logbook/migrations.h"

namespace graftwright::test {

// A logbook as a program of that version left it, with one attempt.
inline void make_old(const LogbookPlace& place, int of_version) {
    Database old(place);
    const std::string version_text = std::to_string(of_version), key(64, 'a');
    (void)old.write([&](soci::session& session) {
        session << "CREATE TABLE graftwright_meta (name TEXT PRIMARY KEY, value TEXT NOT NULL)";
        session << "INSERT INTO graftwright_meta (name, value) VALUES ('version', :v)", soci::use(version_text);
        for (int version = 1; version <= of_version; ++version)
            for (const std::string& statement : migration(version, place.server())) session << statement;
        if (of_version > 1)
            session << "UPDATE graftwright_meta SET value = :k WHERE name = 'pseudonym_key'", soci::use(key);
        session << "INSERT INTO graftwright_attempt (id, trainee, scenario, scenario_hash, program, at_utc, bites,"
                   " converged, passed, skills, total) VALUES ('i', 'Odo', 'sixteen', 'h', '0.0.9',"
                   " '2025-01-01T00:00:00Z', 1, 1, 0, '+-', 61.5)";
        session << "INSERT INTO graftwright_bite (entry, bite, flags, share_D) VALUES (1, 1, 'tight', 0.25)";
        session << "INSERT INTO graftwright_text (entry, attempt_text) VALUES (1, '{}')";
        return true;
    });
}

}  // namespace graftwright::test
