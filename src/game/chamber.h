// The chamber during a closure: viscoelastic that is lost, saline that replaces it, stain and streams.
//
// How fast viscoelastic is lost and when a shallow chamber lets the needle take iris are our choices (no
// source found); each is named in the .cpp. mmHg, s; level 1 = full … 0 = flat. Tick of 1/240 s.
#pragma once

#include <vector>

#include "game/live_wound.h"
#include "game/snapshot.h"

namespace graftwright {

class Chamber {
  public:
    // One tick: how many bites are tied, how hard the donor is pressed (mN).
    void step(std::size_t bites, double pressed_mN);
    void refill();
    void wash();   // viscoelastic out, saline in
    void sweep() { view_.swept = true; }
    void dry() { view_.dry = true; }
    void stain() { view_.stained = true; }
    // For a new leak check: dry, unstained, soft.
    void begin_check();
    void set_pressure(double mmHg);
    // Dark streams that the stain would show, given the wound as last solved.
    void look(const LiveWound* wound);

    [[nodiscard]] double viscoelastic() const { return level_; }
    [[nodiscard]] bool shallow() const;
    [[nodiscard]] const LeakView& view() const { return view_; }

  private:
    double level_ = 1.0;
    LeakView view_;
};

}  // namespace graftwright
