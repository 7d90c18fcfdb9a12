#include "view/kit/letters.h"

#include <fontconfig/fontconfig.h>

namespace graftwright {
namespace {

constexpr const char* kFamily = "Inter";

struct Found {
    std::string file, family;
};

std::string text_of(FcPattern* pattern, const char* object) {
    FcChar8* value = nullptr;
    if (FcPatternGetString(pattern, object, 0, &value) != FcResultMatch) return {};
    return reinterpret_cast<const char*>(value);
}

// Fontconfig always answers with its nearest, so the family has to be looked at.
Found nearest_font(FcConfig* config, int weight) {
    FcPattern* wanted = FcPatternCreate();
    FcPatternAddString(wanted, FC_FAMILY, reinterpret_cast<const FcChar8*>(kFamily));
    FcPatternAddInteger(wanted, FC_WEIGHT, weight);
    FcPatternAddInteger(wanted, FC_SLANT, FC_SLANT_ROMAN);
    FcPatternAddBool(wanted, FC_SCALABLE, FcTrue);
    FcConfigSubstitute(config, wanted, FcMatchPattern);
    FcDefaultSubstitute(wanted);
    FcResult result = FcResultNoMatch;
    FcPattern* match = FcFontMatch(config, wanted, &result);
    Found found;
    if (match != nullptr) {
        found = {text_of(match, FC_FILE), text_of(match, FC_FAMILY)};
        FcPatternDestroy(match);
    }
    FcPatternDestroy(wanted);
    return found;
}

}  // namespace

Letters::Letters() {
    FcConfig* config = FcInitLoadConfigAndFonts();
    if (config == nullptr) {
        note_ = "Fontconfig could not be started, so there are no letters; install fontconfig and fonts-inter.";
        return;
    }
    const Found regular = nearest_font(config, FC_WEIGHT_REGULAR), strong = nearest_font(config, FC_WEIGHT_DEMIBOLD);
    FcConfigDestroy(config);
    if (regular.file.empty() || !regular_.loadFromFile(regular.file)) {
        note_ = "No usable font was found, so there are no letters; install fonts-inter.";
        return;
    }
    if (strong.file.empty() || !strong_.loadFromFile(strong.file)) strong_ = regular_;
    if (regular.family != kFamily)
        note_ = "The font Inter was not found; " + regular.family + " stands in. Install fonts-inter.";
}

}  // namespace graftwright
