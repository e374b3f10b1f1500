"""Numbers of a beam finite-element library for `tests/spars/reference.rs`.

Library: PyniteFEA 3.2.0 (with numpy 2.4.6, scipy 1.17.1) from the Python registry. To make the data anew:

    pip install PyniteFEA==3.2.0 && python beams.py > beams.tsv

Every spar lies along X from its foot, its loads across along Y. It is cut into short prismatic members with the
section at their middle; the figures move by less than 1e-4 when they are halved.
"""

from math import pi

from Pynite import FEModel3D

G = 9.80665
PSI = 6894.757
UNIT = 1e10  # The sections carry E A and E I over this.


def ring(outer, inner):
    return pi / 4 * (outer**2 - inner**2), pi / 64 * (outer**4 - inner**4)


def tapered(pieces, x):
    """E A, E I and mass of pieces (from, to, foot, top, wall or None, E, density) at x."""
    stretch, bending, mass = 0.0, 0.0, 0.0
    for start, end, foot, top, wall, modulus, density in pieces:
        if start <= x <= end:
            outer = foot + (top - foot) * (x - start) / (end - start)
            area, inertia = ring(outer, outer - 2 * wall if wall else 0.0)
            stretch += modulus * area
            bending += modulus * inertia
            mass += density * area
    return stretch, bending, mass


def model(pieces, supports, marks, short):
    """A plane frame along the spar with nodes at all marks; returns it, its places and its masses."""
    length = max(p[1] for p in pieces)
    knots = {0.0, length, *supports, *marks}
    for p in pieces:
        knots |= {p[0], p[1]}
    knots = sorted(k for k in knots if 0 <= k <= length)
    at = [0.0]
    for a, b in zip(knots, knots[1:]):
        n = max(1, round((b - a) / short))
        at += [a + (b - a) * i / n for i in range(1, n)] + [b]
    frame = FEModel3D()
    frame.add_material("one", UNIT, UNIT, 0.3, 0.0)
    masses = [0.0] * len(at)
    for i, x in enumerate(at):
        frame.add_node(f"N{i}", x, 0, 0)
        frame.def_support(f"N{i}", x == supports[0], x in supports, True, True, True, False)
    for i, (a, b) in enumerate(zip(at, at[1:])):
        stretch, bending, mass = tapered(pieces, 0.5 * (a + b))
        inertia = bending / UNIT
        frame.add_section(f"S{i}", stretch / UNIT, inertia, inertia, 2 * inertia)
        frame.add_member(f"M{i}", f"N{i}", f"N{i + 1}", "one", f"S{i}")
        masses[i] += 0.5 * mass * (b - a)
        masses[i + 1] += 0.5 * mass * (b - a)
    return frame, at, masses


def node(at, x):
    return f"N{min(range(len(at)), key=lambda i: abs(at[i] - x))}"


def told(case, frame, at, supports, marks):
    combo = "Combo 1"
    for k, x in enumerate(supports):
        print(f"{case}\treaction {k}\t{frame.nodes[node(at, x)].RxnFY[combo]:.6f}")
    for x in marks:
        print(f"{case}\tdeflection {x:g}\t{frame.nodes[node(at, x)].DY[combo]:.8f}")
        print(f"{case}\tslope {x:g}\t{frame.nodes[node(at, x)].RZ[combo]:.8f}")
        i = at.index(x) if x in at else None
        if i is not None and i + 1 < len(at):
            moment = frame.members[f"M{i}"].moment("Mz", 0.0, combo)
            print(f"{case}\tmoment {x:g}\t{moment:.5f}")


def bent(case, pieces, supports, loads, marks, thrust=0.0, heavy=False, uniform=0.0, short=0.02):
    """Point loads (x, force) across, thrust at the top along it, own weight along it, a uniform load across."""
    frame, at, masses = model(pieces, supports, [x for x, _ in loads] + marks, short)
    for x, force in loads:
        frame.add_node_load(node(at, x), "FY", force)
    if uniform:
        for i in range(len(at) - 1):
            frame.add_member_dist_load(f"M{i}", "FY", uniform, uniform)
    if thrust:
        frame.add_node_load(node(at, at[-1]), "FX", -thrust)
    if heavy:
        for i, mass in enumerate(masses):
            frame.add_node_load(f"N{i}", "FX", -mass * G)
    if thrust or heavy:
        frame.analyze_PDelta()
    else:
        frame.analyze()
    told(case, frame, at, supports, marks)


def rung(case, pieces, supports, head=0.0, short=0.05):
    frame, at, masses = model(pieces, supports, [], short)
    masses[-1] += head
    for i, mass in enumerate(masses):
        frame.add_node_load(f"N{i}", "FY", -mass)
    frame.analyze_modal(num_modes=4, mass_direction="Y", gravity=1.0)
    assert all(f == f for f in frame.frequencies), frame.frequencies
    low = sorted(float(f) for f in frame.frequencies if f > 1e-6)[:2]
    for k, f in enumerate(low):
        print(f"{case}\tfrequency {k}\t{f:.6f}")


SITKA = (1570e3 * PSI, 448.0)
ALLOY = (70e9, 2700.0)

SPRUCE = [
    (0.0, 1.0, 0.080, 0.105, None, *SITKA),
    (1.0, 1.9, 0.105, 0.105, None, *SITKA),
    (1.9, 7.0, 0.105, 0.055, None, *SITKA),
]
STEPPED = [
    (0.0, 4.0, 0.100, 0.100, 0.003, *ALLOY),
    (4.0, 7.0, 0.080, 0.080, 0.003, *ALLOY),
    (7.0, 9.0, 0.060, 0.060, 0.002, *ALLOY),
]
SLEEVED = [
    (0.0, 4.0, 0.150, 0.150, 0.005, *ALLOY),
    (3.6, 9.0, 0.140, 0.080, None, *SITKA),
]
BATTEN = [(0.0, 4.2, 0.042, 0.042, 0.002, *ALLOY)]
LOADS = [(1.9, 60.0), (2.7, 120.0), (3.5, 120.0), (4.3, 110.0), (5.1, 95.0), (5.9, 45.0)]

bent("spruce", SPRUCE, [0.0, 1.0], LOADS, [1.0, 3.5, 7.0])
bent("spruce-thrust", SPRUCE, [0.0, 1.0], LOADS, [1.0, 3.5, 7.0], thrust=600.0, heavy=True)
bent("stepped", STEPPED, [0.0, 1.2], LOADS, [1.2, 4.0, 9.0])
bent("stepped-thrust", STEPPED, [0.0, 1.2], LOADS, [1.2, 4.0, 9.0], thrust=400.0, heavy=True)
bent("sleeved", SLEEVED, [0.0, 1.3], LOADS, [1.3, 3.8, 9.0])
bent("batten", BATTEN, [0.5, 4.1], [], [0.5, 2.2, 4.2], uniform=90.0)
rung("spruce", SPRUCE, [0.0, 1.0], head=1.0)
rung("stepped", STEPPED, [0.0, 1.2])
rung("sleeved", SLEEVED, [0.0, 1.3], head=2.0)
