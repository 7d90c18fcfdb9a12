// Prints the table of published figures beside ours: graftwright_published
//
// Not a test: it judges nothing, it only fails where a row has no number. A minute or so.
#include <cmath>
#include <cstdio>

#include "sign_rows.h"

int main() {
    using graftwright::published::PublishedRow;
    std::printf(
        "Published figures beside this model's. Tie tension 15 mN throughout; nothing is calibrated on any row.\n"
        "+- is the source's own scatter. A row without a figure gives a direction: yes where ours goes that way.\n\n"
        "%-9s %-62s %16s %10s %9s  %-6s %s\n",
        "figure", "what", "published", "ours", "ratio", "source", "");
    bool complete = true;
    for (const PublishedRow& row : graftwright::published::all_rows()) {
        complete = complete && std::isfinite(row.ours);
        char published[40] = "direction", ratio[16] = "";
        if (row.figure) {
            if (row.spread > 0.0) {
                std::snprintf(published, sizeof published, "%.4g +- %.2g", *row.figure, row.spread);
            } else {
                std::snprintf(published, sizeof published, "%.4g", *row.figure);
            }
            if (*row.figure != 0.0) std::snprintf(ratio, sizeof ratio, "%.2f", row.ratio());
        } else {
            std::snprintf(ratio, sizeof ratio, "%s", row.ours > 0.0 ? "yes" : "NO");
        }
        const std::string what = row.unit.empty() ? row.what : row.what + " (" + row.unit + ")";
        std::printf("%-9s %-62s %16s %10.3f %9s  %-6s %s%s%s\n", row.id.c_str(), what.c_str(), published, row.ours,
                    ratio, row.seen ? "SEEN" : "MEMORY", row.source.c_str(), row.note.empty() ? "" : " | ",
                    row.note.c_str());
    }
    return complete ? 0 : 1;
}
