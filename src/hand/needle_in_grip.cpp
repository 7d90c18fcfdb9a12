#include "hand/needle_in_grip.h"

#include <algorithm>
#include <cmath>

#include <box2d/box2d.h>

#include "base/point.h"
#include "base/units.h"

namespace graftwright {
namespace {

// Needle and the jaws that turn with it. Our choice; at hand speeds the grip outweighs it thousandfold.
constexpr double kMass_g = 0.05;
// Jaws and fingers: at this stiffness the few mN of sliding friction move the tip by under a
// micrometre, so a turned needle keeps to its circle. Our choice.
constexpr double kGrip_mN_per_mm = 20'000.0;
constexpr double kGrip = kMicroPerMilli * kGrip_mN_per_mm;     // µN/mm
const double kGripDamping = 2.0 * std::sqrt(kGrip * kMass_g);  // µN·s/mm, critical
// A light hold, 3 grams: beyond this the needle gives in the jaws and comes after. Our choice.
constexpr double kMostGrip_mN = 30.0;

// Drag of 1 MPa tissue, per mm of needle in it. No measurement was found for a needle this fine in
// cornea; chosen so that a bite takes 2–4 mN along the curve and a push across it all that a light
// hold can give.
constexpr double kAlong_mN_per_mm = 1.0;              // friction along the curve
constexpr double kTip_mN = 2.0;                       // the point cutting its way, forward only
constexpr double kAcross_mN_per_mm = 15.0;            // tissue yielding sideways
constexpr double kAcrossViscous_mN_s_per_mm2 = 60.0;  // and its viscous part
// Speeds below which friction fades to zero, so that the laws have a slope at rest.
constexpr double kAlongRest_mm_per_s = 0.5;
constexpr double kAcrossRest_mm_per_s = 0.05;

constexpr double kPiece_mm = 0.1;  // the needle is felt in pieces this long
constexpr int kPasses = 8;         // of the secant laws; forces then balance within a percent or so

// A symmetric, positive definite 3×3 system for (x, y, turn), solved by LDLᵀ.
struct Symmetric3 {
    double xx = 0, xy = 0, yy = 0, xt = 0, yt = 0, tt = 0;
    double bx = 0, by = 0, bt = 0;  // right-hand side

    // A drag of this weight on the motion x·vx + y·vy + t·ω against one that the tissue makes.
    void add(double weight, double x, double y, double t, double tissue) {
        xx += weight * x * x, xy += weight * x * y, yy += weight * y * y;
        xt += weight * x * t, yt += weight * y * t, tt += weight * t * t;
        bx += weight * x * tissue, by += weight * y * tissue, bt += weight * t * tissue;
    }
    template <typename Velocity>
    [[nodiscard]] Velocity solve() const {
        const double l10 = xy / xx, l20 = xt / xx;
        const double d1 = yy - l10 * xy;
        const double l21 = (yt - l20 * xy) / d1;
        const double d2 = tt - l20 * xt - l21 * l21 * d1;
        const double c1 = by - l10 * bx;
        const double turn = (bt - l20 * bx - l21 * c1) / d2;
        const double y = c1 / d1 - l21 * turn;
        return {bx / xx - l10 * y - l20 * turn, y, turn};
    }
};

}  // namespace

// The hand in one tick: how far the needle is from its pose, and how fast that pose goes.
struct NeedleInGrip::Hand {
    Velocity error, speed;
    double radius = 0.0;  // turning is reckoned at the needle's curve

    // The grip's share of a force: 1 while the jaws hold, less once they give.
    [[nodiscard]] static double share(double force) {
        return std::min(1.0, kMicroPerMilli * kMostGrip_mN / std::max(1.0, force));
    }
    [[nodiscard]] static double force(double e, double s, double v) {
        return kGrip * (e - kTick * v) + kGripDamping * (s - v);
    }
    [[nodiscard]] Velocity full(const Velocity& v) const {
        return {force(error.x, speed.x, v.x), force(error.y, speed.y, v.y),
                radius * force(error.turn, speed.turn, v.turn)};
    }
    // Grip and inertia, before any tissue; `hold` the shares for shift and turn.
    [[nodiscard]] Symmetric3 alone(const Velocity& old, double hold, double hold_turn) const {
        const double inertia = kMass_g * radius * radius;
        const auto slope = [](double share) { return share * kTick * (kGripDamping + kTick * kGrip); };
        const auto push = [](double share, double e, double s) {
            return share * kTick * (kGrip * e + kGripDamping * s);
        };
        Symmetric3 system;
        system.xx = system.yy = kMass_g + slope(hold);
        system.tt = inertia + radius * radius * slope(hold_turn);
        system.bx = kMass_g * old.x + push(hold, error.x, speed.x);
        system.by = kMass_g * old.y + push(hold, error.y, speed.y);
        system.bt = inertia * old.turn + radius * radius * push(hold_turn, error.turn, speed.turn);
        return system;
    }
};

double NeedleInGrip::Piece::along(const Velocity& v) const {
    return tangent.x * v.x + tangent.y * v.y + radius * v.turn - tissue_along;
}
double NeedleInGrip::Piece::across(const Velocity& v) const { return normal.x * v.x + normal.y * v.y - tissue_across; }
double NeedleInGrip::Piece::along_slope(double speed) const {
    return yield_along / std::sqrt(speed * speed + kAlongRest_mm_per_s * kAlongRest_mm_per_s);
}
double NeedleInGrip::Piece::across_slope(double speed) const {
    return viscous_across + yield_across / std::sqrt(speed * speed + kAcrossRest_mm_per_s * kAcrossRest_mm_per_s);
}

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

