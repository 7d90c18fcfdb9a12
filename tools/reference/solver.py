"""Writes a CalculiX input deck, runs ccx and reads the displacements back. Units mm, N, MPa."""

import os
import re
import shutil
import subprocess
import time


def version():
    """"2.20" of the installed ccx, or None."""
    if not shutil.which("ccx"):
        return None
    out = subprocess.run(["ccx", "-v"], capture_output=True, text=True).stdout
    found = re.search(r"Version\s+(\S+)", out)
    return found.group(1) if found else None


def wrapped(numbers, width=10):
    numbers = list(numbers)
    return "\n".join(", ".join(str(n) for n in numbers[i:i + width]) + "," for i in range(0, len(numbers), width))


def deck(mesh, materials, fixed, pressure_faces, pressure, forces, contact=None, printed=(), nlgeom=False, increment=None, hyper=False,
         springs=()):
    """The deck as text.

    materials {part: (E, nu)}; fixed {(first dof, last dof): nodes}; contact {slave, master, kc, kt, mu, interference} or None.
    springs [(stiffness, {node: (x, y, z) coefficients})]: each on one sum of displacements, the displacement of an extra node.
    hyper: neo-Hookean tissue instead of Hooke's law, C10 = G/2, D1 = 2/K.
    """
    lines = ["*NODE, NSET=NALL"]
    lines += ["%d, %.12g, %.12g, %.12g" % ((n,) + p) for n, p in enumerate(mesh.points, 1)]
    extra = range(len(mesh.points) + 1, len(mesh.points) + 1 + len(springs))
    if springs:
        lines += ["*NODE, NSET=NSPRING"] + ["%d, 0., 0., 0." % n for n in extra]
    for part in materials:
        lines.append("*ELEMENT, TYPE=C3D20R, ELSET=E_%s" % part)
        for e, (nodes, owner) in enumerate(zip(mesh.elements, mesh.element_part), 1):
            if owner == part:
                lines.append("%d, %s,\n%s" % (e, ", ".join(map(str, nodes[:15])), ", ".join(map(str, nodes[15:]))))
    for part, (E, nu) in materials.items():
        lines.append("*MATERIAL, NAME=M_%s" % part)
        if hyper:
            lines += ["*HYPERELASTIC, NEO HOOKE", "%.10g, %.10g" % (E / (4 * (1 + nu)), 6 * (1 - 2 * nu) / E)]
        else:
            lines += ["*ELASTIC", "%.10g, %.10g" % (E, nu)]
        lines.append("*SOLID SECTION, ELSET=E_%s, MATERIAL=M_%s" % (part, part))
    for name in (p for p in printed if p != "NALL"):
        lines += ["*NSET, NSET=%s" % name, wrapped(mesh.node_sets[name])]
    if contact:
        for role in ("slave", "master"):
            lines.append("*SURFACE, NAME=S_%s" % role.upper())
            lines += ["%d, S%d" % f for f in mesh.faces[contact[role]]]
        lines += ["*SURFACE INTERACTION, NAME=WOUND", "*SURFACE BEHAVIOR, PRESSURE-OVERCLOSURE=LINEAR", "%.10g" % contact["kc"]]
        if contact.get("kt"):
            lines += ["*FRICTION", "%.10g, %.10g" % (contact["mu"], contact["kt"])]
        lines += ["*CONTACT PAIR, INTERACTION=WOUND, TYPE=SURFACE TO SURFACE", "S_SLAVE, S_MASTER",
                  "*CLEARANCE, SLAVE=S_SLAVE, MASTER=S_MASTER, VALUE=%.10g" % -contact["interference"]]
    for i, (n, (stiffness, coefficients)) in enumerate(zip(extra, springs), 1):
        terms = [(n, 1, -1.0)] + [(node, d + 1, v) for node, f in sorted(coefficients.items()) for d, v in enumerate(f) if v]
        lines += ["*EQUATION", str(len(terms))]
        lines += [", ".join("%d, %d, %.12g" % term for term in terms[j:j + 4]) for j in range(0, len(terms), 4)]
        lines += ["*ELEMENT, TYPE=SPRING1, ELSET=SPRING%d" % i, "%d, %d" % (len(mesh.elements) + i, n),
                  "*SPRING, ELSET=SPRING%d" % i, "1", "%.10g" % stiffness]
    lines.append("*BOUNDARY")
    for (first, last), nodes in fixed.items():
        lines += ["%d, %d, %d" % (n, first, last) for n in nodes]
    lines += ["%d, 2, 3" % n for n in extra]
    lines += ["*STEP, INC=1000%s" % (", NLGEOM" if nlgeom else ""), "*STATIC"]
    lines += [increment] if increment else []
    if pressure:
        lines += ["*DLOAD"] + ["%d, P%d, %.10g" % (e, f, pressure) for e, f in pressure_faces]
    if forces:
        lines.append("*CLOAD")
        lines += ["%d, %d, %.10g" % (n, d + 1, v) for n, f in sorted(forces.items()) for d, v in enumerate(f) if v]
    for name in printed:
        lines += ["*NODE PRINT, NSET=%s, FREQUENCY=1000" % name, "U"]
    lines += ["*END STEP", ""]
    return "\n".join(lines)


def run(text, folder, name, threads=2, limit_s=1500):
    """Runs ccx in `folder`. Returns ({set: {node: (ux, uy, uz)}}, seconds, tail of its log)."""
    os.makedirs(folder, exist_ok=True)
    with open(os.path.join(folder, name + ".inp"), "w") as f:
        f.write(text)
    environment = dict(os.environ, OMP_NUM_THREADS=str(threads))
    start = time.time()
    done = subprocess.run(["ccx", name], cwd=folder, env=environment, capture_output=True, text=True, timeout=limit_s)
    seconds = time.time() - start
    with open(os.path.join(folder, name + ".log"), "w") as f:
        f.write(done.stdout + done.stderr)
    if done.returncode or "Job finished" not in done.stdout:
        raise RuntimeError("ccx did not finish %s:\n%s" % (name, (done.stdout + done.stderr)[-1500:]))
    return read_displacements(os.path.join(folder, name + ".dat")), seconds, done.stdout[-400:]


def read_displacements(path):
    """{set: {node: (ux, uy, uz)}} of the last time in a .dat file."""
    sets, current = {}, None
    with open(path) as f:
        for line in f:
            if "displacements" in line:
                current = sets[line.split("set")[1].split()[0]] = {}
            elif line.strip() and current is not None:
                words = line.split()
                if len(words) == 4:
                    current[int(words[0])] = tuple(float(w) for w in words[1:])
    return sets
