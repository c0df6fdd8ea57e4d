"""What the tests share: the folders, the demo studies, the command line."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SCENES = ROOT / "scenes"


@pytest.fixture(scope="session")
def command() -> Path:
    """The command line that was built beside the package."""
    target = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target"))
    path = target / "debug" / "eminentia"
    assert path.is_file(), f"{path} is missing; `cargo build` makes it, or run ./check"
    return path


@pytest.fixture(scope="session")
def by_command(command: Path, tmp_path_factory: pytest.TempPathFactory):
    """Runs a demo study by the command line, once; gives the table's file."""
    folder = tmp_path_factory.mktemp("tables")

    def run(name: str) -> Path:
        out = folder / f"{name}.parquet"
        if not out.exists():
            study = SCENES / "studies" / f"{name}.ron"
            subprocess.run([command, "study", "run", study, "--out", out], check=True, capture_output=True)
        return out

    return run
