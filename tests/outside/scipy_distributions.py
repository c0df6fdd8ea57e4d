"""Quantiles of SciPy's distributions, a few of its Sobol' points and Freedman-Diaconis bins of NumPy, written to
scipy_distributions.csv, sobol_points.csv and numpy_bins.csv.

Truncated normals reach from ordinary cuts to both tails far out, where a quantile by the whole
distribution's probability has no digits left. The Sobol' points are those before scrambling; SciPy
goes through them in the order of the Gray code, so that its point number i is the one whose own number
is i ^ (i >> 1).

    python scipy_distributions.py          writes the three tables beside this file
"""

import csv
import io
import platform
from pathlib import Path

import numpy as np
import scipy
from scipy import stats

HERE = Path(__file__).parent
PARTS = [1e-12, 1e-6, 0.001, 0.025, 0.25, 0.5, 0.625, 0.975, 0.999, 0.999999]
DIMENSIONS = 100
POINTS = [1, 2, 3, 5, 100, 4095, 65537, 1000000]
SEED = 20265


def write(name, header, rows, about):
    out = io.StringIO()
    out.write(f"# {about}\n")
    out.write(f"# SciPy {scipy.__version__}, NumPy {np.__version__}, Python {platform.python_version()}\n")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(header)
    writer.writerows(rows)
    (HERE / name).write_text(out.getvalue())


def distributions():
    rows = []
    for low, high in [(10.0, 60.0), (-3.5, -1.25)]:
        frozen = stats.uniform(low, high - low)
        rows += [("uniform", low, high, "", "", part, repr(float(frozen.ppf(part)))) for part in PARTS]
    for mean, sd in [(0.0, 1.0), (32.0, 5.5)]:
        frozen = stats.norm(mean, sd)
        rows += [("normal", mean, sd, "", "", part, repr(float(frozen.ppf(part)))) for part in PARTS]
    for mean, sd, low, high in [
        (32.0, 5.5, 10.0, 60.0), (99.6, 5.3725, 85.2, 112.6), (0.0, 1.0, 2.0, 3.0), (0.0, 1.0, -3.0, -2.0),
        (0.0, 1.0, 8.0, 9.5), (0.0, 1.0, -9.5, -8.0), (20.0, 2.0, 44.0, 80.0), (15.0, 4.0, 15.0, 30.0),
        (15.0, 4.0, 0.0, 15.0), (10.0, 100.0, 9.0, 10.5),
    ]:
        frozen = stats.truncnorm((low - mean) / sd, (high - mean) / sd, mean, sd)
        rows += [("truncated_normal", mean, sd, low, high, part, repr(float(frozen.ppf(part)))) for part in PARTS]
    for low, mode, high in [(0.0, 0.25, 1.0), (10.0, 10.0, 40.0), (10.0, 40.0, 40.0), (-5.0, 2.0, 3.0)]:
        frozen = stats.triang((mode - low) / (high - low), low, high - low)
        rows += [("triangular", low, mode, high, "", part, repr(float(frozen.ppf(part)))) for part in PARTS]
    write("scipy_distributions.csv", ["kind", "a", "b", "c", "d", "part", "value"], rows,
          "uniform a..b; normal mean a, sd b; truncated_normal mean a, sd b, c..d; triangular a, mode b, c")


def sobol_points():
    rows = []
    for number in POINTS:
        # The place in SciPy's order of the point with this number: the Gray code undone.
        place, shifted = number, number >> 1
        while shifted:
            place ^= shifted
            shifted >>= 1
        engine = stats.qmc.Sobol(DIMENSIONS, scramble=False)
        if place:
            engine.fast_forward(place)
        rows.append([number] + [repr(float(x)) for x in engine.random(1)[0]])
    write("sobol_points.csv", ["point"] + [f"x{d}" for d in range(1, DIMENSIONS + 1)], rows,
          "scipy.stats.qmc.Sobol before scrambling, by the points' own numbers")


def bins():
    rng = np.random.default_rng(SEED)
    rows = []
    for name, numbers in [
        ("normal", rng.normal(1.0, 0.6, 400)), ("exponential", rng.exponential(2.0, 150)),
        ("uniform", rng.uniform(10.0, 60.0, 1000)), ("two", np.concatenate([rng.normal(0, 1, 90), rng.normal(9, 1, 60)])),
    ]:
        numbers = np.round(numbers, 4)
        edges = np.histogram_bin_edges(numbers, bins="fd")
        counts, _ = np.histogram(numbers, bins=edges)
        rows.append([name, ";".join(repr(float(n)) for n in numbers), ";".join(repr(float(e)) for e in edges),
                     ";".join(str(c) for c in counts)])
    write("numpy_bins.csv", ["name", "numbers", "edges", "counts"], rows, "numpy.histogram_bin_edges, bins='fd'")


distributions()
sobol_points()
bins()
