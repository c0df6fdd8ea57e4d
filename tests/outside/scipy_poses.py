"""Jaw poses for seeded random settings, found by SciPy's least_squares, written to scipy_poses.csv.

The six unknowns are the rotation vector and the translation of the jaw pose; the six equations are
those of mechanism.py. Each search starts away from its answer: the jaw a few degrees open and
pushed about at random. Of the three planes of the anterior guide each gives a pose; the one kept is
the one that leaves the point on the free side of the other two, and it is checked that nothing was
touched earlier on the way closed.

    python scipy_poses.py          writes scipy_poses.csv beside this file
"""

import csv
import io
import platform
from math import radians, sin
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import least_squares

from mechanism import (
    OTHER, Guide, Setting, condyle_equations, condyle_reading, cusp_reading, plane_distances, pose,
    rotation, to_upper, trough,
)

SEED = 20260
ROWS_PER_COMBINATION = 7
# Residuals are millimetres; the tables promise their poses to far less than the 1e-8 they are read at.
LARGEST_RESIDUAL_MM = 1e-11
# A plane this near holds the point: more than one does where planes meet, as at a trough's crease.
TOUCH_MM = 1e-9

DESIGNS = ("Arcon", "NonArcon")
ANTERIOR = ("Table", "Incisors")
MOVEMENTS = ("protrusive", "right_lateral", "left_lateral", "right_lateroprotrusive", "left_lateroprotrusive")
PATHS = ("Straight", "Arc", "Profile")


def draw(rng, low, high, digits=3):
    """Settings carry few digits so that the table can be read; they are exact all the same."""
    return round(float(rng.uniform(low, high)), digits)


def sometimes(rng, chance, low, high):
    return draw(rng, low, high) if rng.random() < chance else 0.0


def draw_profile(rng, reach):
    """A recorded path: from steep to flatter, now and then level for a stretch or past the crest."""
    count = int(rng.integers(2, 9))
    a = np.sort(rng.uniform(0.3, reach - 0.3, count - 2))
    a = np.concatenate([[0.0], a, [reach]])
    # Points that nearly coincide would make a kink no recorder draws.
    a = np.concatenate([a[:-1][np.diff(a) > 0.2], [reach]]) if count > 2 else a
    a[0] = 0.0
    slope = rng.uniform(10.0, 60.0) - rng.uniform(0.0, 3.0) * a[1:] + rng.normal(0.0, 6.0, len(a) - 1)
    slope = np.clip(slope, 0.0 if rng.random() < 0.7 else -15.0, 60.0)
    if rng.random() < 0.3 and len(a) > 2:
        # A steep rise to the crest, then a long gentle fall: the shape that the end formula of a
        # monotone cubic has to hold back.
        kept = a < 5.0
        kept[-1] = True
        a, slope = a[kept], slope[kept[1:]]
        slope[-1] = rng.uniform(-8.0, -1.0)
    v = np.concatenate([[0.0], np.cumsum(np.diff(a) * np.tan(np.radians(slope)))])
    return [(round(float(x), 3), round(float(y), 3)) for x, y in zip(a, v)]


def draw_guide(rng, path, plain):
    h = draw(rng, 5.0, 60.0)
    guide = Guide(horizontal_inclination_deg=h, lateral_angle_deg=draw(rng, 0.0, 30.0), path=path)
    if path == "Arc":
        guide.arc_radius_mm = draw(rng, 12.0, 40.0)
    if path == "Profile":
        guide.profile_mm = draw_profile(rng, draw(rng, 8.5, 12.0))
    if not plain:
        guide.immediate_translation_mm = sometimes(rng, 0.5, 0.0, 1.0)
        if rng.random() < 0.5:
            guide.early_amount_mm = draw(rng, 0.0, 1.5)
            guide.early_over_mm = draw(rng, 2.0, 5.0)
        guide.wall_tilt_deg = sometimes(rng, 0.5, -10.0, 10.0)
        guide.lateroretrusion_deg = sometimes(rng, 0.5, -20.0, 20.0)
        guide.laterosurtrusion_deg = sometimes(rng, 0.5, -20.0, 20.0)
    return guide


