#include "hand/donor_afloat.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include <box2d/box2d.h>

#include "base/check.h"
#include "base/point.h"
#include "base/units.h"
#include "hand/section_drive.h"

namespace graftwright {
namespace {

constexpr int kVelocityPasses = 16, kPositionPasses = 6;

// How far the donor's edge stands from what stops it: rim and viscoelastic heaped against it (our choice).
constexpr double kPlay_mm = 0.25;
constexpr int kOutlinePoints = 72;  // chord and arc part by 4 µm
constexpr int kEdgeBeads = 24;      // an oval donor touches with beads along its edge
constexpr double kBead_mm = 0.3;

// A disc of cornea, 0.55 mm thick, 1.06 mg/mm³.
constexpr double kDonorMass_g_per_mm2 = 0.55 * 1.06e-3;
// Viscoelastic shears between donor and iris: viscosity over film, 100 Pa·s (1 % hyaluronate nearly at
// rest, tens to hundreds; from memory) over 1 mm: 0.1 mN·s/mm for each mm² of donor. Turning shears the
// same film, so its drag is ∫r² of it: half the edge radius squared times the sliding drag.
constexpr double kFilm_mN_s_per_mm3 = 0.1;

// The loop grips within this of the wound, where the closed faces hold each other: a rotation then
// stretches it as it would in the eye, not about two far ends of a string. Our choice.
constexpr double kGrip_mm = 0.3;
constexpr double kMostStretch_mm = 1.0;

// Forceps: fingers and jaws give by a few micrometres a mN at the pinch, and resist its turning as if
// held 3 mm to either side: 5 mN at the far edge then turn the donor by 0.2°. Our choice.
constexpr double kHold_mN_per_mm = 600.0;  // of each of the two springs
constexpr double kHoldLever_mm = 3.0;
constexpr double kMostHold_mN = 200.0;  // of each; beyond, the pinch slips
constexpr double kHoldSpeed_mm_per_s = 20.0;

constexpr double kMostPush_mN = 200.0;
constexpr double kFarthestDonor_mm = 2.0;  // of the donor's centre; the outline stops it long before

b2Vec2 vec(Point p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }
Point point(b2Vec2 v) { return {static_cast<double>(v.x), static_cast<double>(v.y)}; }
bool finite(Point p) { return std::isfinite(p.x) && std::isfinite(p.y); }

double oval_radius(double diameter, double ovality, double axis_deg, double angle) {
    return diameter / 2.0 + ovality / 4.0 * std::cos(2.0 * (angle - rad_from_deg(axis_deg)));
}

}  // namespace

Point DonorPose::to_field(Point donor) const {
    const double c = std::cos(turn), s = std::sin(turn);
    return {x + c * donor.x - s * donor.y, y + s * donor.x + c * donor.y};
}

Point DonorPose::to_donor(Point field) const {
    const double c = std::cos(turn), s = std::sin(turn), dx = field.x - x, dy = field.y - y;
    return {c * dx + s * dy, c * dy - s * dx};
}

struct DonorAfloat::Body {
    struct Push {
        Point at, force_mN;
    };

    AfloatShape shape;
    b2World world{b2Vec2_zero};
    b2Body* ground = nullptr;
    b2Body* donor = nullptr;
    std::vector<b2DistanceJoint*> tethers;
    std::vector<double> rest_mm;
    std::array<b2MouseJoint*, 2> hold{};
    std::array<Point, 2> lever;  // of the two springs, from the held point, in the field at the pinch
    Point held_donor, hold_at, hold_wish;
    std::vector<Push> pushes;
    double keep = 0.0;  // share of its speed that the donor's own mass keeps over a tick

    Body(const AfloatShape& of, DonorPose start);
    void make_outline();
    void make_donor(DonorPose start);
    void slacken_or_stretch();
    void move_forceps();
    void keep_in_sight();

