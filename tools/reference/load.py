"""Forces on the mesh: thread strands and force dipoles, as nodal forces that keep total force and (to the order of the brick) moment.

A sample is (s, fraction of thickness -0.5..0.5, force along the radius, force along the axis) in the plane of one meridian. Every sample is
spread by a Gaussian around (sigma 0.15 mm, along the circle of the mid-surface) and one along the meridian; the force turns with the
meridian around the axis. Near a free edge the meridional spread narrows, symmetrically, so that no moment is lost.
"""

import math


class Footprint:
    """Where one sample acts: node -> (weight, weight cos theta, weight sin theta). The same weights give the sample's displacement."""

    def __init__(self, zones, s0, fraction, theta0, domain, sigma_theta, sigma_s, bounds, radius):
        """zones: [(s0, s1, Zone)]; domain = (theta min, theta max) of the model: what falls outside belongs to the mirror image, what
        falls on a symmetry plane counts half. bounds = (s min, s max) of the part; radius of the circle that sigma_theta lies on."""
        self.nodes, self.theta0 = {}, theta0
        along = gaussian(max(0.0, min(sigma_s, (bounds[1] - s0) / 3.3, (s0 - bounds[0]) / 3.3)), 13, 3.0)
        around = gaussian(sigma_theta / radius, 49, 4.0)
        for ds, ws in along:
            for dt, wt in around:
                theta, weight = wrap(theta0 + dt, domain), ws * wt
                if theta is None:
                    continue
                if min(theta - domain[0], domain[1] - theta) < 1e-9 and domain[1] - domain[0] < 6.28:
                    weight *= 0.5
                nodes, shape = find(zones, s0 + ds, theta).locate(s0 + ds, theta, fraction)
                c, s = math.cos(theta), math.sin(theta)
                for node, n in zip(nodes, shape):
                    w = self.nodes.setdefault(node, [0.0, 0.0, 0.0])
                    w[0] += weight * n
                    w[1] += weight * n * c
                    w[2] += weight * n * s

    def push(self, fr, ft, fz, forces):
        """Adds a force (radial, circumferential, axial) to forces {node: [fx, fy, fz]}."""
        for node, (w, c, s) in self.nodes.items():
            f = forces.setdefault(node, [0.0, 0.0, 0.0])
            f[0] += fr * c - ft * s
            f[1] += fr * s + ft * c
            f[2] += fz * w

    def displacement(self, moved):
        """Mean (radial, circumferential, axial) displacement, the work conjugate of push."""
        total = sum(w for w, _, _ in self.nodes.values())
        ur = sum(moved[n][0] * c + moved[n][1] * s for n, (_, c, s) in self.nodes.items())
        ut = sum(moved[n][1] * c - moved[n][0] * s for n, (_, c, s) in self.nodes.items())
        uz = sum(moved[n][2] * w for n, (w, _, _) in self.nodes.items())
        return ur / total, ut / total, uz / total


def find(zones, s, theta):
    for s0, s1, zone in zones:
        if s0 - 1e-9 <= s <= s1 + 1e-9 and zone.thetas[0] - 1e-9 <= theta <= zone.thetas[-1] + 1e-9:
            return zone
    raise ValueError("no zone of the mesh at s = %g, theta = %g" % (s, theta))


def wrap(theta, domain):
    for turn in (-2 * math.pi, 0.0, 2 * math.pi):
        if domain[0] - 1e-9 <= theta + turn <= domain[1] + 1e-9:
            return min(max(theta + turn, domain[0]), domain[1])
    return None


def gaussian(sigma, n, reach):
    """Equidistant (offset, weight) pairs over +-reach sigma, weights summing to 1 and variance made exactly sigma^2."""
    if sigma < 1e-9:
        return [(0.0, 1.0)]
    x = [reach * (2.0 * i / (n - 1) - 1) for i in range(n)]
    w = [math.exp(-v * v / 2) for v in x]
    total = sum(w)
    scale = sigma / math.sqrt(sum(wi * v * v for wi, v in zip(w, x)) / total)
    return [(scale * v, wi / total) for v, wi in zip(x, w)]


class Strand:
    """One strand of a bite on one side (side -1 donor, +1 host) as a chain of samples from the entry to the wound, pulling with `tension`.

    Surface strand: along the outer surface from distance `bite` (measured on the outer surface) to the wound. Deep strand: quarter ellipse
    from the same entry, perpendicular to the surface, to `depth` below the surface at the wound face, there along the meridian. The force
    at a sample is (next chord - last chord), at the entry the first chord, at the wound (end direction - last chord): it sums to T.
    """

    def __init__(self, zones, R, t, s_wound, side, bite, depth, tension, deg, domain, sigma_s, bounds, spans=24):
        self.side, self.tension, self.points, self.feet, self.deg = side, tension, [], [], deg
        self.alpha = s_wound / R
        for i in range(spans + 1):
            f = i / spans
            x, d = (bite * math.cos(f * math.pi / 2), depth * math.sin(f * math.pi / 2)) if depth else (bite * (1 - f), 0.0)
            a, rho = self.alpha + side * x / (R + t / 2), R + t / 2 - d
            self.points.append((rho * math.sin(a), 0.0, rho * math.cos(a)))
            self.feet.append(Footprint(zones, R * a, 0.5 - d / t, math.radians(deg), domain, 0.15, sigma_s, bounds, R * math.sin(a)))

    def pull(self, forces, moved=None, turn=0.0):
        """Adds the strand's forces; moved: nodal displacements, for the path as it lies after them; turn: by how much the wound's meridian
        has turned downward there."""
        points = self.points
        if moved:
            points = [tuple(a + b for a, b in zip(p, foot.displacement(moved))) for p, foot in zip(points, self.feet)]
        tangents = [(0.0, 0.0, 0.0)]
        for p, q in zip(points, points[1:]):
            length = math.dist(p, q)
            tangents.append(tuple((b - a) / length for a, b in zip(p, q)))
        a = self.alpha + turn
        tangents.append((-self.side * math.cos(a), 0.0, self.side * math.sin(a)))
        for foot, last, following in zip(self.feet, tangents, tangents[1:]):
            foot.push(*(self.tension * (b - c) for b, c in zip(following, last)), forces)


def dipole_samples(R, r_in, r_out, force, fraction):
    """Two opposite forces along the meridian: outward at r_in, inward at r_out (radii of the mid-surface)."""
    out = []
    for r, sign in ((r_in, 1), (r_out, -1)):
        alpha = math.asin(r / R)
        out.append((R * alpha, fraction, sign * force * math.cos(alpha), -sign * force * math.sin(alpha)))
    return out
