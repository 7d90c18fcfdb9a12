// Screens to draw: shipped attempts really scored, a course with broken files.
#pragma once

#include <string>
#include <string_view>

#include "game/snapshot.h"
#include "view/editor/editor_screen.h"
#include "view/window/start_screen.h"

namespace graftwright {

// A shipped attempt by name ("second_cardinal_off"), scored; worked out once a program.
[[nodiscard]] const Snapshot& scored(std::string_view attempt);
// The same with its bites behind the first `single` on one running thread (scenes/made_up_runs.h), solved as such.
[[nodiscard]] Snapshot with_run(const std::string& attempt, std::size_t single);
// The first two bites only: they don't hold the donor.
[[nodiscard]] Snapshot without_closure();
// A shipped question level with one answer given.
[[nodiscard]] Snapshot answered(const std::string& level, const DrillAnswer& answer);
// A shipped level opened as a copy, and what the editor would say of a draft, its prediction worked out.
[[nodiscard]] LevelDraft draft_of(const std::string& id);
// A shipped level with starting bites as the editor would open it, those behind the first `single` on a thread.
[[nodiscard]] LevelDraft draft_with_run(const std::string& id, std::size_t single);
[[nodiscard]] EditorNews news_of(const LevelDraft& draft);
// Two shipped levels, a few invented ones, two broken files, an interrupted attempt.
[[nodiscard]] StartModel course_with_broken_levels();

}  // namespace graftwright
