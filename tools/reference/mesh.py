"""Structured meshes of 20-node bricks for shells of revolution cut into quadrants.

A block is a lattice (i, j, k) mapped to space; each cell becomes one C3D20R brick. i runs outward along the meridian, j counter-clockwise,
k from the inner to the outer surface, so that i x j points to k. The pole is covered by a rounded square, not by wedges: no element
collapses and the curvature at the centre is read from well-shaped bricks. Units mm, angles rad; axis of revolution z, apex upward.

Blocks of one part share their nodes where positions coincide; different parts never do (the wound is such a pair of faces).
"""

import math

# A brick's 20 nodes as offsets on the lattice of half cells, in the order of CalculiX (same as Abaqus).
BRICK = [(0, 0, 0), (2, 0, 0), (2, 2, 0), (0, 2, 0), (0, 0, 2), (2, 0, 2), (2, 2, 2), (0, 2, 2),
         (1, 0, 0), (2, 1, 0), (1, 2, 0), (0, 1, 0), (1, 0, 2), (2, 1, 2), (1, 2, 2), (0, 1, 2),
         (0, 0, 1), (2, 0, 1), (2, 2, 1), (0, 2, 1)]
FACE_INNER, FACE_OUTER, FACE_I_MAX, FACE_I_MIN = 1, 2, 4, 6   # S1, S2, S4, S6 of a brick in that order


class Mesh:
    def __init__(self):
        self.points = []        # node number - 1 -> (x, y, z)
        self.elements = []      # element number - 1 -> 20 node numbers
        self.element_part = []
        self.faces = {}         # name -> [(element, face)]
        self.node_sets = {}     # name -> {node: tag}
        self._found = {}

    def node(self, part, point):
        key = (part,) + tuple(round(c * 1e6) for c in point)
        number = self._found.get(key)
        if number is None:
            self.points.append(point)
            number = self._found[key] = len(self.points)
        return number

    def add_block(self, part, cells, place, material=None):
        """cells = (ni, nj, nk); place(a, b, c) -> (point) with a, b, c in half cells. Returns {(i, j, k): element}."""
        ni, nj, nk = cells
        made = {}
        for i in range(ni):
            for j in range(nj):
                for k in range(nk):
                    nodes = [self.node(part, place(2 * i + a, 2 * j + b, 2 * k + c)) for a, b, c in BRICK]
                    self.elements.append(nodes)
                    self.element_part.append(material or part)
                    made[i, j, k] = len(self.elements)
        return made

    def add_faces(self, name, elements, face):
        self.faces.setdefault(name, []).extend((e, face) for e in elements)

    def tag(self, name, node, value=None):
        self.node_sets.setdefault(name, {})[node] = value


class Zone:
    """A polar zone: the (s, theta, z) grid of one part, which also finds the brick around a point, for loads."""

    def __init__(self, mesh, part, meridian, stations, thetas, layers, material=None):
        self.mesh, self.stations, self.thetas, self.layers = mesh, stations, thetas, layers
        half_s, half_t, half_z = halves(stations), halves(thetas), halves([i / layers for i in range(layers + 1)])

        def place(a, b, c):
            return revolve(meridian(half_s[a], half_z[c] - 0.5), half_t[b])

        self.place = place
        self.elements = mesh.add_block(part, (len(stations) - 1, len(thetas) - 1, layers), place, material)

    def locate(self, s, theta, fraction):
        """(nodes, weights) of the brick at s, theta and fraction -0.5..0.5 of the thickness; the weights sum to 1."""
        i, x = cell(self.stations, s)
        j, y = cell(self.thetas, theta)
        k, z = cell([n / self.layers - 0.5 for n in range(self.layers + 1)], fraction)
        return self.mesh.elements[self.elements[i, j, k] - 1], brick_shape(x, y, z)


def add_core(mesh, part, meridian, radius, thetas, layers):
    """The rounded square at the pole, out to arc length `radius` on the circle where the polar zones begin. Returns its elements.

    thetas: the polar zones' angles within one quadrant, an even number of cells. Half of them make each side of the square.
    """
    n = (len(thetas) - 1) // 2
    start = thetas[0]
    half_t = [t - start for t in halves(thetas)]
    half_z = halves([i / layers for i in range(layers + 1)])
    square, rounding, rings = 0.62 * radius, 0.55, max(2, n // 3)

    def lift(x, y, c):
        s, theta = math.hypot(x, y), math.atan2(y, x) if (x or y) else 0.0
        return revolve(meridian(s, half_z[c] - 0.5), theta + start)

    def in_square(x, y):
        return (square * x * math.sqrt(1 - rounding * y * y / 2), square * y * math.sqrt(1 - rounding * x * x / 2))

    def inner(a, b, c):
        return lift(*in_square(math.tan(half_t[a]), math.tan(half_t[b])), c)

    def outer(a, b, c):
        t = half_t[b]
        x0, y0 = in_square(1.0, math.tan(t)) if b <= 2 * n else in_square(math.tan(math.pi / 2 - t), 1.0)
        f = a / (2.0 * rings)
        return lift(x0 + f * (radius * math.cos(t) - x0), y0 + f * (radius * math.sin(t) - y0), c)

    made = mesh.add_block(part, (n, n, layers), inner)
    ring = mesh.add_block(part, (rings, 2 * n, layers), outer)
    bricks = [(e, k) for (_, _, k), e in made.items()] + [(e, k) for (_, _, k), e in ring.items()]
    return bricks


def revolve(rz, theta):
    c, s = math.cos(theta), math.sin(theta)
    if abs(c) < 1e-14:
        c = 0.0
    if abs(s) < 1e-14:
        s = 0.0
    return (rz[0] * c, rz[0] * s, rz[1])


def halves(values):
    """Values and the middles between them."""
    out = [values[0]]
    for a, b in zip(values, values[1:]):
        out += [(a + b) / 2, b]
    return out


def graded(start, stop, first, last, limit=200):
    """Stations from start to stop whose cells grow geometrically from about `first` to about `last`."""
    length = stop - start
    n = max(1, round(length / ((last - first) / math.log(last / first)) if abs(last / first - 1) > 1e-9 else length / first))
    n = min(n, limit)
    q = (last / first) ** (1.0 / max(1, n - 1)) if n > 1 else 1.0
    sizes = [q ** i for i in range(n)]
    total, at, out = sum(sizes), start, [start]
    for size in sizes:
        at += size / total * length
        out.append(at)
    out[-1] = stop
    return out


def cell(values, v):
    for i in range(len(values) - 1):
        if v <= values[i + 1] + 1e-12 or i == len(values) - 2:
            return i, max(-1.0, min(1.0, 2 * (v - values[i]) / (values[i + 1] - values[i]) - 1))


def brick_shape(x, y, z):
    out = []
    for a, b, c in BRICK:
        p, q, r = a - 1, b - 1, c - 1
        if p and q and r:
            out.append((1 + p * x) * (1 + q * y) * (1 + r * z) * (p * x + q * y + r * z - 2) / 8)
        elif not p:
            out.append((1 - x * x) * (1 + q * y) * (1 + r * z) / 4)
        elif not q:
            out.append((1 - y * y) * (1 + p * x) * (1 + r * z) / 4)
        else:
            out.append((1 - z * z) * (1 + p * x) * (1 + q * y) / 4)
    return out
