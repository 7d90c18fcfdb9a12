#!/usr/bin/env python3
"""Makes src/figure/colour_table.inc: the colour scale of the maps, our own work.

    tools/colour_scale.py > src/figure/colour_table.inc

A smooth way through CIELAB (D65) from dark blue over slate and olive to pale yellow: lightness L* rises
all the way, hue runs from blue to yellow, which red-green colour-blind people tell apart, and a* stays
small. The way is then walked so that neighbouring bands are equally far apart by CIEDE2000 (Sharma, Wu,
Dalal, Color Res Appl 2005;30:21-30): equal steps of the value look equally large. No existing scale's colours are used.
tests/figure/colour_scale_test.cpp holds the table against lightness, step and colour-blind sight.
"""
import math

# Knots of the way: L*, a*, b*. Light enough at the dark end for a dark contour line to show.
KNOTS = [(36, 6, -40), (47, -3, -36), (57, -9, -20), (67, -11, 4), (78, -9, 30), (87, -8, 40), (95, -5, 22)]
COLOURS = 22  # bands of the maps: kScaleBands
WHITE = (0.95047, 1.0, 1.08883)  # D65


def srgb(lab):
    L, a, b = lab
    fy = (L + 16) / 116
    xyz = [w * (f ** 3 if f > 6 / 29 else 3 * (6 / 29) ** 2 * (f - 4 / 29))
           for w, f in zip(WHITE, (fy + a / 500, fy, fy - b / 200))]
    matrix = [(3.2404542, -1.5371385, -0.4985314), (-0.9692660, 1.8760108, 0.0415560),
              (0.0556434, -0.2040259, 1.0572252)]
    linear = [sum(m * v for m, v in zip(row, xyz)) for row in matrix]
    assert all(-1e-3 < v < 1.001 for v in linear), f"{lab} lies outside sRGB: {linear}"
    coded = [12.92 * v if v <= 0.0031308 else 1.055 * v ** (1 / 2.4) - 0.055 for v in linear]
    return tuple(round(255 * min(1, max(0, v))) for v in coded)


def ciede2000(one, two):
    (L1, a1, b1), (L2, a2, b2) = one, two
    mean_c = (math.hypot(a1, b1) + math.hypot(a2, b2)) / 2
    g = 0.5 * (1 - math.sqrt(mean_c ** 7 / (mean_c ** 7 + 25 ** 7)))
    a1, a2 = (1 + g) * a1, (1 + g) * a2
    c1, c2 = math.hypot(a1, b1), math.hypot(a2, b2)
    h1, h2 = (math.degrees(math.atan2(b, a)) % 360 for a, b in ((a1, b1), (a2, b2)))
    dh = (h2 - h1 + 180) % 360 - 180
    mean_h = (h1 + dh / 2) % 360
    mean_l, mean_c = (L1 + L2) / 2, (c1 + c2) / 2
    rad = math.radians
    t = (1 - 0.17 * math.cos(rad(mean_h - 30)) + 0.24 * math.cos(rad(2 * mean_h)) +
         0.32 * math.cos(rad(3 * mean_h + 6)) - 0.20 * math.cos(rad(4 * mean_h - 63)))
    sl = 1 + 0.015 * (mean_l - 50) ** 2 / math.sqrt(20 + (mean_l - 50) ** 2)
    sc, sh = 1 + 0.045 * mean_c, 1 + 0.015 * mean_c * t
    rt = (-2 * math.sqrt(mean_c ** 7 / (mean_c ** 7 + 25 ** 7)) *
          math.sin(rad(60 * math.exp(-((mean_h - 275) / 25) ** 2))))
    l, c, h = (L2 - L1) / sl, (c2 - c1) / sc, 2 * math.sqrt(c1 * c2) * math.sin(rad(dh / 2)) / sh
    return math.sqrt(l * l + c * c + h * h + rt * c * h)


def spline(t):
    """Catmull-Rom through the knots, t in [0, 1]."""
    x = t * (len(KNOTS) - 1)
    k = min(int(x), len(KNOTS) - 2)
    u = x - k
    beyond = lambda end, inner: tuple(2 * p - q for p, q in zip(end, inner))
    knots = [beyond(KNOTS[0], KNOTS[1]), *KNOTS, beyond(KNOTS[-1], KNOTS[-2])]
    return tuple(0.5 * (2 * b + (c - a) * u + (2 * a - 5 * b + 4 * c - d) * u * u + (3 * b - a - 3 * c + d) * u ** 3)
                 for a, b, c, d in zip(*knots[k:k + 4]))


def walk(distance):
    """Parameters of colours that are each this far from the one before, from the start of the way on."""
    places = [0.0]
    while len(places) < COLOURS:
        low = high = places[-1]
        start = spline(places[-1])
        while high < 1 and ciede2000(start, spline(high)) < distance:
            high = min(1.0, high + 0.002)
        if ciede2000(start, spline(high)) < distance:
            return None  # the way is over
        for _ in range(50):
            middle = (low + high) / 2
            low, high = (middle, high) if ciede2000(start, spline(middle)) < distance else (low, middle)
        places.append(high)
    return places


def main():
    low, high = 0.1, 20.0  # the largest distance with which all colours fit on the way
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if walk(middle) else (low, middle)
    colours = [srgb(spline(t)) for t in walk(low)]
    print("// Made by tools/colour_scale.py; do not edit. sRGB, from low values to high.")
    for start in range(0, COLOURS, 8):
        print("    " + " ".join("0x%02X%02X%02X," % c for c in colours[start:start + 8]))


if __name__ == "__main__":
    main()
