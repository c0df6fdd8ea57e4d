"""What a sweep costs beside the study of the same rows.

    python benches/sweep_cost.py [--rows 1000000] [--repeats 3]

Draws a study's rows, sweeps the values that stand in them, looks whether both have the same numbers to the last bit,
and prints processor seconds of each on one thread, the least of some repeats, and their ratio. Processor time, since a
machine that does something else too would have its say in the wall's.
"""

from __future__ import annotations

import argparse
import json
import time
from collections.abc import Callable

import numpy as np

import eminentia

FACTORS = {
    "horizontal_inclination_deg": "Uniform(min: 10.0, max: 60.0)",
    "right_guide.lateral_angle_deg": "Uniform(min: 0.0, max: 30.0)",
    "left_guide.lateral_angle_deg": "Uniform(min: 0.0, max: 30.0)",
    "anterior_guide.sagittal_inclination_deg": "Uniform(min: 0.0, max: 45.0)",
}


def least(repeats: int, work: Callable[[], object]) -> float:
    """Processor seconds of the quickest of some runs, what they made dropped after each."""
    seconds = []
    for _ in range(repeats):
        began = time.process_time()
        made = work()
        seconds.append(time.process_time() - began)
        del made
    return min(seconds)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--rows", type=int, default=1_000_000)
    parser.add_argument("--repeats", type=int, default=3)
    asked = parser.parse_args()
    scene = eminentia.Scene.thirty_degree()
    factors = ", ".join(f'(setting: "{name}", values: {values})' for name, values in FACTORS.items())
    study = eminentia.Study.from_text(
        f"""(
            title: "Rows to be swept (invented)", scene: {scene.to_text()}, factors: [{factors}],
            plan: MonteCarlo(rows: {asked.rows}, seed: 1),
            record: (measures: [Clearance], advances_mm: [3.0]),
        )"""
    )
    rows = study.numbers()
    settings = {name: np.ascontiguousarray(rows[:, place]) for place, name in enumerate(FACTORS)}

    def swept() -> eminentia.Sweep:
        return eminentia.sweep(scene, settings, advances_mm=[3.0], measures=["Clearance"], threads=1)

    same = swept().clearance_mm.reshape(asked.rows, -1).tobytes() == rows[:, len(FACTORS) :].tobytes()
    del rows
    told = {
        "rows": asked.rows,
        "same_to_the_last_bit": same,
        "study_cpu_seconds": round(least(asked.repeats, study.numbers), 3),
        "study_rows_cpu_seconds": round(least(asked.repeats, study.rows), 3),
        "sweep_cpu_seconds": round(least(asked.repeats, swept), 3),
    }
    told["sweep_to_study"] = round(told["sweep_cpu_seconds"] / told["study_cpu_seconds"], 3)
    print(json.dumps(told))


if __name__ == "__main__":
    main()
