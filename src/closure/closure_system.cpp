#include "closure/closure_system.h"

#include <utility>

namespace graftwright {

std::vector<std::shared_ptr<const BiteLoads>> make_bite_loads(const WoundModel& model,
                                                              const std::vector<BiteGeometry>& bites) {
    std::vector<std::shared_ptr<BiteLoads>> made;
    std::vector<const ThreadPath*> paths;
    for (const BiteGeometry& bite : bites) {
        made.push_back(std::make_shared<BiteLoads>());
        made.back()->geometry = bite;
        made.back()->path = thread_path(bite, model.donor().meridian(), model.host().meridian());
        paths.push_back(&made.back()->path);
    }
    std::vector<WoundLoad> loads = model.reduce(paths);
    for (std::size_t b = 0; b < made.size(); ++b) made[b]->load = std::move(loads[b]);
    return {made.begin(), made.end()};
}

ClosureSystem::ClosureSystem(const WoundModel& model, std::vector<std::shared_ptr<const BiteLoads>> bites)
    : model_(&model), bites_(std::move(bites)) {
    compliance_.assign(bites_.size() * (bites_.size() + 1) / 2, Lanes::Zero());
    // Harmonic by harmonic: what all bites have of one fits the cache.
    for (std::size_t m = 0; m < model.pressure_load().halves.size(); ++m) {
        std::size_t pair = 0;
        for (std::size_t a = 0; a < bites_.size(); ++a) {
            for (std::size_t b = 0; b <= a; ++b) {
                compliance_[pair++] += WoundLoad::compliance(bites_[a]->load, bites_[b]->load, m);
            }
        }
    }
    for (const auto& bite : bites_) {
        pressure_coupling_.push_back(WoundLoad::compliance(bite->load, model.pressure_load(), 0));
    }
}

ReducedSystem ClosureSystem::at(double pressure) const {
    const LevelWeights weights = model_->level_weights(pressure);
    const auto count = static_cast<Eigen::Index>(bites_.size());
    ReducedSystem system;
    system.pressure = pressure;
    system.stiffness = model_->foundation();
    for (std::size_t level = 0; level < model_->level_count(); ++level) {
        const double weight = weights[static_cast<Eigen::Index>(level)];
        if (weight == 0.0) continue;
        for (std::size_t m = 0; m < system.stiffness.size(); ++m) {
            system.stiffness[m] += weight * model_->jump_stiffness(level)[m];
        }
    }
    system.pressure_force = pressure * model_->pressure_load().jump_force_at(weights);
    system.loop_force.resize(system.pressure_force.size(), count);
    system.loop_compliance.resize(count, count);
    system.pressure_shortening.resize(count);
    std::size_t pair = 0;
    for (Eigen::Index a = 0; a < count; ++a) {
        const WoundLoad& load = bites_[static_cast<std::size_t>(a)]->load;
        system.loop_force.col(a).noalias() = load.jump_force.matrix().transpose() * weights.matrix();
        for (Eigen::Index b = 0; b <= a; ++b) {
            system.loop_compliance(a, b) = system.loop_compliance(b, a) = (weights * compliance_[pair++]).sum();
        }
        system.pressure_shortening[a] = pressure * (weights * pressure_coupling_[static_cast<std::size_t>(a)]).sum();
    }
    return system;
}

}  // namespace graftwright
