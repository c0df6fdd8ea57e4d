"""Scenes and excursions."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import numpy as np
import pytest

import eminentia
from conftest import SCENES


@pytest.mark.parametrize("name", ["thirty_degree", "curved_paths", "opened_non_arcon", "unequal_sides"])
def test_excursions_are_those_of_the_command_line_to_the_last_bit(name: str, command: Path) -> None:
    path = SCENES / f"{name}.ron"
    told = subprocess.run(
        [command, "excursion", path, "--format", "json"], check=True, capture_output=True, text=True
    )
    expected = json.loads(told.stdout)
    scene = eminentia.Scene.load(path)
    excursions = scene.excursions()
    assert scene.title == expected["title"]
    assert [own.name for own in excursions] == [own["name"] for own in expected["excursions"]]
    for own, other in zip(excursions, expected["excursions"], strict=True):
        samples = other["samples"]
        assert len(own) == len(samples) > 0
        condyle = lambda side: [
            [sample[side][key] for key in ("advance_mm", "medial_mm", "drop_mm")] for sample in samples
        ]
        cusps = lambda key: [[cusp[key] for cusp in sample["cusps"]] for sample in samples]
        pose = lambda key: [sample["jaw_pose"][key] for sample in samples]
        # The command line writes no −0; NumPy takes it for equal.
        for array, numbers in [
            (own.advance_mm, [sample["advance_mm"] for sample in samples]),
            (own.rotation, pose("rotation")),
            (own.translation_mm, pose("translation_mm")),
            (own.incisal_point_mm, [sample["incisal_point_mm"] for sample in samples]),
            (own.opening_deg, [sample["opening_deg"] for sample in samples]),
            (own.right_condyle_mm, condyle("right_condyle")),
            (own.left_condyle_mm, condyle("left_condyle")),
            (own.separation_mm, cusps("separation_mm")),
            (own.clearance_mm, cusps("clearance_mm")),
        ]:
            np.testing.assert_array_equal(array, np.asarray(numbers))
        assert own.guided_by == [sample["guided_by"] for sample in samples]
        named = [f"{cusp['tooth']}.{cusp['name']}" for cusp in samples[0]["cusps"]]
        assert own.cusps == scene.cusps == named


def test_a_pose_takes_the_lower_incisal_point_to_where_it_is_said_to_be() -> None:
    for own in eminentia.Scene.thirty_degree().excursions():
        at_rest = own.incisal_point_mm[0]
        moved = np.einsum("nij,j->ni", own.rotation, at_rest) + own.translation_mm
        # Rounding of numbers of jaw size.
        np.testing.assert_allclose(moved, own.incisal_point_mm, atol=1e-12)


def test_arrays_have_one_row_a_pose_and_are_the_callers() -> None:
    (first, *_) = eminentia.Scene.thirty_degree().excursions()
    poses, cusps = len(first), len(first.cusps)
    shapes = {
        "advance_mm": (poses,),
        "rotation": (poses, 3, 3),
        "translation_mm": (poses, 3),
        "incisal_point_mm": (poses, 3),
        "opening_deg": (poses,),
        "right_condyle_mm": (poses, 3),
        "left_condyle_mm": (poses, 3),
        "separation_mm": (poses, cusps),
        "clearance_mm": (poses, cusps),
    }
    for name, shape in shapes.items():
        array = getattr(first, name)
        assert array.shape == shape and array.dtype == np.float64, name
        assert array.flags.writeable and array.flags.c_contiguous, name
        assert getattr(first, name) is array, f"{name} is not copied each time"


def test_a_change_makes_another_scene_and_leaves_the_first() -> None:
    scene = eminentia.Scene.thirty_degree()
    steeper = scene.changed({"right_guide.horizontal_inclination_deg": 40, "design": "NonArcon"})
    assert scene.setting("right_guide.horizontal_inclination_deg") == 30.0
    assert steeper.setting("right_guide.horizontal_inclination_deg") == 40.0
    assert steeper.setting("left_guide.horizontal_inclination_deg") == 30.0
    again = eminentia.Scene.from_text(steeper.to_text())
    for one, other in zip(steeper.excursions(), again.excursions(), strict=True):
        np.testing.assert_array_equal(one.clearance_mm, other.clearance_mm)
        assert not np.array_equal(one.clearance_mm, scene.excursions()[0].clearance_mm)


def test_casts_of_a_scene_guide() -> None:
    scene = eminentia.Scene.load(SCENES / "dentate_casts.ron")
    protrusive = scene.excursions()[0]
    assert set(protrusive.guided_by) == {"teeth"}


def test_where_the_settings_admit_no_pose_the_arrays_end_and_say_why() -> None:
    text = eminentia.Scene.thirty_degree().to_text().replace("path: Straight", "path: Profile([(0.0, 0.0), (2.0, 1.0)])")
    assert "Profile" in text, "the text of a scene names the path"
    protrusive = eminentia.Scene.from_text(text).excursions()[0]
    assert protrusive.stopped is not None and "2" in protrusive.stopped
    assert 0 < len(protrusive) == len(protrusive.advance_mm) < 13
    assert protrusive.advance_mm[-1] <= 2.0


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"horizontal_inclinatoin_deg": 30}, "near it: horizontal_inclination_deg"),
        ({"horizontal_inclination_deg": 120}, "85"),
        ({"horizontal_inclination_deg": float("nan")}, "horizontal_inclination_deg"),
        ({"design": "Hinge"}, "NonArcon"),
        ({"invented_casts.cusp_angle_deg": 20}, "has no invented_casts"),
    ],
)
def test_changes_that_cannot_be_made_are_refused_with_what_can(changes: dict[str, float | str], words: str) -> None:
    with pytest.raises(eminentia.Error, match=words):
        eminentia.Scene.thirty_degree().changed(changes)


def test_files_that_cannot_be_read_are_refused_by_name_and_place(tmp_path: Path) -> None:
    with pytest.raises(eminentia.Error, match="nothing_here.ron: no such file"):
        eminentia.Scene.load(tmp_path / "nothing_here.ron")
    bad = tmp_path / "bad.ron"
    bad.write_text(eminentia.Scene.thirty_degree().to_text().replace("30.0", "300.0", 1))
    with pytest.raises(eminentia.Error, match=r"bad.ron:\d+:\d+: field .*horizontal_inclination_deg.*300"):
        eminentia.Scene.load(bad)
    assert issubclass(eminentia.Error, ValueError)


def test_settings_are_those_that_scenes_take() -> None:
    scene = eminentia.Scene.thirty_degree()
    listed = {own.name: own for own in eminentia.settings()}
    inclination = listed["horizontal_inclination_deg"]
    assert (inclination.unit, inclination.each_side) == ("degrees", True)
    assert inclination.min < 30 < inclination.max and inclination.doc
    for own in listed.values():
        now = scene.setting(own.name)
        assert now is None or own.min <= now <= own.max, own


def test_the_caution_is_told() -> None:
    assert "verified on the patient" in eminentia.CAUTION
    assert " ".join(eminentia.CAUTION.split()) in " ".join((eminentia.__doc__ or "").split())


def test_a_byte_order_mark_before_the_text_is_no_part_of_it(tmp_path: Path) -> None:
    text = (SCENES / "thirty_degree.ron").read_text(encoding="utf-8")
    marked = tmp_path / "marked.ron"
    marked.write_text("\ufeff" + text, encoding="utf-8")
    title = eminentia.Scene.load(SCENES / "thirty_degree.ron").title
    assert eminentia.Scene.load(marked).title == title
    assert eminentia.Scene.from_text("\ufeff" + text).title == title
