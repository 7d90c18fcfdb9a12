// The eye from above, as the surgeon at the patient's head sees it (or the examiner, turned round).
#pragma once

#include "game/snapshot.h"
#include "view/field/eye_picture.h"

namespace graftwright {

class Canvas;

class FieldView {
  public:
    // Before the frame's own drawing: brings the shaded eye up to date in its own textures.
    void update(Canvas& canvas, const Snapshot& snapshot, double device_scale);
    void draw(Canvas& canvas, const Snapshot& snapshot) const;
    [[nodiscard]] bool sharp() const { return eye_.sharp(); }
    [[nodiscard]] const char* note() const { return eye_.note(); }

  private:
    EyePicture eye_;
};

}  // namespace graftwright
