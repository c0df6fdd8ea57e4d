"""Sobol' indices by SALib and regression coefficients by NumPy of two functions, written to
salib_outputs.csv and salib_indices.csv.

The functions are evaluated at SALib's own points; the outputs are tabulated in SALib's order: each
group is A, then A with one factor after the other from B, then B.

    python salib_indices.py          writes both tables beside this file
"""

import csv
import io
import platform
from importlib.metadata import version
from pathlib import Path

import numpy as np
import scipy
from SALib.analyze import sobol as analyze
from SALib.sample import sobol as sample

HERE = Path(__file__).parent
SEED = 20266
GROUPS = 256
RESAMPLES = 4000
PLACES = 6


def ishigami(x):
    return np.sin(x[:, 0]) + 7.0 * np.sin(x[:, 1]) ** 2 + 0.1 * x[:, 2] ** 4 * np.sin(x[:, 0])


def product(x):
    """An offset far above the spread, factors from strong to none."""
    weights = np.array([0.0, 1.0, 4.5, 99.0])
    return 500.0 + np.prod((np.abs(4.0 * x - 2.0) + weights) / (1.0 + weights), axis=1)


def standardised(x, y):
    zx, zy = (x - x.mean(0)) / x.std(0, ddof=1), (y - y.mean()) / y.std(ddof=1)
    coefficients, residual, _, _ = np.linalg.lstsq(zx, zy, rcond=None)
    return coefficients, 1.0 - float(residual[0]) / float(zy @ zy)


def write(name, header, rows):
    out = io.StringIO()
    out.write(f"# SALib {version('SALib')}, SciPy {scipy.__version__}, NumPy {np.__version__}, "
              f"Python {platform.python_version()}\n")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(header)
    writer.writerows(rows)
    (HERE / name).write_text(out.getvalue())


outputs, found = [], []
for name, function, bounds in [("ishigami", ishigami, [[-np.pi, np.pi]] * 3), ("product", product, [[0, 1]] * 4)]:
    problem = {"num_vars": len(bounds), "names": [f"x{i}" for i in range(len(bounds))], "bounds": bounds}
    points = sample.sample(problem, GROUPS, calc_second_order=False, scramble=True, seed=SEED)
    points = np.round(points, PLACES)
    y = function(points)
    indices = analyze.analyze(problem, y, calc_second_order=False, num_resamples=RESAMPLES, seed=SEED)
    coefficients, explained = standardised(points, y)
    for place, (x, value) in enumerate(zip(points, y)):
        padded = [repr(float(v)) for v in x] + [""] * (4 - len(x))
        outputs.append([name, place, *padded, repr(float(value))])
    for factor in range(len(bounds)):
        found.append([name, factor, *(repr(float(indices[k][factor])) for k in ("S1", "S1_conf", "ST", "ST_conf")),
                      repr(float(coefficients[factor])), repr(explained)])
write("salib_outputs.csv", ["function", "row", "x0", "x1", "x2", "x3", "output"], outputs)
write("salib_indices.csv", ["function", "factor", "first", "first_half_width", "total", "total_half_width",
                            "coefficient", "r_squared"], found)
