"""A running thread's forces on the ring: a closed loop that enters each bite on the donor side. Units mm, N, rad.

In the tissue it lies in the meridian of its bite, donor side and host side each the deep strand of load.Strand, and crosses the wound along
the meridian. From the exit in the host it runs on the outer surface along a great circle to the entry in the donor of the next bite, which is
where that bite's needle went in. Span k, of one tension, leaves bite k: host half of bite k, surface, donor half of bite k + 1. All of it is
sampled; the force on the tissue at a sample is tension times (next chord - last chord). Where two tensions meet, in a bite's wound crossing,
their difference goes to the tissue there along the meridian, half to the donor and half to the host. What the thread does to the tissue as a
whole is then in balance, whatever the tensions.

Springs: a free strand of length l over the wound, of tension T, resists T / l times what it is displaced sideways. The solids' forces are of
fixed direction and know nothing of that, so it is put in as a linear spring on the mean displacement (host - donor) of the strand's footprint:
of a deep crossing along the circumference and along the normal, of a surface crossing along the circumference, times the squared cosine of the
strand's angle to the meridian. Each spring sits where its strand crosses, in place and depth.
"""

import math

import load

SPANS = 24      # of each part of the way: host surface, donor surface, each deep strand


def on_sphere(radius, alpha, theta):
    return (radius * math.sin(alpha) * math.cos(theta), radius * math.sin(alpha) * math.sin(theta), radius * math.cos(alpha))


def dot(a, b):
    return sum(x * y for x, y in zip(a, b))


def chord(a, b):
    length = math.dist(a, b)
    return tuple((q - p) / length for p, q in zip(a, b))


class Surface:
    """The surface strand of one span: points from the host's exit to the wound and from there to the donor's entry."""

    def __init__(self, R_outer, alpha_wound, exit_, entry):
        """exit_, entry: (angle from the axis, theta)."""
        a, b = on_sphere(1.0, *exit_), on_sphere(1.0, *entry)
        whole = math.acos(dot(a, b))
        # on the way by x: (a sin(whole - x) + b sin x) / sin whole; its height is A cos x + B sin x
        A, B = a[2], (b[2] - a[2] * math.cos(whole)) / math.sin(whole)
        steepest, reach = math.atan2(B, A), math.acos(math.cos(alpha_wound) / math.hypot(A, B))
        at_wound, = [x for x in (steepest - reach, steepest + reach) if 0.0 < x < whole]
        at = lambda x: tuple((p * math.sin(whole - x) + q * math.sin(x)) / math.sin(whole) for p, q in zip(a, b))
        self.direction = tuple((-p * math.cos(whole - x) + q * math.cos(x)) / math.sin(whole) for p, q, x in
                               ((p, q, at_wound) for p, q in zip(a, b)))
        scaled = lambda p: tuple(R_outer * v for v in p)
        self.host = [scaled(at(at_wound * i / SPANS)) for i in range(SPANS + 1)]
        self.donor = [scaled(at(at_wound + (whole - at_wound) * i / SPANS)) for i in range(SPANS + 1)]
        x, y, _ = self.donor[0]
        self.theta = math.atan2(y, x)
        inward = (-math.cos(alpha_wound) * math.cos(self.theta), -math.cos(alpha_wound) * math.sin(self.theta), math.sin(alpha_wound))
        self.cos_obliquity = dot(self.direction, inward)


