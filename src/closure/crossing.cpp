#include "closure/crossing.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Geometry>

namespace graftwright {
namespace {

// Beyond so many σ a Gaussian is nothing to rounding.
constexpr double kReach = 8.0;

EdgeEnd end_at(double theta, const WoundInterface& interface) {
    EdgeEnd end;
    const int points = interface.points(),
              reach = std::min(static_cast<int>(std::ceil(kReach * kThreadSpread / interface.arc())), (points - 1) / 2);
    const double place = theta / (2.0 * kPi) * points;  // in points
    const int nearest = static_cast<int>(std::lround(place));
    end.first = ((nearest - reach) % points + points) % points;
    double sum = 0.0;
    for (int k = -reach; k <= reach; ++k) {
        const double away = (nearest + k - place) * interface.arc() / kThreadSpread;
        end.weight.push_back(std::exp(-0.5 * away * away));
        sum += end.weight.back();
    }
    end.even = end.odd = Eigen::VectorXd::Zero(interface.even().cols());
    int point = end.first;
    for (double& weight : end.weight) {
        weight /= sum;
        end.even += weight * interface.even().row(point).transpose();
        end.odd += weight * interface.odd().row(point).transpose();
        point = point + 1 < points ? point + 1 : 0;
    }
    return end;
}

// One end of a strand: on its side's edge, at height z, where the loop's forces pull along `along`.
struct StrandEnd {
    const Meridian* meridian;
    double theta, z;
    Eigen::Vector3d along;  // in space, from donor to host

