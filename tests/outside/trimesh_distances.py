"""Distances, depths and vertical gaps between pairs of meshes by trimesh, written to trimesh_distances.csv.

Spheres, tori and inclined sheets of stated parameters, placed by seeded random turns and shifts so that some
pairs are apart and some pass through each other. Both sides build the same meshes from the parameters:

    grid of C x R cells over u, v in [0, 1], vertices row by row, cells cut [a, b, d], [a, d, c]
    sphere(r, n)    2n x n, closed in u:  r (cos f cos t, cos f sin t, sin f), t = 2 pi u, f = pi (v - 1/2)
    torus(R, r, n)  n x n, closed in both: ((R + r cos q) cos t, (R + r cos q) sin t, r sin q), q = 2 pi v
    sheet(w, n)     n x n, open: (w (u - 1/2), w (v - 1/2), 0), seen from above

then turn Rz(yaw) Ry(pitch) Rx(roll), then shift. The distance of meshes that are apart is fcl's, through
trimesh's CollisionManager; the depth of those that cross is the greatest signed distance of any vertex of one
within the other, by trimesh.proximity; vertical gaps of the lower mesh's vertices are from trimesh's own rays
in double precision, along z, to the lowest side of the upper mesh that faces down.

    python trimesh_distances.py          writes trimesh_distances.csv beside this file
"""

import csv
import io
import platform
from importlib.metadata import version
from pathlib import Path

import numpy as np
import trimesh
from scipy.spatial.transform import Rotation
from trimesh.ray.ray_triangle import RayMeshIntersector

SEED = 20264
PAIRS = 60
CAP_MM = 30.0
GAPS = 24


def grid(columns, rows, closed_u, closed_v, at):
    wide, high = columns + (not closed_u), rows + (not closed_v)
    u, v = np.meshgrid(np.arange(wide) / columns, np.arange(high) / rows)
    vertices = np.stack(at(u.ravel(), v.ravel()), axis=1)
    c, r = (x.ravel() for x in np.meshgrid(np.arange(columns), np.arange(rows)))
    index = lambda column, row: column % wide + row % high * wide
    a, b, g, d = index(c, r), index(c + 1, r), index(c, r + 1), index(c + 1, r + 1)
    faces = np.stack([np.stack([a, b, d], 1), np.stack([a, d, g], 1)], axis=1).reshape(-1, 3)
    return vertices, faces


def shape(kind, one, other, n):
    tau = 2.0 * np.pi
    if kind == "sphere":
        at = lambda u, v: (
            one * np.cos((v - 0.5) * np.pi) * np.cos(u * tau),
            one * np.cos((v - 0.5) * np.pi) * np.sin(u * tau),
            one * np.sin((v - 0.5) * np.pi),
        )
        return grid(2 * n, n, True, False, at)
    if kind == "torus":
        at = lambda u, v: (
            (one + other * np.cos(v * tau)) * np.cos(u * tau),
            (one + other * np.cos(v * tau)) * np.sin(u * tau),
            other * np.sin(v * tau),
        )
        return grid(n, n, True, True, at)
    return grid(n, n, False, False, lambda u, v: (one * (u - 0.5), one * (v - 0.5), 0.0 * u))


def mesh(spec):
    kind, one, other, n, angles, shift = spec
    vertices, faces = shape(kind, one, other, n)
    turn = Rotation.from_euler("xyz", angles).as_matrix()
    return trimesh.Trimesh(vertices @ turn.T + shift, faces, process=False)


def draw(rng, kind, arch, shift):
    if kind == "sheet":
        roll, pitch = rng.uniform(-0.6, 0.6, 2)
        angles = (roll + (np.pi if arch == "upper" else 0.0), pitch, rng.uniform(-3.0, 3.0))
        return (kind, 30.0, 0.0, int(rng.integers(5, 12)), angles, shift)
    n = int(rng.integers(14, 30))
    one, other = (rng.uniform(2.0, 5.0), 0.0) if kind == "sphere" else (rng.uniform(4.0, 7.0), rng.uniform(1.0, 2.5))
    return (kind, one, other, n, tuple(rng.uniform(-3.0, 3.0, 3)), shift)


def separation(upper, lower):
    manager = trimesh.collision.CollisionManager()
    manager.add_object("upper", upper)
    return manager.min_distance_single(lower), manager.in_collision_single(lower)


def depth(upper, lower):
    """Greatest signed distance within the other of any vertex of either; trimesh counts inside as positive.
    A vertex of no face (a sphere's seam has none) is no part of a surface."""
    inside = [
        trimesh.proximity.signed_distance(other, one.vertices[np.unique(one.faces)])
        for one, other in ((upper, lower), (lower, upper))
    ]
    return max(values.max() for values in inside)