    Piece piece;
    const double angle = here.tip_rad - behind_mm / needle_.radius_mm();
    piece.normal = {std::cos(angle), std::sin(angle)};
    piece.tangent = {-piece.normal.y, piece.normal.x};
    piece.radius = needle_.radius_mm();
    piece.donor = place == Where::donor;
    if (piece.donor && before.lip.eversion != after.lip.eversion) {
        const Point moved = after.lip.everted(before.lip.flattened(at));
        const Point v{(moved.x - at.x) / kTick, (moved.y - at.y) / kTick};
        piece.tissue_along = v.x * piece.tangent.x + v.y * piece.tangent.y;
        piece.tissue_across = v.x * piece.normal.x + v.y * piece.normal.y;
    }
    const double scale = kMicroPerMilli / before.tissue.softness;
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

void NeedleInGrip::accelerate(const Velocity& from, const Velocity& to) {
    const double mass = kMass_g / kTick, inertia = mass * needle_.radius_mm() * needle_.radius_mm();
    const b2Vec2 force{static_cast<float>(mass * (to.x - from.x)), static_cast<float>(mass * (to.y - from.y))};
    body_->ApplyForceToCenter(force, true);
    body_->ApplyTorque(static_cast<float>(inertia * (to.turn - from.turn)), true);
    world_->Step(static_cast<float>(kTick), 1, 1);
}

DragReport NeedleInGrip::reckon(const Velocity& v) const {
    DragReport report;
    for (const Piece& piece : pieces_) {
        const double along = piece.along(v), across = piece.across(v);
        const double f_along = along * piece.along_slope(along) / kMicroPerMilli;
        const double f_across = across * piece.across_slope(across) / kMicroPerMilli;
        const Point force{f_along * piece.tangent.x + f_across * piece.normal.x,
                          f_along * piece.tangent.y + f_across * piece.normal.y};
        report.across_uJ += f_across * across * kTick;
        report.across_mN += std::abs(f_across);
        report.on_tissue_mN = {report.on_tissue_mN.x + force.x, report.on_tissue_mN.y + force.y};
        if (piece.donor) report.on_donor_mN = {report.on_donor_mN.x + force.x, report.on_donor_mN.y + force.y};
    }
    return report;
}

DragReport NeedleInGrip::step(const NeedlePose& hand_before, const NeedlePose& hand, const WoundSection& before,
                              const WoundSection& after) {
    find_pieces(before, after);
    const NeedlePose here = pose();
    const Velocity old = velocity();
    const Hand grip{{hand.centre.x - here.centre.x, hand.centre.y - here.centre.y, hand.tip_rad - here.tip_rad},
                    {(hand.centre.x - hand_before.centre.x) / kTick, (hand.centre.y - hand_before.centre.y) / kTick,
                     (hand.tip_rad - hand_before.tip_rad) / kTick},
                    needle_.radius_mm()};
    Velocity v = old;
    double hold = 1.0, hold_turn = 1.0;
    for (int pass = 0; pass < kPasses; ++pass) {
        Symmetric3 system = grip.alone(old, hold, hold_turn);
        for (const Piece& piece : pieces_) {
            const double ft = kTick * piece.along_slope(piece.along(v));
            const double fn = kTick * piece.across_slope(piece.across(v));
            system.add(ft, piece.tangent.x, piece.tangent.y, piece.radius, piece.tissue_along);
            system.add(fn, piece.normal.x, piece.normal.y, 0.0, piece.tissue_across);
        }
        v = system.solve<Velocity>();
        const Velocity full = grip.full(v);
        hold = Hand::share(std::hypot(full.x, full.y));
        hold_turn = Hand::share(std::abs(full.turn));
    }
    accelerate(old, v);
    DragReport report = reckon(v);
    const Velocity full = grip.full(v);
    report.grip_mN = {hold * full.x / kMicroPerMilli, hold * full.y / kMicroPerMilli};
    return report;
}

}  // namespace graftwright
