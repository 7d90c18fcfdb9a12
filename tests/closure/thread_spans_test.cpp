// The thread's path walked a second time, in finer spans, by its own few lines: are 4 and 10 spans enough, and does
// the program's path follow its own description?
#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

#include <catch2/catch.hpp>

#include "../scenes/closure_scenes.h"

using namespace graftwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// Places (in σ) and weights of a Gaussian by Gauss–Hermite rules of three and of five points.
struct Share {
    double place, weight;
};
const std::vector<Share> kThreePoints = {
    {-1.7320508075688772, 1.0 / 6.0}, {0.0, 2.0 / 3.0}, {1.7320508075688772, 1.0 / 6.0}};
const std::vector<Share> kFivePoints = {{-2.856970013872806, 0.011257411327720},
                                        {-1.355626179974266, 0.222075922005613},
                                        {0.0, 0.533333333333333},
                                        {1.355626179974266, 0.222075922005613},
                                        {2.856970013872806, 0.011257411327720}};

struct Spans {
    int surface = 4, deep = 10;  // as bite_path.cpp has them, with three points
    const std::vector<Share>* spread = &kThreePoints;
};

// One strand of a radial bite with perpendicular entry; the share of the way to the wound and the depth there.
template <typename Along, typename Depth>
double walk(const Meridian& meridian, double theta, double length, int spans, const std::vector<Share>& spread,
            Along along, Depth depth, std::vector<PointForce>& forces) {
    const double sign = meridian.side() == WoundSide::donor ? 1.0 : -1.0;
    const double half = 0.5 * 0.55;
    std::vector<double> s, z;
    std::vector<Eigen::Vector3d> place;
    for (int i = 0; i <= spans; ++i) {
        const double x = static_cast<double>(i) / spans;
        const double left = i == spans ? 0.0 : length * (1.0 - along(x));
        s.push_back(meridian.wound_s() - sign * left / (1.0 + half / 7.525));
        z.push_back(half - depth(x));
        place.push_back(meridian.position(s.back(), theta, z.back()));
    }
    double sum = 0.0;
    for (std::size_t i = 0; i < place.size(); ++i) {
        Eigen::Vector3d pull = Eigen::Vector3d::Zero();
        if (i > 0) pull -= (place[i] - place[i - 1]).normalized();
        pull += i + 1 < place.size() ? Eigen::Vector3d((place[i + 1] - place[i]).normalized())
                                     : Eigen::Vector3d(sign * meridian.frame(meridian.wound_s(), theta).col(0));
        if (i > 0) sum += (place[i] - place[i - 1]).norm();
        const Eigen::Vector3d local = meridian.frame(s[i], theta).transpose() * pull;
        const double sigma = std::min(0.1, std::abs(s[i] - meridian.wound_s()) / spread.back().place);
        for (const auto& [place_in_sigma, weight] : spread) {
            forces.push_back({s[i] + sigma * place_in_sigma, theta, z[i], weight * local[0], weight * local[1],
                              weight * local[2], 0.15});
        }
    }
    return sum;
}

ThreadPath walked(const BiteGeometry& bite, const WoundModel& model, const Spans& spans) {
    ThreadPath path;
    const auto side = [&](const Meridian& meridian, double theta, double length, double depth,
                          std::vector<PointForce>& forces) {
        const auto evenly = [](double x) { return x; };
        const auto round = [](double x) { return 1.0 - std::cos(0.5 * kPi * x); };
        const auto none = [](double) { return 0.0; };
        const auto down = [depth](double x) { return depth * std::sin(0.5 * kPi * x); };
        path.length += walk(meridian, theta, length, spans.surface, *spans.spread, evenly, none, forces);
        path.length += walk(meridian, theta, length, spans.deep, *spans.spread, round, down, forces);
    };
    side(model.donor().meridian(), bite.donor_theta, bite.donor_length, bite.donor_depth, path.donor);
    side(model.host().meridian(), bite.host_theta, bite.host_length, bite.host_depth, path.host);
    return path;
}

// Sixteen bites, a pair at twice the tension.
struct Answer {
    double M = 0.0, cylinder = 0.0, least_seal = 0.0;
};

Answer answer_with(const WoundModel& model, const Spans* spans) {
    std::vector<std::shared_ptr<const ThreadLoads>> loads;
    std::vector<double> tensions;
    std::vector<const ThreadPath*> paths;
    for (const BiteGeometry& bite : scenes::equal_bites(16)) {
        auto made = std::make_shared<ThreadLoads>();
        made->geometry = bite;
        made->path = spans != nullptr ? walked(bite, model, *spans)
                                      : thread_path(bite, model.donor().meridian(), model.host().meridian());
        made->load = model.reduce({&made->path}).front();
        paths.push_back(&made->path);
        loads.push_back(std::move(made));
        tensions.push_back(tensions.size() < 2 ? 20e-3 : 10e-3);
    }
    const ClosureSystem system(model, loads);
    const WoundInterface interface(model, {}, Eigen::VectorXd::Constant(model.points(), scenes::kInterference));
    Closure closure(system, interface, scenes::kThreadEA);
    REQUIRE(closure.prescribe(tensions, mpa_from_mmhg(15.0)));
    const ClosureState& state = closure.state();
    const std::vector<Eigen::VectorXd> donor =
        model.donor_displacement(state.pressure, state.donor_edge(), paths, state.tension, 2);
    const scenes::SagittaPower power = scenes::sagitta_power(model.donor(), donor);
    Answer answer{power.M, power.cylinder(), 1e9};
    const PointJumps jumps = interface.at_points(state.jump());
    for (int j = 0; j < interface.points(); ++j) {
        double seal = 0.0;
        for (int k = 0; k < kFibres; ++k) seal = std::max(seal, interface.solid_pressure(jumps, j, k));
        answer.least_seal = std::min(answer.least_seal, seal);
    }
    return answer;
}

}  // namespace

TEST_CASE("bite path: the path is what its description says, walked a second time", "[closure]") {
    const WoundModel& model = scenes::standard_model();
    const Spans same;
    const BiteGeometry bite = scenes::bite_at(70.0);
    CHECK_THAT(walked(bite, model, same).length,
               WithinRel(thread_path(bite, model.donor().meridian(), model.host().meridian()).length, 1e-12));
    const Answer own = answer_with(model, nullptr), second = answer_with(model, &same);
    CHECK(own.cylinder > 1.0);
    CHECK_THAT(second.cylinder, WithinRel(own.cylinder, 1e-6));
    CHECK_THAT(second.M, WithinAbs(own.M, 1e-5));
    CHECK_THAT(second.least_seal, WithinRel(own.least_seal, 1e-6));
}

TEST_CASE("bite path: twice as many spans move the cylinder by less than half a hundredth", "[closure]") {
    const WoundModel& model = scenes::standard_model(48);
    const Spans twice{8, 20, &kFivePoints}, eightfold{32, 80, &kFivePoints};
    const Answer own = answer_with(model, nullptr), finer = answer_with(model, &twice),
                 finest = answer_with(model, &eightfold);
    CAPTURE(own.M, finer.M, finest.M, own.cylinder, finer.cylinder, finest.cylinder, own.least_seal, finer.least_seal,
            finest.least_seal);
    CHECK_THAT(finer.cylinder, WithinRel(own.cylinder, 0.005));
    CHECK_THAT(finest.cylinder, WithinRel(own.cylinder, 0.005));
    CHECK_THAT(finest.M, WithinAbs(own.M, 0.02));
    CHECK_THAT(finest.least_seal, WithinRel(own.least_seal, 0.01));
}
