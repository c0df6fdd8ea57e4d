"""Meshes that trimesh wrote, in meshes/, and what trimesh itself finds in them, in trimesh_files.csv.

The bodies are invented: a coloured ball of triangles, a ring, a bowl (a ring cut open), and a ball beside a
ring. trimesh writes each in several formats and reads its own file again; counts, area, volume and border
are of what it read, so that the rounding of the file is in them. trimesh does not write PLY with the most
significant byte first; that file is its little-endian one with the numbers turned by NumPy, and trimesh
reads it too.

    python trimesh_files.py         writes meshes/ and trimesh_files.csv beside this file
"""

import csv
import io
import platform
import re
from pathlib import Path

import numpy as np
import trimesh

HERE = Path(__file__).parent
MESHES = HERE / "meshes"
# Of what trimesh wrote, its address on the web is left out.
ADDRESS = re.compile(rb"comment https?://\S*\n")
COLUMNS = [
    "file", "vertices", "triangles", "area_mm2", "volume_mm3", "bodies", "closed", "borders", "border_length_mm",
    "first_vertex_red", "first_vertex_green", "first_vertex_blue",
]


def bodies():
    ball = trimesh.creation.icosphere(subdivisions=1, radius=30.0)
    ring = trimesh.creation.torus(25.0, 9.0, major_sections=14, minor_sections=7)
    bowl = ring.submesh([np.nonzero(ring.triangles_center[:, 2] < 2.0)[0]], append=True, repair=False)
    pair = trimesh.util.concatenate([ball, ring.copy().apply_translation([70.0, 3.0, -8.0])])
    coloured = ball.copy()
    place = (ball.vertices - ball.bounds[0]) / ball.extents
    coloured.visual.vertex_colors = np.column_stack([np.round(place * 255), np.full(len(place), 255)]).astype(np.uint8)
    return {"ball": coloured, "ring": ring, "bowl": bowl, "pair": pair}


def big_endian(little):
    """A little-endian PLY of float and uchar vertices and triangles, with its numbers turned."""
    end = little.index(b"end_header\n") + len(b"end_header\n")
    header = little[:end].decode()
    count = {name: int(header.split(f"element {name} ")[1].split()[0]) for name in ("vertex", "face")}
    fields = [("place", "<f4", 3)] + ([("colour", "u1", 4)] if "uchar red" in header else [])
    vertex = np.dtype(fields)
    face = np.dtype([("count", "u1"), ("corners", "<i4", 3)])
    split = end + count["vertex"] * vertex.itemsize
    vertices = np.frombuffer(little[end:split], vertex)
    faces = np.frombuffer(little[split:], face)
    assert len(vertices) == count["vertex"] and len(faces) == count["face"]
    turned = vertices.astype(vertex.newbyteorder(">")).tobytes() + faces.astype(face.newbyteorder(">")).tobytes()
    return header.replace("binary_little_endian", "binary_big_endian").encode() + turned


def files():
    made = bodies()
    for name, mesh in made.items():
        if name != "pair":
            yield f"{name}.stl", mesh.export(file_type="stl")
        yield f"{name}_binary.ply", mesh.export(file_type="ply", encoding="binary")
        yield f"{name}.obj", mesh.export(file_type="obj", header="invented", digits=9)
    yield "ball_ascii.ply", made["ball"].export(file_type="ply", encoding="ascii")
    yield "bowl_ascii.ply", made["bowl"].export(file_type="ply", encoding="ascii")
    yield "ball_ascii.stl", made["ball"].export(file_type="stl_ascii")
    yield "ball_big_endian.ply", big_endian(made["ball"].export(file_type="ply", encoding="binary"))
    yield "bowl_big_endian.ply", big_endian(made["bowl"].export(file_type="ply", encoding="binary"))


def borders(mesh):
    """Edges of one triangle only: how many lines they form, and how long they are."""
    groups = trimesh.grouping.group_rows(mesh.edges_sorted, require_count=1)
    edges = mesh.edges_sorted[groups]
    lines = trimesh.graph.connected_components(edges) if len(edges) else []
    length = np.linalg.norm(np.diff(mesh.vertices[edges], axis=1), axis=2).sum() if len(edges) else 0.0
    return len(lines), length


def row(name, data):
    file_type = name.rsplit(".")[-1].replace("stl", "stl_ascii" if data[:6] == b"solid " else "stl")
    mesh = trimesh.load_mesh(io.BytesIO(data), file_type=file_type, process=True)
    lines, length = borders(mesh)
    has_colours = mesh.visual.kind == "vertex"
    colour = mesh.visual.vertex_colors[0][:3] if has_colours else ["", "", ""]
    return [
        name, len(mesh.vertices), len(mesh.faces), f"{mesh.area:.12g}",
        f"{mesh.volume:.12g}" if mesh.is_watertight else "", mesh.body_count, int(mesh.is_watertight),
        lines, f"{length:.12g}", *colour,
    ]


def main():
    MESHES.mkdir(exist_ok=True)
    rows = []
    for name, data in files():
        data = data.encode() if isinstance(data, str) else bytes(data)
        data = ADDRESS.sub(b"", data)
        (MESHES / name).write_bytes(data)
        rows.append(row(name, data))
    with (HERE / "trimesh_files.csv").open("w", newline="") as file:
        file.write("# What trimesh finds in the files in meshes/, which it wrote. Made by trimesh_files.py; run it again to\n")
        file.write("# make these files again. The bodies are invented.\n")
        file.write(f"# Python {platform.python_version()}, NumPy {np.__version__}, trimesh {trimesh.__version__}.\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(COLUMNS)
        writer.writerows(rows)


if __name__ == "__main__":
    main()
