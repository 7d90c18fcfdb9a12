#!/usr/bin/env python3
"""Runs reference cases with CalculiX and records them: run.py CASE... | all; "small" only prints cap_coarse. See README.md."""

import json
import math
import os
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import cases
import solver
import wound

HERE = os.path.dirname(os.path.abspath(__file__))
DATA = os.path.join(HERE, "..", "..", "tests", "data", "reference")

CAP = {"R_mid_mm": 7.6, "t_mm": 0.55, "E_MPa": 1.0, "nu": 0.45, "edge_r_mm": 5.9}
DIPOLES = {"angles_deg": [90, 270], "r_mm": [3.0, 5.0], "force_N": 0.01}
FINE = {"h_fine_mm": 0.12, "h_coarse_mm": 0.3, "around_quarter": 24, "through": 4}
CAP_MESH = {"h_fine_mm": 0.1, "h_coarse_mm": 0.3, "around_quarter": 12, "through": 4}
LARGE = {"nlgeom": True, "neo_hooke": True, "increment": "0.5, 1."}
RELAX = 0.6     # a taut thread stiffens the tissue sideways; forces that lag one pass overshoot, so passes are blended
COARSE = {"h_fine_mm": 0.18, "h_coarse_mm": 0.35, "around_quarter": 16, "through": 3}
LIGHT = {"h_fine_mm": 0.25, "h_coarse_mm": 0.5, "around_quarter": 12, "through": 2}
LIGHTEST = {"h_fine_mm": 0.3, "h_coarse_mm": 0.6, "around_quarter": 10, "through": 2}
RING = {"R_mid_mm": 7.6, "t_graft_mm": 0.55, "t_rim_mm": 0.55, "E_MPa": 1.0, "nu": 0.45, "wound_r_mm": 4.125, "limbus_r_mm": 5.9,
        "sclera": {"R_mm": 11.5, "t_mm": 0.8, "E_MPa": 2.5}, "kc_MPa_per_mm": 1.0, "kt_MPa_per_mm": 0.3, "interference_mm": 0.125,
        "pressure_mmHg": 15}


def bites(n=16, tension=10.0, tight=(), tight_tension=20.0, graft=1.25, host=1.0, depth=0.9):
    return [{"deg": 360.0 * i / n, "graft_mm": graft, "host_mm": host, "depth_fraction": depth,
             "tension_mN": tight_tension if 360.0 * i / n in tight else tension} for i in range(n)]


def ring(**changes):
    return dict(RING, mesh=FINE, **changes)


def running(n=16, tension=10.0, tight=(), tight_tension=20.0, crossing_length_mm=0.3, **changes):
    """One thread through all bites, counter-clockwise. tight: the bites (deg) that a tight span leaves."""
    laid = [{k: v for k, v in bite.items() if k != "tension_mN"} for bite in bites(n)]
    return dict(RING, mesh=COARSE, domain="full", bites=laid, mu=100.0, crossing_length_mm=crossing_length_mm,
                span_tension_mN=[tight_tension if bite["deg"] in tight else tension for bite in laid], **changes)


def odd(mesh=LIGHT, domain="full", string=True, springs=True, reach=0.15, more=(), **bite):
    """Sixteen bites, the one at 270 degrees laid otherwise: `bite` its keys. string: bites cross the wound as taut strings (bites.py)."""
    laid = [dict(b, **(bite if b["deg"] == 270.0 else {})) for b in bites()]
    crossing = {"crossing_reach_mm": reach, **({"crossing_springs": True} if springs else {})} if string else {}
    return dict(RING, mesh=mesh, domain=domain, bites=laid, mu=100.0, **crossing, **dict(more))


