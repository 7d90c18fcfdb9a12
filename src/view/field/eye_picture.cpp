#include "view/field/eye_picture.h"

#include <array>
#include <cmath>
#include <vector>

#include <SFML/Graphics.hpp>

#include "view/field/eye_vessels.h"
#include "view/field/shader_texts.h"
#include "view/field/surface_slopes.h"
#include "view/field/wound_outline.h"
#include "view/kit/board.h"

namespace graftwright {
namespace {

// Above this the surface gains nothing that a retina would see and costs a third of a second in software.
constexpr unsigned kMostPixels = 1400;
constexpr int kStillFrames = 6;        // frames without change before the sharp picture is drawn
constexpr double kSlopesRange = 0.25;  // slope beyond the sphere's at which the texture is full; a tight bite's is 0.2
constexpr double kRelief = 5.0;        // exaggeration for the eye
constexpr unsigned kSlopesSize = 64;

std::array<sf::Vertex, 4> square(unsigned size, double reach, double sign) {
    const auto s = static_cast<float>(size), m = static_cast<float>(reach * sign);
    return {sf::Vertex({0, 0}, sf::Vector2f(-m, m)), sf::Vertex({s, 0}, sf::Vector2f(m, m)),
            sf::Vertex({0, s}, sf::Vector2f(-m, -m)), sf::Vertex({s, s}, sf::Vector2f(m, -m))};
}

float f(double value) { return static_cast<float>(value); }

bool near(double a, double b, double by) { return std::abs(a - b) < by; }

}  // namespace

struct EyePicture::Layers {
    sf::RenderTexture ground, surface_sharp, surface_quick;
    sf::Texture slopes;
    double slopes_reach = 1.0;
    sf::Shader ground_shader, surface_shader;
    bool shaded = false;
    unsigned ground_size = 0;
    EyeLook look;  // as drawn
    bool drawn = false, quick = false;
    int still = 0;
    unsigned sharp_size = 0;
};

EyeLook EyeLook::of(const Snapshot& snapshot) {
    EyeLook look;
    const WoundOutline outline(snapshot);
    if (snapshot.scenario) {
        const Eye& eye = snapshot.scenario->eye;
        look.eye_centre = {-eye.bed_shift_mm[0], -eye.bed_shift_mm[1]};
        look.limbus_mm = eye.limbus_diameter_mm / 2.0;
        look.radius_mm = eye.anterior_radius_mm;
    }
    look.donor_centre = {outline.donor().x, outline.donor().y};
    look.donor_edge_mm = outline.donor_radius_mm();
    look.donor_half_oval_mm = outline.donor_half_oval_mm();
    look.donor_oval_axis_rad = outline.donor_oval_axis_rad();
    look.lift = outline.lift();
    look.lift_rad = outline.lift_rad();
    look.stain = snapshot.leak && snapshot.leak->stained ? 1.0 : 0.0;
    look.fill = snapshot.leak && snapshot.leak->saline ? 1.0 : snapshot.viscoelastic;
    look.examiner_view = snapshot.layout.examiner_view;
    look.wound = snapshot.wound && snapshot.wound->slope_x.n > 1 ? snapshot.wound : nullptr;
    return look;
}

bool EyeLook::looks_like(const EyeLook& other) const {
    constexpr double kPlace_mm = 0.004, kShade = 0.02;
    return near(eye_centre.x, other.eye_centre.x, kPlace_mm) && near(eye_centre.y, other.eye_centre.y, kPlace_mm) &&
           near(limbus_mm, other.limbus_mm, kPlace_mm) && near(radius_mm, other.radius_mm, kPlace_mm) &&
           near(donor_centre.x, other.donor_centre.x, kPlace_mm) &&
           near(donor_centre.y, other.donor_centre.y, kPlace_mm) &&
           near(donor_edge_mm, other.donor_edge_mm, kPlace_mm) &&
           near(donor_half_oval_mm, other.donor_half_oval_mm, kPlace_mm) &&
           (near(donor_oval_axis_rad, other.donor_oval_axis_rad, kShade) || donor_half_oval_mm == 0.0) &&
           near(lift, other.lift, kShade) && (near(lift_rad, other.lift_rad, kShade) || lift == 0.0) &&
           near(stain, other.stain, kShade) && near(fill, other.fill, kShade) && examiner_view == other.examiner_view &&
           wound == other.wound;
}

EyePicture::EyePicture() : layers_(std::make_unique<Layers>()) {
    Layers& layers = *layers_;
    if (!sf::Shader::isAvailable()) return;
    layers.shaded = layers.ground_shader.loadFromMemory(std::string(eye_ground_text()), sf::Shader::Fragment) &&
                    layers.surface_shader.loadFromMemory(std::string(eye_surface_text()), sf::Shader::Fragment) &&
                    layers.slopes.create(kSlopesSize, kSlopesSize);
    layers.slopes.setSmooth(true);
    if (layers.shaded) upload_slopes(nullptr);
}
EyePicture::~EyePicture() = default;

bool EyePicture::sharp() const { return layers_->drawn && !layers_->quick; }
const char* EyePicture::note() const {
    return layers_->shaded ? "" : "This display offers no shaders: the eye is drawn flat.";
}

void EyePicture::bake_ground(Canvas& canvas, unsigned size) {
    Layers& layers = *layers_;
    if (!layers.ground.create(size, size)) return;
    layers.ground.setSmooth(true);
    layers.ground_size = size;
    const EyeLook& look = layers.look;
    layers.ground_shader.setUniform("eye_centre", sf::Glsl::Vec2(f(look.eye_centre.x), f(look.eye_centre.y)));
    layers.ground_shader.setUniform("limbus_mm", f(look.limbus_mm));
    layers.ground_shader.setUniform("pupil_mm", f(look.pupil_mm));
    const auto quad = square(size, kFieldReach_mm, 1.0);
    sf::RenderStates states(&layers.ground_shader);
    states.blendMode = sf::BlendNone;
    layers.ground.clear();
    layers.ground.draw(quad.data(), quad.size(), sf::TriangleStrip, states);
    const double scale = size / (2.0 * kFieldReach_mm);
    canvas.begin(layers.ground, {scale, size / 2.0, size / 2.0});
    draw_vessels(canvas, look.eye_centre, look.limbus_mm);
    canvas.end();
    layers.ground.display();
}

void EyePicture::upload_slopes(const LiveWound* wound) {
    Layers& layers = *layers_;
    std::vector<sf::Uint8> pixels(std::size_t{kSlopesSize} * kSlopesSize * 4, 128);
    layers.slopes_reach = wound != nullptr ? wound->slope_x.reach_mm + 0.8 : 1.0;  // 0.8: the fade onto the rim
    const auto byte = [](double slope) {
        return static_cast<sf::Uint8>(std::lround(std::clamp(127.5 + slope / kSlopesRange * 127.5, 0.0, 255.0)));
    };
    for (unsigned j = 0; j < kSlopesSize && wound != nullptr; ++j)
        for (unsigned i = 0; i < kSlopesSize; ++i) {
            const auto place = [&](unsigned k) { return ((k + 0.5) / kSlopesSize * 2.0 - 1.0) * layers.slopes_reach; };
            // The outermost stay level: beyond them the picture repeats its edge.
            if (std::min({i, j, kSlopesSize - 1 - i, kSlopesSize - 1 - j}) < 2) continue;
            const Point at{place(i), place(j)};
            sf::Uint8* pixel = &pixels[(std::size_t{j} * kSlopesSize + i) * 4];
            pixel[0] = byte(slope_beyond_sphere(wound->slope_x, at, true, layers.look.radius_mm));
            pixel[1] = byte(slope_beyond_sphere(wound->slope_y, at, false, layers.look.radius_mm));
        }
    layers.slopes.update(pixels.data());
}

void EyePicture::draw_surface(unsigned size) {
    Layers& layers = *layers_;
    sf::RenderTexture& target = layers.quick ? layers.surface_quick : layers.surface_sharp;
    if (target.getSize().x != size) {
        if (!target.create(size, size)) return;
        target.setSmooth(true);
    }
    const EyeLook& look = layers.look;
    sf::Shader& shader = layers.surface_shader;
    const double sign = look.examiner_view ? 1.0 : -1.0;
    shader.setUniform("ground", layers.ground.getTexture());
    shader.setUniform("ground_reach", f(kFieldReach_mm));
    shader.setUniform("slopes", layers.slopes);
    shader.setUniform("slopes_reach", f(layers.slopes_reach));
    shader.setUniform("slopes_range", f(kSlopesRange));
    shader.setUniform("relief", f(kRelief));
    shader.setUniform("eye_centre", sf::Glsl::Vec2(f(look.eye_centre.x), f(look.eye_centre.y)));
    shader.setUniform("limbus_mm", f(look.limbus_mm));
    shader.setUniform("radius_mm", f(look.radius_mm));
    shader.setUniform("donor_centre", sf::Glsl::Vec2(f(look.donor_centre.x), f(look.donor_centre.y)));
    shader.setUniform("donor_edge", sf::Glsl::Vec3(f(look.donor_edge_mm), f(look.donor_half_oval_mm),
                                                   f(2.0 * look.donor_oval_axis_rad)));
    shader.setUniform("lift",
                      sf::Glsl::Vec4(f(std::cos(look.lift_rad)), f(std::sin(look.lift_rad)), f(look.lift), 0.0F));
    shader.setUniform("view_sign", f(sign));
    shader.setUniform("stain", f(look.stain));
    shader.setUniform("fill", f(look.fill));
    const auto quad = square(size, kFieldReach_mm, sign);
    sf::RenderStates states(&shader);
    states.blendMode = sf::BlendNone;
    target.draw(quad.data(), quad.size(), sf::TriangleStrip, states);
    target.display();
}

void EyePicture::update(Canvas& canvas, const Snapshot& snapshot, double field_px) {
    Layers& layers = *layers_;
    if (!layers.shaded) return;
    const unsigned size = std::clamp(static_cast<unsigned>(std::lround(field_px)), 16U, kMostPixels);
    const EyeLook look = EyeLook::of(snapshot);
    const EyeLook before = layers.look;
    const bool resized = layers.sharp_size != size, first = !layers.drawn;
    const bool moved = first || resized || !look.looks_like(before);
    layers.still = moved ? 0 : layers.still + 1;
    const bool refine = layers.quick && layers.still >= kStillFrames;
    if (!moved && !refine) return;
    layers.look = look;
    const bool other_eye = first || !near(look.eye_centre.x, before.eye_centre.x, 1e-9) ||
                           !near(look.eye_centre.y, before.eye_centre.y, 1e-9) ||
                           !near(look.limbus_mm, before.limbus_mm, 1e-9);
    if (other_eye || layers.ground_size != size) bake_ground(canvas, size);
    if (first || look.wound != before.wound) upload_slopes(look.wound.get());
    layers.sharp_size = size;
    layers.quick = !first && !resized && !refine;
    draw_surface(layers.quick ? size / 2 : size);
    layers.drawn = true;
}

void EyePicture::draw(Canvas& canvas, const Rect& field) const {
    const Layers& layers = *layers_;
    if (layers.drawn) {
        const sf::RenderTexture& surface = layers.quick ? layers.surface_quick : layers.surface_sharp;
        const double size = surface.getSize().x;
        canvas.picture(surface.getTexture(), field, {0.0, 0.0, size, size});
        return;
    }
    // Without shaders: flat, but everything in its place.
    const double scale = field.width / (2.0 * kFieldReach_mm);
    const Point centre = field.centre();
    canvas.panel(field, 1.0, ink(0xd8cfc0), ink(0xd8cfc0));
    canvas.disc(centre, 5.9 * scale, ink(0x7f8583));
    canvas.disc(centre, 5.5 * scale, ink(0x5d6152));
    canvas.disc(centre, 1.55 * scale, ink(0x0a0808));
}

}  // namespace graftwright
