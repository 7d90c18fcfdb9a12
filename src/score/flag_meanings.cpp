// What each flag of a bite says, its limit, and where that limit comes from.
#include <fmt/format.h>

#include "base/check.h"
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
        {BiteFlag::removed, "removed", "cut out", "", "the attempt says so"},
        {BiteFlag::enters_chamber, "enters-chamber", "enters the chamber", "less than the thickness",
         "AAO BCSC: full-thickness bites leak along their tracks"},
        {BiteFlag::shallow_graft, "shallow-graft", "donor shallow", at_least(kShallowest, kDepth), kShallowest.source},
        {BiteFlag::shallow_host, "shallow-host", "host shallow", at_least(kShallowest, kDepth), kShallowest.source},
        {BiteFlag::deep_graft, "deep-graft", "donor deep", at_most(kDeepest, kDepth), kDeepest.source},
        {BiteFlag::deep_host, "deep-host", "host deep", at_most(kDeepest, kDepth), kDeepest.source},
        {BiteFlag::depths_differ, "depths-differ", "depths differ", at_most(kDepthMismatch, "of the thickness apart"),
         kDepthMismatch.source},
        {BiteFlag::short_graft, "short-graft", "donor bite short", at_least(kShortest, "mm"), kShortest.source},
        {BiteFlag::short_host, "short-host", "host bite short", at_least(kShortest, "mm"), kShortest.source},
        {BiteFlag::long_graft, "long-graft", "donor bite long", at_most(kLongest, "mm"), kLongest.source},
        {BiteFlag::long_host, "long-host", "host bite long", at_most(kLongest, "mm"), kLongest.source},
        {BiteFlag::ratio, "ratio", "host/donor length",
         fmt::format("{:g} to {:g}", kLeastRatio.value, kMostRatio.value), kLeastRatio.source},
        {BiteFlag::not_radial, "not-radial", "not radial", at_most(kRadialError_deg, "° off the radius"),
         kRadialError_deg.source},
        {BiteFlag::off_slot, "off-slot", "off its mark", at_most(kSpacingError_deg, "° off its mark"),
         kSpacingError_deg.source},
        {BiteFlag::would_break, "would-break", "thread would break", "at most the thread's strength",
         "the scenario's thread"},
        {BiteFlag::loose, "loose", "loose", at_least(kLoose, kUsual), kLoose.source},
        {BiteFlag::tight, "tight", "tight", at_most(kTight, kUsual), kTight.source},
    };
}

}  // namespace

const std::vector<FlagMeaning>& flag_meanings() {
    static const std::vector<FlagMeaning> meanings = [] {
        std::vector<FlagMeaning> all = all_meanings();
        for (std::size_t i = 0; i < all.size(); ++i)
            GRAFTWRIGHT_CHECK(all[i].flag == static_cast<BiteFlag>(i), "meanings in the order of the flags");
        return all;
    }();
    return meanings;
}

const FlagMeaning& meaning_of(BiteFlag flag) { return flag_meanings()[static_cast<std::size_t>(flag)]; }

std::optional<BiteFlag> flag_named(std::string_view name) {
    for (const FlagMeaning& meaning : flag_meanings())
        if (name == meaning.name) return meaning.flag;
    return std::nullopt;
}

std::string flags_words(const std::vector<BiteFlag>& flags) {
    std::string line;
    for (const BiteFlag flag : flags) line += (line.empty() ? "" : ", ") + std::string(meaning_of(flag).words);
    return line;
}

}  // namespace graftwright
