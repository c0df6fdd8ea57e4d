"""Rows of a study a second: ours, the same study in NumPy vectorised by hand, and in Python looped over SciPy.

    python tests/outside/study_speed_ratio.py [our rows] [NumPy's] [SciPy's]

from the root, with the packages of requirements.txt, on an otherwise idle machine. The study is the one
of study-run/benches/invented: three excursions, eight cusps, four factors; a row is its 24 clearances.
Ours are computed, encoded and written to a Parquet file by one thread and by two; NumPy's and SciPy's
are only computed, on one thread, from the same factors. Both are first held to ours.

NumPy's way is the closed form of this one instrument (Arcon, straight guides, table with wings), derived
here from the page on the mechanism: spheres placed, then one angle of closing for each plane.
"""

import os

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import csv
import json
import pathlib
import subprocess
import sys
import tempfile
import time

import numpy as np
from scipy.optimize import least_squares

from mechanism import Guide, Setting, condyle_equations, cusp_reading, plane_distances, pose

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
ADVANCE_MM = 3.0
HALF_MM = 55.0
PIN_MM = np.array([98.0, 0.0, -42.0])
WING_DEG = 20.0
# scenes/thirty_degree.ron: tooth, place, inclines of the opposing tooth.
CUSPS = [
    (34, (79.0, 20.5, -39.0), (22.0, 22.0, 25.0, 28.0)),
    (36, (66.0, 24.0, -36.5), (20.0, 20.0, 20.0, 28.0)),
    (37, (55.0, 26.5, -34.5), (20.0, 20.0, 20.0, 28.0)),
    (44, (79.0, -20.5, -39.0), (22.0, 22.0, 25.0, 28.0)),
    (46, (66.0, -24.0, -36.5), (20.0, 20.0, 20.0, 28.0)),
    (47, (55.0, -26.5, -34.5), (20.0, 20.0, 20.0, 28.0)),
    (16, (64.0, -20.0, -36.0), (20.0, 20.0, 20.0, 28.0)),
    (26, (64.0, 20.0, -36.0), (20.0, 20.0, 20.0, 28.0)),
]
MOVEMENTS = ("protrusive", "right_lateral", "left_lateral")
# Closed forms agree to rounding over levers of a hundred millimetres; a search to its own tolerance.
NUMPY_MM, SCIPY_MM = 1e-10, 1e-7
# Rows at a time: NumPy's arrays then stay in the processor's caches.
CHUNK = 4096


def spheres(movement, rise, aside):
    """Centres of the right and the left sphere, each as three arrays."""
    t, h, zero = ADVANCE_MM, HALF_MM, np.zeros_like(rise)
    drop, medial = t * rise, t * aside
    forward = np.full_like(rise, t)
    if movement == "protrusive":
        return (forward, zero - h, -drop), (forward, zero + h, -drop)
    across = np.sqrt(4.0 * h * h - t * t - drop * drop)
    if movement == "right_lateral":
        return (zero, h - medial - across, zero), (forward, h - medial, -drop)
    return (forward, medial - h, -drop), (zero, medial - h + across, zero)


def vectorised(horizontal, lateral, table, occlusal):
    """Clearances, a row for each row of the factors (degrees)."""
    rise, aside = np.tan(np.radians(horizontal)), np.tan(np.radians(lateral))
    s, c = np.sin(np.radians(table)), np.cos(np.radians(table))
    ns, nc = np.sin(np.radians(occlusal)), np.cos(np.radians(occlusal))
    out = []
    for movement in MOVEMENTS:
        right, left = spheres(movement, rise, aside)
        middle = [(r + l) / 2.0 for r, l in zip(right, left)]
        e = [(l - r) / (2.0 * HALF_MM) for r, l in zip(right, left)]
        # The least turn that takes y to e: its columns are the lower frame's axes before closing.
        k = 1.0 / (1.0 + e[1])
        x_axis = (1.0 - e[0] * e[0] * k, -e[0], -e[0] * e[2] * k)
        z_axis = (-e[0] * e[2] * k, -e[2], 1.0 - e[2] * e[2] * k)
        u = [sum(a * (p - m) for a, p, m in zip(axis, PIN_MM, middle)) for axis in (x_axis, e, z_axis)]
        angle = None
        for wing in (0.0, WING_DEG, -WING_DEG):
            cw, sw = np.cos(np.radians(wing)), np.sin(np.radians(wing))
            nx, ny, nz = cw * s, sw, cw * c
            big, small = nx * u[0] + nz * u[2], nz * u[0] - nx * u[2]
            far = nx * PIN_MM[0] + ny * (PIN_MM[1] - u[1]) + nz * PIN_MM[2]
            own = np.arctan2(small, big) - np.arccos(far / np.hypot(big, small))
            angle = own if angle is None else np.maximum(angle, own)
        sin, cos = np.sin(angle), np.cos(angle)
        columns = (
            [cos * x - sin * z for x, z in zip(x_axis, z_axis)],
            e,
            [sin * x + cos * z for x, z in zip(x_axis, z_axis)],
        )
        for tooth, at, opposing in CUSPS:
            if tooth // 10 in (3, 4):
                d = [sum(columns[j][i] * at[j] for j in range(3)) + middle[i] - at[i] for i in range(3)]
            else:
                off = [at[i] - middle[i] for i in range(3)]
                d = [at[j] - sum(columns[j][i] * off[i] for i in range(3)) for j in range(3)]
            forward = d[0] * nc - d[2] * ns
            outward = d[1] if tooth // 10 in (2, 3) else -d[1]
            steep = np.tan(np.radians(opposing))
            climb = np.maximum(np.maximum(forward * steep[0], -forward * steep[1]), 0.0)
            climb = np.maximum(climb, np.maximum(outward * steep[2], -outward * steep[3]))
            out.append(-(d[0] * ns + d[2] * nc) - climb)
    return np.stack(out, axis=1)


