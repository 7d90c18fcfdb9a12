// The meridian of one side of the wound: spherical patches divided into graded finite elements.
//
// s runs along the mid-surface from the apex (s = 0) outward; α is the tangent's angle below the
// horizontal, r = R sin α the distance from the axis, κ1 = κ2 = 1/R on a sphere. The frame at a point
// is e_s (outward along the meridian), e_θ (counter-clockwise), n (outward normal). mm, rad.
#pragma once

#include <vector>

#include <Eigen/Core>

#include "shell/eye_shape.h"

namespace graftwright {

struct ShellElement {
    double s_begin = 0.0;
    double length = 0.0;
    double alpha_begin = 0.0;
    double radius = 0.0;  // of the mid-surface sphere
    double thickness = 0.0;
    double modulus = 0.0;

    [[nodiscard]] double s_end() const { return s_begin + length; }
    [[nodiscard]] double alpha_at(double s) const { return alpha_begin + (s - s_begin) / radius; }
};

enum class WoundSide { donor, host };

class Meridian {
  public:
    [[nodiscard]] static Meridian donor(const EyeShape& shape, const MeridianMesh& mesh);
    [[nodiscard]] static Meridian host(const EyeShape& shape, const MeridianMesh& mesh);

    [[nodiscard]] WoundSide side() const { return side_; }
    [[nodiscard]] const std::vector<ShellElement>& elements() const { return elements_; }
    // The element that holds s (the inner one at a shared node, clamped to the ends).
    [[nodiscard]] int element_at(double s) const;
    [[nodiscard]] const ShellElement& element_holding(double s) const {
        return elements_[static_cast<std::size_t>(element_at(s))];
    }
    [[nodiscard]] double wound_s() const { return wound_s_; }
    // The place whose distance from the wound, measured along the OUTER surface, is `distance`.
    [[nodiscard]] double s_at_outer_distance(double distance) const;
    // Length of the rim along its outer surface, wound to limbus; of the donor, wound to apex.
    [[nodiscard]] double outer_length() const;

    // Position and frame of the point at height z above the mid-surface, angle theta about the axis.
    [[nodiscard]] Eigen::Vector3d position(double s, double theta, double z) const;
    [[nodiscard]] Eigen::Matrix3d frame(double s, double theta) const;  // columns e_s, e_θ, n

  private:
    Meridian(WoundSide side, std::vector<ShellElement> elements, double wound_s, double limbus_s);

    WoundSide side_;
    std::vector<ShellElement> elements_;
    double wound_s_ = 0.0;
    double limbus_s_ = 0.0;
};

}  // namespace graftwright
