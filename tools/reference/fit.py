"""Curvature of a deformed outer surface, by several definitions, from scattered points (x, y, z) in mm, apex upward.

Power = 337.5 / radius in mm (keratometric). Every definition yields M, J0, J45 of  K(theta) = M + J0 cos 2 theta + J45 sin 2 theta:
mean = M, cylinder = 2 sqrt(J0^2 + J45^2), steep axis = atan2(J45, J0) / 2.

  quadratic      z = c0 + c1 x + c2 y + quadratic form; K from the quadratic form
  quartic        the same and a term in rho^4; K from the quadratic form
  fourth         all terms up to the 4th degree; K from the quadratic form
  toric          z = c0 + c1 x + c2 y - 2 q / (1 + sqrt(1 - |H x|^2)), q = x'H x / 2: an exact sphere when H is isotropic; K from H
  axial_ring     axial power on a circle about the vertex normal, from the smooth surface
  vertex         second derivatives of the smooth surface at the centre

"nodes" fits use the mesh's nodes with equal weights, "disc" fits points spread evenly over the disc, taken from the smooth surface: an
8th-degree polynomial through all nodes out to 2.6 mm.
"""

import math

KERATOMETRIC = 337.5


def solve(rows, values, weights=None):
    """Least squares by Householder reflections: coefficients, root mean square residual."""
    n = len(rows[0])
    w = [math.sqrt(v) for v in weights] if weights else [1.0] * len(rows)
    columns = [[row[j] * s for row, s in zip(rows, w)] for j in range(n)]
    scale = [max(abs(v) for v in c) or 1.0 for c in columns]
    columns = [[v / s for v in c] for c, s in zip(columns, scale)]
    b = [v * s for v, s in zip(values, w)]
    m = len(b)
    triangle = [[0.0] * n for _ in range(n)]
    for j in range(n):
        col = columns[j]
        norm = math.sqrt(sum(col[i] * col[i] for i in range(j, m)))
        alpha = -norm if col[j] > 0 else norm
        v = col[j:]
        v[0] -= alpha
        vv = sum(x * x for x in v)
        triangle[j][j] = alpha
        for target in columns[j + 1:] + [b]:
            f = 2 * sum(x * target[j + i] for i, x in enumerate(v)) / vv
            for i, x in enumerate(v):
                target[j + i] -= f * x
        for k in range(j + 1, n):
            triangle[j][k] = columns[k][j]
    x = [0.0] * n
    for j in reversed(range(n)):
        x[j] = (b[j] - sum(triangle[j][k] * x[k] for k in range(j + 1, n))) / triangle[j][j]
    rms = math.sqrt(sum(v * v for v in b[n:]) / m)
    return [v / s for v, s in zip(x, scale)], rms


def powers(M, J0, J45):
    axis = math.degrees(0.5 * math.atan2(J45, J0)) % 180.0
    return {"mean_D": M, "cylinder_D": 2 * math.hypot(J0, J45), "steep_axis_deg": axis if math.hypot(J0, J45) > 1e-3 else None}


def from_form(a, b, c):
    """Powers of z = ... + a x^2 + b x y + c y^2."""
    return powers(-KERATOMETRIC * (a + c), -KERATOMETRIC * (a - c), -KERATOMETRIC * b)


def quadratic(points, quartic=False):
    rows = [[1.0, x, y, x * x, x * y, y * y] + ([(x * x + y * y) ** 2] if quartic else []) for x, y, z in points]
    c, _ = solve(rows, [p[2] for p in points])
    return from_form(*c[3:6])


def fourth(points):
    terms = [(i, n - i) for n in range(5) for i in range(n + 1)]
    c, _ = solve([[x ** i * y ** j for i, j in terms] for x, y, _ in points], [p[2] for p in points])
    c = dict(zip(terms, c))
    return from_form(c[2, 0], c[1, 1], c[0, 2])


