#include "hand/needle_in_grip.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <box2d/box2d.h>

namespace graftwright {
namespace {

constexpr double kTick = 1.0 / kTicksPerSecond;  // s
constexpr double kMicro = 1000.0;                // µN in a mN

// Needle and the jaws that turn with it. Our choice; at hand speeds the grip outweighs it thousandfold.
constexpr double kMass_g = 0.05;
// Jaws and fingers: at this stiffness the few mN of sliding friction move the tip by under a
// micrometre, so a turned needle keeps to its circle. Our choice.
constexpr double kGrip_mN_per_mm = 20'000.0;
// More than this the jaws do not hold: the needle swivels in them and comes after. Our choice.
constexpr double kMostGrip_mN = 100.0;

// Drag of 1 MPa tissue, per mm of needle in it. No measurement was found for a needle this fine in
// cornea; chosen so that a bite takes 2–4 mN along the curve and a push across it some tens of mN.
constexpr double kAlong_mN_per_mm = 1.0;              // friction along the curve
constexpr double kTip_mN = 2.0;                       // the point cutting its way, forward only
constexpr double kAcross_mN_per_mm = 15.0;            // tissue yielding sideways
constexpr double kAcrossViscous_mN_s_per_mm2 = 20.0;  // and its viscous part
// Speeds below which friction fades to zero, so that the law has a slope at rest.
constexpr double kAlongRest_mm_per_s = 0.5;
constexpr double kAcrossRest_mm_per_s = 0.05;

constexpr double kPiece_mm = 0.1;  // the needle is felt in pieces this long
constexpr int kPasses = 4;         // of the secant law; the fourth moves nothing visible

double secant(double yield, double speed, double rest) { return yield / std::sqrt(speed * speed + rest * rest); }

// A symmetric 3×3 system by LDLᵀ; positive definite, as the mass is on its diagonal.
struct Symmetric3 {
    double xx = 0, xy = 0, yy = 0, xt = 0, yt = 0, tt = 0;

