#include "game/advice.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <fmt/format.h>

namespace graftwright {
namespace {

// Below these a share is within what a careful hand leaves (our choice).
constexpr double kWorthNaming_D = 0.5, kWorthNaming_mmHg = 3.0;

constexpr std::array<std::pair<const char*, const char*>, 20> kFlagWords{{
    {"removed", "cut out"},
    {"enters-chamber", "through into the chamber"},
    {"shallow-graft", "shallow in the donor"},
    {"shallow-host", "shallow in the host"},
    {"deep-graft", "almost through the donor"},
    {"deep-host", "almost through the host"},
    {"depths-differ", "not equally deep on both sides"},
    {"short-graft", "short in the donor"},
    {"short-host", "short in the host"},
    {"long-graft", "long in the donor"},
    {"long-host", "long in the host"},
    {"ratio", "uneven in length"},
    {"not-radial", "not radial"},
    {"off-slot", "off its place"},
    {"loose", "loose"},
    {"tight", "tight"},
    {"would-break", "near breaking"},
}};

std::string what_is_the_matter(const BiteMetrics& bite, std::size_t index) {
    if (std::abs(bite.spacing_error_deg) > kSpacingError_deg.value)
        return index == 1 ? fmt::format("{:.0f}° off opposite", std::abs(bite.spacing_error_deg))
                          : fmt::format("{:.0f}° off its place", std::abs(bite.spacing_error_deg));
    std::string words;
    for (const std::string& flag : bite.flags) {
        if (!words.empty()) words += ", ";
        words += flag_words(flag);
        if (words.size() > 40) break;
    }
    return words;
}

}  // namespace

std::string flag_words(const std::string& flag) {
    for (const auto& [name, words] : kFlagWords)
        if (name != nullptr && flag == name) return words;
    return flag;
}

std::string advice_sentence(const Scorecard& card) {
    if (!card.converged()) return "This wound finds no balance: " + card.reason() + ".";
    std::size_t worst = 0, leakiest = 0;
    double share = 0.0, leak = 0.0;
    for (std::size_t b = 0; b < card.shares.size(); ++b) {
        if (!card.shares[b]) continue;
        if (card.shares[b]->share_D > share) {
            share = card.shares[b]->share_D;
            worst = b;
        }
        if (card.shares[b]->share_leak_mmHg > leak) {
            leak = card.shares[b]->share_leak_mmHg;
            leakiest = b;
        }
    }
    if (share >= kWorthNaming_D) {
        const std::string matter = what_is_the_matter(card.bites[worst], worst);
        return fmt::format("Bite {}{}{}: {:.1f} D, steep at {:.0f}°.", worst + 1, matter.empty() ? "" : ", ", matter,
                           share, card.shares[worst]->share_axis_deg);
    }
    if (leak >= kWorthNaming_mmHg) {
        const std::string matter = what_is_the_matter(card.bites[leakiest], leakiest);
        return fmt::format("Bite {}{}{}: it costs {:.0f} mmHg of leak pressure.", leakiest + 1,
                           matter.empty() ? "" : ", ", matter, leak);
    }
    // What most bites have in common is the hand's habit, not one bite's fault.
    for (const auto& [flag, words] : kFlagWords) {
        if (flag == nullptr) break;
        const auto count = static_cast<std::size_t>(
            std::count_if(card.bites.begin(), card.bites.end(), [name = std::string(flag)](const BiteMetrics& bite) {
                return std::find(bite.flags.begin(), bite.flags.end(), name) != bite.flags.end();
            }));
        if (count > 0 && 2 * count >= card.bites.size())
            return fmt::format("{} of {} bites are {}: a habit of the hand, worth a drill of its own.", count,
                               card.bites.size(), words);
    }
    return "No single bite stands out: keep this evenness.";
}

}  // namespace graftwright