    [[nodiscard]] Eigen::Vector3d position() const { return meridian->position(meridian->wound_s(), theta, z); }
    [[nodiscard]] Eigen::Matrix3d frame() const { return meridian->frame(meridian->wound_s(), theta); }
    // Displacement in space by (u, v, w, b_s).
    [[nodiscard]] Eigen::Matrix<double, 3, 4> moves() const {
        const Eigen::Matrix3d axes = frame();
        Eigen::Matrix<double, 3, 4> result;
        result << axes, z * axes.col(0);
        return result;
    }
};

CrossingStrand strand_between(const StrandEnd& host, const StrandEnd& donor, double interference, bool sees_step) {
    const Eigen::Vector3d mean = host.along + donor.along;
    // Opposite ends of the eye have no mean direction; no bite lies so.
    const Eigen::Vector3d along = mean.norm() > 1e-3 ? Eigen::Vector3d(mean.normalized()) : host.along;
    const Eigen::Vector3d outward = host.frame().col(2) + donor.frame().col(2);
    Eigen::Matrix3d axes;
    axes.row(0) = along;
    axes.row(1) = outward.cross(along).normalized();
    axes.row(2) = along.cross(axes.row(1));
    if (!sees_step) axes.row(2).setZero();
    CrossingStrand strand;
    const Eigen::Vector3d touching = axes * (host.position() - donor.position() + 0.5 * kCrossingLength * mean);
    strand.apart = touching - 0.5 * interference * axes * mean;
    strand.by_ends << axes * host.moves(), -axes * donor.moves();
    strand.along << host.moves().transpose() * host.along, -(donor.moves().transpose() * donor.along);
    // Its ends lie half of the free thread behind the edges: there they pull up and down, so that a slanting strand
    // leaves no couple.
    const double couple = 0.5 * kCrossingLength * touching[2] / touching.norm();
    strand.along[3] += couple;
    strand.along[7] += couple;
    return strand;
}

// Interference between two angles close together.
double interference_at(double theta, const WoundInterface& interface) {
    const double place = theta / (2.0 * kPi) * interface.points();
    const auto below = static_cast<int>(std::floor(place));
    const auto value = [&](int point) {
        return interface.interference()[(point % interface.points() + interface.points()) % interface.points()];
    };
    return value(below) + (place - below) * (value(below + 1) - value(below));
}

}  // namespace

StrandLength strand_length(const Eigen::Vector3d& apart) {
    constexpr double m = kLeastCrossing;
    const double y = apart[0];
    const bool blends = y < 2.0 * m && y > 0.0;
    const double Y = y >= 2.0 * m ? y : blends ? m + y * y / (4.0 * m) : m;
    const double slope = y >= 2.0 * m ? 1.0 : blends ? y / (2.0 * m) : 0.0;
    const Eigen::Vector3d way(Y, apart[1], apart[2]), scale(slope, 1.0, 1.0);
    StrandLength result;
    result.length = way.norm();
    const Eigen::Vector3d direction = way / result.length;
    result.gradient = direction.cwiseProduct(scale);
    result.curvature = (scale.cwiseProduct(scale) / result.length).asDiagonal();
    result.curvature -= result.gradient * result.gradient.transpose() / result.length;
    if (blends) result.curvature(0, 0) += direction[0] / (2.0 * m);
    return result;
}

EndValues Crossing::ends(const RingMatrix& points) const {
    const Eigen::Index count = points.cols() / 2;
    EndValues values = EndValues::Zero();
    Eigen::Index point = host.first;
    for (const double weight : host.weight) {
        values.head<4>() += weight * (points.col(point) + points.col(count + point));
        if (++point == count) point = 0;
    }
    point = donor.first;
    for (const double weight : donor.weight) {
        values.tail<4>() += weight * points.col(count + point);
        if (++point == count) point = 0;
    }
    return values;
}

double Crossing::elongation(const EndValues& ends, EndValues& gradient) const {
    double sum = 0.0;
    gradient.setZero();
    for (const CrossingStrand& strand : strands) {
        const StrandLength length = strand_length(strand.apart + strand.by_ends * ends);
        sum += length.length - kCrossingLength - strand.along.dot(ends);
        gradient += strand.by_ends.transpose() * length.gradient - strand.along;
    }
    return sum;
}

Eigen::Matrix<double, 8, 8> Crossing::curvature(const EndValues& ends) const {
    Eigen::Matrix<double, 8, 8> sum = Eigen::Matrix<double, 8, 8>::Zero();
    for (const CrossingStrand& strand : strands) {
        const StrandLength length = strand_length(strand.apart + strand.by_ends * ends);
        sum += strand.by_ends.transpose() * length.curvature * strand.by_ends;
    }
    return sum;
}

void Crossing::add_to_points(const EndValues& forces, RingMatrix& points) const {
    const Eigen::Index count = points.cols() / 2;
    Eigen::Index point = host.first;
    for (const double weight : host.weight) {
        points.col(point) += weight * forces.head<4>();
        points.col(count + point) += weight * forces.head<4>();
        if (++point == count) point = 0;
    }
    point = donor.first;
    for (const double weight : donor.weight) {
        points.col(count + point) += weight * forces.tail<4>();
        if (++point == count) point = 0;
    }
}

void Crossing::add_to_edges(const EndValues& forces, Eigen::Ref<RingMatrix> edges) const {
    const Eigen::Index columns = edges.cols() / 2;
    for (const int component : {0, 1, 2, 3}) {
        const Eigen::VectorXd &on_host = component == 1 ? host.odd : host.even,
                              &on_donor = component == 1 ? donor.odd : donor.even;
        edges.row(component).head(columns) += forces[component] * on_host.transpose();
        edges.row(component).tail(columns) +=
            forces[component] * on_host.transpose() + forces[kRingUnknowns + component] * on_donor.transpose();
    }
}

Crossing bite_crossing(const BiteGeometry& bite, const WoundModel& model, const WoundInterface& interface,
                       bool deep_only) {
    const Meridian &donor = model.donor().meridian(), &host = model.host().meridian();
    const double overlap = interference_at(0.5 * (bite.donor_theta + bite.host_theta), interface);
    const double donor_half = 0.5 * model.shape().donor_thickness, host_half = 0.5 * model.shape().rim_thickness;
    const auto strand = [&](double host_depth, double donor_depth, bool sees_step) {
        return strand_between(
            {&host, bite.host_theta, host_half - host_depth, host.frame(host.wound_s(), bite.host_theta).col(0)},
            {&donor, bite.donor_theta, donor_half - donor_depth, donor.frame(donor.wound_s(), bite.donor_theta).col(0)},
            overlap, sees_step);
    };
    Crossing crossing;
    crossing.host = end_at(bite.host_theta, interface);
    crossing.donor = end_at(bite.donor_theta, interface);
    crossing.strands.push_back(strand(bite.host_depth, bite.donor_depth, true));
    if (!deep_only) crossing.strands.push_back(strand(0.0, 0.0, false));
    return crossing;
}

Crossing span_crossing(const SpanOnSurface& span, const WoundModel& model, const WoundInterface& interface) {
    const Meridian &donor = model.donor().meridian(), &host = model.host().meridian();
    const double theta = span.crossing_theta;
    Crossing crossing;
    crossing.host = crossing.donor = end_at(theta, interface);
    crossing.strands.push_back(strand_between({&host, theta, 0.5 * model.shape().rim_thickness, span.outward},
                                              {&donor, theta, 0.5 * model.shape().donor_thickness, span.outward}, 0.0,
                                              false));
    // The edges overlap along the meridian, not along the strand.
    const Eigen::Vector3d meridian = host.frame(host.wound_s(), theta).col(0);
    const Eigen::Vector3d across = host.frame(host.wound_s(), theta).col(2).cross(span.outward).normalized();
    crossing.strands.front().apart -=
        interference_at(theta, interface) * Eigen::Vector3d(meridian.dot(span.outward), meridian.dot(across), 0.0);
    return crossing;
}

}  // namespace graftwright
