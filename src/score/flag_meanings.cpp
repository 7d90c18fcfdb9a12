#include <fmt/format.h>

#include "score/bite_metrics.h"

namespace graftwright {
namespace {

std::vector<FlagMeaning> all_meanings() {
    const auto at_least = [](const Limit& limit, const char* of) {
        return fmt::format("at least {:g} {}", limit.value, of);
    };
    const auto at_most = [](const Limit& limit, const char* of) {
        return fmt::format("at most {:g} {}", limit.value, of);
    };
    constexpr const char *kDepth = "of the thickness", *kUsual = "of the median tension, chamber filled";
    return {
        {"removed", "cut out", "", "the attempt says so"},
        {"enters-chamber", "enters the chamber", "less than the thickness",
         "T3-31: full-thickness bites leak along their tracks"},
        {"shallow-graft", "donor shallow", at_least(kShallowest, kDepth), kShallowest.source},
        {"shallow-host", "host shallow", at_least(kShallowest, kDepth), kShallowest.source},
        {"deep-graft", "donor deep", at_most(kDeepest, kDepth), kDeepest.source},
        {"deep-host", "host deep", at_most(kDeepest, kDepth), kDeepest.source},
        {"depths-differ", "depths differ", at_most(kDepthMismatch, "of the thickness apart"), kDepthMismatch.source},
        {"short-graft", "donor bite short", at_least(kShortest, "mm"), kShortest.source},
        {"short-host", "host bite short", at_least(kShortest, "mm"), kShortest.source},
        {"long-graft", "donor bite long", at_most(kLongest, "mm"), kLongest.source},
        {"long-host", "host bite long", at_most(kLongest, "mm"), kLongest.source},
        {"ratio", "host/donor length", fmt::format("{:g} to {:g}", kLeastRatio.value, kMostRatio.value),
         kLeastRatio.source},
        {"not-radial", "not radial", at_most(kRadialError_deg, "deg off the radius"), kRadialError_deg.source},
        {"off-slot", "off its mark", at_most(kSpacingError_deg, "deg off its even slot"), kSpacingError_deg.source},
        {"would-break", "thread would break", "at most the thread's strength", "the scenario's thread"},
        {"loose", "loose", at_least(kLoose, kUsual), kLoose.source},
        {"tight", "tight", at_most(kTight, kUsual), kTight.source},
    };
}

}  // namespace

const std::vector<FlagMeaning>& flag_meanings() {
    static const std::vector<FlagMeaning> meanings = all_meanings();
    return meanings;
}

}  // namespace graftwright