    [[nodiscard]] double donor_radius(double angle) const {
        return oval_radius(shape.donor_diameter_mm, shape.donor_ovality_mm, shape.donor_ovality_axis_deg, angle);
    }
    [[nodiscard]] double bed_radius(double angle) const {
        return oval_radius(shape.bed_diameter_mm, shape.bed_ovality_mm, shape.bed_ovality_axis_deg, angle);
    }
    [[nodiscard]] DonorPose pose() const {
        const Point at = point(donor->GetPosition());
        return {at.x, at.y, static_cast<double>(donor->GetAngle())};
    }
};

DonorAfloat::Body::Body(const AfloatShape& of, DonorPose start) : shape(of) {
    world.SetAllowSleeping(false);
    const b2BodyDef still;
    ground = world.CreateBody(&still);
    make_outline();
    make_donor(start);
}

void DonorAfloat::Body::make_outline() {
    const double oversize = std::max(0.0, (shape.donor_diameter_mm - shape.bed_diameter_mm) / 2.0);
    std::array<b2Vec2, kOutlinePoints> outline;
    for (int i = 0; i < kOutlinePoints; ++i) {
        const double angle = -2.0 * kPi * i / kOutlinePoints;  // clockwise: solid outside
        // Box2D keeps shapes its skin apart.
        const double radius = bed_radius(angle) + oversize + kPlay_mm + static_cast<double>(b2_polygonRadius);
        outline[static_cast<std::size_t>(i)] = vec(polar(radius, angle));
    }
    b2ChainShape chain;
    chain.CreateLoop(outline.data(), kOutlinePoints);
    ground->CreateFixture(&chain, 0.0f)->SetFriction(0.0f);
}

void DonorAfloat::Body::make_donor(DonorPose start) {
    b2BodyDef definition;
    definition.type = b2_dynamicBody;
    definition.allowSleep = false;
    definition.position = vec({start.x, start.y});
    definition.angle = static_cast<float>(start.turn);
    donor = world.CreateBody(&definition);
    const auto add_circle = [&](Point at, double radius) {
        b2CircleShape circle;
        circle.m_p = vec(at);
        circle.m_radius = static_cast<float>(radius);
        donor->CreateFixture(&circle, 0.0f)->SetFriction(0.0f);
    };
    const double radius = shape.donor_diameter_mm / 2.0;
    if (shape.donor_ovality_mm == 0.0) {
        add_circle({}, radius);
    } else {
        for (int i = 0; i < kEdgeBeads; ++i) {
            const double angle = 2.0 * kPi * i / kEdgeBeads;
            add_circle(polar(donor_radius(angle) - kBead_mm, angle), kBead_mm);
        }
    }
    // Drag is taken implicitly: (m + hc) v' = m v + h F. Box2D is given the mass m + hc, and each tick
    // first takes the speed down by m/(m + hc); springs, tethers and walls then meet the true forces.
    const double area = kPi * radius * radius;
    const double mass = kDonorMass_g_per_mm2 * area,
                 with_drag = mass + kTick * kMicroPerMilli * kFilm_mN_s_per_mm3 * area;
    keep = mass / with_drag;
    const b2MassData data{static_cast<float>(with_drag), b2Vec2_zero,
                          static_cast<float>(with_drag * radius * radius / 2.0)};
    donor->SetMassData(&data);
}

void DonorAfloat::Body::slacken_or_stretch() {
    for (std::size_t i = 0; i < tethers.size(); ++i) {
        b2DistanceJoint* joint = tethers[i];
        if (joint == nullptr) continue;
        const bool taut = static_cast<double>(joint->GetCurrentLength()) > rest_mm[i];
        joint->SetStiffness(taut ? static_cast<float>(shape.thread_N_per_mm * 1000.0 * kMicroPerMilli) : 0.0f);
    }
}

void DonorAfloat::Body::move_forceps() {
    if (hold[0] == nullptr) return;
    const double dx = hold_wish.x - hold_at.x, dy = hold_wish.y - hold_at.y;
    const double most = kHoldSpeed_mm_per_s * kTick, distance = std::hypot(dx, dy);
    const double share = distance > most ? most / distance : 1.0;
    hold_at = {hold_at.x + share * dx, hold_at.y + share * dy};
    for (std::size_t i = 0; i < 2; ++i) hold[i]->SetTarget(vec({hold_at.x + lever[i].x, hold_at.y + lever[i].y}));
}

void DonorAfloat::Body::keep_in_sight() {
    const b2Vec2 at = donor->GetPosition();
    const auto limit = static_cast<float>(kFarthestDonor_mm);
    const b2Vec2 inside{std::clamp(at.x, -limit, limit), std::clamp(at.y, -limit, limit)};
    if (inside.x == at.x && inside.y == at.y) return;
    donor->SetTransform(inside, donor->GetAngle());
    donor->SetLinearVelocity(b2Vec2_zero);
}

DonorAfloat::DonorAfloat(const AfloatShape& shape, DonorPose start) {
    GRAFTWRIGHT_CHECK(shape.bed_diameter_mm > 1.0 && shape.donor_diameter_mm > 1.0, "bed and donor have a size");
    GRAFTWRIGHT_CHECK(std::isfinite(start.x) && std::isfinite(start.y) && std::isfinite(start.turn),
                      "a pose is finite");
    body_ = std::make_unique<Body>(shape, start);
}
DonorAfloat::~DonorAfloat() = default;
DonorAfloat::DonorAfloat(DonorAfloat&&) noexcept = default;
DonorAfloat& DonorAfloat::operator=(DonorAfloat&&) noexcept = default;

std::size_t DonorAfloat::tether(double graft_deg, double host_deg) {
    GRAFTWRIGHT_CHECK(std::isfinite(graft_deg) && std::isfinite(host_deg), "a bite has a place");
    Body& b = *body_;
    const double graft = rad_from_deg(graft_deg), host = rad_from_deg(host_deg);
    const Point on_donor = polar(b.donor_radius(graft) - kGrip_mm, graft);
    const Point on_host = polar(b.bed_radius(host) + kGrip_mm, host);
    b2DistanceJointDef definition;
    definition.bodyA = b.ground;
    definition.bodyB = b.donor;
    definition.collideConnected = true;  // or the wall, on the same body, would let the donor through
    definition.localAnchorA = vec(on_host);
    definition.localAnchorB = vec(on_donor);
    const Point now = b.pose().to_field(on_donor);
    const double length = distance(on_host, now);
    definition.length = static_cast<float>(length);
    definition.minLength = 0.0f;
    definition.maxLength = static_cast<float>(length + kMostStretch_mm);
    b.tethers.push_back(static_cast<b2DistanceJoint*>(b.world.CreateJoint(&definition)));
    b.rest_mm.push_back(length);
    return b.tethers.size() - 1;
}

void DonorAfloat::cut(std::size_t tether) {
    Body& b = *body_;
    if (tether >= b.tethers.size() || b.tethers[tether] == nullptr) return;
    b.world.DestroyJoint(b.tethers[tether]);
    b.tethers[tether] = nullptr;
}

std::size_t DonorAfloat::tethers() const {
    return static_cast<std::size_t>(std::count_if(body_->tethers.begin(), body_->tethers.end(),
                                                  [](const auto* joint) { return joint != nullptr; }));
}

bool DonorAfloat::hold(Point field) {
    if (!finite(field)) return false;
    Body& b = *body_;
    const Point on_donor = b.pose().to_donor(field);
    if (norm(on_donor) > b.donor_radius(std::atan2(on_donor.y, on_donor.x))) return false;
    let_go();
    b.held_donor = on_donor;
    b.hold_at = b.hold_wish = field;
    // Along the edge: fingers steady the turn, and slide along the radius with the lip.
    const double angle = std::atan2(on_donor.y, on_donor.x) + b.pose().turn + kPi / 2.0;
    for (std::size_t i = 0; i < 2; ++i) {
        b.lever[i] = polar(i == 0 ? kHoldLever_mm : -kHoldLever_mm, angle);
        b2MouseJointDef definition;
        definition.bodyA = b.ground;
        definition.bodyB = b.donor;
        definition.collideConnected = true;
        definition.target = vec({field.x + b.lever[i].x, field.y + b.lever[i].y});
        definition.maxForce = static_cast<float>(kMostHold_mN * kMicroPerMilli);
        definition.stiffness = static_cast<float>(kHold_mN_per_mm * kMicroPerMilli);
        b.hold[i] = static_cast<b2MouseJoint*>(b.world.CreateJoint(&definition));
    }
    return true;
}

void DonorAfloat::move_hold(Point field) {
    if (!finite(field)) return;
    const double farthest = body_->shape.bed_diameter_mm;
    body_->hold_wish = {std::clamp(field.x, -farthest, farthest), std::clamp(field.y, -farthest, farthest)};
}

void DonorAfloat::let_go() {
    for (b2MouseJoint*& joint : body_->hold) {
        if (joint != nullptr) body_->world.DestroyJoint(joint);
        joint = nullptr;
    }
}

bool DonorAfloat::held() const { return body_->hold[0] != nullptr; }
Point DonorAfloat::hold_point() const { return body_->pose().to_field(body_->held_donor); }

void DonorAfloat::push(Point field, Point force_mN) {
    if (!finite(field) || !finite(force_mN)) return;
    const double size = norm(force_mN);
    const double scale = size > kMostPush_mN ? kMostPush_mN / size : 1.0;
    const double farthest = body_->shape.bed_diameter_mm;
    body_->pushes.push_back({{std::clamp(field.x, -farthest, farthest), std::clamp(field.y, -farthest, farthest)},
                             {scale * force_mN.x, scale * force_mN.y}});
}

void DonorAfloat::step() {
    Body& b = *body_;
    const auto keep = static_cast<float>(b.keep);
    b.donor->SetLinearVelocity(keep * b.donor->GetLinearVelocity());
    b.donor->SetAngularVelocity(keep * b.donor->GetAngularVelocity());
    b.slacken_or_stretch();
    b.move_forceps();
    for (const Body::Push& push : b.pushes)
        b.donor->ApplyForce(vec({kMicroPerMilli * push.force_mN.x, kMicroPerMilli * push.force_mN.y}), vec(push.at),
                            true);
    b.pushes.clear();
    b.world.Step(static_cast<float>(kTick), kVelocityPasses, kPositionPasses);
    b.keep_in_sight();
}

DonorPose DonorAfloat::pose() const { return body_->pose(); }

}  // namespace graftwright
