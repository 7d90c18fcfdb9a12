// After the last knot: what the closure does to the eye, whose dioptres they are, and what to do next.
//
// Everything comes from Snapshot::debrief (the same scorecard that `score` prints); nothing is computed
// anew. Four pages: result (map or rings, shares, seal, marks), bites (a table), sections, and how the
// marks come about. A closure that found no balance is told with its reason; no figure stands in for it.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "base/rect.h"
#include "game/snapshot.h"
#include "view/debrief/plots.h"
#include "view/kit/ui.h"

namespace graftwright {

enum class DebriefChoice { none, again, levels, replay, report };

// The replay's time line, while it is open. Seconds on the attempt's clock.
struct ReplayUi {
    bool open = false, playing = false;
    double t_s = 0.0, end_s = 0.0;
    double speed = 1.0;  // 1, 4 or 16 times as fast as it was
};

class DebriefScreen {
  public:
    enum class Page { result, bites, sections, marks };

    // Between Widgets::begin and draw. saved_in: where the attempt was written, "" nowhere.
    [[nodiscard]] DebriefChoice draw(Ui& ui, const Snapshot& shot, const std::string& saved_in);
    // The panel beside a replayed picture, over the buttons' place of the console.
    static void draw_replay(Ui& ui, ReplayUi& replay, const Layout& layout);

    void show(Page page) { page_ = page; }
    void show_twin(bool on) { twin_ = on; }
    void show_rings(bool on) { picture_ = on ? 1 : 0; }

  private:
    void take(const Scenario& scenario, const Debrief& debrief);
    void draw_head(Ui& ui, const Snapshot& shot);
    [[nodiscard]] DebriefChoice draw_foot(Ui& ui, const std::string& saved_in) const;
    void draw_result(Ui& ui, const Snapshot& shot, const Rect& place);
    void draw_map_panel(Ui& ui, const Snapshot& shot, const Rect& place);
    void draw_share_panel(Ui& ui, const Rect& place) const;
    void draw_seal_panel(Ui& ui, const Debrief& debrief, const Rect& place) const;
    void draw_sections(Ui& ui, const Snapshot& shot, const Rect& place) const;
    [[nodiscard]] bool twin_shown(const Debrief& debrief) const;
    // Of the attempt, or of its ideal twin where that is shown.
    [[nodiscard]] const ClosureMeasures& measures(const Debrief& debrief) const;

    std::shared_ptr<const Debrief> taken_;  // held, so that another one never has its address
    std::unique_ptr<PowerMapPlot> map_, twin_map_;
    std::optional<DoubleAngle> shares_;
    std::optional<LeakClock> clock_, twin_clock_;
    std::vector<OrderedBite> bites_;
    std::string runs_;  // which numbers lie on running threads, "" none
    std::optional<std::size_t> chosen_;
    Page page_ = Page::result;
    int picture_ = 0;  // 0 map, 1 rings
    bool twin_ = false;
};

// Parts as bars, limits as lines.
void draw_marks_summary(Ui& ui, const Rect& place, const Scorecard& card);
// Every rule with what was measured, what earns full and no marks, and where its limit comes from.
void draw_rules(Ui& ui, const Rect& place, const Scorecard& card);
// A drill's marks and what solving again has shown; for a question, the wound as posed beside it as answered.
void draw_drill(Ui& ui, const Rect& place, const Snapshot& shot);
// One line a bite; returns the bite clicked, where one was.
[[nodiscard]] std::optional<std::size_t> draw_bite_table(Ui& ui, const Rect& place, const Debrief& debrief,
                                                         std::optional<std::size_t> chosen);
// Instead of plots and marks where there are none.
void draw_no_closure(Ui& ui, const Rect& place, const Debrief& debrief);

}  // namespace graftwright
