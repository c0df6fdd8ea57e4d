"""The programs that are no page: the same scenes drawn and computed by them."""

import functools
import json
import os
import subprocess
import tempfile
from pathlib import Path

import picture

ROOT = Path(__file__).resolve().parents[2]
SCENES = ROOT / "scenes"
TARGET = Path(os.environ.get("CARGO_TARGET_DIR") or ROOT / "target")


def run(program, *arguments):
    """What a program says; it must end well."""
    path = TARGET / "debug" / program
    assert path.is_file(), f"{path} is missing; ./web/check builds it"
    told = subprocess.run([path, *arguments], capture_output=True, text=True, encoding="utf-8")
    assert told.returncode == 0, f"{program} {arguments}: {told.stderr}"
    return told.stdout


def scene(name):
    """The file of a scene that comes with the program."""
    return SCENES / f"{name}.ron"


@functools.cache
def snapshot(file, *arguments, size=(1280, 800), scale=1):
    """The picture of a window of this size in points. Each is drawn once: none changes what it is given."""
    width, height = (round(side * scale) for side in size)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "native.png"
        large = ("--size", f"{width}x{height}", "--scale", str(scale))
        run("viewer", str(file), "--snapshot", str(path), *large, *arguments)
        drawn = picture.read(path)
    drawn.setflags(write=False)
    return drawn


def excursions(file, *arguments):
    """The excursions of a scene: for each by its name, its samples."""
    told = json.loads(run("eminentia", "excursion", str(file), "--format", "json", *arguments))
    return {excursion["name"]: excursion["samples"] for excursion in told["excursions"]}


def cusps(file, excursion, *arguments):
    """For each cusp, as the page's report names it: separation at the end, least clearance on the way."""
    samples = excursions(file, *arguments)[excursion]
    last = samples[-1]["cusps"]
    least = [min(sample["cusps"][k]["clearance_mm"] for sample in samples) for k in range(len(last))]
    return {
        (cusp["tooth"], cusp["name"]): (cusp["separation_mm"], clearance)
        for cusp, clearance in zip(last, least, strict=True)
    }
