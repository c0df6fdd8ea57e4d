"""Poses a second, ours against SciPy's minimiser on the same six equations, in one run.

    python tests/outside/speed_ratio.py      from the root, with the packages of requirements.txt

Runs the criterion benches, pose by pose and in lanes, and solve_speed.py one after the other on an otherwise
idle machine and prints the rates and their ratios; a ratio is what lasts from machine to machine.
"""

import json
import os
import pathlib
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
BENCHES = {
    "one by one": "the six equations, swept in protrusion and to the right",
    "in lanes": "the six equations in lanes/the same sweep",
}

subprocess.run(["cargo", "bench", "-q", "-p", "sim-core", "--bench", "poses", "--", "the six equations"], cwd=ROOT, check=True, stdout=sys.stderr)
target = pathlib.Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target"))


def poses_a_second(bench):
    """The median, as criterion wrote it; of a bench that solves several at once, of all of them."""
    for path in (target / "criterion").glob("**/new/benchmark.json"):
        about = json.loads(path.read_text())
        if about["title"] == bench:
            nanoseconds = json.loads((path.parent / "estimates.json").read_text())["median"]["point_estimate"]
            return (about["throughput"] or {"Elements": 1})["Elements"] * 1e9 / nanoseconds
    raise SystemExit(f"criterion wrote nothing of {bench}")


printed = subprocess.run([sys.executable, HERE / "solve_speed.py"], check=True, capture_output=True, text=True).stdout
scipy = json.loads(printed)["poses_per_second"]
for way, bench in BENCHES.items():
    ours = poses_a_second(bench)
    print(f"{way}: ours {ours:,.0f} poses/s, SciPy least_squares {scipy:,.0f} poses/s, ratio {ours / scipy:,.0f}")
