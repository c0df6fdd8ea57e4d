"""The package as it is installed: stubs that are true, examples that run, a notebook that ends."""

from __future__ import annotations

import ast
import doctest
import inspect
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

import eminentia
import eminentia._native as native
import eminentia._sweep
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


def documented(tree: ast.Module) -> Iterator[tuple[str, str | None, object]]:
    """Name, docs in the stub and what it is at runtime, of all that is public in the stub of the compiled half."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            yield node.name, ast.get_docstring(node), getattr(native, node.name)
        if isinstance(node, ast.ClassDef):
            owner = getattr(native, node.name)
            yield node.name, ast.get_docstring(node), owner
            for item in node.body:
                if isinstance(item, ast.FunctionDef) and not item.name.startswith("_"):
                    yield f"{node.name}.{item.name}", ast.get_docstring(item), getattr(owner, item.name)


def test_stubs_and_help_say_the_same() -> None:
    stub = ast.parse((PYTHON / "package" / "eminentia" / "_native.pyi").read_text())
    seen = list(documented(stub))
    assert len(seen) > 25
    for name, in_stub, at_runtime in seen:
        assert in_stub, f"{name} has no docs in the stub"
        assert in_stub == inspect.cleandoc(at_runtime.__doc__ or ""), name


def test_all_that_is_public_is_documented_and_results_say_what_they_hold() -> None:
    for name in eminentia.__all__:
        public = getattr(eminentia, name)
        if name.startswith("_") or isinstance(public, str):
            continue
        docs = inspect.getdoc(public)
        assert docs and not docs.startswith(f"{name}("), name
        for member, value in vars(public).items() if inspect.isclass(public) else []:
            if not member.startswith("_"):
                told = isinstance(value, property) or callable(value) or inspect.isgetsetdescriptor(value)
                assert inspect.getdoc(value) if told else True, f"{name}.{member}"
        for field in getattr(public, "__dataclass_fields__", {}):
            assert re.search(rf"^(\w+, )*{field}(, \w+)* : ", docs, re.MULTILINE), f"{name}.{field}"


def test_scripts_are_typed() -> None:
    told = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "benches/sweep_cost.py"],
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
    for module in (eminentia, eminentia._sweep):
        failed, attempted = doctest.testmod(module)
        assert attempted > 0 and failed == 0, module


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
