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


def around(theta):
    return -math.sin(theta), math.cos(theta), 0.0


def dot(a, b):
    return sum(x * y for x, y in zip(a, b))


class Surface:
    """The surface strand of one span: points from the host's exit to the wound and from there to the donor's entry."""

    def __init__(self, R_outer, alpha_wound, exit_, entry):
        """exit_, entry: (angle from the axis, theta)."""
        a, b = load.on_sphere(1.0, *exit_), load.on_sphere(1.0, *entry)
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
    def __init__(self, c, sides):
        t = c["t_graft_mm"]
        if c["t_rim_mm"] != t or c.get("nlgeom"):
            raise ValueError("a running thread wants equal walls, so that both sides share one outer sphere, and linear geometry")
        self.forces, self.springs, self.obliquity_deg = {}, [], []
        bites, s_wound, R_outer = c["bites"], sides.s_wound, sides.R + t / 2
        tension = [1e-3 * mN for mN in c["span_tension_mN"]]
        for k, bite in enumerate(bites):
            following, before = bites[(k + 1) % len(bites)], tension[k - 1]
            theta, fraction = math.radians(bite["deg"]), 0.5 - bite["depth_fraction"]
            for side, length, pull in ((-1, bite["graft_mm"], before), (1, bite["host_mm"], tension[k])):
                load.Strand(sides, side, length, bite["depth_fraction"] * t, pull, bite["deg"]).pull(self.forces)
            feet = {side: sides.foot(side, s_wound, fraction, theta) for side in (-1, 1)}
            for side in (-1, 1):
                feet[side].push_xyz([0.5 * (tension[k] - before) * v for v in sides.outward(theta)], self.forces)
            way = Surface(R_outer, sides.alpha, (sides.alpha + bite["host_mm"] / R_outer, theta),
                          (sides.alpha - following["graft_mm"] / R_outer, math.radians(following["deg"])))
            nothing = (0.0, 0.0, 0.0)                       # at exit and entry the deep strands have the other part of the turn
            sides.chain(1, way.host, nothing, way.direction, tension[k], self.forces)
            sides.chain(-1, way.donor, way.direction, nothing, tension[k], self.forces)
            length = c.get("crossing_length_mm")
            if length:
                for direction in (around(theta), load.on_sphere(1.0, sides.alpha, theta)):
                    self.springs.append(sides.spring(0.5 * (before + tension[k]) / length, feet[-1], feet[1], direction))
                feet = {side: sides.foot(side, s_wound, 0.5, way.theta) for side in (-1, 1)}
                self.springs.append(sides.spring(tension[k] / length * way.cos_obliquity ** 2, feet[-1], feet[1], around(way.theta)))
            self.obliquity_deg.append(math.degrees(math.acos(way.cos_obliquity)))

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