PAIR = (90.0, 270.0)
CASES = {
    "cap_coarse": ("cap", dict(CAP, pressure_mmHg=15, mesh={"h_fine_mm": 0.5, "h_coarse_mm": 0.7, "around_quarter": 6, "through": 2})),
    "cap_pressure": ("cap", dict(CAP, pressure_mmHg=15, mesh=CAP_MESH)),
    "cap_dipoles_outer": ("cap", dict(CAP, dipoles=dict(DIPOLES, fraction=0.5), mesh=FINE)),
    "cap_dipoles_mid": ("cap", dict(CAP, dipoles=dict(DIPOLES, fraction=0.0), mesh=FINE)),
    "ring_all": ("ring", ring(bites=bites())),
    "ring_pair": ("ring", ring(bites=bites(tight=PAIR))),
    "ring_half_depth_all": ("ring", ring(bites=bites(depth=0.5))),
    "ring_half_depth_pair": ("ring", ring(bites=bites(depth=0.5, tight=PAIR))),
    "ring_larger_donor": ("ring", ring(bites=bites(), interference_mm=0.25)),
    "ring_eight_thick_rim": ("ring", ring(bites=bites(n=8, tension=12.0, graft=1.0, host=1.0, depth=0.85), t_rim_mm=0.65)),
    "ring_eight_thick_rim_strung": ("ring", ring(bites=bites(n=8, tension=12.0, graft=1.0, host=1.0, depth=0.85), t_rim_mm=0.65,
                                                 mu=100.0, crossing_reach_mm=0.15, crossing_springs=True)),
    "ring_eight_tight": ("ring", ring(bites=bites(n=8, tension=25.0, graft=1.0, host=1.0, depth=0.85))),
    "ring_single": ("ring", dict(RING, mesh=COARSE, domain="half", bites=bites(tight=(90.0,)))),
    "ring_running": ("ring", running()),
    "ring_running_unsprung": ("ring", running(crossing_length_mm=None)),
    "ring_running_uneven": ("ring", running(tight=(67.5, 90.0))),
    "ring_shifted": ("ring", odd(string=False, deg=281.0)),
    "ring_short": ("ring", odd(COARSE, "half", string=False, graft_mm=0.6, host_mm=0.6)),
    "ring_shallow_host": ("ring", odd(COARSE, "half", host_depth_fraction=0.45)),
    "ring_shallow_donor": ("ring", odd(COARSE, "half", depth_fraction=0.45, host_depth_fraction=0.9)),
    "ring_skewed": ("ring", odd(graft_skew_mm=-0.3, host_skew_mm=0.3)),
    "ring_skewed_free": ("ring", odd(reach=0.0, graft_skew_mm=-0.3, host_skew_mm=0.3, more={"crossing_free_mm": 0.3})),
    "ring_oblique_4": ("ring", odd(host_deg=274.0)),
    "ring_oblique": ("ring", odd(host_deg=281.0)),
    "ring_oblique_unsprung": ("ring", odd(host_deg=281.0, springs=False)),
    "ring_oblique_free": ("ring", odd(host_deg=281.0, reach=0.0, more={"crossing_free_mm": 0.3})),
    "ring_oblique_free_unsprung": ("ring", odd(host_deg=281.0, springs=False, reach=0.0, more={"crossing_free_mm": 0.3})),
    "ring_oblique_straight": ("ring", odd(host_deg=281.0, springs=False, more={"surface_strand": "straight"})),
    "cap_pressure_large": ("cap", dict(CAP, pressure_mmHg=15, mesh=CAP_MESH, **LARGE)),
    "ring_all_large": ("ring", dict(RING, mesh=COARSE, bites=bites(), thread_passes=4, **LARGE)),
    "ring_pair_large": ("ring", dict(RING, mesh=COARSE, bites=bites(tight=PAIR), thread_passes=8, thread_blend=0.4, **LARGE)),
    "ring_oblique_large": ("ring", odd(LIGHTEST, springs=False, host_deg=281.0, more=dict(LARGE, thread_passes=5, thread_blend=0.6))),
}


def solve(name, folder):
    kind, case = CASES[name]
    mesh, deck, shell_or_thread = getattr(cases, kind)(case)
    moved, seconds, _ = solver.run(deck if kind == "cap" else deck(), folder, name)
    passes, path, blend = [seconds], moved.get("NALL"), case.get("thread_blend", RELAX)
    for i in range(case.get("thread_passes", 0)):
        moved, seconds, _ = solver.run(deck(path), folder, name)
        passes.append(seconds)
        seconds = sum(passes)
        out_of_place = max(math.dist(u, path[n]) for n, u in moved["NALL"].items())
        print("%s: pass %d along the moved threads, largest change %.2e mm" % (name, i + 1, out_of_place), file=sys.stderr, flush=True)
        path = {n: tuple(a + blend * (b - a) for a, b in zip(u, moved["NALL"][n])) for n, u in path.items()}
    out = {"case": name, "kind": kind, "program": "CalculiX ccx " + solver.version(), "input": case,
           "unknowns": 3 * len(mesh.points), "bricks": len(mesh.elements), "run_s": round(seconds, 1), "threads": 2}
    if len(passes) > 1:
        out["thread_passes_last_change_mm"] = out_of_place
    results = out["results"] = {}
    domain = case.get("domain", "quarter")
    if kind == "cap":
        apex = lambda s: next(moved[s][n][2] for n in moved[s] if math.hypot(*mesh.points[n - 1][:2]) < 1e-9)
        results["apex_mid_mm"], results["apex_outer_mm"] = apex("MID"), apex("OUTER")
        results["mid_profile_on_0_deg_s_u_w_mm"] = profile(mesh, moved["MID"], case["R_mid_mm"])
    else:
        results.update(wound.results(case, mesh, moved))
    if "span_tension_mN" in case:
        results.update(shell_or_thread.results(mesh))
    if name != "cap_coarse":                    # too coarse for a curvature
        results["curvature"] = cases.curvatures(mesh, moved, domain)
        rows, _ = cases.surface(mesh, moved)
        results["outer_r_deg_ux_uy_uz"] = thinned(rows)
    return out


