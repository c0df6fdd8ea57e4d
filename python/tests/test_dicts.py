"""Scenes, cases and studies from dictionaries: the same as from their files."""

from __future__ import annotations

import json
import math
import subprocess
from pathlib import Path
from types import MappingProxyType
from typing import Any

import numpy as np
import pyarrow as pa
import pytest

import eminentia
from conftest import SCENES

CASES = sorted((SCENES / "cases").glob("*.ron"))
STUDIES = sorted((SCENES / "studies").glob("*.ron"))


def plain(scene: eminentia.Scene) -> dict[str, Any]:
    return {
        "title": "Steeper guides (invented)",
        "scene": scene,
        "factors": {"horizontal_inclination_deg": [20, 30, 40], "lateral_angle_deg": {"List": [10, 15]}},
        "plan": "FullGrid",
        "record": {"measures": ["Clearance"], "advances_mm": [3]},
    }


def test_a_study_of_a_dictionary_is_that_of_the_text() -> None:
    scene = eminentia.Scene.thirty_degree()
    own = eminentia.Study.from_dict(plain(scene))
    same = eminentia.Study.from_text(
        f"""(
            title: "Steeper guides (invented)", scene: {scene.to_text()},
            factors: [
                (setting: "horizontal_inclination_deg", values: List([20.0, 30.0, 40.0])),
                (setting: "lateral_angle_deg", values: List([10.0, 15.0])),
            ],
            plan: FullGrid, record: (measures: [Clearance], advances_mm: [3.0]),
        )"""
    )
    assert own == same and own.row_count == 6
    for values in (np.array([20, 30, 40]), np.array([20, 30, 40], np.float32), (20, 30, 40), pa.array([20.0, 30.0, 40.0])):
        fields = {**plain(scene), "factors": {"horizontal_inclination_deg": values, "lateral_angle_deg": np.array([10, 15])}}
        if not isinstance(values, pa.Array):
            assert eminentia.Study.from_dict(MappingProxyType(fields)) == own
    listed = [{"setting": "horizontal_inclination_deg", "values": [20, 30, 40]}, {"setting": "lateral_angle_deg", "values": [10, 15]}]
    assert eminentia.Study.from_dict({**plain(scene), "factors": listed}) == own
    by_file = eminentia.Study.from_dict({**plain(scene), "scene": "thirty_degree.ron"}, folder=SCENES)
    assert by_file.row_count == 6


@pytest.mark.parametrize("path", STUDIES, ids=lambda path: path.stem)
def test_every_study_comes_back_from_its_dictionary_and_its_text(path: Path) -> None:
    own = eminentia.Study.load(path)
    assert eminentia.Study.from_dict(own.to_dict()) == own
    assert eminentia.Study.from_text(own.to_text()) == own


@pytest.mark.parametrize("path", sorted(SCENES.glob("*.ron")), ids=lambda path: path.stem)
def test_every_scene_comes_back_from_its_dictionary(path: Path) -> None:
    own = eminentia.Scene.load(path)
    fields = own.to_dict()
    assert eminentia.Scene.from_dict(fields) == own
    json.dumps(fields)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_every_case_comes_back_from_its_dictionary(path: Path) -> None:
    own = eminentia.Case.load(path)
    assert eminentia.Case.from_dict(own.to_dict()) == own == eminentia.Case.from_text(own.to_text())


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"plan": "EveryOther"}, "study: plan: .*EveryOther"),
        ({"plan": {"MonteCarlo": {"rows": 10}}}, "study: plan.*seed"),
        ({"plan": {"MonteCarlo": {"rows": -1, "seed": 1}}}, "-1 is given; allowed are whole numbers from 1 to"),
        ({"factors": {"horizontal_inclinatoin_deg": [1]}}, "near it: horizontal_inclination_deg"),
        ({"factors": {"horizontal_inclination_deg": [99]}}, "99; allowed are -30 to 85 degrees"),
        ({"factors": {"horizontal_inclination_deg": []}}, "the list is empty"),
        ({"factors": {}}, "factor"),
        ({"colour": "red"}, "colour"),
        ({"record": {"measures": ["Clearance"], "advances_mm": ["far"]}}, "record.advances_mm"),
    ],
)
def test_dictionaries_that_say_what_cannot_be_are_refused_with_the_field(change: dict[str, object], words: str) -> None:
    with pytest.raises(eminentia.Error, match=words) as refused:
        eminentia.Study.from_dict(plain(eminentia.Scene.thirty_degree()) | change)
    assert "1:1" not in str(refused.value), "no place in a text that nobody wrote"


def test_what_is_no_mapping_is_refused() -> None:
    for read in (eminentia.Study.from_dict, eminentia.Scene.from_dict, eminentia.Case.from_dict):
        for given in ([1], "(title: 3)", None, 3):
            with pytest.raises(TypeError, match="is given as a mapping"):
                read(given)  # type: ignore[arg-type]


def told(command: Path, *asked: object) -> dict[str, Any]:
    """What the command line says; one whose case is not confirmed ends with 1."""
    run = subprocess.run([command, *map(str, asked), "--format", "json"], capture_output=True, text=True)
    assert run.returncode in (0, 1), run.stderr
    object: dict[str, Any] = json.loads(run.stdout)
    return object


