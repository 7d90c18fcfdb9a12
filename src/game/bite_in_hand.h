// One bite from the aim to the thread through both edges: where its plane lies, what the needle did.
//
// Angles and lengths of the finished bite are results of the drive and of where the donor lay when the
// needle crossed each edge; nothing is chosen. The plane's direction is held by the hand and stays in the
// field; the donor's side of the path moves with the donor. Field frame mm, section frame hand/needle.h.
#pragma once

#include <optional>
#include <vector>

#include "base/point.h"
#include "files/scenario.h"
#include "game/snapshot.h"
#include "hand/donor_afloat.h"
#include "hand/section_drive.h"

namespace graftwright {

inline constexpr double kLeastEntry_mm = 0.3, kMostEntry_mm = 2.2;  // from the wound, where a needle is set down
inline constexpr double kOpenGap_mm = 0.1;    // between the edges before anything is tied (our choice)
inline constexpr double kLeastGap_mm = 0.05;  // forceps open a closed wound by so much

// The bed's edge at an angle of the field (mm from its centre).
[[nodiscard]] double bed_radius_mm(const Scenario& scenario, double deg);
// The limbus: its centre lies at the pupil.
[[nodiscard]] double host_reach_mm(const Scenario& scenario, Point host_edge, double direction_deg);

class BiteInHand {
  public:
    BiteInHand(const Scenario& scenario, double first_aim_deg);

    // Aim: entry at a point of the field, or by steps along and across the wound.
    void aim_at(Point field, const DonorPose& donor);
    void aim_by(double around_deg, double outward_mm);
    void skew_by(double deg);
    [[nodiscard]] BitePlane plane(const DonorPose& donor) const;
    [[nodiscard]] double aim_deg() const { return aim_deg_; }

    // Approach: the needle over the donor, or with its tip in the wound before the host.
    void approach_donor(const DonorPose& donor, double gap_mm, double eversion_deg);
    void approach_host();
    void pitch_by(double deg);
    void shift_tip_by(double along_mm, double depth_mm);
    [[nodiscard]] double pitch_deg() const { return pitch_deg_; }

    // Drive: one tick; the turn asked for is spread over ticks.
    void turn_by(double deg) { turn_left_deg_ += deg; }
    void shift_by(Point mm);
    std::vector<DriveEvent> step(double eversion_deg, Point tremor_mm, const DonorPose& donor);
    [[nodiscard]] bool turning() const { return turn_left_deg_ != 0.0; }
    void back_out();
    void set_eversion(double deg);  // while approaching
    void give_up();                 // back to aiming

    [[nodiscard]] const SectionDrive* section() const { return section_ ? &*section_ : nullptr; }
    [[nodiscard]] SectionView view() const;
    // Force on the donor (mN, field) and where, this tick.
    [[nodiscard]] Point push_mN() const;
    [[nodiscard]] Point tip_in_field(const DonorPose& donor) const;

    // The finished path, once both passes are complete; tension and throws are the knot's business.
    [[nodiscard]] std::optional<Bite> bite(const DonorPose& donor) const;

  private:
    void set_down();
    [[nodiscard]] Point direction() const;
    [[nodiscard]] Point edge_crossing(Point from, Point centre, double inset_mm) const;

    const Scenario* scenario_;
    double aim_deg_, entry_distance_mm_ = 1.1, skew_deg_ = 0.0;
    double direction_deg_ = 0.0;  // held from the approach on
    double pitch_deg_ = 20.0, tip_along_mm_ = 0.0, tip_depth_mm_ = 0.0;
    double eversion_deg_ = 0.0, gap_mm_ = kOpenGap_mm;
    double turn_left_deg_ = 0.0, turned_deg_ = 0.0;
    double entered_at_deg_ = 0.0;  // turned_deg_ when the tip last went in
    Point shift_left_;
    bool on_host_ = false, approaching_ = false;
    Point entry_;                          // field, while no donor is pierced
    std::optional<Point> pierced_;         // entry in the donor's own frame, while it is
    std::optional<Point> donor_crossing_;  // donor's own frame, once the needle has crossed its edge
    std::optional<SectionDrive> section_;
};

}  // namespace graftwright
