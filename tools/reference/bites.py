"""Single bites: one loop each, of prescribed tension, a strand on the surface and one in the tissue on either side. Units mm, N, rad.

Without `crossing_reach_mm` both strands go on along the meridian at the wound's face: right for a bite whose sides meet there. Others
(`host_deg`, `host_depth_fraction`, `graft_skew_mm`, `host_skew_mm`) need it: both strands end that far before the wound, and the thread between
the ends is a taut string, straight in space. 0: from face to face, as if these were `crossing_free_mm` (or 0) apart along the wound's meridian;
where the ends coincide it bisects the angle between the strands. The two sides' forces are in balance, force and moment. README.md says
which was chosen. With large displacements the string runs between the displaced ends, whose distance along the wound's meridian is less by
the interference than their displacements say: where the jump equals it the faces just touch.

`surface_strand` "straight": on the surface the shortest way from entry to exit.

Springs (`crossing_springs`): forces of fixed direction do not know that the string turns with its ends. To the first order that adds T / l times
what the ends of a string of length l move apart across it: sideways, and for the deep one at right angles to that too (on the surface the
tissue is in the way).
"""

import math

import load
import running
import wound


class Bite:
    def __init__(self, c, sides, bite):
        self.c, self.sides, self.tension = c, sides, 1e-3 * bite["tension_mN"]
        deg = {-1: bite["deg"], 1: bite.get("host_deg", bite["deg"])}
        depth = {-1: bite["depth_fraction"], 1: bite.get("host_depth_fraction", bite["depth_fraction"])}
        skew = {-1: bite.get("graft_skew_mm", 0.0), 1: bite.get("host_skew_mm", 0.0)}
        self.string, askew = c.get("crossing_reach_mm"), deg[-1] != deg[1] or any(skew.values())
        if self.string is None and (askew or depth[-1] * sides.t[-1] != depth[1] * sides.t[1]):
            raise ValueError("the sides of the bite at %g degrees do not meet: it needs crossing_reach_mm" % bite["deg"])
        if askew and sides.domain[1] - sides.domain[0] < 6.28:
            raise ValueError("the bite at %g degrees has no mirror image: it wants the domain full" % bite["deg"])
        self.deg = (deg[-1] + deg[1]) / 2
        length = {-1: bite["graft_mm"], 1: bite["host_mm"]}
        self.crossings, self.surface = [], None                # [(donor's strand, host's strand)], first that on the surface
        for way in (0.0, 1.0):
            self.crossings.append([load.Strand(sides, side, length[side], way * depth[side] * sides.t[side], self.tension, deg[side],
                                               skew[side], self.string or 0.0) for side in (-1, 1)])
        if c.get("surface_strand") == "straight":
            entries = [self.crossings[0][k].points[0] for k in (1, 0)]
            angles = [(math.atan2(math.hypot(x, y), z), math.atan2(y, x)) for x, y, z in entries]
            self.surface = running.Surface(sides.R + sides.t[1] / 2, sides.alpha, *angles)

    def outward(self, turn=0.0):
        return self.sides.outward(math.radians(self.deg), turn)

    def across(self, pair, moved=None, turn=0.0):
        """(Vector from the donor's end to the host's, as far as they really are apart; unit vector of the crossing)."""
        donor, host = (strand.path(moved) for strand in pair)
        longer = self.c.get("crossing_free_mm", 0.0) - (self.c["interference_mm"] if moved else 0.0)
        span = [b - a + longer * m for a, b, m in zip(donor[-1], host[-1], self.outward(turn))]
        length = math.hypot(*span)
        if length > 1e-6:
            return span, tuple(v / length for v in span)
        bisector = [a + b for a, b in zip(load.unit(donor[-2], donor[-1]), load.unit(host[-1], host[-2]))]
        return span, tuple(v / math.hypot(*bisector) for v in bisector)

    def pull(self, forces, mesh, moved=None):
        turn = wound.turn(self.c, mesh, moved, self.deg) if moved else 0.0
        for k, pair in enumerate(self.crossings):
            if k == 0 and self.surface:
                nothing, way = (0.0, 0.0, 0.0), self.surface
                self.sides.chain(1, way.host, nothing, way.direction, self.tension, forces)
                self.sides.chain(-1, way.donor, way.direction, nothing, self.tension, forces)
                continue
            direction = self.across(pair, moved, turn)[1] if self.string is not None else None
            for sign, strand in zip((1, -1), pair):
                strand.pull(forces, moved, turn, direction and tuple(sign * v for v in direction))

    def springs(self, forces):
        """The crossings' springs; adds to forces what they pull with where the faces just touch."""
        out = []
        for k, pair in enumerate(self.crossings):
            span, d = self.across(pair)
            feet, first = [strand.feet[-1] for strand in pair], cross(d, load.on_sphere(1.0, self.sides.alpha, math.radians(self.deg)))
            sideways = tuple(v / math.hypot(*first) for v in first)
            on_mirror = sum(w for w, _, _ in feet[0].nodes.values()) < 0.75        # half a footprint: the other half moves the other way
            directions = ([] if on_mirror else [sideways]) + [cross(d, sideways)][:k]
            for n in directions:
                stiffness = self.tension / math.hypot(*span)
                out.append(self.sides.spring(stiffness, *feet, n))
                at_rest = stiffness * self.c["interference_mm"] * running.dot(n, self.outward())
                for sign, foot in zip((-1, 1), feet):
                    foot.push_xyz([sign * at_rest * v for v in n], forces)
        return out


def cross(a, b):
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
