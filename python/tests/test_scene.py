"""Scenes and excursions."""

from __future__ import annotations

import copy
import errno
import json
import pickle
import subprocess
from collections import ChainMap
from collections.abc import Callable, Mapping
from pathlib import Path
from types import MappingProxyType

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


def test_arrays_have_one_row_a_pose_and_cannot_be_written_to() -> None:
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
        assert array.flags.c_contiguous, name
        assert getattr(first, name) is array, f"{name} is not copied each time"
        with pytest.raises(ValueError, match="read-only"):
            array[...] = 0
        own = array.copy()
        own[...] = 7
        assert not np.array_equal(getattr(first, name), own)


def test_poses_can_be_had_at_advances_of_ones_own() -> None:
    scene = eminentia.Scene.load(SCENES / "steep_guides.ron")
    advances = [0, 0.75, 1.5, 6]
    for own, whole in zip(scene.excursions(advances_mm=advances), scene.excursions(), strict=True):
        assert own.advance_mm.tolist() == advances and own.stopped is None
        # Thirteen samples of 6 mm stand at each half millimetre, so that three of the four are among them.
        for at, sample in [(0, 0), (2, 3), (3, 12)]:
            np.testing.assert_array_equal(own.rotation[at], whole.rotation[sample])
            np.testing.assert_array_equal(own.clearance_mm[at], whole.clearance_mm[sample])
    # Where an immediate translation comes before the advance, 0 is behind it.
    shifted = scene.changed({"right_guide.immediate_translation_mm": 0.5})
    assert shifted.excursions(advances_mm=[0])[2].right_condyle_mm[0].tolist() == [0.0, 0.5, 0.0]
    assert len(scene.excursions(advances_mm=np.array([1, 2], dtype=np.float32))[0]) == 2
    for wrong, words in [([2, 1], "rise"), ([1, 1], "rise"), ([31], "30"), ([float("nan")], "advance")]:
        with pytest.raises(eminentia.Error, match=words):
            scene.excursions(advances_mm=wrong)
    end = scene.changed({"right_guide.horizontal_inclination_deg": 30})
    text = end.to_text().replace("path: Straight", "path: Profile([(0.0, 0.0), (2.0, 1.0)])")
    stopped = eminentia.Scene.from_text(text).excursions(advances_mm=[1, 3, 4])[0]
    assert stopped.advance_mm.tolist() == [1] and stopped.stopped is not None


def test_a_condyles_advance_is_straight_ahead_not_along_the_floor_of_its_guide() -> None:
    """A point 6 mm ahead on a straight floor at 45° has dropped 6 mm, and gone √72 mm along it."""
    scene = eminentia.Scene.thirty_degree().changed({"horizontal_inclination_deg": 45})
    protrusive = scene.excursions(advances_mm=[6.0])[0]
    for condyle in (protrusive.right_condyle_mm, protrusive.left_condyle_mm):
        np.testing.assert_allclose(condyle[0], [6.0, 0.0, 6.0], atol=1e-12)


@pytest.mark.parametrize("kind", [MappingProxyType, ChainMap, dict])
def test_changes_come_in_any_mapping_and_from_numpy(kind: Callable[[dict[str, object]], Mapping[str, float]]) -> None:
    scene = eminentia.Scene.thirty_degree()
    steeper = scene.changed({"horizontal_inclination_deg": 40.0, "design": "NonArcon"})
    for number in (40, 40.0, np.float64(40), np.float32(40), np.int8(40), np.array(40.0)):
        assert scene.changed(kind({"design": "NonArcon", "horizontal_inclination_deg": number})) == steeper


def test_scenes_are_compared_copied_and_pickled() -> None:
    scene = eminentia.Scene.load(SCENES / "unequal_sides.ron")
    same = eminentia.Scene.from_text(scene.to_text())
    other = scene.changed({"right_guide.horizontal_inclination_deg": 12})
    assert scene == same and hash(scene) == hash(same) and scene != other and scene != scene.to_text()
    assert {scene, same, other} == {scene, other}
    for again in (copy.copy(other), copy.deepcopy(other), pickle.loads(pickle.dumps(other))):
        assert again == other and hash(again) == hash(other)
    invented = eminentia.Scene.load(SCENES / "dentate_casts.ron")
    again = pickle.loads(pickle.dumps(invented))
    assert again == invented
    np.testing.assert_array_equal(
        again.excursions(advances_mm=[1.0])[0].rotation, invented.excursions(advances_mm=[1.0])[0].rotation
    )


def test_results_are_compared_copied_and_pickled() -> None:
    first, second, *_ = eminentia.Scene.thirty_degree().excursions()
    (same, *_) = eminentia.Scene.thirty_degree().excursions()
    assert first == same and first != second and first != 3
    for again in (copy.copy(first), copy.deepcopy(first), pickle.loads(pickle.dumps(first))):
        assert again == first and not again.clearance_mm.flags.writeable
    for setting in eminentia.settings():
        assert pickle.loads(pickle.dumps(setting)) == setting and hash(setting) == hash(copy.copy(setting))
    assert repr(first) == "<Excursion protrusive, 13 poses>"


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


@pytest.mark.parametrize("value", [[30], None, {"a": 1}, np.array([30.0, 31.0]), b"30", 1j])
def test_what_is_no_number_is_refused_in_plain_words(value: object) -> None:
    with pytest.raises(TypeError, match="a setting takes one number") as refused:
        eminentia.Scene.thirty_degree().changed({"horizontal_inclination_deg": value})  # type: ignore[dict-item]
    assert "enum" not in str(refused.value) and "extract" not in str(refused.value)


def test_files_that_cannot_be_read_are_refused_by_name_and_place(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match="no such file: .*nothing_here.ron") as missing:
        eminentia.Scene.load(tmp_path / "nothing_here.ron")
    assert missing.value.filename == str(tmp_path / "nothing_here.ron") and missing.value.errno == errno.ENOENT
    assert isinstance(missing.value, eminentia.Error) and "eminentia scene" not in str(missing.value)
    assert pickle.loads(pickle.dumps(missing.value)).filename == missing.value.filename
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