def same(own: object, other: object, at: str = "") -> None:
    """Equal to the last bit, numbers of either kind."""
    if isinstance(other, dict):
        assert isinstance(own, dict) and own.keys() == other.keys(), at
        for key, value in other.items():
            same(own[key], value, f"{at}.{key}")
    elif isinstance(other, list):
        assert isinstance(own, (list, tuple)) and len(own) == len(other), at
        for place, (one, value) in enumerate(zip(own, other, strict=True)):
            same(one, value, f"{at}[{place}]")
    else:
        assert own == other or (isinstance(own, float) and math.isnan(own) and other is None), f"{at}: {own} {other}"


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_cases_say_what_the_command_line_says(path: Path, command: Path) -> None:
    case = eminentia.Case.load(path)
    expected = told(command, "program", path)
    same(case.program(), expected)
    assert case.title == expected["title"] and case.warnings == expected["warnings"]
    same(case.bench(), told(command, "bench", path))
    asked = {"right_deg": 31, "left_deg": 28.5, "right_lateral_deg": 14, "left_lateral_deg": 16}
    on_trial = ",".join(f"{name.removesuffix('_deg').replace('_', '-')}={value}" for name, value in asked.items())
    same(case.bench(**asked), told(command, "bench", path, "--set", on_trial))
    if case.is_refuted:
        assert "settings" not in expected
        for refused in (case.scene, case.doubt):
            with pytest.raises(eminentia.Error, match="not confirmed"):
                refused()
        return
    scene = case.scene()
    for side in ("right", "left"):
        for setting in ("horizontal_inclination_deg", "lateral_angle_deg"):
            assert scene.setting(f"{side}_guide.{setting}") == expected["settings"][side][setting]["value"]
    same(case.doubt(draws=40, seed=3), told(command, "doubt", path, "--draws", 40, "--seed", 3))
    own = case.doubt(draws=40, axis_sd_mm=0.5, scale_step_deg=5)
    same(own, told(command, "doubt", path, "--draws", 40, "--axis-sd-mm", 0.5, "--scale-step-deg", 5))


def test_what_cannot_be_asked_of_a_case_is_refused(tmp_path: Path) -> None:
    case = next(case for case in map(eminentia.Case.load, CASES) if not case.is_refuted)
    with pytest.raises(eminentia.Error, match="allowed are -30 to 85"):
        case.bench(right_deg=99)
    with pytest.raises(eminentia.Error, match="draws is 1; allowed are whole numbers, 2 to 100000"):
        case.doubt(draws=1)
    with pytest.raises(eminentia.Error, match="axis"):
        case.doubt(draws=10, axis_sd_mm=-1)
    with pytest.raises(FileNotFoundError):
        eminentia.Case.load(tmp_path / "no.ron")


@pytest.mark.parametrize("name", ["planned_disclusion", "balanced_denture", "thirty_degree"])
def test_plans_are_those_of_the_command_line(name: str, command: Path, tmp_path: Path) -> None:
    path, out = SCENES / f"{name}.ron", tmp_path / "planned.ron"
    scene = eminentia.Scene.load(path)
    same(scene.plan(), told(command, "plan", path, "--scene-out", out))
    assert scene.planned() == eminentia.Scene.load(out)
    wanted = {
        "goal": {"BalancedArticulation": {"cusp_inclination_deg": 25, "free": [{"IncisalGuidance": {"least_deg": 0, "most_deg": 40}}]}},
        "chord_mm": 4,
    }
    asked = ["--balance", 25, "--free", "incisal-guidance=0..40", "--chord-mm", 4]
    if name == "thirty_degree":
        same(scene.plan(wanted), told(command, "plan", path, *asked))
    with pytest.raises(eminentia.Error, match="plan: .*chord"):
        scene.plan({"chord_mm": -1})


def test_contacts_are_those_of_the_command_line(command: Path) -> None:
    path = SCENES / "dentate_casts.ron"
    scene = eminentia.Scene.load(path)
    same(scene.contacts(excursion="protrusive", at=1.0, to_mm=1), told(command, "contacts", path, "--excursion", "protrusive", "--at", 1, "--to", 1))
    asked = {"films_um": [40, 20], "intended": "group-function", "to_mm": 1, "excursion": "left_lateral", "at": 0.5}
    expected = told(command, "contacts", path, "--film", 40, "--film", 20, "--intended", "group-function", "--to", 1, "--excursion", "left_lateral", "--at", 0.5)
    same(scene.contacts(**asked), expected)
    for wrong, words in [
        ({"intended": "beautiful"}, "canine-guided"),
        ({"to_mm": 20}, "1 to 15"),
        ({"films_um": [0]}, "films_um"),
        ({"at": 1.0}, "excursion="),
        ({"excursion": "sideways"}, "sideways"),
    ]:
        with pytest.raises(eminentia.Error, match=words):
            scene.contacts(**wrong)  # type: ignore[arg-type]
    with pytest.raises(eminentia.Error, match="no casts"):
        eminentia.Scene.thirty_degree().contacts()
