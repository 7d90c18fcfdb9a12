// A group's page: who practises what, where points go, which bite is worst, as one HTML file.
//
// As the report: no script, nothing from a network, pictures as inline SVG, prints on A4 (tables of long groups go
// on over the page, with their head repeated). Names are whatever the summary shows, pseudonyms if it is
// anonymous. No clock: the days named are the attempts' own.
#pragma once

#include <string>

#include "logbook/group_summary.h"

namespace graftwright {

[[nodiscard]] std::string group_page_html(const GroupSummary& group);

}  // namespace graftwright
