"""The package as it is installed: stubs that are true, examples that run, a notebook that ends."""

from __future__ import annotations

import doctest
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

import eminentia
from conftest import ROOT

PYTHON = ROOT / "python"


def test_stubs_say_what_is_there() -> None:
    told = subprocess.run(
        [sys.executable, "-m", "mypy.stubtest", "eminentia", "--ignore-disjoint-bases"],
        capture_output=True,
        text=True,
        cwd=PYTHON,
    )
    assert told.returncode == 0, told.stdout + told.stderr


def test_the_example_is_typed() -> None:
    told = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--ignore-missing-imports", "--allow-untyped-calls", "examples/dask_study.py"],
        capture_output=True,
        text=True,
        cwd=PYTHON,
    )
    assert told.returncode == 0, told.stdout + told.stderr


def test_what_is_written_in_python_is_typed(tmp_path: Path) -> None:
    # From elsewhere: beside its sources the installed package would be found twice.
    told = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "-p", "eminentia"], capture_output=True, text=True, cwd=tmp_path
    )
    assert told.returncode == 0, told.stdout + told.stderr


def test_the_modules_own_example_runs() -> None:
    failed, attempted = doctest.testmod(eminentia)
    assert attempted > 0 and failed == 0


@pytest.mark.parametrize("path", sorted((PYTHON / "notebooks").glob("*.ipynb")), ids=lambda path: path.stem)
def test_notebooks_run_to_their_end_and_are_kept_without_output(path: Path) -> None:
    notebook = nbformat.read(path, as_version=4)
    nbformat.validate(notebook)
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    assert code and all(not cell.outputs and cell.execution_count is None for cell in code)
    NotebookClient(notebook, timeout=120, resources={"metadata": {"path": str(path.parent)}}).execute()
    pictures = [
        output
        for cell in code
        for output in cell.outputs
        if output.output_type == "display_data" and "image/png" in output.data
    ]
    assert len(pictures) >= 2
    printed = "".join(output.text for cell in code for output in cell.outputs if output.output_type == "stream")
    assert eminentia.CAUTION in printed


def test_every_notebook_is_found() -> None:
    assert list((PYTHON / "notebooks").glob("*.ipynb"))