def toric(points):
    def height(p, x, y):
        hx, hy = p[3] * x + p[4] * y, p[4] * x + p[5] * y
        return p[0] + p[1] * x + p[2] * y - (x * hx + y * hy) / (1 + math.sqrt(1 - hx * hx - hy * hy))

    p = [max(z for _, _, z in points), 0.0, 0.0, 0.127, 0.0, 0.127]
    for _ in range(8):
        rows = []
        for x, y, z in points:
            row = []
            for j in range(6):
                up, down = list(p), list(p)
                up[j] += 1e-5
                down[j] -= 1e-5
                row.append((height(up, x, y) - height(down, x, y)) / 2e-5)
            rows.append(row)
        step, _ = solve(rows, [z - height(p, x, y) for x, y, z in points])
        p = [a + b for a, b in zip(p, step)]
    return powers(KERATOMETRIC * (p[3] + p[5]) / 2, KERATOMETRIC * (p[3] - p[5]) / 2, KERATOMETRIC * p[4])


class Smooth:
    """Polynomial z(x, y) up to the 8th degree through points."""

    def __init__(self, points, degree=8):
        self.terms = [(i, n - i) for n in range(degree + 1) for i in range(n + 1)]
        rows = [[x ** i * y ** j for i, j in self.terms] for x, y, _ in points]
        self.c, self.rms = solve(rows, [p[2] for p in points])

    def height(self, x, y):
        return sum(c * x ** i * y ** j for c, (i, j) in zip(self.c, self.terms))

    def slope(self, x, y):
        gx = sum(c * i * x ** (i - 1) * y ** j for c, (i, j) in zip(self.c, self.terms) if i)
        gy = sum(c * j * x ** i * y ** (j - 1) for c, (i, j) in zip(self.c, self.terms) if j)
        return gx, gy

    def vertex(self):
        c = dict(zip(self.terms, self.c))
        return from_form(c[2, 0], c[1, 1], c[0, 2])

    def axial_ring(self, radius, n=72):
        gx0, gy0 = self.slope(0.0, 0.0)
        M = J0 = J45 = 0.0
        for k in range(n):
            t = 2 * math.pi * k / n
            gx, gy = self.slope(radius * math.cos(t), radius * math.sin(t))
            fall = -((gx - gx0) * math.cos(t) + (gy - gy0) * math.sin(t))
            K = KERATOMETRIC * math.sin(math.atan(fall)) / radius
            M, J0, J45 = M + K / n, J0 + 2 * K * math.cos(2 * t) / n, J45 + 2 * K * math.sin(2 * t) / n
        return powers(M, J0, J45)


def mirrored(points, planes):
    """Points completed by the mirror images in x = 0 ("x") and y = 0 ("y")."""
    for axis in planes:
        i = "xy".index(axis)
        points = points + [tuple(-c if k == i else c for k, c in enumerate(p)) for p in points if abs(p[i]) > 1e-7]
    return points


def disc(smooth, radius, rings=8):
    out = []
    for k in range(rings):                       # rings of equal area, 48 points each
        r = radius * math.sqrt((k + 0.5) / rings)
        for j in range(48):
            t = 2 * math.pi * (j + 0.5 * (k % 2)) / 48
            x, y = r * math.cos(t), r * math.sin(t)
            out.append((x, y, smooth.height(x, y)))
    return out


def definitions(points):
    """All definitions for points that cover the full circle. Keys name definition, weights and radius."""
    within = lambda limit: [p for p in points if math.hypot(p[0], p[1]) <= limit + 1e-9]
    smooth = Smooth(within(2.6))
    out = {"vertex": smooth.vertex(), "axial_ring_1.5": smooth.axial_ring(1.5), "axial_ring_1.6": smooth.axial_ring(1.6)}
    for limit in (1.5, 1.6, 3.2):
        near = within(limit)
        out["quadratic_nodes_%g" % limit] = quadratic(near)
        out["quartic_nodes_%g" % limit] = quadratic(near, quartic=True)
        out["fourth_nodes_%g" % limit] = fourth(near)
        out["toric_nodes_%g" % limit] = toric(near)
        if limit < 2.6:
            even = disc(smooth, limit)
            out["quadratic_disc_%g" % limit] = quadratic(even)
            out["quartic_disc_%g" % limit] = quadratic(even, quartic=True)
            out["fourth_disc_%g" % limit] = fourth(even)
            out["toric_disc_%g" % limit] = toric(even)
    return out, smooth.rms
