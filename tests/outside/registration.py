"""Rigid registrations of seeded random landmark sets by SciPy's Rotation.align_vectors, written to
registration.csv.

Each set is a few landmarks and the same ones moved by a known motion, with noise on both lists, and
rounded to the digits in which it is written. Every second set is flat (all landmarks nearly in one
plane, as the tips of the teeth are) with noise as large as its thickness, so that a mirrored fit would
be nearly as good or better: a method that does not exclude reflections fails there. align_vectors is
given the landmarks about their centroids; the translation is what carries one centroid to the other.

    python registration.py          writes registration.csv beside this file
"""

import csv
import io
import platform
from pathlib import Path

import numpy as np
import scipy
from scipy.spatial.transform import Rotation

SEED = 20263
SETS = 80
MOST_LANDMARKS = 10


def draw_set(rng, flat):
    count = int(rng.integers(4 if flat else 3, MOST_LANDMARKS + 1))
    spread = np.array([20.0, 25.0, 0.05 if flat else 8.0])
    local = rng.normal(0.0, spread, (count, 3))
    local = local @ Rotation.random(rng=rng).as_matrix().T + rng.uniform(-100.0, 100.0, 3)
    # A small motion as of a jaw, or any at all.
    turn = Rotation.from_rotvec(rng.normal(0.0, 0.08, 3)) if rng.random() < 0.5 else Rotation.random(rng=rng)
    shift = rng.normal(0.0, 5.0, 3)
    sd = float(rng.choice([0.01, 0.05, 0.3]))
    middle = local.mean(axis=0)
    moved = turn.apply(local - middle) + middle + shift
    noisy = [np.round(points + rng.normal(0.0, sd, points.shape), 6) for points in (local, moved)]
    return noisy[0], noisy[1], sd


def breadth(points):
    """Root mean square distance from the best line, in mm; sets that hardly span a plane are redrawn."""
    about = points - points.mean(axis=0)
    return float(np.sqrt((np.linalg.svd(about, compute_uv=False)[1:] ** 2).sum() / len(points)))


def is_settled(before, after):
    """Whether the best rotation stands clear of the next best: else it is a matter of rounding."""
    cross = (after - after.mean(axis=0)).T @ (before - before.mean(axis=0))
    s = np.linalg.svd(cross, compute_uv=False)
    sign = np.sign(np.linalg.det(cross))
    return s[1] + sign * s[2] > 1e-3 * s[0]


def main():
    rng = np.random.default_rng(SEED)
    rows, mirrored = [], 0
    while len(rows) < SETS:
        flat = len(rows) % 2 == 1
        before, after, sd = draw_set(rng, flat)
        if min(breadth(before), breadth(after)) < 3.0 or not is_settled(before, after):
            continue
        from_, to = before.mean(axis=0), after.mean(axis=0)
        # rssd, the second result, is not used: the misfit is taken from the points themselves.
        rotation = Rotation.align_vectors(after - to, before - from_)[0].as_matrix()
        translation = to - rotation @ from_
        misfit = np.linalg.norm(before @ rotation.T + translation - after, axis=1)
        mirrored += np.linalg.det((after - to).T @ (before - from_)) < 0.0
        row = {"set": len(rows) + 1, "flat": int(flat), "landmarks": len(before), "sd_mm": sd}
        for name, points in (("before_mm", before), ("after_mm", after)):
            row[name] = ";".join(" ".join(f"{x:.6f}" for x in point) for point in points)
        for i in range(3):
            for j in range(3):
                row[f"r{i}{j}"] = format(rotation[i, j], ".17g")
        for axis, value in zip("xyz", translation):
            row[f"t{axis}_mm"] = format(value, ".17g")
        row["fit_rms_mm"] = format(np.sqrt((misfit**2).mean()), ".17g")
        rows.append(row)
    assert mirrored >= 5, mirrored
    text = io.StringIO()
    for line in (
        "Rigid registrations found by SciPy Rotation.align_vectors. Made by registration.py; run it again to make this file again.",
        f"Python {platform.python_version()}, NumPy {np.__version__}, SciPy {scipy.__version__}; seed {SEED}; {len(rows)} sets, all invented.",
        f"In {mirrored} of them a mirrored fit would have been closer.",
        "Landmarks as 'x y z;x y z;…' in mm. Rotation rIJ and translation t carry 'before' to 'after'.",
    ):
        text.write(f"# {line}\n")
    table = csv.DictWriter(text, fieldnames=list(rows[0]), lineterminator="\n")
    table.writeheader()
    table.writerows(rows)
    Path(__file__).with_name("registration.csv").write_text(text.getvalue())
    print(f"{len(rows)} sets, {mirrored} nearer to a mirrored fit")


if __name__ == "__main__":
    main()