def looped(horizontal, lateral, table, occlusal):
    """One row by SciPy's search on the six equations, started at rest."""
    guide = Guide(horizontal_inclination_deg=horizontal, lateral_angle_deg=lateral)
    row = []
    for movement in MOVEMENTS:
        setting = Setting(
            "Arcon", "Table", movement, 0.0, ADVANCE_MM, 2.0 * HALF_MM, tuple(PIN_MM), 0.0, table, WING_DEG, WING_DEG,
            0.0, guide, guide,
        )

        def equations(x):
            at = pose(x)
            return np.array(condyle_equations(setting, at) + [plane_distances(setting, at).min()])

        found = least_squares(equations, np.zeros(6), xtol=1e-12, ftol=1e-12, gtol=1e-12, x_scale=[0.01] * 3 + [1.0] * 3)
        row += [cusp_reading(pose(found.x), tooth, at, opposing, occlusal)[1] for tooth, at, opposing in CUSPS]
    return row


def ours(rows, threads, path):
    command = ["cargo", "run", "-q", "--release", "-p", "study-run", "--example", "study_speed", "--"]
    printed = subprocess.run(
        [*command, str(rows), str(threads), str(path)], cwd=ROOT, check=True, capture_output=True, text=True
    ).stdout
    return json.loads(printed)


def main():
    our_rows, numpy_rows, scipy_rows = (
        int(given) for given in (sys.argv[1:] + ["4194304", "262144", "40"][len(sys.argv) - 1 :])
    )
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        ours(CHUNK, 1, folder / "table.csv")
        with open(folder / "table.csv", newline="") as file:
            # The caution stands before the names.
            lines = [line for line in csv.reader(file) if not line[0].startswith("#")]
        table = np.array([[float(cell) for cell in line[1:29]] for line in lines[1:]])
        by_one = ours(our_rows, 1, folder / "one.parquet")
        by_two = ours(our_rows, 2, folder / "two.parquet")
    factors, clearances = table[:, :4], table[:, 4:]

    apart = np.abs(vectorised(*factors.T) - clearances).max()
    assert apart <= NUMPY_MM, apart
    chunks = -(-numpy_rows // CHUNK)
    began = time.perf_counter()
    for _ in range(chunks):
        vectorised(*factors.T)
    by_numpy = chunks * CHUNK / (time.perf_counter() - began)

    began = time.perf_counter()
    found = np.array([looped(*row) for row in factors[:scipy_rows]])
    by_scipy = scipy_rows / (time.perf_counter() - began)
    scipy_apart = np.abs(found - clearances[:scipy_rows]).max()
    assert scipy_apart <= SCIPY_MM, scipy_apart

    one, two = by_one["rows_per_second"], by_two["rows_per_second"]
    print(f"ours {one:,.0f} rows/s by one thread, {two:,.0f} by two ({two / one:.2f} times), Parquet written")
    print(f"NumPy by hand {by_numpy:,.0f} rows/s; ours by one thread {one / by_numpy:.1f} times, by two {two / by_numpy:.1f}")
    print(f"SciPy in a loop {by_scipy:,.1f} rows/s; ours by one thread {one / by_scipy:,.0f} times, by two {two / by_scipy:,.0f}")
    print(f"apart by {apart:.1e} mm (NumPy) and {scipy_apart:.1e} mm (SciPy)")


if __name__ == "__main__":
    main()
