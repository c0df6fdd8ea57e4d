"""Closing to contact and the clearance map, ours against trimesh with its fastest installed backends, in one run.

    python tests/outside/cast_speed_ratio.py     from the root, with the packages of requirements.txt

The arches are those of sim-core/benches/casts.rs, built here from the same formulas, 100,000 triangles each.
trimesh has no search for a first touch: with it, closing is a bisection on whether fcl finds the meshes
crossing, down to a micrometre at the front teeth. Its clearance map is rays along the vertical, by embree if
that is installed, which works in single precision. Both are timed in their favourable case: everything that
can be built once is built before. The ratio is what lasts from machine to machine.
"""

import json
import os
import pathlib
import subprocess
import sys
import time

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import numpy as np
import trimesh

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
TRIANGLES = 100_000
MAP = "readings/clearance map of 50,000 vertices, at rest"
CLOSING = "closing to contact/warm, swept in protrusion/100000"
HALF_TURN, TEETH = 1.7, 14.0
FRONT_MM, CLOSE_ENOUGH_MM = 100.0, 1e-3


def arch(is_upper):
    rows = round((TRIANGLES / 26.0) ** 0.5)
    columns = round(TRIANGLES / 2.0 / rows)
    across, along = (x.ravel() for x in np.meshgrid(np.arange(rows + 1) / rows, np.arange(columns + 1) / columns, indexing="ij"))
    turn, out, tau = (along - 0.5) * 2.0 * HALF_TURN, 1.0 + (across - 0.5) * 0.35, 2.0 * np.pi
    height = -40.0 + 1.2 * np.cos(along * TEETH * tau) * np.cos(across * tau)
    height += 0.05 * np.sin(along * 210.0) * np.cos(across * 17.0)
    if is_upper:
        height += 0.3 * (1.0 + np.cos(along * 60.0) * np.cos(across * 9.0))
    vertices = np.stack([50.0 + 48.0 * np.cos(turn) * out, 27.0 * np.sin(turn) * out, height], axis=1)
    row, column = (x.ravel() for x in np.meshgrid(np.arange(rows), np.arange(columns), indexing="ij"))
    a, b = row * (columns + 1) + column, row * (columns + 1) + column + 1
    c, d = a + columns + 1, b + columns + 1
    faces = np.concatenate([np.stack([a, b, d], 1), np.stack([a, d, c], 1)])
    return trimesh.Trimesh(vertices, faces if is_upper else faces[:, ::-1], process=False)


def opened(angle, forward):
    """Lower to upper frame: advanced down a path of 30 degrees, then open about the axis, front down."""
    pose = np.eye(4)
    sin, cos = np.sin(angle), np.cos(angle)
    pose[:3, :3] = [[cos, 0.0, sin], [0.0, 1.0, 0.0], [-sin, 0.0, cos]]
    pose[:3, 3] = (forward, 0.0, -forward * np.tan(np.radians(30.0)))
    return pose


def closing(upper, lower, forward):
    """Opening at which two fcl bodies, built once, first cross."""
    fcl = trimesh.collision.fcl
    fixed = fcl.CollisionObject(upper, fcl.Transform())
    clear, crossing = 0.1, -0.1
    while (clear - crossing) * FRONT_MM > CLOSE_ENOUGH_MM:
        middle = (clear + crossing) / 2.0
        pose = opened(middle, forward)
        moving = fcl.CollisionObject(lower, fcl.Transform(pose[:3, :3], pose[:3, 3]))
        if fcl.collide(fixed, moving, fcl.CollisionRequest(), fcl.CollisionResult()) > 0:
            crossing = middle
        else:
            clear = middle
    return clear


def by_trimesh():
    upper, lower = arch(True), arch(False)
    backend = type(upper.ray).__module__
    rays = np.tile([0.0, 0.0, 1.0], (len(lower.vertices), 1))
    below = lower.vertices - (0.0, 0.0, 5.0)
    upper.ray.intersects_location(below[:10], rays[:10], multiple_hits=False)
    began = time.perf_counter()
    upper.ray.intersects_location(below, rays, multiple_hits=False)
    mapped = time.perf_counter() - began

    bodies = [trimesh.collision.mesh_to_BVH(mesh) for mesh in (upper, lower)]
    poses = np.linspace(0.0, 6.0, 13)
    began = time.perf_counter()
    for forward in poses:
        closing(*bodies, forward)
    return backend, mapped, (time.perf_counter() - began) / len(poses)


def ours():
    bench = "closing to contact/warm, swept in protrusion|clearance map"
    subprocess.run(["cargo", "bench", "-q", "-p", "sim-core", "--bench", "casts", "--", bench], cwd=ROOT, check=True, stdout=sys.stderr)
    target = pathlib.Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target"))
    seconds = {}
    for path in target.glob("criterion/**/new/estimates.json"):
        name = json.loads((path.parent / "benchmark.json").read_text())["full_id"]
        seconds[name] = json.loads(path.read_text())["median"]["point_estimate"] / 1e9
    return seconds[MAP], seconds[CLOSING]


def main():
    mapped, closed = ours()
    backend, their_map, their_closing = by_trimesh()
    print(f"clearance map: ours {mapped * 1e3:,.1f} ms, {backend} {their_map * 1e3:,.1f} ms, ratio {their_map / mapped:,.2f}")
    print(f"closing: ours {closed * 1e3:,.2f} ms, fcl bisected {their_closing * 1e3:,.1f} ms, ratio {their_closing / closed:,.1f}")


if __name__ == "__main__":
    main()
