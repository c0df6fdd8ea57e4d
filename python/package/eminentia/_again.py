"""What pickled objects are made again from."""

from __future__ import annotations

from pathlib import Path

from eminentia._errors import refused
from eminentia._native import Scene, Stream, Study


def scene(text: str, folder: Path | None) -> Scene:
    """A scene; casts that are files are read again."""
    return Scene.from_text(text, folder=folder or Path())


def study(text: str, folder: Path, sha256: str) -> Study:
    """A study, whose casts have to be the same as before."""
    made = Study.from_text(text, folder=folder)
    if made.sha256 != sha256:
        raise refused(f"{made.title}: its casts, read from {folder}, are other ones than when it was pickled")
    return made


def stream(of: Study, start: int, stop: int, batch_rows: int) -> Stream:
    """A stream of a study's rows."""
    return of.stream(start, stop, batch_rows=batch_rows)
