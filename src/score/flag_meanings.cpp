// What each mark of a bite says, its limit, and where that limit comes from.
#include <fmt/format.h>

#include "base/words.h"
#include "score/bite_metrics.h"

namespace graftwright {
namespace {

std::vector<FlagMeaning> all_meanings() {
    const auto at_least = [](const Limit& limit, const char* of) {
        return "at least " + with_unit(fmt::format("{:g}", limit.value), of);
    };
    const auto at_most = [](const Limit& limit, const char* of) {
        return "at most " + with_unit(fmt::format("{:g}", limit.value), of);
    };
    constexpr const char *kDepth = "of the thickness", *kUsual = "of the median tension, chamber filled";
    return {
        {"removed", "cut out", "", "the attempt says so"},
        {"enters-chamber", "enters the chamber", "less than the thickness",
         "AAO BCSC: full-thickness bites leak along their tracks"},
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
        {"not-radial", "not radial", at_most(kRadialError_deg, "° off the radius"), kRadialError_deg.source},
        {"off-slot", "off its mark", at_most(kSpacingError_deg, "° off its mark"), kSpacingError_deg.source},
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

std::string flags_words(const std::vector<std::string>& flags) {
    std::string line;
    for (const std::string& flag : flags) {
        std::string words = flag;
        for (const FlagMeaning& meaning : flag_meanings())
            if (meaning.flag == flag) words = meaning.words;
        line += (line.empty() ? "" : ", ") + words;
    }
    return line;
}

}  // namespace graftwright
