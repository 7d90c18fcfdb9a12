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

    def push_xyz(self, f, forces):
        """Adds a force (x, y, z) given at the sample's own angle; spread around, it turns with the meridian."""
        c, s = math.cos(self.theta0), math.sin(self.theta0)
        self.push(f[0] * c + f[1] * s, -f[0] * s + f[1] * c, f[2], forces)

    def displacement_xyz(self, moved):
        """The same as displacement, as (x, y, z) at the sample's own angle."""
        c, s = math.cos(self.theta0), math.sin(self.theta0)
        ur, ut, uz = self.displacement(moved)
        return ur * c - ut * s, ur * s + ut * c, uz

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


class Sides:
    """Donor (side -1) and host (+1) of a ring as loads see them: the places of a thread, its forces, springs between the faces."""

    def __init__(self, c, donor_zones, host_zones, s_wound, s_limbus, domain, sigma_s):
        self.R, self.s_wound, self.alpha, self.domain, self.sigma_s = c["R_mid_mm"], s_wound, s_wound / c["R_mid_mm"], domain, sigma_s
        self.t = {-1: c["t_graft_mm"], 1: c["t_rim_mm"]}
        self.zones, self.bounds = {-1: donor_zones, 1: host_zones}, {-1: (0.0, s_wound), 1: (s_wound, s_limbus)}

    def foot(self, side, s, fraction, theta):
        return Footprint(self.zones[side], s, fraction, wrap(theta, self.domain), self.domain, 0.15, self.sigma_s, self.bounds[side],
                         self.R * math.sin(s / self.R))

    def outward(self, theta, turn=0.0):
        """Along the wound's meridian, away from the axis; turn: by how much it has turned downward."""
        a = self.alpha + turn
        return math.cos(a) * math.cos(theta), math.cos(a) * math.sin(theta), -math.sin(a)

    def chain(self, side, points, first, last, tension, forces):
        """A thread on the outer surface as points in space; first, last: tangents before and after them."""
        tangents = [first] + [unit(p, q) for p, q in zip(points, points[1:])] + [last]
        for (x, y, z), before, after in zip(points, tangents, tangents[1:]):
            low, high = self.bounds[side]
            s = min(max(self.R * math.atan2(math.hypot(x, y), z), low), high)
            self.foot(side, s, 0.5, math.atan2(y, x)).push_xyz([tension * (b - a) for a, b in zip(before, after)], forces)

    @staticmethod
    def spring(stiffness, donor_foot, host_foot, direction):
        """On the mean of (host - donor) between two footprints along direction (x, y, z at their own angles). On a symmetry plane it is half
        a spring on half the weights, which add up to half the displacement."""
        terms, weight = {}, sum(w for w, _, _ in donor_foot.nodes.values())
        for sign, foot in ((-1, donor_foot), (1, host_foot)):
            foot.push_xyz([sign * v for v in direction], terms)
        return stiffness / weight, terms


class Strand:
    """One strand of a bite on one side (side -1 donor, +1 host) as a chain of samples from the entry toward the wound, pulling with `tension`.

    Surface strand: along the outer surface from distance `bite` (measured on the outer surface) to the wound. Deep strand: quarter ellipse
    from the same entry, perpendicular to the surface, to `depth` below the surface at the wound face, there along the meridian. skew: how
    far (mm, + counter-clockwise) the entry lies beside the meridian at which the strand crosses the wound; it comes back to it evenly along
    the surface. reach: it ends that far before the wound (on the outer surface, as `bite`) instead of at its face.
    The force at a sample is (next chord - last chord), at the entry the first chord, at the end (end direction - last chord): it sums to T.
    """

    def __init__(self, sides, side, bite, depth, tension, deg, skew=0.0, reach=0.0, spans=24):
        self.sides, self.side, self.tension, self.points, self.feet, self.theta = sides, side, tension, [], [], math.radians(deg)
        R, t = sides.R, sides.t[side]
        offset = skew / (R * math.sin(sides.alpha + side * bite / (R + t / 2)))
        for i in range(spans + 1):
            f = i / spans
            if depth:
                f *= math.acos(reach / bite) / (math.pi / 2)
                x, d = bite * math.cos(f * math.pi / 2), depth * math.sin(f * math.pi / 2)
            else:
                x, d = bite - (bite - reach) * f, 0.0
            a, rho, theta = sides.alpha + side * x / (R + t / 2), R + t / 2 - d, self.theta + offset * x / bite
            self.points.append(on_sphere(rho, a, theta))
            self.feet.append(sides.foot(side, R * a, 0.5 - d / t, theta))

    def path(self, moved=None):
        """Its points in space; moved: nodal displacements, for the path as it lies after them."""
        if not moved:
            return self.points
        return [tuple(a + b for a, b in zip(p, foot.displacement_xyz(moved))) for p, foot in zip(self.points, self.feet)]

    def pull(self, forces, moved=None, turn=0.0, beyond=None):
        """Adds the strand's forces. beyond: the direction in which the thread goes on from the end; if None, along the wound's meridian,
        which has turned downward by `turn` there."""
        points = self.path(moved)
        beyond = beyond or tuple(-self.side * v for v in self.sides.outward(self.theta, turn))
        tangents = [(0.0, 0.0, 0.0)] + [unit(p, q) for p, q in zip(points, points[1:])] + [beyond]
        for foot, last, following in zip(self.feet, tangents, tangents[1:]):
            foot.push_xyz([self.tension * (b - c) for b, c in zip(following, last)], forces)


def on_sphere(radius, alpha, theta):
    return radius * math.sin(alpha) * math.cos(theta), radius * math.sin(alpha) * math.sin(theta), radius * math.cos(alpha)


def unit(a, b):
    length = math.dist(a, b)
    return tuple((q - p) / length for p, q in zip(a, b))


def dipole_samples(R, r_in, r_out, force, fraction):
    """Two opposite forces along the meridian: outward at r_in, inward at r_out (radii of the mid-surface)."""
    out = []
    for r, sign in ((r_in, 1), (r_out, -1)):
        alpha = math.asin(r / R)
        out.append((R * alpha, fraction, sign * force * math.cos(alpha), -sign * force * math.sin(alpha)))
    return out