def draw_setting(rng, design, anterior, movement, path, plain):
    # The path under test goes to the side it matters most for: the orbiting one.
    orbiting = OTHER[movement.split("_")[0]] if "_" in movement else "right"
    guides = {orbiting: draw_guide(rng, path, plain)}
    if plain:
        # Both sides alike and nothing in the middle turned: the setting a person would start from.
        guides[OTHER[orbiting]] = guides[orbiting]
    else:
        guides[OTHER[orbiting]] = draw_guide(rng, str(rng.choice(PATHS)), plain)
    reach = 8.0
    for guide in guides.values():
        if guide.path == "Arc":
            reach = min(reach, 0.95 * guide.arc_radius_mm * (1.0 + sin(radians(guide.horizontal_inclination_deg))))
    alike = draw(rng, 0.0, 30.0)
    return Setting(
        design=design,
        anterior_guide=anterior,
        movement=movement,
        ratio=draw(rng, 0.1, 0.9) if movement.endswith("lateroprotrusive") else 0.0,
        advance_mm=draw(rng, 0.5, reach),
        intercondylar_distance_mm=draw(rng, 95.0, 125.0),
        incisal_point_mm=(draw(rng, 80.0, 110.0), 0.0 if plain else draw(rng, -2.0, 2.0), draw(rng, -60.0, -25.0)),
        pin_extension_mm=draw(rng, -2.0, 6.0) if anterior == "Table" and not plain else 0.0,
        sagittal_inclination_deg=draw(rng, 0.0, 50.0),
        right_wing_deg=alike if plain else sometimes(rng, 0.8, 0.0, 30.0),
        left_wing_deg=alike if plain else sometimes(rng, 0.8, 0.0, 30.0),
        flat_half_width_mm=0.0 if plain else sometimes(rng, 0.7, 0.0, 2.0),
        **guides,
    )


def draw_cusp(rng, quadrants):
    quadrant, place = int(rng.choice(quadrants)), int(rng.integers(1, 9))
    outward = 3.0 + 3.4 * place + rng.uniform(-2.0, 2.0)
    side = 1.0 if quadrant in (2, 3) else -1.0
    at = (96.0 - 5.5 * place + rng.uniform(-3.0, 3.0), side * outward, rng.uniform(-46.0, -28.0))
    return 10 * quadrant + place, tuple(round(float(x), 3) for x in at), tuple(draw(rng, 0.0, 45.0) for _ in range(4))


def jacobian(fun, x, scale):
    """Central differences, for the last steps only; the search makes its own."""
    columns = []
    for i in range(len(x)):
        step = np.zeros(len(x))
        step[i] = scale[i] * 1e-3
        columns.append((fun(x + step) - fun(x - step)) / (2.0 * step[i]))
    return np.array(columns).T


# A hundredth of a radian at the teeth moves a point about as far as a millimetre of translation.
SCALE = np.array([0.01, 0.01, 0.01, 1.0, 1.0, 1.0])


def solve_on(setting, plane, start):
    """The pose that obeys the five condyle equations with the point on this one plane."""

    def residuals(x):
        at = pose(x)
        return np.array(condyle_equations(setting, at) + [plane_distances(setting, at)[plane]])

    found = least_squares(
        residuals, start, jac="3-point", x_scale=SCALE, xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=400
    )
    x = found.x
    for _ in range(8):
        r = residuals(x)
        if np.abs(r).max() < 1e-13:
            break
        better = x - np.linalg.solve(jacobian(residuals, x, SCALE), r)
        if np.abs(residuals(better)).max() >= np.abs(r).max():
            break
        x = better
    return x, np.abs(residuals(x)).max()


def opened(setting, at, angle):
    """The pose with both spheres left where they are and the jaw opened by an angle about them."""
    half = setting.intercondylar_distance_mm / 2.0
    r, t = at
    centres = np.array([[0.0, -half, 0.0], [0.0, half, 0.0]])
    if setting.design == "Arcon":
        right, left = (to_upper(at, c) for c in centres)
        turn = rotation(angle * (left - right) / np.linalg.norm(left - right))
        return turn @ r, right + turn @ (t - right)
    # Spheres on the upper member: it is the upper that turns, the other way, about its own spheres.
    turn = rotation(angle * np.array([0.0, 1.0, 0.0]))
    return turn @ r, turn @ t


def solve(rng, setting):
    start = np.concatenate([rng.normal(0.0, 0.02, 3), rng.normal(0.0, 1.0, 3)])
    start[1] += radians(rng.uniform(3.0, 8.0))
    kept = []
    for plane in range(3):
        x, worst = solve_on(setting, plane, start)
        assert worst < LARGEST_RESIDUAL_MM, (setting, plane, worst)
        if plane_distances(setting, pose(x)).min() > -TOUCH_MM:
            kept.append((x, worst, plane))
    assert kept, setting
    x, worst, _ = kept[0]
    # Planes that meet at the point give the same pose; anything else would be two answers.
    for other, _, _ in kept[1:]:
        assert np.abs(other - x).max() < 1e-7, (setting, other, x)
    at = pose(x)
    before = [plane_distances(setting, opened(setting, at, angle)).min() for angle in np.radians(np.arange(0.02, 45.0, 0.02))]
    assert min(before) > 0.0, ("touched earlier on the way closed", setting)
    touching = [name for (name, _, _), d in zip(trough(setting), plane_distances(setting, at)) if abs(d) < TOUCH_MM]
    return x, worst, touching, np.linalg.norm((start - x) / SCALE)


def number(value):
    """Seventeen significant digits hold any double; a setting is given as the short number it is."""
    value = float(value)
    return repr(value) if round(value, 3) == value else format(value, ".17g")


