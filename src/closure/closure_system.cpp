#include "closure/closure_system.h"

#include <utility>

namespace graftwright {
namespace {

using ManyLoads = std::vector<std::shared_ptr<ThreadLoads>>;

std::vector<std::shared_ptr<const ThreadLoads>> reduced(const WoundModel& model, ManyLoads made) {
    std::vector<const ThreadPath*> paths;
    for (const auto& one : made) paths.push_back(&one->path);
    std::vector<WoundLoad> loads = model.reduce(paths);
    for (std::size_t b = 0; b < made.size(); ++b) made[b]->load = std::move(loads[b]);
    return {made.begin(), made.end()};
}

}  // namespace

std::vector<std::shared_ptr<const ThreadLoads>> make_bite_loads(const WoundModel& model,
                                                                const std::vector<BiteGeometry>& bites) {
    ManyLoads made;
    for (const BiteGeometry& bite : bites) {
        made.push_back(std::make_shared<ThreadLoads>());
        made.back()->geometry = bite;
        made.back()->path = thread_path(bite, model.donor().meridian(), model.host().meridian());
    }
    return reduced(model, std::move(made));
}

std::vector<std::shared_ptr<const ThreadLoads>> make_span_loads(
    const WoundModel& model, const std::vector<std::pair<BiteGeometry, BiteGeometry>>& ends) {
    ManyLoads made;
    for (const auto& [from, to] : ends) {
        SpanPath span = span_path(from, to, model.donor().meridian(), model.host().meridian());
        made.push_back(std::make_shared<ThreadLoads>());
        made.back()->geometry = from;
        made.back()->span = span;
        made.back()->path = std::move(span.path);
    }
    return reduced(model, std::move(made));
}

void ReducedSystem::stretch(const RingMatrix& edges, RingMatrix& out) const {
    const Eigen::Index columns = edges.cols() / 2;
    for (Eigen::Index c = 0; c < columns; ++c) {
        const auto m = static_cast<std::size_t>((c + 1) / 2);
        const Eigen::Vector4d jump = edges.col(c), edge = edges.col(columns + c);
        const Eigen::Vector4d on_host = host[m] * (jump + edge);
        out.col(c) = on_host;
        out.col(columns + c).noalias() = on_host + donor[m] * edge;
        if (m < foundation.size()) out.col(c).noalias() += foundation[m] * jump;
    }
}

ClosureSystem::ClosureSystem(const WoundModel& model, std::vector<std::shared_ptr<const ThreadLoads>> threads,
                             std::vector<RunOfSpans> runs)
    : model_(&model), threads_(std::move(threads)), runs_(std::move(runs)) {
    compliance_.assign(threads_.size() * (threads_.size() + 1) / 2, Lanes::Zero());
    // Harmonic by harmonic: what all threads have of one fits the cache.
    for (std::size_t m = 0; m < model.pressure_load().halves.size(); ++m) {
        std::size_t pair = 0;
        for (std::size_t a = 0; a < threads_.size(); ++a) {
            for (std::size_t b = 0; b <= a; ++b) {
                compliance_[pair++] += WoundLoad::compliance(threads_[a]->load, threads_[b]->load, m);
            }
        }
    }
    for (const auto& thread : threads_) {
        pressure_coupling_.push_back(WoundLoad::compliance(thread->load, model.pressure_load(), 0));
    }
}

double ClosureSystem::turning(const RunOfSpans& run, std::size_t k) const {
    return threads_[run.before(k)]->span->turning_to + threads_[run.span(k)]->span->turning_from;
}

ReducedSystem ClosureSystem::at(double pressure) const {
    const LevelWeights weights = model_->level_weights(pressure);
    const auto count = static_cast<Eigen::Index>(threads_.size());
    ReducedSystem system;
    system.pressure = pressure;
    system.foundation = model_->foundation();
    system.donor.assign(static_cast<std::size_t>(model_->harmonics()) + 1, Eigen::Matrix4d::Zero());
    system.host = system.donor;
    for (std::size_t level = 0; level < model_->level_count(); ++level) {
        const double weight = weights[static_cast<Eigen::Index>(level)];
        if (weight == 0.0) continue;
        for (std::size_t m = 0; m < system.donor.size(); ++m) {
            system.donor[m] += weight * model_->donor_stiffness(level)[m];
            system.host[m] += weight * model_->host_stiffness(level)[m];
        }
    }
    system.pressure_force = pressure * model_->pressure_load().edge_force_at(weights);
    system.loop_force.resize(system.pressure_force.size(), count);
    system.loop_compliance.resize(count, count);
    system.pressure_shortening.resize(count);
    std::size_t pair = 0;
    for (Eigen::Index a = 0; a < count; ++a) {
        const WoundLoad& load = threads_[static_cast<std::size_t>(a)]->load;
        system.loop_force.col(a).noalias() = load.edge_force.matrix().transpose() * weights.matrix();
        for (Eigen::Index b = 0; b <= a; ++b) {
            system.loop_compliance(a, b) = system.loop_compliance(b, a) = (weights * compliance_[pair++]).sum();
        }
        system.pressure_shortening[a] = pressure * (weights * pressure_coupling_[static_cast<std::size_t>(a)]).sum();
    }
    return system;
}

}  // namespace graftwright