    void add(double weight, double x, double y, double t) {
        xx += weight * x * x, xy += weight * x * y, yy += weight * y * y;
        xt += weight * x * t, yt += weight * y * t, tt += weight * t * t;
    }
    [[nodiscard]] std::array<double, 3> solve(std::array<double, 3> b) const {
        const double l10 = xy / xx, l20 = xt / xx;
        const double d1 = yy - l10 * xy;
        const double l21 = (yt - l20 * xy) / d1;
        const double d2 = tt - l20 * xt - l21 * l21 * d1;
        b[1] -= l10 * b[0];
        b[2] -= l20 * b[0] + l21 * b[1];
        const double t = b[2] / d2;
        const double y = b[1] / d1 - l21 * t;
        return {b[0] / xx - l10 * y - l20 * t, y, t};
    }
};

}  // namespace

NeedleInGrip::NeedleInGrip(const Needle& needle) : needle_(needle), world_(std::make_unique<b2World>(b2Vec2_zero)) {
    world_->SetAllowSleeping(false);
    b2BodyDef definition;
    definition.type = b2_dynamicBody;
    definition.allowSleep = false;
    body_ = world_->CreateBody(&definition);
    const auto radius = static_cast<float>(needle_.radius_mm());
    const b2MassData mass{static_cast<float>(kMass_g), b2Vec2_zero, static_cast<float>(kMass_g) * radius * radius};
    body_->SetMassData(&mass);
    pieces_.reserve(static_cast<std::size_t>(needle_.arc_mm / kPiece_mm) + 2);
}

NeedleInGrip::~NeedleInGrip() = default;

void NeedleInGrip::place(const NeedlePose& pose) {
    body_->SetTransform({static_cast<float>(pose.centre.x), static_cast<float>(pose.centre.y)},
                        static_cast<float>(pose.tip_rad));
    body_->SetLinearVelocity(b2Vec2_zero);
    body_->SetAngularVelocity(0.0f);
}

NeedlePose NeedleInGrip::pose() const {
    const b2Vec2 centre = body_->GetPosition();
    return {{static_cast<double>(centre.x), static_cast<double>(centre.y)}, static_cast<double>(body_->GetAngle())};
}

NeedleInGrip::Velocity NeedleInGrip::velocity() const {
    const b2Vec2 v = body_->GetLinearVelocity();
    return {static_cast<double>(v.x), static_cast<double>(v.y), static_cast<double>(body_->GetAngularVelocity())};
}

void NeedleInGrip::add_piece(double behind_mm, double length_mm, const WoundSection& before,
                             const WoundSection& after) {
    const NeedlePose here = pose();
    const Point at = here.at(needle_, behind_mm);
    const Where place = before.at(at);
    if (place != Where::donor && place != Where::host) return;

    const double angle = here.tip_rad - behind_mm / needle_.radius_mm();
    Piece piece{};
    piece.normal = {std::cos(angle), std::sin(angle)};
    piece.tangent = {-piece.normal.y, piece.normal.x};
    piece.donor = place == Where::donor;
    if (piece.donor && before.lip.eversion != after.lip.eversion) {
        const Point moved = after.lip.everted(before.lip.flattened(at));
        const Point v{(moved.x - at.x) / kTick, (moved.y - at.y) / kTick};
        piece.tissue_along = v.x * piece.tangent.x + v.y * piece.tangent.y;
        piece.tissue_across = v.x * piece.normal.x + v.y * piece.normal.y;
    }
    const double scale = kMicro / before.tissue.softness;
    if (length_mm > 0.0) {
        piece.yield_along = scale * kAlong_mN_per_mm * length_mm;
        piece.yield_across = scale * kAcross_mN_per_mm * length_mm;
        piece.viscous_across = scale * kAcrossViscous_mN_s_per_mm2 * length_mm;
    } else {  // the point itself
        piece.yield_along = scale * kTip_mN;
    }
    pieces_.push_back(piece);
}

void NeedleInGrip::find_pieces(const WoundSection& before, const WoundSection& after) {
    pieces_.clear();
    const int count = std::max(1, static_cast<int>(std::lround(needle_.arc_mm / kPiece_mm)));
    const double length = needle_.arc_mm / count;
    for (int i = 0; i < count; ++i) add_piece((i + 0.5) * length, length, before, after);
    if (velocity().turn > 0.0) add_piece(0.0, 0.0, before, after);
}

NeedleInGrip::Velocity NeedleInGrip::solve(const NeedlePose& hand_before, const NeedlePose& hand,
                                           DragReport& report) const {
    const double radius = needle_.radius_mm();
    const NeedlePose here = pose();
    const Velocity old = velocity();
    const double inertia = kMass_g * radius * radius;
    const double stiff = kMicro * kGrip_mN_per_mm, damping = 2.0 * std::sqrt(stiff * kMass_g);
    // Error and wish of each of the three motions; turning is reckoned at the needle's radius.
    const std::array<double, 3> error{hand.centre.x - here.centre.x, hand.centre.y - here.centre.y,
                                      hand.tip_rad - here.tip_rad};
    const std::array<double, 3> wish{(hand.centre.x - hand_before.centre.x) / kTick,
                                     (hand.centre.y - hand_before.centre.y) / kTick,
                                     (hand.tip_rad - hand_before.tip_rad) / kTick};
    std::array<double, 3> v{old.x, old.y, old.turn};
    double hold = 1.0, hold_turn = 1.0;  // how much of the stiff grip the jaws still give
    for (int pass = 0; pass < kPasses; ++pass) {
        const double r2 = radius * radius;
        const double k = hold * stiff, c = hold * damping;
        const double kt = hold_turn * stiff * r2, ct = hold_turn * damping * r2;
        Symmetric3 system;
        system.xx = system.yy = kMass_g + kTick * c + kTick * kTick * k;
        system.tt = inertia + kTick * ct + kTick * kTick * kt;
        std::array<double, 3> right{kMass_g * old.x + kTick * (k * error[0] + c * wish[0]),
                                    kMass_g * old.y + kTick * (k * error[1] + c * wish[1]),
                                    inertia * old.turn + kTick * (kt * error[2] + ct * wish[2])};
        for (const Piece& piece : pieces_) {
            const double along = piece.tangent.x * v[0] + piece.tangent.y * v[1] + radius * v[2] - piece.tissue_along;
            const double across = piece.normal.x * v[0] + piece.normal.y * v[1] - piece.tissue_across;
            const double ft = kTick * secant(piece.yield_along, along, kAlongRest_mm_per_s);
            const double fn = kTick * (piece.viscous_across + secant(piece.yield_across, across, kAcrossRest_mm_per_s));
            system.add(ft, piece.tangent.x, piece.tangent.y, radius);
            system.add(fn, piece.normal.x, piece.normal.y, 0.0);
            right[0] += ft * piece.tangent.x * piece.tissue_along + fn * piece.normal.x * piece.tissue_across;
            right[1] += ft * piece.tangent.y * piece.tissue_along + fn * piece.normal.y * piece.tissue_across;
            right[2] += ft * radius * piece.tissue_along;
        }
        v = system.solve(right);
        const double fx = stiff * (error[0] - kTick * v[0]) + damping * (wish[0] - v[0]);
        const double fy = stiff * (error[1] - kTick * v[1]) + damping * (wish[1] - v[1]);
        const double ft = radius * (stiff * (error[2] - kTick * v[2]) + damping * (wish[2] - v[2]));
        report.grip_mN = {hold * fx / kMicro, hold * fy / kMicro};
        hold = std::min(1.0, kMicro * kMostGrip_mN / std::max(1.0, std::hypot(fx, fy)));
        hold_turn = std::min(1.0, kMicro * kMostGrip_mN / std::max(1.0, std::abs(ft)));
    }
    return {v[0], v[1], v[2]};
}

DragReport NeedleInGrip::reckon(const Velocity& v, const Velocity&, DragReport report) const {
    const double radius = needle_.radius_mm();
    for (const Piece& piece : pieces_) {
        const double along = piece.tangent.x * v.x + piece.tangent.y * v.y + radius * v.turn - piece.tissue_along;
        const double across = piece.normal.x * v.x + piece.normal.y * v.y - piece.tissue_across;
        const double f_along = along * secant(piece.yield_along, along, kAlongRest_mm_per_s);
        const double f_across =
            across * (piece.viscous_across + secant(piece.yield_across, across, kAcrossRest_mm_per_s));
        report.across_uJ += f_across * across * kTick / kMicro;
        if (!piece.donor) continue;
        report.on_donor_mN.x += (f_along * piece.tangent.x + f_across * piece.normal.x) / kMicro;
        report.on_donor_mN.y += (f_along * piece.tangent.y + f_across * piece.normal.y) / kMicro;
    }
    return report;
}

DragReport NeedleInGrip::step(const NeedlePose& hand_before, const NeedlePose& hand, const WoundSection& before,
                              const WoundSection& after) {
    find_pieces(before, after);
    DragReport report;
    const Velocity old = velocity();
    const Velocity next = solve(hand_before, hand, report);
    // The force that takes Box2D's body from the old velocity to the new one in this tick.
    const double mass = kMass_g / kTick, inertia = mass * needle_.radius_mm() * needle_.radius_mm();
    body_->ApplyForceToCenter(
        {static_cast<float>(mass * (next.x - old.x)), static_cast<float>(mass * (next.y - old.y))}, true);
    body_->ApplyTorque(static_cast<float>(inertia * (next.turn - old.turn)), true);
    world_->Step(static_cast<float>(kTick), 1, 1);
    return reckon(next, old, report);
}

}  // namespace graftwright
