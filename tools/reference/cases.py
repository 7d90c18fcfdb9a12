"""The reference cases: geometry, mesh, loads and what is read from the answer. Units mm, N, MPa, rad (bs), dioptres.

Choices that mechanics leaves open are made here, once:
- Fibres are normal to the mid-surface, so the wound faces are cut square; r = 4.125, 5.9, 3, 5 are radii of the MID-surface.
- At the limbus, where the slope of the mid-surface jumps, cornea and sclera share one mitred face of mean thickness; the fibre turns from it
  to the normal within LIMBUS_BLEND of arc on either side.
- Contact is ccx's face-to-face penalty contact on matching faces, clearance = -interference. Contact pressures in the results are not ccx's
  own; see wound.py.
"""

import math

import bites
import fit
import load
import mesh as m
import running
import solver
import wound

LIMBUS_BLEND = 0.25
MMHG = 133.322e-6            # MPa
CONTACT_AREA_GROWTH = 0.1972  # per mm: see contact_area_factor
FRICTION = 1.0               # high enough that what presses sticks, as "stick 0.3 MPa/mm" asks; 0.3 gives the same figures (ring_all)


def sphere(R, t, z0=0.0, around=None):
    """meridian(s, fraction) -> (r, z): fibres normal to a sphere of mid-surface radius R; s from the apex."""
    def place(s, fraction):
        rho = R + fraction * t
        return rho * math.sin(s / R), z0 + rho * math.cos(s / R)
    return place


def quadrants(domain):
    return {"quarter": [0.0], "half": [-math.pi / 2, 0.0], "full": [-math.pi, -math.pi / 2, 0.0, math.pi / 2]}[domain]


def angles(start, n):
    return [start + math.pi / 2 * i / n for i in range(n + 1)]


class Shell:
    """One spherical part from the pole, out to arc length s_end: core, then polar zones."""

    def __init__(self, mesh, part, R, t, stations, n_theta, layers, domain, core=1.7):
        self.mesh, self.R, self.t, self.part = mesh, R, t, part
        self.zones, self.inner, self.outer = [], [], []
        place = sphere(R, t)
        for start in quadrants(domain):
            th = angles(start, n_theta)
            bricks = m.add_core(mesh, part, place, core, th, layers)
            self.inner += [e for e, k in bricks if k == 0]
            self.outer += [e for e, k in bricks if k == layers - 1]
            self.add(place, stations, th, layers)

    def add(self, place, stations, th, layers, material=None):
        zone = m.Zone(self.mesh, self.part, place, stations, th, layers, material)
        self.inner += [e for (_, _, k), e in zone.elements.items() if k == 0]
        self.outer += [e for (_, _, k), e in zone.elements.items() if k == layers - 1]
        self.zones.append((stations[0], stations[-1], zone))
        return zone

    def tag_outer(self, name):
        for e in self.outer:
            for n in (4, 5, 6, 7, 12, 13, 14, 15):
                self.mesh.tag(name, self.mesh.elements[e - 1][n])

    def nodes_at_end(self, zone, which):
        """Nodes of the first or last face of a zone: {node: (theta, fraction)}."""
        out, half_t = {}, m.halves(zone.thetas)
        for (i, j, k), e in zone.elements.items():
            a = 0 if which == "first" else 2
            if i != (0 if which == "first" else len(zone.stations) - 2):
                continue
            for node, (p, q, r) in zip(self.mesh.elements[e - 1], m.BRICK):
                if p == a:
                    out[node] = (half_t[2 * j + q], (2 * k + r) / (2.0 * zone.layers) - 0.5)
        return out


def symmetry(mesh, domain):
    """Nodes on the symmetry planes: x = 0 (the 90 degree meridian) in a half and a quarter, y = 0 in a quarter, none all around."""
    if domain == "full":
        return {}
    fixed = {(1, 1): [n for n, p in enumerate(mesh.points, 1) if abs(p[0]) < 1e-9]}
    if domain == "quarter":
        fixed[2, 2] = [n for n, p in enumerate(mesh.points, 1) if abs(p[1]) < 1e-9]
    return fixed


def limits(domain):
    if domain == "full":                                    # the seam at 180 degrees is no plane of symmetry: both ends are one place
        return -math.pi, math.pi
    return (0.0 if domain == "quarter" else -math.pi / 2, math.pi / 2)


# ---- the cap held at its edge: pressure, dipoles -------------------------------------------------------------------------------------

