// The shaded eye, kept as a picture and drawn anew only when what it shows has changed.
//
// Two layers: the ground (sclera, vessels, iris, pupil; baked once per level and size) and the surface over it
// (clear rim, donor, relief, wet shine, stain; a fragment shader). While something moves the surface is drawn
// at half size, and sharply again once it has stood still for a few frames: in software a shaded eye costs most
// of a frame. Relief is exaggerated: slopes of a few thousandths move dioptres, but no eye would see them.
#pragma once

#include <memory>

#include "base/point.h"
#include "base/rect.h"
#include "game/snapshot.h"

namespace sf {
class Texture;
}

namespace graftwright {

class Canvas;

// What the surface's shader is told; equal means the picture still holds.
struct EyeLook {
    Point eye_centre;  // the pupil's, field mm
    double limbus_mm = 5.9, radius_mm = 7.8, pupil_mm = 1.55;
    Point donor_centre;
    double donor_edge_mm = 3.9, donor_half_oval_mm = 0.0, donor_oval_axis_rad = 0.0;
    double lift = 0.0, lift_rad = 0.0;  // lip: eversion as a share of the most, where
    double stain = 0.0, fill = 1.0;
    bool examiner_view = false;
    // Whose slopes. Held, not only pointed to: a new wound may be given a freed one's address.
    std::shared_ptr<const LiveWound> wound;

    [[nodiscard]] static EyeLook of(const Snapshot& snapshot);
    // Same to the eye: places within a quarter of a pixel, shades within a step or two.
    [[nodiscard]] bool looks_like(const EyeLook& other) const;
};

class EyePicture {
  public:
    EyePicture();
    ~EyePicture();

    // Brings the picture up to date for a field of so many device pixels. May draw into textures of its own,
    // so it is called before the frame's own drawing begins.
    void update(Canvas& canvas, const Snapshot& snapshot, double field_px);
    void draw(Canvas& canvas, const Rect& field) const;
    [[nodiscard]] bool sharp() const;        // nothing left to refine
    [[nodiscard]] const char* note() const;  // "" or why there is no shading

  private:
    struct Layers;
    void bake_ground(Canvas& canvas, unsigned size);
    void upload_slopes(const LiveWound* wound);
    void draw_surface(unsigned size);
    std::unique_ptr<Layers> layers_;
};

}  // namespace graftwright