def gaps(rng, upper, lower):
    """Vertex of the lower mesh and its gap, or none; of a few that do not look edge-on anywhere."""
    rays = RayMeshIntersector(upper)
    chosen = []
    for vertex in rng.permutation(len(lower.vertices)):
        faces = np.flatnonzero((lower.faces == vertex).any(axis=1))
        areas = np.cross(*(lower.triangles[faces][:, k] - lower.triangles[faces][:, 0] for k in (1, 2)))
        steep = areas[:, 2][np.linalg.norm(areas, axis=1) > 1e-9]
        if len(steep) == 0 or np.abs(steep).min() < 1e-6:
            continue
        gap = ""
        if steep.max() > 0.0:
            start = lower.vertices[vertex] - (0.0, 0.0, CAP_MM)
            places, _, met = rays.intersects_location([start], [(0.0, 0.0, 1.0)], multiple_hits=True)
            heights = [p[2] - lower.vertices[vertex][2] for p, t in zip(places, met) if upper.face_normals[t][2] < 0.0]
            heights = [h for h in heights if abs(h) <= CAP_MM]
            gap = format(min(heights), ".17g") if heights else ""
        chosen.append(f"{vertex}:{gap}")
        if len(chosen) == GAPS:
            break
    return ";".join(chosen)


def main():
    rng = np.random.default_rng(SEED)
    kinds = [("sphere", "sphere"), ("torus", "sphere"), ("sphere", "torus"), ("sheet", "sphere"), ("torus", "sheet"), ("sheet", "sheet")]
    rows, crossing = [], 0
    while len(rows) < PAIRS:
        upper_kind, lower_kind = kinds[len(rows) % len(kinds)]
        place = np.array([60.0, 20.0, -40.0]) + rng.uniform(-5.0, 5.0, 3)
        aside = rng.uniform(-3.0, 3.0, 2)
        specs = {
            "upper": draw(rng, upper_kind, "upper", place),
            "lower": draw(rng, lower_kind, "lower", place + (*aside, -rng.uniform(4.0, 12.0))),
        }
        meshes = {arch: mesh(spec) for arch, spec in specs.items()}
        distance, crosses = separation(meshes["upper"], meshes["lower"])
        is_closed = "sheet" not in (upper_kind, lower_kind)
        # Every second pair of closed meshes passes through each other, no other does.
        if crosses != (is_closed and len(rows) % 12 < 6):
            continue
        deep = 0.0
        if crosses:
            deep = depth(meshes["upper"], meshes["lower"])
            # Deeper ones may have come through to the far side; ones that touch at less are rounding.
            if not 1e-3 < deep < 0.6:
                continue
            crossing += 1
        row = {"pair": len(rows) + 1}
        for arch, (kind, one, other, n, angles, shift) in specs.items():
            row[f"{arch}_kind"] = kind
            values = {"one_mm": one, "other_mm": other, "n": n}
            values |= {f"{name}_rad": x for name, x in zip(("roll", "pitch", "yaw"), angles)}
            values |= {f"{axis}_mm": x for axis, x in zip("xyz", shift)}
            row |= {f"{arch}_{name}": format(value, ".17g") for name, value in values.items()}
        row["distance_mm"] = format(-deep if crosses else distance, ".17g")
        row["gaps_mm"] = gaps(rng, meshes["upper"], meshes["lower"])
        rows.append(row)
    assert crossing >= 5, crossing
    packages = ", ".join(f"{name} {version(name)}" for name in ("numpy", "scipy", "trimesh", "python-fcl", "rtree"))
    text = io.StringIO()
    for line in (
        "Distances and vertical gaps of pairs of meshes by trimesh. Made by trimesh_distances.py, which says what is what; run it again to make this file again.",
        f"Python {platform.python_version()}, {packages}; seed {SEED}; {len(rows)} pairs, all invented, {crossing} of them crossing (distance below zero).",
        f"Gaps as 'vertex of the lower mesh:gap', up to {CAP_MM:g} mm either way; nothing after the colon where nothing is opposite.",
    ):
        text.write(f"# {line}\n")
    table = csv.DictWriter(text, fieldnames=list(rows[0]), lineterminator="\n")
    table.writeheader()
    table.writerows(rows)
    Path(__file__).with_name("trimesh_distances.csv").write_text(text.getvalue())
    print(f"{len(rows)} pairs, {crossing} crossing")


if __name__ == "__main__":
    main()