def cap(c):
    """c: R, t, E, nu, edge_r, pressure_mmHg or dipoles (angles, r, force, fraction), mesh sizes. Returns mesh, deck text, Shell."""
    mesh, s_end = m.Mesh(), c["R_mid_mm"] * math.asin(c["edge_r_mm"] / c["R_mid_mm"])
    k = c["mesh"]
    if c.get("dipoles"):                        # fine around both rings of force
        R, d = c["R_mid_mm"], c["dipoles"]
        s3, s5 = (R * math.asin(r / R) for r in d["r_mm"])
        h, H = k["h_fine_mm"], k["h_coarse_mm"]
        mid = (s3 + s5) / 2
        st = m.graded(1.7, s3, H, h) + m.graded(s3, mid, h, H)[1:] + m.graded(mid, s5, H, h)[1:] + m.graded(s5, s_end, h, H)[1:]
    else:
        st = m.graded(1.7, s_end, k["h_coarse_mm"], k["h_fine_mm"])
    shell = Shell(mesh, "CAP", c["R_mid_mm"], c["t_mm"], st, k["around_quarter"], k["through"], "quarter")
    shell.tag_outer("OUTER")
    for s0, s1, zone in shell.zones:
        edge = list(shell.nodes_at_end(zone, "last"))
    mid = [n for n, p in enumerate(mesh.points, 1) if abs(math.dist(p, (0, 0, 0)) - c["R_mid_mm"]) < 1e-5]
    for n in mid:
        mesh.tag("MID", n)
    fixed = symmetry(mesh, "quarter")
    fixed[1, 3] = edge
    forces = {}
    if c.get("dipoles"):
        for deg in c["dipoles"]["angles_deg"]:
            samples = load.dipole_samples(c["R_mid_mm"], c["dipoles"]["r_mm"][0], c["dipoles"]["r_mm"][1], c["dipoles"]["force_N"],
                                          c["dipoles"]["fraction"])
            for s0, fraction, fr, fz in samples:
                load.Footprint(shell.zones, s0, fraction, math.radians(deg), limits("quarter"), 0.15, 0.12, (0.0, s_end),
                               c["R_mid_mm"] * math.sin(s0 / c["R_mid_mm"])).push(fr, 0.0, fz, forces)
    text = solver.deck(mesh, {"CAP": (c["E_MPa"], c["nu"])}, fixed, [(e, m.FACE_INNER) for e in shell.inner],
                       c.get("pressure_mmHg", 0) * MMHG, forces, printed=["OUTER", "MID"], nlgeom=c.get("nlgeom", False),
                       hyper=c.get("neo_hooke", False), increment=c.get("increment"))
    return mesh, text, shell


# ---- the sutured ring ----------------------------------------------------------------------------------------------------------------

