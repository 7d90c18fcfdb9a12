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
    [[nodiscard]] RingMatrix no_jump() const { return RingMatrix::Zero(kRingUnknowns, scene.system.model().columns()); }
    [[nodiscard]] double energy(const RingMatrix& jump) const {
        double sum = -reduced.pressure_force.cwiseProduct(jump).sum();
        for (Eigen::Index c = 0; c < jump.cols(); ++c) {
            sum += 0.5 * jump.col(c).dot(reduced.stiffness[static_cast<std::size_t>((c + 1) / 2)] * jump.col(c));
        }
        WoundInterface::Response contact;
        scene.interface.respond(scene.interface.at_points(jump), fibres, false, contact);
        return sum + contact.energy + threads.respond(reduced, knots, jump).energy;
    }
    // Gradient, and the norms of the loads that balance in it.
    [[nodiscard]] std::pair<RingMatrix, double> gradient(const RingMatrix& jump) const {
        WoundInterface::Response contact;
        scene.interface.respond(scene.interface.at_points(jump), fibres, false, contact);
        const RingMatrix pressing = scene.interface.to_harmonics(contact.force);
        RingMatrix sum = -reduced.pressure_force - pressing;
        double loads = reduced.pressure_force.norm() + pressing.norm();
        for (Eigen::Index c = 0; c < jump.cols(); ++c) {
            sum.col(c) += reduced.stiffness[static_cast<std::size_t>((c + 1) / 2)] * jump.col(c);
        }
        const ThreadResponse response = threads.respond(reduced, knots, jump);
        for (std::size_t b = 0; b < knots.size(); ++b) {
            const RingMatrix pull =
                response.tension[static_cast<Eigen::Index>(b)] * threads.elongation_gradient(reduced, response, b);
            sum += pull;
            loads += pull.norm();
        }
        return {sum, loads};
    }
    [[nodiscard]] double residual(const RingMatrix& jump) const {
        const auto [sum, loads] = gradient(jump);
        return sum.norm() / loads;
    }
    // Every other bite locked as it is, one in four slackened; fluid behind the middle, friction where it presses.
    void complicate(const RingMatrix& jump, double mmHg) {
        const ThreadResponse now = threads.respond(reduced, knots, jump);
        for (std::size_t b = 0; b < knots.size(); b += 2) {
            knots[b].hold = Hold::locked;
            knots[b].tie_elongation = now.elongation[static_cast<Eigen::Index>(b)] + (b % 4 == 0 ? 0.0 : 0.2);
        }
        scene.interface.update_bounds(scene.interface.at_points(jump), fibres);
        fibres.fluid.topRows(2).setConstant(mpa_from_mmhg(mmHg));
    }
};

}  // namespace graftwright::balance