def row_of(case, setting, occlusal, lower, upper, x, worst, touching):
    row = {"case": case}
    for name in ("design", "anterior_guide", "movement"):
        row[name] = getattr(setting, name)
    row["lateroprotrusive_ratio"] = number(setting.ratio)
    for name in ("advance_mm", "intercondylar_distance_mm"):
        row[name] = number(getattr(setting, name))
    for axis, value in zip("xyz", setting.incisal_point_mm):
        row[f"incisal_point_at_rest_{axis}_mm"] = number(value)
    for name in ("pin_extension_mm", "sagittal_inclination_deg", "right_wing_deg", "left_wing_deg", "flat_half_width_mm"):
        row[name] = number(getattr(setting, name))
    for side in ("right", "left"):
        guide = setting.guide(side)
        for name in ("horizontal_inclination_deg", "lateral_angle_deg", "immediate_translation_mm", "early_amount_mm", "early_over_mm"):
            row[f"{side}_{name}"] = number(getattr(guide, name))
        row[f"{side}_path"] = guide.path
        row[f"{side}_arc_radius_mm"] = "" if guide.arc_radius_mm is None else number(guide.arc_radius_mm)
        row[f"{side}_profile_advance_mm_to_drop_mm"] = ";".join(f"{number(a)}:{number(v)}" for a, v in guide.profile_mm)
        for name in ("wall_tilt_deg", "lateroretrusion_deg", "laterosurtrusion_deg"):
            row[f"{side}_{name}"] = number(getattr(guide, name))
    row["occlusal_plane_inclination_deg"] = number(occlusal)
    for arch, (tooth, at, opposing) in (("lower", lower), ("upper", upper)):
        row[f"{arch}_cusp_tooth"] = tooth
        for axis, value in zip("xyz", at):
            row[f"{arch}_cusp_at_rest_{axis}_mm"] = number(value)
        for name, value in zip(("protrusive", "retrusive", "working", "nonworking"), opposing):
            row[f"{arch}_cusp_opposing_{name}_deg"] = number(value)
    at = pose(x)
    for i in range(3):
        for j in range(3):
            row[f"r{i}{j}"] = number(at[0][i, j])
    for axis, value in zip("xyz", at[1]):
        row[f"t{axis}_mm"] = number(value)
    for side in ("right", "left"):
        for name, value in zip(("advance", "medial", "drop"), condyle_reading(setting, at, side)):
            row[f"{side}_condyle_{name}_mm"] = number(value)
    for axis, value in zip("xyz", to_upper(at, np.array(setting.incisal_point_mm))):
        row[f"incisal_point_{axis}_mm"] = number(value)
    for arch, (tooth, place, opposing) in (("lower", lower), ("upper", upper)):
        separation, clearance = cusp_reading(at, tooth, place, opposing, occlusal)
        row[f"{arch}_cusp_separation_mm"] = number(separation)
        row[f"{arch}_cusp_clearance_mm"] = number(clearance)
    row["touching"] = ";".join(touching)
    row["largest_residual_mm"] = format(worst, ".1e")
    return row


def main():
    rng = np.random.default_rng(SEED)
    rows, nearest_start, worst_residual = [], np.inf, 0.0
    for design in DESIGNS:
        for anterior in ANTERIOR:
            for movement in MOVEMENTS:
                for path in PATHS:
                    for repeat in range(ROWS_PER_COMBINATION):
                        setting = draw_setting(rng, design, anterior, movement, path, plain=repeat == 0)
                        occlusal = draw(rng, -5.0, 20.0)
                        lower, upper = draw_cusp(rng, (3, 4)), draw_cusp(rng, (1, 2))
                        x, worst, touching, away = solve(rng, setting)
                        nearest_start, worst_residual = min(nearest_start, away), max(worst_residual, worst)
                        rows.append(row_of(len(rows) + 1, setting, occlusal, lower, upper, x, worst, touching))

    text = io.StringIO()
    for line in (
        "Jaw poses found by SciPy least_squares (trf, 3-point) on the six equations of the mechanism, then Newton steps.",
        "Made by scipy_poses.py, which shares no code with the Rust solver; run it again to make this file again.",
        f"Python {platform.python_version()}, NumPy {np.__version__}, SciPy {scipy.__version__}; seed {SEED}; {len(rows)} settings, all invented.",
        f"Largest residual {worst_residual:.1e} mm. Nearest start to its answer {nearest_start:.1f}, in units of 0.01 rad and 1 mm.",
        "Rotation rIJ and translation t take lower-frame points to the upper frame; x anterior, y left, z up.",
        "The incisal point is the lower member's, seen in the upper frame. 'touching' names every plane that holds the point.",
    ):
        text.write(f"# {line}\n")
    table = csv.DictWriter(text, fieldnames=list(rows[0]), lineterminator="\n")
    table.writeheader()
    table.writerows(rows)
    Path(__file__).with_name("scipy_poses.csv").write_text(text.getvalue())
    print(f"{len(rows)} poses, largest residual {worst_residual:.1e} mm, nearest start {nearest_start:.1f}")


if __name__ == "__main__":
    main()
