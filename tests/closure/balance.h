// A problem a solver is given, and its energy and gradient put together from the public parts, for the
// tests of the solvers: what they minimise inside is theirs, what must come out is here.
#pragma once

#include <random>
#include <utility>
#include <vector>

#include "../scenes/closure_scenes.h"

namespace graftwright::balance {

struct Problem {
    scenes::Scene scene;
    Threads threads;
    ReducedSystem reduced;
    std::vector<Knot> knots;
    FibreState fibres;

    Problem(const WoundModel& model, std::vector<BiteGeometry> bites, double mmHg)
        : scene(model, std::move(bites)),
          threads(scene.system, scene.interface),
          reduced(scene.system.at(mpa_from_mmhg(mmHg))),
          knots(scene.system.size()),
          fibres(scene.interface.fresh_state()) {
        for (std::size_t b = 0; b < knots.size(); ++b) {
            knots[b] = {Hold::drawn, scenes::kTension, 0.0, scenes::kThreadEA / scene.system.threads()[b]->path.length};
        }
    }
    [[nodiscard]] RingMatrix at_rest() const {
        return RingMatrix::Zero(kRingUnknowns, 2 * scene.system.model().columns());
    }
    [[nodiscard]] PointJumps jumps(const RingMatrix& edges) const {
        return scene.interface.at_points(edges.leftCols(edges.cols() / 2));
    }
    [[nodiscard]] double energy(const RingMatrix& edges) const {
        double sum = -reduced.pressure_force.cwiseProduct(edges).sum();
        const Eigen::Index columns = edges.cols() / 2;
        for (Eigen::Index c = 0; c < columns; ++c) {
            const auto m = static_cast<std::size_t>((c + 1) / 2);
            const Eigen::Vector4d jump = edges.col(c), donor = edges.col(columns + c), host = jump + donor;
            sum += 0.5 * (host.dot(reduced.host[m] * host) + donor.dot(reduced.donor[m] * donor));
            if (m < 2) sum += 0.5 * jump.dot(reduced.foundation[m] * jump);
        }
        WoundInterface::Response contact;
        scene.interface.respond(jumps(edges), fibres, false, contact);
        return sum + contact.energy + threads.respond(reduced, knots, edges).energy;
    }
    // Gradient, and the norms of the loads that balance in it.
    [[nodiscard]] std::pair<RingMatrix, double> gradient(const RingMatrix& edges) const {
        WoundInterface::Response contact;
        scene.interface.respond(jumps(edges), fibres, false, contact);
        const RingMatrix pressing = scene.interface.to_harmonics(contact.force);
        RingMatrix sum(kRingUnknowns, edges.cols());
        reduced.stretch(edges, sum);
        sum -= reduced.pressure_force;
        sum.leftCols(pressing.cols()) -= pressing;
        double loads = reduced.pressure_force.norm() + pressing.norm();
        const ThreadResponse response = threads.respond(reduced, knots, edges);
        for (std::size_t b = 0; b < knots.size(); ++b) {
            const RingMatrix pull =
                response.tension[static_cast<Eigen::Index>(b)] * threads.elongation_gradient(reduced, response, b);
            sum += pull;
            loads += response.tension[static_cast<Eigen::Index>(b)] *
                     reduced.loop_force.col(static_cast<Eigen::Index>(b)).norm();
        }
        for (Eigen::Index c = 0; c < response.pull.size(); ++c) {
            const auto i = static_cast<std::size_t>(c);
            loads += response.pull[c] * response.by_end[i].norm() * threads.crossings()[i].host.even.norm();
        }
        return {sum, loads};
    }
    [[nodiscard]] double residual(const RingMatrix& edges) const {
        const auto [sum, loads] = gradient(edges);
        return sum.norm() / loads;
    }
    // Every other bite locked as it is, one in four slackened; fluid behind the middle, friction where it presses.
    void complicate(const RingMatrix& edges, double mmHg) {
        const ThreadResponse now = threads.respond(reduced, knots, edges);
        for (std::size_t b = 0; b < knots.size(); b += 2) {
            knots[b].hold = Hold::locked;
            knots[b].tie_elongation = now.elongation[static_cast<Eigen::Index>(b)] + (b % 4 == 0 ? 0.0 : 0.2);
        }
        scene.interface.update_bounds(jumps(edges), fibres);
        fibres.fluid.topRows(2).setConstant(mpa_from_mmhg(mmHg));
    }
};

}  // namespace graftwright::balance
