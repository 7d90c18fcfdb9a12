#include "closure/closure_system.h"

#include <utility>

namespace graftwright {

std::shared_ptr<const BiteLoads> make_bite_loads(const WoundModel& model, const BiteGeometry& geometry) {
    auto loads = std::make_shared<BiteLoads>();
    loads->geometry = geometry;
    loads->path = thread_path(geometry, model.donor().meridian(), model.host().meridian());
    loads->levels = model.reduce(loads->path);
    return loads;
}

ClosureSystem::ClosureSystem(const WoundModel& model, std::vector<std::shared_ptr<const BiteLoads>> bites)
    : model_(&model), bites_(std::move(bites)) {
    const auto count = static_cast<Eigen::Index>(bites_.size());
    for (std::size_t level = 0; level < model.level_count(); ++level) {
        Eigen::MatrixXd compliance(count, count);
        Eigen::VectorXd coupling(count);
        for (Eigen::Index a = 0; a < count; ++a) {
            const WoundLoad& load_a = bites_[static_cast<std::size_t>(a)]->levels[level];
            for (Eigen::Index b = 0; b <= a; ++b) {
                const WoundLoad& load_b = bites_[static_cast<std::size_t>(b)]->levels[level];
                compliance(a, b) = compliance(b, a) = WoundLoad::compliance(load_a, load_b);
            }
            coupling[a] = WoundLoad::compliance(load_a, model.pressure_load(level));
        }
        compliance_.push_back(std::move(compliance));
        pressure_coupling_.push_back(std::move(coupling));
    }
}

ReducedSystem ClosureSystem::at(double pressure) const {
    const Eigen::VectorXd weights = model_->level_weights(pressure);
    const auto count = static_cast<Eigen::Index>(bites_.size());
    ReducedSystem system;
    system.pressure = pressure;
    system.stiffness = model_->foundation();
    system.pressure_force = RingMatrix::Zero(kRingUnknowns, model_->columns());
    system.loop_force.assign(bites_.size(), RingMatrix::Zero(kRingUnknowns, model_->columns()));
    system.loop_compliance = Eigen::MatrixXd::Zero(count, count);
    system.pressure_shortening = Eigen::VectorXd::Zero(count);
    for (std::size_t level = 0; level < model_->level_count(); ++level) {
        const double weight = weights[static_cast<Eigen::Index>(level)];
        if (weight == 0.0) continue;
        for (std::size_t m = 0; m < system.stiffness.size(); ++m) {
            system.stiffness[m] += weight * model_->jump_stiffness(level)[m];
        }
        system.pressure_force += weight * pressure * model_->pressure_load(level).jump_force;
        for (std::size_t b = 0; b < bites_.size(); ++b) {
            system.loop_force[b] += weight * bites_[b]->levels[level].jump_force;
        }
        system.loop_compliance += weight * compliance_[level];
        system.pressure_shortening += weight * pressure * pressure_coupling_[level];
    }
    return system;
}

}  // namespace graftwright