class Running:
    def __init__(self, c, donor_zones, host_zones, s_wound, s_limbus, domain, sigma_s):
        self.R, self.t, self.alpha = c["R_mid_mm"], c["t_graft_mm"], s_wound / c["R_mid_mm"]
        if c["t_rim_mm"] != self.t or c.get("nlgeom"):
            raise ValueError("a running thread wants equal walls, so that both sides share one outer sphere, and linear geometry")
        self.zones, self.bounds = {-1: donor_zones, 1: host_zones}, {-1: (0.0, s_wound), 1: (s_wound, s_limbus)}
        self.s_wound, self.domain, self.sigma_s = s_wound, domain, sigma_s
        self.forces, self.springs, self.obliquity_deg = {}, [], []
        bites = c["bites"]
        tension = [1e-3 * mN for mN in c["span_tension_mN"]]
        for k, bite in enumerate(bites):
            following, before = bites[(k + 1) % len(bites)], tension[k - 1]
            depth = bite["depth_fraction"] * self.t
            for side, length, pull in ((-1, bite["graft_mm"], before), (1, bite["host_mm"], tension[k])):
                load.Strand(self.zones[side], self.R, self.t, s_wound, side, length, depth, pull, bite["deg"], domain, sigma_s,
                            self.bounds[side]).pull(self.forces)
            theta, R_outer = math.radians(bite["deg"]), self.R + self.t / 2
            outward = (math.cos(self.alpha), 0.0, -math.sin(self.alpha))
            for side in (-1, 1):
                self.foot(side, s_wound, 0.5 - bite["depth_fraction"], theta).push(
                    *(0.5 * (tension[k] - before) * v for v in outward), self.forces)
            way = Surface(R_outer, self.alpha, (self.alpha + bite["host_mm"] / R_outer, theta),
                          (self.alpha - following["graft_mm"] / R_outer, math.radians(following["deg"])))
            nothing = (0.0, 0.0, 0.0)                       # at exit and entry the deep strands have the other part of the turn
            self.strand(1, way.host, nothing, way.direction, tension[k])
            self.strand(-1, way.donor, way.direction, nothing, tension[k])
            length = c.get("crossing_length_mm")
            if length:
                around, normal = (0.0, 1.0, 0.0), (math.sin(self.alpha), 0.0, math.cos(self.alpha))
                self.spring(theta, 0.5 - bite["depth_fraction"], around, 0.5 * (before + tension[k]) / length)
                self.spring(theta, 0.5 - bite["depth_fraction"], normal, 0.5 * (before + tension[k]) / length)
                self.spring(way.theta, 0.5, around, tension[k] / length * way.cos_obliquity ** 2)
            self.obliquity_deg.append(math.degrees(math.acos(way.cos_obliquity)))

    def foot(self, side, s, fraction, theta):
        return load.Footprint(self.zones[side], s, fraction, load.wrap(theta, self.domain), self.domain, 0.15, self.sigma_s,
                              self.bounds[side], self.R * math.sin(s / self.R))

    def strand(self, side, points, first, last, tension):
        """Points in space along the thread, on the outer surface; first, last: tangents before and after them."""
        tangents = [first] + [chord(p, q) for p, q in zip(points, points[1:])] + [last]
        for (x, y, z), before, after in zip(points, tangents, tangents[1:]):
            theta, s = math.atan2(y, x), self.R * math.atan2(math.hypot(x, y), z)
            low, high = self.bounds[side]
            fx, fy, fz = (tension * (b - a) for a, b in zip(before, after))
            ct, st = math.cos(theta), math.sin(theta)
            self.foot(side, min(max(s, low), high), 0.5, theta).push(fx * ct + fy * st, -fx * st + fy * ct, fz, self.forces)

    def spring(self, theta, fraction, direction, stiffness):
        """On the mean of (host - donor) along direction (radial, circumferential, axial)."""
        terms = {}
        for side in (-1, 1):
            unit = {}
            self.foot(side, self.s_wound, fraction, theta).push(*(side * v for v in direction), unit)
            terms.update(unit)                              # the sides share no node
        self.springs.append((stiffness, terms))

    def results(self, mesh):
        """What the thread does to the donor, and what is left over on both sides together: of spreading, which turns forces."""
        donor = {n for nodes, part in zip(mesh.elements, mesh.element_part) if part == "DONOR" for n in nodes}
        total, moment = balance(mesh, self.forces)
        return {"span_obliquity_deg": self.obliquity_deg, "thread_torque_on_donor_Nmm": balance(mesh, self.forces, donor)[1][2],
                "thread_left_over_N": math.hypot(*total), "thread_left_over_Nmm": math.hypot(*moment)}


def balance(mesh, forces, nodes=None):
    """Resultant and moment about the origin (N, N mm) of nodal forces, of some nodes only where given."""
    total, moment = [0.0] * 3, [0.0] * 3
    for n, f in forces.items():
        if nodes is not None and n not in nodes:
            continue
        p = mesh.points[n - 1]
        for i in range(3):
            total[i] += f[i]
            j, k = (i + 1) % 3, (i + 2) % 3
            moment[i] += p[j] * f[k] - p[k] * f[j]
    return total, moment
