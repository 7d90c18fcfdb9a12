#include "report/group_pictures.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/words.h"
#include "report/words.h"
#include "score/bite_metrics.h"
#include "score/scorecard_table.h"

namespace graftwright {
namespace {

constexpr double kGroupPanelHeight = 300.0;
const Lettering kName{14.0, Lettering::Anchor::start, false, kInk, false};
const Lettering kSmall{12.5, Lettering::Anchor::start, false, kSoftInk, false};

Picture group_panel(const char* name, const char* title, const std::string& description) {
    Picture picture = panel(name, title, description);
    picture.height = kGroupPanelHeight;
    return picture;
}

Picture nothing(const char* name, const char* title, const std::string& reason) {
    Picture picture = group_panel(name, title, reason);
    picture.canvas.paragraph({10, 60}, reason, picture.width - 20, kName, 20.0);
    return picture;
}

// The next of 1, 2, 5, 10 … ticks that gives at most five of them.
double tick_step(double top) {
    double step = std::pow(10.0, std::floor(std::log10(top / 5.0)));
    for (const double factor : {1.0, 2.0, 5.0, 10.0})
        if (top / (step * factor) <= 5.0) return step * factor;
    return step * 10.0;
}

}  // namespace

std::string percent(long long part, long long whole) {
    if (whole == 0) return "–";
    const double share = 100.0 * static_cast<double>(part) / static_cast<double>(whole);
    return shown_number(share, share > 0.0 && share < 9.95 ? 1 : 0) + " %";
}

std::string flag_words(const std::string& flag) {
    const std::optional<BiteFlag> known = flag_named(flag);
    return known ? meaning_of(*known).words : flag;
}

Picture losses_picture(const GroupSummary& group) {
    const char* const title = "Where points go";
    if (group.losses.empty()) return nothing("losses", title, "No attempt with a score yet.");
    const std::vector<PartLoss>& parts = group.losses.front().parts;
    std::string told;
    for (const PartLoss& part : parts)
        told += fmt::format("{}: {:.1f} of {:.1f} points. ", part_name(part.part), part.earned, part.of);
    Picture picture = group_panel("losses", title, "Mean points of each part of the score. " + told);
    SvgCanvas& canvas = picture.canvas;
    canvas.text({10, 42}, "mean of all attempts: dark is earned, light is lost", kSmall);
    constexpr double kLeft = 12, kWidth = 356, kBar = 22;
    double widest = 1.0, y = 66;
    for (const PartLoss& part : parts) widest = std::max(widest, part.of);
    for (const PartLoss& part : parts) {
        const double of = kWidth * part.of / widest, earned = kWidth * std::clamp(part.earned, 0.0, part.of) / widest;
        canvas.text({kLeft, y}, part_name(part.part), {14.0, Lettering::Anchor::start, true, kInk, false});
        canvas.text({kLeft + kWidth, y},
                    fmt::format("{:.1f} of {:.1f}, {:.1f} lost", part.earned, part.of, part.lost()),
                    {13.0, Lettering::Anchor::end, false, kInk, false});
        canvas.rectangle({kLeft, y + 7}, of, kBar, "#dbe4f0", {kAttemptInk, 1.0, ""});
        canvas.rectangle({kLeft, y + 7}, earned, kBar, kAttemptInk, {kAttemptInk, 1.0, ""});
        y += 58;
    }
    return picture;
}

Picture bite_numbers_picture(const GroupSummary& group) {
    const char* const title = "Which bite is worst";
    double top = 0.0;
    for (const BiteNumberRow& row : group.bite_numbers) top = std::max(top, row.mean_share_D.value_or(0.0));
    if (top <= 0.0) return nothing("bite-numbers", title, "No attempt was scored with the share of each bite yet.");
    const std::string told =
        group.worst_bite ? fmt::format("Bite {} costs most.", *group.worst_bite) : "Too few bites to name a worst one.";
    Picture picture =
        group_panel("bite-numbers", title, "Mean cost of each bite by its number in tying order. " + told);
    SvgCanvas& canvas = picture.canvas;
    canvas.text({10, 42}, "mean cost in D by number in tying order", kSmall);
    constexpr double kLeft = 40, kRight = 370, kTop = 60, kBottom = 258;
    const double step = tick_step(top), high = step * std::ceil(top / step);
    for (double value = 0.0; value <= high + 1e-9; value += step) {
        const double y = kBottom - (kBottom - kTop) * value / high;
        canvas.line({kLeft, y}, {kRight, y}, {kFaintInk, 1.0, ""});
        canvas.text({kLeft - 6, y + 4}, fmt::format("{:g}", std::round(value / step) * step),
                    {12.5, Lettering::Anchor::end, false, kSoftInk, false});
    }
    const int last = group.bite_numbers.back().bite;
    const double slot = (kRight - kLeft) / last;
    const int every = last <= 16 ? 1 : last <= 32 ? 2 : 4;
    for (const BiteNumberRow& row : group.bite_numbers) {
        const double x = kLeft + slot * (row.bite - 0.5),
                     height = (kBottom - kTop) * row.mean_share_D.value_or(0.0) / high;
        const bool worst = group.worst_bite == row.bite;
        canvas.rectangle({x - 0.36 * slot, kBottom - height}, 0.72 * slot, height, worst ? kAttemptInk : "#b9c9df",
                         {kAttemptInk, 1.0, ""});
        if (row.bite % every == 0 || worst)
            canvas.text({x, kBottom + 17}, std::to_string(row.bite),
                        {12.5, Lettering::Anchor::middle, worst, kInk, false});
    }
    canvas.line({kLeft, kBottom}, {kRight, kBottom}, {kInk, 1.2, ""});
    canvas.text({10, 294}, told, {13.0, Lettering::Anchor::start, true, kInk, false});
    return picture;
}

Picture slips_picture(const GroupSummary& group) {
    constexpr std::size_t kMost = 7;
    const char* const title = "The most frequent slips";
    if (group.flags.empty()) {
        return nothing("slips", title, group.bites == 0 ? "No bites yet." : "No bite broke a limit.");
    }
    const std::size_t count = std::min(kMost, group.flags.size());
    std::string told;
    for (std::size_t i = 0; i < count; ++i)
        told += fmt::format("{}: {} of all bites. ", flag_words(group.flags[i].flag),
                            percent(group.flags[i].bites, group.bites));
    Picture picture = group_panel("slips", title, told);
    SvgCanvas& canvas = picture.canvas;
    canvas.text({10, 42}, "in percent of all bites: " + std::to_string(group.bites), kSmall);
    constexpr double kLeft = 12, kWidth = 356;
    const double most = static_cast<double>(group.flags.front().bites);
    for (std::size_t i = 0; i < count; ++i) {
        const FlagCount& flag = group.flags[i];
        const double y = 66 + 33.5 * static_cast<double>(i);
        canvas.text({kLeft, y}, flag_words(flag.flag), kName);
        canvas.text({kLeft + kWidth, y}, percent(flag.bites, group.bites),
                    {14.0, Lettering::Anchor::end, true, kInk, false});
        canvas.rectangle({kLeft, y + 6}, kWidth * static_cast<double>(flag.bites) / most, 8, kAttemptInk,
                         {kAttemptInk, 0.0, ""});
    }
    return picture;
}

}  // namespace graftwright
