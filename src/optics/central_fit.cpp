#include "optics/central_fit.h"

#include <cmath>

#include <Eigen/Dense>

#include "base/check.h"
#include "base/units.h"
#include "optics/disc_quadrature.h"

namespace graftwright {
namespace {

// Exact for polynomials of degree 30, far beyond what a smooth cornea holds over 1.6 mm.
constexpr int kFitRings = 8, kFitMeridians = 64;

}  // namespace

std::optional<CentralFit> fit_central_curvature(const std::vector<SurfacePoint>& points, double radius,
                                                CentralForm form) {
    GRAFTWRIGHT_CHECK(radius > 0, "a fit needs a disc");
    std::vector<SurfacePoint> inside;
    for (const SurfacePoint& point : points) {
        // Half a millionth of the radius lets points on the very edge in despite rounding.
        if (std::hypot(point.x, point.y) <= radius * (1 + 5e-7) && point.weight > 0) inside.push_back(point);
    }
    const Eigen::Index rows = static_cast<Eigen::Index>(inside.size());
    const Eigen::Index terms = form == CentralForm::quadratic ? 6 : (form == CentralForm::with_quartic ? 7 : 9);
    if (rows < terms) return std::nullopt;

    // In units of the radius, so that all columns are of one size.
    Eigen::MatrixXd shapes(rows, terms);
    Eigen::VectorXd heights(rows);
    double total_weight = 0;
    for (Eigen::Index i = 0; i < rows; ++i) {
        const SurfacePoint& point = inside[static_cast<std::size_t>(i)];
        const double x = point.x / radius, y = point.y / radius;
        const double root = std::sqrt(point.weight);
        shapes.row(i).head(6) << 1, x, y, x * x / 2, x * y, y * y / 2;
        const double square = x * x + y * y;
        if (terms >= 7) shapes(i, 6) = square * square;
        if (terms == 9) shapes.row(i).tail(2) << square * (x * x - y * y), square * 2 * x * y;
        shapes.row(i) *= root;
        heights[i] = root * point.z;
        total_weight += point.weight;
    }
    Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(shapes);
    // Points on one line or one circle leave a form undetermined: no fit rather than any fit.
    qr.setThreshold(1e-9);
    if (qr.rank() < terms) return std::nullopt;
    const Eigen::VectorXd coefficient = qr.solve(heights);
    if (!coefficient.allFinite()) return std::nullopt;

    const double a = coefficient[3], b = coefficient[4], c = coefficient[5];
    const double scale = kKeratometricDioptreMm / (radius * radius);
    CentralFit fit;
    fit.power = {-scale * (a + c) / 2, -scale * (a - c) / 2, -scale * b};
    const CornealPower cornea = cornea_of_vector(fit.power);
    fit.mean_D = cornea.mean_D;
    fit.cylinder_D = cornea.cylinder_D;
    fit.steep_axis_deg = cornea.steep_axis_deg;
    const Eigen::VectorXd residual = heights - shapes * coefficient;
    fit.residual_rms_um = um_from_mm(residual.norm() / std::sqrt(total_weight));
    return fit;
}

std::optional<CentralFit> fit_central_curvature(const AnteriorSurface& surface, double radius, CentralForm form) {
    if (surface.radius_covered() < radius) return std::nullopt;
    std::vector<SurfacePoint> points;
    for (const DiscNode& node : disc_quadrature(radius, kFitRings, kFitMeridians))
        points.push_back({node.x, node.y, surface.sample(node.x, node.y).height, node.weight});
    return fit_central_curvature(points, radius, form);
}

}  // namespace graftwright
