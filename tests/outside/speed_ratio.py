"""Poses a second, ours against SciPy's minimiser on the same six equations, in one run.

    python tests/outside/speed_ratio.py      from the root, with the packages of requirements.txt

Runs the criterion bench and solve_speed.py one after the other on an otherwise idle machine and
prints both rates and their ratio; the ratio is what lasts from machine to machine.
"""

import json
import os
import pathlib
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
BENCH = "the six equations, swept in protrusion and to the right"

subprocess.run(["cargo", "bench", "-q", "-p", "sim-core", "--", BENCH], cwd=ROOT, check=True, stdout=sys.stderr)
target = pathlib.Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target"))
[estimates] = [
    path
    for path in target.glob("criterion/*/new/estimates.json")
    if json.loads((path.parent / "benchmark.json").read_text())["title"] == BENCH
]
ours = 1e9 / json.loads(estimates.read_text())["median"]["point_estimate"]

printed = subprocess.run([sys.executable, HERE / "solve_speed.py"], check=True, capture_output=True, text=True).stdout
scipy = json.loads(printed)["poses_per_second"]
print(f"ours {ours:,.0f} poses/s, SciPy least_squares {scipy:,.0f} poses/s, ratio {ours / scipy:,.0f}")
