// The program's own colours: a dim theatre, teal-black walls, warm paper-white writing, brass for what the
// hand can do, vermilion with a shape beside it for what went wrong. No colour carries meaning alone; the
// pairs that stand side by side (donor and rim, calm and warning) also differ in lightness, so that they
// hold for every kind of colour vision.
#pragma once

#include <algorithm>
#include <cstdint>

namespace graftwright {

struct Ink {
    std::uint8_t r = 0, g = 0, b = 0, a = 255;
    friend constexpr bool operator==(const Ink&, const Ink&) = default;
};

// 0xRRGGBB.
[[nodiscard]] constexpr Ink ink(std::uint32_t rgb, double alpha = 1.0) {
    return {static_cast<std::uint8_t>(rgb >> 16U & 255U), static_cast<std::uint8_t>(rgb >> 8U & 255U),
            static_cast<std::uint8_t>(rgb & 255U), static_cast<std::uint8_t>(alpha * 255.0 + 0.5)};
}
[[nodiscard]] constexpr Ink faded(Ink colour, double alpha) {
    colour.a = static_cast<std::uint8_t>(std::clamp(colour.a * alpha, 0.0, 255.0));
    return colour;
}
[[nodiscard]] constexpr Ink blended(Ink from, Ink to, double share) {
    const auto mix = [share](std::uint8_t a, std::uint8_t b) {
        return static_cast<std::uint8_t>(std::clamp(a + (b - a) * share, 0.0, 255.0) + 0.5);
    };
    return {mix(from.r, to.r), mix(from.g, to.g), mix(from.b, to.b), mix(from.a, to.a)};
}

namespace palette {

inline constexpr Ink kRoom = ink(0x0b1417);   // behind everything
inline constexpr Ink kPanel = ink(0x142329);  // section and console
inline constexpr Ink kPanelEdge = ink(0x2a4149);
inline constexpr Ink kWell = ink(0x0e1a1f);  // gauges and trays are sunk into the panel
inline constexpr Ink kText = ink(0xece5d6);
inline constexpr Ink kQuietText = ink(0xa9b5b3);  // 7:1 on the panel
inline constexpr Ink kBrass = ink(0xe3b261);      // what the hand can do now
inline constexpr Ink kBrassDeep = ink(0x4a3d24);
inline constexpr Ink kButton = ink(0x21363d);
inline constexpr Ink kButtonEdge = ink(0x48636b);
inline constexpr Ink kWarning = ink(0xff8a5c);  // always with a triangle
inline constexpr Ink kWarningDeep = ink(0x4a2318);
inline constexpr Ink kCalm = ink(0x8fd0d6);  // aims, notes, gauges

inline constexpr Ink kSteel = ink(0xe4ebef);  // needle's lit flank
inline constexpr Ink kSteelDark = ink(0x4c5a63);
inline constexpr Ink kJaw = ink(0x7d8990);     // holder and forceps
inline constexpr Ink kThread = ink(0x10141c);  // black monofilament
inline constexpr Ink kThreadShine = ink(0xcfe0f2);
inline constexpr Ink kMark = ink(0x5b3a9c);   // the surgeon's violet ink
inline constexpr Ink kWound = ink(0x14090a);  // what one sees through an open wound
inline constexpr Ink kRing = ink(0xf4fbff);   // reflected rings
inline constexpr Ink kIris = ink(0x6f6a4a);

inline constexpr Ink kDonorTissue = ink(0xb9d3da);  // section: donor cool and pale,
inline constexpr Ink kHostTissue = ink(0xd9bf9b);   // rim warm and darker
inline constexpr Ink kChamber = ink(0x16343f);
inline constexpr Ink kAir = ink(0x0c171c);

}  // namespace palette
}  // namespace graftwright
