"""What the wound's faces did: jumps and contact pressures from nodal displacements. Units mm, rad, MPa inside, kPa in the results.

Jumps are host - donor. Contact pressures are not ccx's own but k_c max(0, interference - jump). b_s of a face is the slope of the meridional
displacement over the thickness, least squares over the thickness.
"""

import math


def turn(c, mesh, moved, deg):
    """Mean of both sides' rotation of the thickness fibre at the wound, rad, positive when the outer end moves outward along the meridian; on
    the mesh's nearest meridian."""
    off = lambda theta: abs((math.degrees(theta) - deg + 180) % 360 - 180)
    nearest = min(off(theta) for theta, _ in mesh.node_sets["WOUND_D"].values())
    turns = []
    for side, t in (("D", c["t_graft_mm"]), ("H", c["t_rim_mm"])):
        for node, (theta, fraction) in mesh.node_sets["WOUND_" + side].items():
            if off(theta) < nearest + 1e-6 and abs(fraction) > 0.499:
                ux, uy, uz = moved[node]
                a = math.asin(c["wound_r_mm"] / c["R_mid_mm"])
                u = (ux * math.cos(theta) + uy * math.sin(theta)) * math.cos(a) - uz * math.sin(a)
                turns.append(u * (1 if fraction > 0 else -1) / t)
    return sum(turns) / (len(turns) / 2)


def results(c, mesh, moved):
    """Jumps and contact over the wound, from nodal displacements: host - donor, along the meridian, which with NLGEOM is the turned one."""
    lines, turned = {}, {}
    for side, t in (("D", c["t_graft_mm"]), ("H", c["t_rim_mm"])):
        for node, (theta, fraction) in mesh.node_sets["WOUND_" + side].items():
            ux, uy, uz = moved["WOUND_" + side][node]
            ct, st = math.cos(theta), math.sin(theta)
            ur, key = ux * ct + uy * st, round(theta, 9)
            if key not in turned:
                turned[key] = math.asin(c["wound_r_mm"] / c["R_mid_mm"])
                turned[key] += turn(c, mesh, {**moved["WOUND_D"], **moved["WOUND_H"]}, math.degrees(theta)) if c.get("nlgeom") else 0.0
            alpha = turned[key]
            lines.setdefault(key, {"D": [], "H": []})[side].append(
                (fraction * t, ur * math.cos(alpha) - uz * math.sin(alpha), ur * math.sin(alpha) + uz * math.cos(alpha), -ux * st + uy * ct))
    profile = []
    t_thin = min(c["t_graft_mm"], c["t_rim_mm"])
    for theta, sides in sorted(lines.items()):
        for s in sides.values():
            s.sort()
        jump_u, jump_b = mid_and_slope(sides["H"])[0] - mid_and_slope(sides["D"])[0], mid_and_slope(sides["H"])[1] - mid_and_slope(sides["D"])[1]
        depth = [(-0.5 + i / 40.0) * t_thin for i in range(41)]
        p = [c["kc_MPa_per_mm"] * max(0.0, c["interference_mm"] - along(sides["H"], z, 1) + along(sides["D"], z, 1)) for z in depth]
        gauss = [z * t_thin / 2 for z in (-0.9061798459, -0.5384693101, 0.0, 0.5384693101, 0.9061798459)]
        pg = [c["kc_MPa_per_mm"] * max(0.0, c["interference_mm"] - along(sides["H"], z, 1) + along(sides["D"], z, 1)) for z in gauss]
        linear = [c["kc_MPa_per_mm"] * max(0.0, c["interference_mm"] - jump_u - z * jump_b) for z in gauss]
        profile.append({"deg": math.degrees(theta), "u": jump_u, "bs": jump_b, "u_mid": along(sides["H"], 0.0, 1) - along(sides["D"], 0.0, 1),
                        "w_mid": along(sides["H"], 0.0, 2) - along(sides["D"], 0.0, 2),
                        "v_mid": along(sides["H"], 0.0, 3) - along(sides["D"], 0.0, 3),
                        "v": mid_and_slope(sides["H"], 3)[0] - mid_and_slope(sides["D"], 3)[0], "peak": max(p), "peak_gauss": max(pg),
                        "peak_linear_gauss": max(linear), "mean_p": (sum(p) - (p[0] + p[-1]) / 2) / 40})
    if c.get("domain") == "full":                           # once around: the place at the seam counts at both ends
        profile.insert(0, dict(profile[-1], deg=profile[-1]["deg"] - 360.0))
    mean = lambda key: trapezoid(profile, key)
    least = min(profile, key=lambda q: q["peak"])
    out = {"least_seal_kPa": 1e3 * least["peak"], "least_seal_deg": least["deg"],
           "least_seal_at_5_gauss_points_kPa": 1e3 * min(q["peak_gauss"] for q in profile),
           "least_seal_linear_fibre_at_5_gauss_points_kPa": 1e3 * min(q["peak_linear_gauss"] for q in profile),
           "mean_u_mm": mean("u_mid"), "mean_u_thickness_average_mm": mean("u"), "mean_bs_rad": mean("bs"), "mean_w_mm": mean("w_mid"),
           "mean_contact_kPa": 1e3 * mean("mean_p")}
    kept = ("deg", "u_mid", "bs", "w_mid", "peak", "mean_p")
    if c.get("domain") == "full":                           # mirror planes leave no turn of the donor
        out["mean_v_mm"], out["mean_v_thickness_average_mm"] = mean("v_mid"), mean("v")
        kept += ("v_mid",)
        out["profile_deg_u_bs_w_peakMPa_meanMPa_v"] = [[round(q[key], 6) for key in kept] for q in profile]
        return out
    out["profile_deg_u_bs_w_peakMPa_meanMPa"] = [[round(q[key], 6) for key in kept] for q in profile]
    return out


def mid_and_slope(line, component=1):
    """Thickness average and slope d/dz of a component of a line of (z, u, w, v), trapezoid weights on the interpolant."""
    z0, z1 = line[0][0], line[-1][0]
    n = 80
    zs = [z0 + (z1 - z0) * i / n for i in range(n + 1)]
    us = [along(line, z, component) for z in zs]
    ws = [0.5 if i in (0, n) else 1.0 for i in range(n + 1)]
    return sum(w * u for w, u in zip(ws, us)) / sum(ws), sum(w * z * u for w, z, u in zip(ws, zs, us)) / sum(w * z * z for w, z in zip(ws, zs))


def along(line, z, component):
    for a, b in zip(line, line[1:]):
        if z <= b[0] + 1e-12:
            f = (z - a[0]) / (b[0] - a[0])
            return a[component] + f * (b[component] - a[component])
    return line[-1][component]


def trapezoid(profile, key):
    total = sum((b["deg"] - a["deg"]) * (a[key] + b[key]) / 2 for a, b in zip(profile, profile[1:]))
    return total / (profile[-1]["deg"] - profile[0]["deg"])
