// Prints the table of published figures beside ours: graftwright_published
//
// Not a test: it judges nothing, it only fails where a row has no number. A minute or so.
#include <cmath>
#include <cstdio>

#include <fmt/format.h>

#include "base/words.h"
#include "sign_rows.h"

namespace {

using graftwright::published::PublishedRow;

std::string published(const PublishedRow& row) {
    if (!row.figure) return "direction";
    return fmt::format("{:.4g}", *row.figure) + (row.spread > 0.0 ? fmt::format(" ± {:.2g}", row.spread) : "");
}

std::string ratio(const PublishedRow& row) {
    if (!row.figure) return row.ours > 0.0 ? "yes" : "NO";
    return *row.figure != 0.0 ? fmt::format("{:.2f}", row.ratio()) : "";
}

}  // namespace

int main() {
    // Widths are characters, not bytes.
    constexpr const char* kLine = "{:<70} {:>16} {:>10} {:>9}  {:<6} {}\n";
    std::string out =
        "Published figures beside this model's. Tie tension 15 mN throughout; nothing is calibrated on any row.\n"
        "± is the source's own scatter. A row without a figure gives a direction: yes where ours goes that way.\n"
        "Seen: the figure was read in an abstract or excerpt of its source; memory: it was not.\n\n" +
        fmt::format(fmt::runtime(kLine), "what", "published", "ours", "ratio", "known", "source");
    bool complete = true;
    for (const PublishedRow& row : graftwright::published::all_rows()) {
        complete = complete && std::isfinite(row.ours);
        out += fmt::format(fmt::runtime(kLine), row.unit.empty() ? row.what : row.what + " (" + row.unit + ")",
                           published(row), graftwright::shown_number(row.ours, 3), ratio(row),
                           row.seen ? "seen" : "memory", row.source + (row.note.empty() ? "" : " | " + row.note));
    }
    std::fputs(out.c_str(), stdout);
    return complete ? 0 : 1;
}
