// After the last knot: map, shares, leak clock, marks, the table of bites, the twin beside it, the replay.
//
// Everything comes from Snapshot::debrief (the same scorecard that `score` prints); nothing is computed
// anew. A closure without balance has its screen too, with the reason and no invented number.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "game/snapshot.h"
#include "view/plots.h"
#include "view/ui.h"

namespace graftwright {

enum class DebriefChoice { none, again, levels, replay, report };

// The replay's time line, while it is open.
struct ReplayUi {
    bool open = false, playing = false;
    double t_s = 0.0, end_s = 0.0;
};

class DebriefScreen {
  public:
    // Between Widgets::begin and draw. saved_in: where the attempt was written, "" nowhere.
    [[nodiscard]] DebriefChoice draw(Ui& ui, const Snapshot& shot, const std::string& saved_in);
    // The bar under a replayed picture.
    static void draw_replay(Ui& ui, ReplayUi& replay);

  private:
    void take(const Debrief& debrief);
    void draw_head(Ui& ui, const Snapshot& shot) const;
    void draw_pictures(Ui& ui, const Snapshot& shot);
    void draw_marks(Ui& ui, const Snapshot& shot, const Rect& place) const;
    void draw_bites(Ui& ui, const Debrief& debrief, const Rect& place);
    [[nodiscard]] DebriefChoice draw_foot(Ui& ui, const std::string& saved_in);

    const Debrief* taken_ = nullptr;
    std::unique_ptr<PowerMapPlot> map_, twin_map_;
    std::optional<DoubleAngle> shares_;
    std::optional<LeakClock> clock_, twin_clock_;
    std::optional<std::size_t> chosen_;
    int picture_ = 0;  // 0 map, 1 rings
    bool twin_ = false;
};

// The flag of a bite in trade words: "shallow in the donor".
[[nodiscard]] std::string flag_words(const std::string& flag);

}  // namespace graftwright