def ring(c):
    """c: the keys of the ring case file, mesh sizes, domain. Returns mesh, deck text and what reading the answer needs."""
    mesh, domain, k = m.Mesh(), c.get("domain", "quarter"), c["mesh"]
    R, tg, tr = c["R_mid_mm"], c["t_graft_mm"], c["t_rim_mm"]
    s_w, s_l = R * math.asin(c["wound_r_mm"] / R), R * math.asin(c["limbus_r_mm"] / R)
    h, H, n, layers = k["h_fine_mm"], k["h_coarse_mm"], k["around_quarter"], k["through"]
    donor = Shell(mesh, "DONOR", R, tg, m.graded(1.7, s_w, H, h), n, layers, domain)
    donor.tag_outer("OUTER")

    R_s, t_s = c["sclera"]["R_mm"], c["sclera"]["t_mm"]
    a_c, a_s = math.asin(c["limbus_r_mm"] / R), math.asin(c["limbus_r_mm"] / R_s)
    z_s = R * math.cos(a_c) - R_s * math.cos(a_s)          # centre of the scleral sphere
    s_end = s_l + R_s * (math.radians(150) - a_s)
    miter, t_m = (a_c + a_s) / 2, (tr + t_s) / 2

    def meridian(s, fraction):                              # rim and sclera as one, the fibre turning around the limbus
        if s <= s_l:
            a = s / R
            r, z, normal, t = R * math.sin(a), R * math.cos(a), a, tr
        else:
            a = a_s + (s - s_l) / R_s
            r, z, normal, t = R_s * math.sin(a), z_s + R_s * math.cos(a), a, t_s
        blend = max(0.0, 1 - abs(s - s_l) / LIMBUS_BLEND)
        at_limbus = a_c if s <= s_l else a_s
        normal += blend * (miter - at_limbus)
        t += blend * (t_m - t)
        return r + fraction * t * math.sin(normal), z + fraction * t * math.cos(normal)

    rim = Shell.__new__(Shell)
    rim.mesh, rim.R, rim.t, rim.part, rim.zones, rim.inner, rim.outer = mesh, R, tr, "HOST", [], [], []
    b = LIMBUS_BLEND
    rim_stations = m.graded(s_w, s_l - b, h, 0.45) + [s_l - b / 2, s_l]
    sclera_stations = [s_l, s_l + b / 2, s_l + b] + m.graded(s_l + b, s_end, 0.4, 3.0)[1:]
    sclera_zones = []
    for start in quadrants(domain):
        th = angles(start, n)
        rim.add(meridian, rim_stations, th, layers, "RIM")
        sclera_zones.append(rim.add(meridian, sclera_stations, th, layers, "SCLERA"))

    edges = {"D": {}, "H": {}}
    for _, s1, zone in donor.zones:
        edges["D"].update(donor.nodes_at_end(zone, "last"))
        last = len(zone.stations) - 2
        mesh.add_faces("SLAVE", [e for (i, _, _), e in zone.elements.items() if i == last], m.FACE_I_MAX)
    for s0, _, zone in rim.zones:
        if abs(s0 - s_w) < 1e-9:
            edges["H"].update(rim.nodes_at_end(zone, "first"))
            mesh.add_faces("MASTER", [e for (i, _, _), e in zone.elements.items() if i == 0], m.FACE_I_MIN)
    held = [node for zone in sclera_zones for node in rim.nodes_at_end(zone, "last")]
    for side in "DH":
        for node, where in edges[side].items():
            mesh.tag("WOUND_" + side, node, where)

    sides = load.Sides(c, donor.zones, rim.zones, s_w, s_l, limits(domain), k.get("sigma_s_mm", 0.1))
    thread = running.Running(c, sides) if "span_tension_mN" in c else None
    singles = [bites.Bite(c, sides, bite) for bite in c["bites"]
               if thread is None and load.wrap(math.radians(bite["deg"]), limits(domain)) is not None]     # the others: mirror images
    fixed = symmetry(mesh, domain)
    fixed[1, 3] = held
    faces = [(e, m.FACE_INNER) for e in donor.inner + rim.inner]
    contact = {"slave": "SLAVE", "master": "MASTER", "kc": c["kc_MPa_per_mm"] / contact_area_factor(c),
               "kt": c["kt_MPa_per_mm"] / contact_area_factor(c), "mu": c.get("mu", FRICTION),
               "interference": c["interference_mm"]}
    sclera = (c["sclera"]["E_MPa"], c["nu"])
    materials = {"DONOR": (c["E_MPa"], c["nu"]), "RIM": (c["E_MPa"], c["nu"]), "SCLERA": sclera}

    def write(moved=None):
        """The deck; moved: nodal displacements whose thread paths the forces shall follow."""
        forces, springs = ({n: list(f) for n, f in thread.forces.items()}, thread.springs) if thread else ({}, [])
        for bite in singles:
            bite.pull(forces, mesh, moved)
            if c.get("crossing_springs"):
                springs = springs + bite.springs(forces)
        return solver.deck(mesh, materials, fixed, faces, c["pressure_mmHg"] * MMHG, forces, contact,
                           ["OUTER", "WOUND_D", "WOUND_H"] + (["NALL"] if c.get("nlgeom") else []), nlgeom=c.get("nlgeom", False),
                           hyper=c.get("neo_hooke", False), increment=c.get("increment"), springs=springs)
    return mesh, write, thread or donor


def contact_area_factor(c):
    """By how much ccx overrates the wound's area. It integrates over faces displaced by the clearance, here to a larger radius; with every
    node held it reported 3.651592 mm2 (interference 0.125 mm) and 3.564447 (0.001) where the quarter has 3.563744. Mesh and thickness do not
    matter (3 meshes: 1.0246 to 1.0249); a flat pair has the right area. The stiffnesses are divided by it: k_c is per undeformed area."""
    return 1 + CONTACT_AREA_GROWTH * c["interference_mm"] * 4.125 / c["wound_r_mm"]


def surface(mesh, moved, name="OUTER"):
    """[(r, theta deg, ux, uy, uz)] of the undeformed outer nodes and the deformed points."""
    rows, points = [], []
    for node, u in sorted(moved[name].items()):
        p = mesh.points[node - 1]
        rows.append((math.hypot(p[0], p[1]), math.degrees(math.atan2(p[1], p[0])) if p[0] or p[1] else 0.0, u, p))
        points.append(tuple(a + b for a, b in zip(p, u)))
    return rows, points


def curvatures(mesh, moved, domain):
    """fit.definitions of the deformed surface, of the surface with z moved only, and of the undeformed surface."""
    planes = {"quarter": "xy", "half": "x", "full": ""}[domain]
    rows, points = surface(mesh, moved)
    kept = lambda pts: fit.mirrored([q for q, row in zip(pts, rows) if row[0] < 3.4], planes)
    before = [row[3] for row in rows]
    lifted = [(p[0], p[1], p[2] + row[2][2]) for p, row in zip(before, rows)]
    out = {}
    for name, pts in (("deformed", points), ("z_moved_only", lifted), ("undeformed", before)):
        out[name], rms = fit.definitions(kept(pts))
        out[name]["smooth_rms_mm"] = rms
    return out
