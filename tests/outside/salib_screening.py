"""Second-order Sobol' indices and Morris effects by SALib of two functions, written to salib_screening_outputs.csv
and salib_screening.csv.

The functions are evaluated at SALib's own points; the outputs are tabulated in SALib's order: for indices each group
is A, then A with one factor after the other from B, then B with one after the other from A, then B; for Morris each
trajectory's points, with the factor that has changed since the point before and by how much.

    python salib_screening.py          writes both tables beside this file
"""

import csv
import io
import platform
from importlib.metadata import version
from pathlib import Path

import numpy as np
import scipy
from SALib.analyze import morris as analyze_morris
from SALib.analyze import sobol as analyze
from SALib.sample import sobol as sample
from SALib.sample import morris as morris_sample

HERE = Path(__file__).parent
SEED = 20267
GROUPS = 128
TRAJECTORIES = 30
LEVELS = 4


def ishigami(x):
    return np.sin(x[:, 0]) + 7.0 * np.sin(x[:, 1]) ** 2 + 0.1 * x[:, 2] ** 4 * np.sin(x[:, 0])


def product(x):
    """An offset far above the spread, factors from strong to none."""
    weights = np.array([0.0, 1.0, 4.5, 99.0])
    return 500.0 + np.prod((np.abs(4.0 * x - 2.0) + weights) / (1.0 + weights), axis=1)


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
    count = len(bounds)
    problem = {"num_vars": count, "names": [f"x{i}" for i in range(count)], "bounds": bounds}
    points = sample.sample(problem, GROUPS, calc_second_order=True, scramble=True, seed=SEED)
    y = function(points)
    indices = analyze.analyze(problem, y, calc_second_order=True, num_resamples=100, seed=SEED)
    outputs += [[name, "indices", "", "", repr(float(value))] for value in y]
    for one in range(count):
        for kind, key in (("first", "S1"), ("total", "ST")):
            found.append([name, kind, one, "", repr(float(indices[key][one]))])
        for other in range(one + 1, count):
            found.append([name, "second", one, other, repr(float(indices["S2"][one, other]))])
    points = morris_sample.sample(problem, TRAJECTORIES, num_levels=LEVELS, seed=SEED)
    y = function(points)
    effects = analyze_morris.analyze(problem, points, y, num_levels=LEVELS, num_resamples=100, seed=SEED)
    unit = (points - [low for low, _ in bounds]) / [high - low for low, high in bounds]
    for row, value in enumerate(y):
        if row % (count + 1) == 0:
            outputs.append([name, "morris", "", "", repr(float(value))])
        else:
            change = unit[row] - unit[row - 1]
            factor = int(np.argmax(np.abs(change)))
            outputs.append([name, "morris", factor, repr(float(round(change[factor], 12))), repr(float(value))])
    for one in range(count):
        for kind in ("mu", "mu_star", "sigma"):
            found.append([name, kind, one, "", repr(float(effects[kind][one]))])
write("salib_screening_outputs.csv", ["function", "plan", "factor", "change", "output"], outputs)
write("salib_screening.csv", ["function", "kind", "one", "other", "value"], found)
