"""Empties what the page carries and never looks at: unused.py FILE.wasm

Each of these is compiled into every program that draws with kiss3d and egui, and does not pack. Where one is not found just
once it is left as it is.
"""

import json
import subprocess
import sys
from pathlib import Path


def nothing_of(content):
    return bytes(len(content))


def without_outlines(face):
    """A TrueType face that can be read and draws nothing: its table of outlines is emptied."""
    for record in range(12, 12 + 16 * int.from_bytes(face[4:6]), 16):
        start, length = (int.from_bytes(face[record + at : record + at + 4]) for at in (8, 12))
        if face[record : record + 4] == b"glyf":
            return face[:start] + bytes(length) + face[start + length :]
    return face


UNUSED = [
    # A table of one way of mapping tones. The viewer maps none (`frame::prepare`).
    ("kiss3d", "src/builtin/tony_mc_mapface.bin", nothing_of),
    # A face that the page does without (`faces` in src/window.rs), and that kiss3d reads before it is told so.
    ("epaint_default_fonts", "fonts/NotoEmoji-Regular.ttf", without_outlines),
]

told = json.loads(subprocess.run(["cargo", "metadata", "--format-version", "1", "--locked"], check=True, capture_output=True).stdout)
folders = {one["name"]: Path(one["manifest_path"]).parent for one in told["packages"]}
file = Path(sys.argv[1])
program = file.read_bytes()
for crate, name, emptied in UNUSED:
    content = (folders[crate] / name).read_bytes()
    if program.count(content) == 1:
        program = program.replace(content, emptied(content))
    else:
        print(f"{name} of {crate} was not found just once: the page is larger than it need be.", file=sys.stderr)
file.write_bytes(program)