def solve_in_scratch(name):
    kept = os.environ.get("REFERENCE_SCRATCH")
    if kept:
        return solve(name, kept)
    with tempfile.TemporaryDirectory(prefix="ccx-") as folder:
        return solve(name, folder)


def profile(mesh, moved, R):
    rows = []
    for n, (ux, uy, uz) in moved.items():
        x, y, z = mesh.points[n - 1]
        if abs(y) < 1e-9:
            a = math.atan2(x, z)
            rows.append([R * a, ux * math.cos(a) - uz * math.sin(a), ux * math.sin(a) + uz * math.cos(a)])
    return [[round(v, 7) for v in row] for row in sorted(rows)][::2]


def thinned(rows):
    """Outer nodes for later fits: about 0.16 mm apart within r = 1.8 mm, on meridians 11.25 degrees apart beyond."""
    out, kept = [], []
    for r, deg, u, p in sorted(rows):
        on_line = abs(deg / 11.25 - round(deg / 11.25)) < 1e-3
        apart = 0.16 if r < 1.8 else 0.35
        if (r < 1.8 or on_line) and all(math.dist(p, q) > apart for q in kept):
            kept.append(p)
            out.append([round(r, 6), round(deg, 5)] + [float("%.6g" % v) for v in u])
    return out


def text(value, depth=0):
    """JSON with one line for every leaf object or row of numbers, floats to 7 digits: short, and readable in a diff."""
    if isinstance(value, float):
        return "%.7g" % value
    if depth < 4 and isinstance(value, dict) and any(isinstance(v, (dict, list)) for v in value.values()):
        inner = ",\n".join(" " * (depth + 1) + json.dumps(k) + ": " + text(v, depth + 1) for k, v in value.items())
        return "{\n" + inner + "\n" + " " * depth + "}" + ("" if depth else "\n")
    if isinstance(value, dict):
        return "{" + ", ".join(json.dumps(k) + ": " + text(v, 9) for k, v in value.items()) + "}"
    if isinstance(value, list) and value and isinstance(value[0], (dict, list)):
        return "[\n" + ",\n".join(" " * (depth + 1) + text(v, 9) for v in value) + "]"
    return "[" + ", ".join(text(v, 9) for v in value) + "]" if isinstance(value, list) else json.dumps(value)


def main(names):
    if not names or names[0] in ("-h", "--help"):
        print(__doc__ + "\ncases: " + " ".join(CASES))
        return 2
    if solver.version() is None:
        print("ccx is not installed (package calculix-ccx)", file=sys.stderr)
        return 3
    if names == ["small"]:
        out = solve_in_scratch("cap_coarse")
        print(json.dumps({"case": "cap_coarse", "program": out["program"],
                          **{k: out["results"][k] for k in ("apex_mid_mm", "apex_outer_mm")}}))
        return 0
    unknown = [name for name in names if name not in CASES and names != ["all"]]
    if unknown:
        print("no such case: %s; cases: %s" % (" ".join(unknown), " ".join(CASES)), file=sys.stderr)
        return 2
    os.makedirs(DATA, exist_ok=True)
    for name in list(CASES) if names == ["all"] else names:
        out = solve_in_scratch(name)
        with open(os.path.join(DATA, name + ".json"), "w") as f:
            f.write(text(out))
        print("%-22s %6d unknowns %6.1f s" % (name, out["unknowns"], out["run_s"]), file=sys.stderr, flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
