"""How many jaw poses a second SciPy's least_squares finds: the yardstick the Rust bench is held to.

The six equations of the mechanism for the plainest instrument (Arcon, table, straight walls, no
wings), swept in protrusion and in a right lateral movement on one thread. SciPy gets its favourable
case: each search starts at the pose before it, one step of the sweep away, and the residuals are
written for speed, in plain floats, because numpy's own overhead on six numbers is larger than the sum.

    python solve_speed.py [poses in each sweep]      prints one JSON object
"""

import os

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import json
import sys
import time
from math import cos, radians, sin, sqrt, tan

import numpy as np
from scipy.optimize import least_squares

HALF_MM = 55.0
PIN_MM = (98.0, 0.0, -42.0)
FARTHEST_MM = 8.0
INCLINATION, LATERAL, TABLE = radians(30.0), radians(15.0), radians(10.0)
TIGHT = dict(xtol=1e-12, ftol=1e-12, gtol=1e-12)
LARGEST_RESIDUAL_MM = 1e-9

STEEP, ASIDE = tan(INCLINATION), tan(LATERAL)
NX, NZ = sin(TABLE), cos(TABLE)


def moved(x):
    """Displacements of the right and left sphere, and of the pin's tip over the table."""
    a, b, c, tx, ty, tz = x
    square = a * a + b * b + c * c
    if square < 1e-8:
        s, q = 1.0 - square / 6.0, 0.5 - square / 24.0
    else:
        angle = sqrt(square)
        s, q = sin(angle) / angle, (1.0 - cos(angle)) / square
    r00, r01, r02 = 1.0 - q * (b * b + c * c), q * a * b - s * c, q * a * c + s * b
    r10, r11, r12 = q * a * b + s * c, 1.0 - q * (a * a + c * c), q * b * c - s * a
    r20, r21, r22 = q * a * c - s * b, q * b * c + s * a, 1.0 - q * (a * a + b * b)
    h = HALF_MM
    right = (tx - h * r01, ty - h * r11 + h, tz - h * r21)
    left = (tx + h * r01, ty + h * r11 - h, tz + h * r21)
    px, py, pz = PIN_MM[0] - tx, PIN_MM[1] - ty, PIN_MM[2] - tz
    touch = NX * (r00 * px + r10 * py + r20 * pz - PIN_MM[0]) + NZ * (r02 * px + r12 * py + r22 * pz - PIN_MM[2])
    return right, left, touch


def protrusive(x, t):
    (ra, rm, rz), (la, lm, lz), touch = moved(x)
    return np.array([ra - t, la - t, -rz - t * STEEP, -lz - t * STEEP, rm + lm, touch])


def right_lateral(x, t):
    (ra, _, rz), (la, lm, lz), touch = moved(x)
    return np.array([la - t, -lz - t * STEEP, -lm - t * ASIDE, ra, rz, touch])


def sweep(equations, count):
    x, worst = np.zeros(6), 0.0
    for t in np.linspace(FARTHEST_MM / count, FARTHEST_MM, count):
        found = least_squares(equations, x, args=(t,), **TIGHT)
        x, worst = found.x, max(worst, np.abs(found.fun).max())
    assert worst < LARGEST_RESIDUAL_MM, worst
    return count


def main():
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    sweep(protrusive, 20)
    began = time.perf_counter()
    poses = sweep(protrusive, count) + sweep(right_lateral, count)
    seconds = time.perf_counter() - began
    print(json.dumps({"poses": poses, "seconds": seconds, "poses_per_second": poses / seconds}))


if __name__ == "__main__":
    main()
