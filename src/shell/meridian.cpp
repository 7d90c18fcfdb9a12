#include "shell/meridian.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/check.h"

namespace graftwright {
namespace {

// Element ends on [0, 1], growing from the left by a constant factor; `ratio` is last over first.
std::vector<double> graded_ends(int count, double ratio) {
    std::vector<double> ends(static_cast<std::size_t>(count) + 1);
    const double beta = std::log(ratio);
    for (int i = 0; i <= count; ++i) {
        const double x = static_cast<double>(i) / count;
        ends[static_cast<std::size_t>(i)] = std::abs(beta) < 1e-9 ? x : std::expm1(beta * x) / std::expm1(beta);
    }
    ends.back() = 1.0;
    return ends;
}

// Ratios of the longest to the shortest element: the wound's influence decays over 1.6 mm, so
// elements there are about 0.15 mm and grow away from it (our choice, converged in the tests).
constexpr double kDonorGrading = 4.0;
constexpr double kRimGrading = 2.0;
constexpr double kScleraGrading = 10.0;

void append_patch(std::vector<ShellElement>& elements, const std::vector<double>& ends, double s_begin, double length,
                  ShellElement patch) {
    const double alpha_begin = patch.alpha_begin;
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
        patch.s_begin = s_begin + length * ends[i];
        patch.length = length * (ends[i + 1] - ends[i]);
        patch.alpha_begin = alpha_begin + length * ends[i] / patch.radius;
        elements.push_back(patch);
    }
}

}  // namespace

Meridian::Meridian(WoundSide side, std::vector<ShellElement> elements, double wound_s, double limbus_s)
    : side_(side), elements_(std::move(elements)), wound_s_(wound_s), limbus_s_(limbus_s) {}

Meridian Meridian::donor(const EyeShape& shape, const MeridianMesh& mesh) {
    const double wound_s = shape.mid_radius * std::asin(shape.wound_radius / shape.mid_radius);
    std::vector<double> ends = graded_ends(mesh.donor_elements, kDonorGrading);
    std::reverse(ends.begin(), ends.end());
    for (double& end : ends) end = 1.0 - end;
    std::vector<ShellElement> elements;
    append_patch(elements, ends, 0.0, wound_s,
                 {0.0, 0.0, 0.0, shape.mid_radius, shape.donor_thickness, shape.donor_modulus});
    return {WoundSide::donor, std::move(elements), wound_s, 0.0};
}

Meridian Meridian::host(const EyeShape& shape, const MeridianMesh& mesh) {
    const double alpha_wound = std::asin(shape.wound_radius / shape.mid_radius);
    const double alpha_limbus = std::asin(shape.limbus_radius / shape.mid_radius);
    const double alpha_sclera = std::asin(shape.limbus_radius / shape.sclera_radius);
    const double wound_s = shape.mid_radius * alpha_wound;
    const double limbus_s = shape.mid_radius * alpha_limbus;
    GRAFTWRIGHT_CHECK(limbus_s > wound_s, "the wound lies inside the limbus");
    std::vector<ShellElement> elements;
    append_patch(elements, graded_ends(mesh.rim_elements, kRimGrading), wound_s, limbus_s - wound_s,
                 {0.0, 0.0, alpha_wound, shape.mid_radius, shape.rim_thickness, shape.rim_modulus});
    append_patch(elements, graded_ends(mesh.sclera_elements, kScleraGrading), limbus_s,
                 (shape.sclera_end_colatitude - alpha_sclera) * shape.sclera_radius,
                 {0.0, 0.0, alpha_sclera, shape.sclera_radius, shape.sclera_thickness, shape.sclera_modulus});
    return {WoundSide::host, std::move(elements), wound_s, limbus_s};
}

int Meridian::element_at(double s) const {
    const auto after =
        std::lower_bound(elements_.begin(), elements_.end(), s,
                         [](const ShellElement& element, double value) { return element.s_end() < value; });
    const auto index = static_cast<int>(after - elements_.begin());
    return std::min(index, static_cast<int>(elements_.size()) - 1);
}

double Meridian::s_at_outer_distance(double distance) const {
    // A length along the outer surface is (1 + t/2R) times the same along the mid-surface.
    const bool outward = side_ == WoundSide::host;
    double left = distance;
    double s = wound_s_;
    const int count = static_cast<int>(elements_.size());
    for (int step = 0; step < count; ++step) {
        const int index = outward ? step : count - 1 - step;
        const ShellElement& element = elements_[static_cast<std::size_t>(index)];
        const double scale = 1.0 + 0.5 * element.thickness / element.radius;
        if (left <= element.length * scale || step + 1 == count) {
            return outward ? s + left / scale : s - left / scale;
        }
        left -= element.length * scale;
        s += outward ? element.length : -element.length;
    }
    return s;
}

double Meridian::outer_length() const {
    const double length = side_ == WoundSide::host ? limbus_s_ - wound_s_ : wound_s_;
    const ShellElement& element = elements_.front();
    return length * (1.0 + 0.5 * element.thickness / element.radius);
}

Eigen::Vector3d Meridian::position(double s, double theta, double z) const {
    const ShellElement& element = element_holding(s);
    const double alpha = element.alpha_at(s);
    // The sclera's sphere has its centre lower or higher on the axis so that the surfaces meet.
    const ShellElement& first = elements_.front();
    double centre = 0.0;
    if (element.radius != first.radius || element.alpha_begin < first.alpha_begin) {
        const double alpha_rim_end = first.alpha_begin + (limbus_s_ - wound_s_) / first.radius;
        const double alpha_sclera = std::asin(first.radius * std::sin(alpha_rim_end) / element.radius);
        centre = first.radius * std::cos(alpha_rim_end) - element.radius * std::cos(alpha_sclera);
    }
    const double rho = (element.radius + z) * std::sin(alpha);
    return {rho * std::cos(theta), rho * std::sin(theta), centre + (element.radius + z) * std::cos(alpha)};
}

Eigen::Matrix3d Meridian::frame(double s, double theta) const {
    const double alpha = element_holding(s).alpha_at(s);
    const double ca = std::cos(alpha), sa = std::sin(alpha);
    const double ct = std::cos(theta), st = std::sin(theta);
    Eigen::Matrix3d columns;
    columns << ca * ct, -st, sa * ct,  //
        ca * st, ct, sa * st,          //
        -sa, 0.0, ca;
    return columns;
}

}  // namespace graftwright
