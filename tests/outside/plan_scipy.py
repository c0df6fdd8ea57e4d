"""Incisal guidance for wanted clearances, found by SciPy's minimize, written to plan_scipy.csv.

Poses obey the six equations of mechanism.py (found by SciPy's root on each plane of the guide in turn;
the one kept leaves the point on the free side of the other two). Clearances are read as mechanism.py
reads them. Plate and wings are then found

- `at_least`: least squared change from where they stand, every clearance at least what is wanted
  (minimize, SLSQP);
- `least_squares`: least sum of squares of what is missed, within the bounds (minimize, SLSQP, from
  several starts).

    python plan_scipy.py          writes plan_scipy.csv beside this file
"""

import csv
import platform
from dataclasses import replace
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import minimize, root

from mechanism import Guide, Setting, condyle_equations, cusp_reading, plane_distances, pose

SEED = 624
CASES = 24
PLATE = (0.0, 60.0)
WINGS = (0.0, 45.0)
CUSPS = {"lower": (36, (58.0, 25.0, -37.0)), "upper": (26, (61.0, 22.0, -37.5))}
# Tooth, movement: protrusive, working and orbiting at the left side's teeth.
READINGS = (("lower", "protrusive"), ("lower", "left_lateral"), ("lower", "right_lateral"), ("upper", "protrusive"),
            ("upper", "right_lateral"))


def solved(setting):
    """The pose of a setting."""
    for plane in range(3):
        def equations(x):
            at = pose(x)
            return np.array(condyle_equations(setting, at) + [plane_distances(setting, at)[plane]])

        # Unknowns near each other in size: hundredths of a radian beside millimetres.
        scale = np.array([0.01, 0.01, 0.01, 1.0, 1.0, 1.0])
        found = root(lambda y: equations(y * scale), np.array([0.0, 1.0, 0.0, setting.advance_mm, 0.0, -1.0]), tol=1e-14)
        at = pose(found.x * scale)
        if np.abs(found.fun).max() < 1e-10 and plane_distances(setting, at).min() > -1e-9:
            return at
    raise ValueError("no pose")


def clearances(base, angles, opposing, plane):
    out = []
    for arch, movement in READINGS:
        setting = replace(base, movement=movement, sagittal_inclination_deg=float(angles[0]),
                          right_wing_deg=float(angles[1]), left_wing_deg=float(angles[1]))
        tooth, at = CUSPS[arch]
        out.append(cusp_reading(solved(setting), tooth, at, opposing, plane)[1])
    return np.array(out)


def main():
    rng = np.random.default_rng(SEED)
    names = [f"{arch}_{movement}" for arch, movement in READINGS]
    head = ["question", "design", "anterior_guide", "condylar_deg", "lateral_deg", "advance_mm", "incisal_x_mm", "incisal_z_mm",
            "occlusal_plane_deg", "opposing_protrusive_deg", "opposing_retrusive_deg", "opposing_working_deg",
            "opposing_nonworking_deg", "plate_from_deg", "wings_from_deg"]
    head += [f"wanted_{name}_mm" for name in names] + ["plate_deg", "wings_deg", "cost"]
    rows = []
    for case in range(CASES):
        question = ("at_least", "least_squares")[case % 2]
        number = lambda low, high: round(float(rng.uniform(low, high)), 2)
        h, l, advance = number(20, 45), number(5, 20), number(2, 4)
        guide = Guide(horizontal_inclination_deg=h, lateral_angle_deg=l)
        x, z, plane = number(90, 100), number(-46, -38), number(4, 12)
        base = Setting(("Arcon", "NonArcon")[case // 2 % 2], ("Table", "Incisors")[case // 4 % 2], "protrusive", 0.0,
                       advance, 110.0, (x, 0.0, z), 0.0, 0.0, 0.0, 0.0, 0.0, guide, guide)
        opposing = tuple(number(15, 30) for _ in range(4))
        start = np.array([number(10, 50), number(10, 35)])
        goal = np.array([number(15, 50), number(10, 40)])
        there = clearances(base, goal, opposing, plane)
        wanted = [round(float(c), 3) for c in there - rng.uniform(0.0, 0.4, len(there))] if question == "at_least" else [
            round(float(c), 3) for c in there + rng.uniform(-0.4, 0.4, len(there))]
        wanted = np.array(wanted)
        off = lambda angles: clearances(base, angles, opposing, plane) - wanted
        settings = dict(method="SLSQP", bounds=(PLATE, WINGS), options=dict(ftol=1e-15, eps=1e-6, maxiter=300))
        best = None
        for begin in (start, goal, np.array([30.0, 20.0])):
            if question == "at_least":
                found = minimize(lambda a: ((a - start) ** 2).sum(), begin, constraints=dict(type="ineq", fun=off), **settings)
                if off(found.x).min() < -1e-7:
                    continue
            else:
                found = minimize(lambda a: (off(a) ** 2).sum(), begin, **settings)
            if best is None or found.fun < best.fun:
                best = found
        rows.append([question, base.design, base.anterior_guide, h, l, advance, x, z, plane, *opposing, *start, *wanted,
                     *(repr(float(a)) for a in best.x), repr(float(best.fun))])
    with open(Path(__file__).with_suffix(".csv"), "w", newline="") as out:
        out.write(f"# plan_scipy.py, Python {platform.python_version()}, numpy {np.__version__}, scipy {scipy.__version__}, seed {SEED}\n")
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(head)
        writer.writerows(rows)


if __name__ == "__main__":
    main()
