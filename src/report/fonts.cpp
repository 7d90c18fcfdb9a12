#include "report/fonts.h"

#include <mutex>
#include <stdexcept>

#include <fontconfig/fontconfig.h>

namespace graftwright {
namespace {

constexpr const char* kFamily = "Inter";

const FcChar8* fc(const char* text) { return reinterpret_cast<const FcChar8*>(text); }

enum class Letters { none, of_another, inter };

// Fontconfig answers with its nearest, which need not be a font with letters.
Letters letters_of(FcConfig* config) {
    FcPattern* const wanted = FcPatternCreate();
    FcPatternAddString(wanted, FC_FAMILY, fc(kFamily));
    FcConfigSubstitute(config, wanted, FcMatchPattern);
    FcDefaultSubstitute(wanted);
    FcResult result = FcResultNoMatch;
    FcPattern* const match = FcFontMatch(config, wanted, &result);
    FcPatternDestroy(wanted);
    if (match == nullptr) return Letters::none;
    Letters found = Letters::none;
    FcCharSet* has = nullptr;
    if (FcPatternGetCharSet(match, FC_CHARSET, 0, &has) == FcResultMatch && FcCharSetHasChar(has, 'a') != FcFalse) {
        FcChar8* family = nullptr;
        const bool named = FcPatternGetString(match, FC_FAMILY, 0, &family) == FcResultMatch;
        found = named && FcStrCmp(family, fc(kFamily)) == 0 ? Letters::inter : Letters::of_another;
    }
    FcPatternDestroy(match);
    return found;
}

}  // namespace

void bring_letters(FcConfig* config, const std::string& folder) {
    Letters letters = config != nullptr ? letters_of(config) : Letters::none;
    if (config != nullptr && letters != Letters::inter) {
        for (const char* weight : {"Regular", "Bold"})  // the pictures' two
            for (const char* kind : {".otf", ".ttf"})
                FcConfigAppFontAddFile(config, fc((folder + "/Inter-" + weight + kind).c_str()));
        letters = letters_of(config);
    }
    if (letters == Letters::none) throw std::runtime_error("there is no font for its letters; install fonts-inter");
}

void bring_letters() {
    static std::once_flag done;
    std::call_once(done, [] { bring_letters(FcConfigGetCurrent(), GRAFTWRIGHT_INTER_FOLDER); });
}

}  // namespace graftwright
