#!/usr/bin/env python3
"""How load, closing, clearance map and contacts grow with the triangles: ours beside parry, trimesh, fcl and coal.

    python tests/outside/cast_growth.py [TRIANGLES …]    from the root, with the packages of requirements.txt

TRIANGLES are those of both arches together; without them, from a hundred thousand to eight million. The arches are those
of sim-core/benches, in even contact at rest. `files/examples/cast_growth.rs` writes them as STL, and measures ours and
parry; the other libraries read the same files here, each on one thread.

None of the others searches for a first touch. With parry, fcl and coal, closing is a bisection on whether the meshes
cross, down to a micrometre at the front teeth (18 questions); ours is exact to rounding. Clearance maps of the others are
rays along the vertical, trimesh's by embree, which works in single precision. What can be built once is built before.
Loading is reading, merging equal vertices and building what the searches need; ours mends besides, and keeps the teeth
apart. `gaps` and `marks` are those of one pose, at rest in even contact, with five films; `contacts_2mm` both together two
millimetres protruded. The ratio is what lasts from machine to machine.
"""

import json
import os
import pathlib
import subprocess
import sys
import tempfile
import time

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import coal
import fcl
import numpy as np
import trimesh

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
SIZES = (100_000, 200_000, 1_000_000, 4_000_000, 8_000_000)
FRONT_MM, CLOSE_ENOUGH_MM, CAP_MM = 100.0, 1e-3, 5.0
# Larger casts are left out once a figure takes longer than this, in seconds.
PATIENCE_S = 20.0
COLUMNS = ("load_s", "rest_ms", "moving_ms", "map_ms", "gaps_ms", "marks_ms", "contacts_2mm_ms")


def opened(angle, forward):
    """Lower to upper frame: advanced down a path of 30 degrees, then open about the axis, front down."""
    sin, cos = np.sin(angle), np.cos(angle)
    turn = np.array([[cos, 0.0, sin], [0.0, 1.0, 0.0], [-sin, 0.0, cos]])
    return turn, np.array([forward, 0.0, -forward * np.tan(np.radians(30.0))])


def closing(cross, forward):
    """Opening at which two meshes, built once, first cross."""
    clear, crossing = 0.1, -0.1
    while (clear - crossing) * FRONT_MM > CLOSE_ENOUGH_MM:
        middle = (clear + crossing) / 2.0
        if cross(*opened(middle, forward)):
            crossing = middle
        else:
            clear = middle
    return clear


def timed(work):
    """How long this process takes, without what other programs take of the machine, as the example measures it."""
    began = time.process_time()
    done = work()
    return time.process_time() - began, done


def by_fcl(meshes):
    upper, lower = (trimesh.collision.mesh_to_BVH(mesh) for mesh in meshes)
    fixed = fcl.CollisionObject(upper, fcl.Transform())

    def cross(turn, shift):
        moving = fcl.CollisionObject(lower, fcl.Transform(turn, shift))
        return fcl.collide(fixed, moving, fcl.CollisionRequest(), fcl.CollisionResult()) > 0

    return cross


def by_coal(meshes):
    models = []
    for mesh in meshes:
        model = coal.BVHModelOBBRSS()
        model.beginModel(len(mesh.faces), len(mesh.vertices))
        model.addVertices(mesh.vertices)
        model.addTriangles(mesh.faces.astype(np.int64))
        model.endModel()
        models.append(model)
    upper, lower = models
    here = coal.Transform3s()

    def cross(turn, shift):
        request, result = coal.CollisionRequest(), coal.CollisionResult()
        return coal.collide(upper, here, lower, coal.Transform3s(turn, shift), request, result) > 0

    return cross


def closings(who, triangles, loading, build, meshes):
    building, cross = timed(lambda: build(meshes))
    rest, _ = timed(lambda: closing(cross, 0.0))
    row = {"who": who, "triangles": triangles, "load_s": loading + building, "rest_ms": rest * 1e3}
    if rest < PATIENCE_S:
        moving, _ = timed(lambda: [closing(cross, forward) for forward in (2.0, 4.0, 6.0)])
        row["moving_ms"] = moving * 1e3 / 3
    return row


def others(folder, triangles):
    """What trimesh, fcl and coal take for the casts in a folder."""
    paths = [next(folder.glob(f"{name}_{triangles}.stl")) for name in ("upper", "lower")]
    loading, meshes = timed(lambda: [trimesh.load(path) for path in paths])
    upper, lower = meshes
    count = len(upper.faces) + len(lower.faces)
    rays = np.tile([0.0, 0.0, 1.0], (len(lower.vertices), 1))
    below = lower.vertices - (0.0, 0.0, CAP_MM)
    # The first ray builds the tree.
    building, _ = timed(lambda: upper.ray.intersects_location(below[:10], rays[:10], multiple_hits=False))
    mapped, _ = timed(lambda: upper.ray.intersects_location(below, rays, multiple_hits=False))
    yield {"who": "trimesh, embree", "triangles": count, "load_s": loading + building, "map_ms": mapped * 1e3}
    for who, build in (("fcl", by_fcl), ("coal", by_coal)):
        yield closings(who, count, loading, build, meshes)


def main():
    sizes = [int(size) for size in sys.argv[1:]] or SIZES
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        command = ["cargo", "run", "-q", "--release", "--locked", "-p", "files", "--example", "cast_growth", "--", folder]
        told = subprocess.run([*command, *map(str, sizes)], cwd=ROOT, check=True, stdout=subprocess.PIPE).stdout
        for line in told.decode().splitlines():
            row = json.loads(line)
            if row["who"] == "ours":
                row["load_s"] = row["read_s"] + row["trees_s"]
            rows.append(row)
        given_up = set()
        for size in sizes:
            for row in others(pathlib.Path(folder), size):
                if row["who"] not in given_up:
                    rows.append(row)
                if max(row["load_s"], row.get("rest_ms", 0.0) / 1e3) > PATIENCE_S:
                    given_up.add(row["who"])
    rows.sort(key=lambda row: (round(np.log10(row["triangles"]), 1), row["who"] != "ours"))
    print("| triangles | who | " + " | ".join(COLUMNS) + " |")
    print("| ---" * (len(COLUMNS) + 2) + " |")
    for row in rows:
        told = ["–" if row.get(column) is None else f"{row[column]:,.3g}" for column in COLUMNS]
        print(f"| {row['triangles']:,} | {row['who']} | " + " | ".join(told) + " |")


if __name__ == "__main__":
    main()
