"""Settings varied by arrays: the numbers of the study of the same rows, in the shapes that NumPy has for them."""

from __future__ import annotations

import builtins
import pickle
import warnings
from types import MappingProxyType

import numpy as np
import pytest

import eminentia
from conftest import SCENES

MEASURES = ["Pose", "Separation", "Clearance", "Opening", "IncisalPoint", "CondylarAdvance", "BennettMovement"]
SETTINGS = ["horizontal_inclination_deg", "right_guide.lateral_angle_deg", "anterior_guide.sagittal_inclination_deg"]


def drawn(scene: eminentia.Scene, measures: list[str], spread: float = 8.0) -> eminentia.Study:
    """A study whose rows are to be swept again; with a wide spread some of them have no pose."""
    factors = "".join(
        f'(setting: "{name}", values: Normal(mean: {mean}, sd: {spread})),'
        for name, mean in zip(SETTINGS, [35.0, 15.0, 20.0], strict=True)
    )
    return eminentia.Study.from_text(
        f"""(
            title: "Rows to be swept (invented)", scene: {scene.to_text()}, factors: [{factors}],
            plan: MonteCarlo(rows: 300, seed: 11),
            record: (measures: [{", ".join(measures)}], advances_mm: [1.5, 3.0]),
        )"""
    )


@pytest.mark.parametrize("name", ["thirty_degree", "steep_guides", "opened_non_arcon", "unequal_sides"])
@pytest.mark.parametrize("spread", [4.0, 40.0])
@pytest.mark.filterwarnings("ignore::UserWarning")
def test_a_sweep_has_the_numbers_of_the_study_of_the_same_rows_to_the_last_bit(name: str, spread: float) -> None:
    scene = eminentia.Scene.load(SCENES / f"{name}.ron")
    study = drawn(scene, MEASURES, spread)
    rows = study.numbers()
    columns = study.number_columns
    swept = eminentia.sweep(
        scene,
        {name: rows[:, place] for place, name in enumerate(SETTINGS)},
        advances_mm=[1.5, 3.0],
        measures=MEASURES,
        keep_out_of_range=True,
    )
    places = {
        "opening_deg": (swept.opening_deg, ()),
        **{f"incisal_point_{axis}_mm": (swept.incisal_point_mm, (at,)) for at, axis in enumerate("xyz")},
        **{f"{side}_condyle_advance_mm": (swept.condyle_advance_mm, (at,)) for at, side in enumerate(["right", "left"])},
        **{f"bennett_{way}_mm": (swept.bennett_mm, (at,)) for at, way in enumerate(["outward", "backward", "upward"])},
        **{f"r{row}{column}": (swept.rotation, (row, column)) for row in range(3) for column in range(3)},
        **{f"t{axis}_mm": (swept.translation_mm, (at,)) for at, axis in enumerate("xyz")},
        **{f"{cusp}.separation_mm": (swept.separation_mm, (at,)) for at, cusp in enumerate(swept.cusps)},
        **{f"{cusp}.clearance_mm": (swept.clearance_mm, (at,)) for at, cusp in enumerate(swept.cusps)},
    }
    compared = 0
    for column, values in zip(columns[len(SETTINGS) :], rows[:, len(SETTINGS) :].T, strict=True):
        excursion, rest = column.split(".", 1)
        advance = next(at for at, mm in enumerate(["1.5mm", "3mm"]) if rest.startswith(f"{mm}."))
        array, behind = places[rest.removeprefix("1.5mm.").removeprefix("3mm.")]
        own = array[(slice(None), swept.excursions.index(excursion), advance, *behind)]
        assert np.ascontiguousarray(own).tobytes() == np.ascontiguousarray(values).tobytes(), column
        compared += 1
    assert compared == len(columns) - len(SETTINGS) > 100
    missing = np.isnan(swept.clearance_mm).any(axis=(1, 2, 3))
    assert np.array_equal(missing, swept.reason != "") and missing.sum() == swept.with_reason
    assert (swept.with_reason > 0) == (spread > 10)


def test_shapes_are_those_that_numpy_broadcasts() -> None:
    scene = eminentia.Scene.thirty_degree()
    swept = eminentia.sweep(
        scene,
        {
            "horizontal_inclination_deg": np.linspace(20, 50, 4)[:, None],
            "lateral_angle_deg": [10, 15, 20],
            "anterior_guide.sagittal_inclination_deg": 25,
        },
        advances_mm=[1.5, 3.0],
    )
    excursions, cusps = len(scene.excursions()), len(scene.cusps)
    assert swept.shape == (4, 3)
    assert swept.rotation.shape == (4, 3, excursions, 2, 3, 3)
    assert swept.translation_mm.shape == (4, 3, excursions, 2, 3)
    assert swept.clearance_mm.shape == swept.separation_mm.shape == (4, 3, excursions, 2, cusps)
    assert all(values.shape == (4, 3) for values in swept.settings.values())
    for index in np.ndindex(4, 3):
        changes = {name: values[index] for name, values in swept.settings.items()}
        alone = scene.changed(changes).excursions(advances_mm=swept.advances_mm)
        for own, clearance, rotation in zip(alone, swept.clearance_mm[index], swept.rotation[index], strict=True):
            np.testing.assert_array_equal(own.clearance_mm, clearance)
            np.testing.assert_array_equal(own.rotation, rotation)
    one = eminentia.sweep(scene, {"horizontal_inclination_deg": 40})
    assert one.shape == () and one.advances_mm.tolist() == [6.0]
    assert one.clearance_mm.shape == (excursions, 1, cusps)
    none = eminentia.sweep(scene, {"horizontal_inclination_deg": np.zeros((0, 2))})
    assert none.clearance_mm.shape == (0, 2, excursions, 1, cusps) and none.with_reason == 0


def test_a_rotation_takes_the_incisal_point_at_rest_to_where_it_is() -> None:
    scene = eminentia.Scene.thirty_degree()
    at_rest = scene.excursions()[0].incisal_point_mm[0]
    swept = eminentia.sweep(
        scene, {"horizontal_inclination_deg": np.linspace(0, 60, 31)}, measures=["Pose", "IncisalPoint"]
    )
    moved = swept.rotation @ at_rest + swept.translation_mm
    # Rounding of numbers of jaw size.
    np.testing.assert_allclose(moved, swept.incisal_point_mm, atol=1e-12)


@pytest.mark.parametrize(
    "given",
    [
        np.linspace(20, 60, 5, dtype=np.float32),
        np.arange(20, 70, 10, dtype=np.int16),
        [20, 30, 40, 50, 60],
        (20.0, 30.0, 40.0, 50.0, 60.0),
        np.linspace(20, 60, 9)[::2],
        np.linspace(60, 20, 5)[::-1],
        np.array([20, 30, 40, 50, 60], dtype=object),
        np.array([20, 30, 40, 50, 60], dtype=">f8"),
    ],
    ids=["float32", "int16", "list", "tuple", "strided", "backwards", "objects", "big-endian"],
)
def test_every_way_to_give_the_same_numbers_gives_the_same_sweep(given: object) -> None:
    scene = eminentia.Scene.thirty_degree()
    expected = eminentia.sweep(scene, {"horizontal_inclination_deg": np.linspace(20, 60, 5)})
    settings = MappingProxyType({"horizontal_inclination_deg": given})
    assert eminentia.sweep(scene, settings) == expected  # type: ignore[arg-type]


def test_threads_make_no_difference_and_casts_are_taken_along() -> None:
    scene = eminentia.Scene.thirty_degree()
    settings = {"horizontal_inclination_deg": np.linspace(5, 70, 5000)}
    measures = ["Clearance", "Guidance", "FirstInterference"]
    one, other = (eminentia.sweep(scene, settings, measures=measures, threads=threads) for threads in (1, 4))
    assert one == other
    assert set(one.guided_by.ravel()) == {"table"}
    casts = eminentia.Scene.load(SCENES / "dentate_casts.ron")
    swept = eminentia.sweep(casts, {"horizontal_inclination_deg": [30, 35]}, advances_mm=[1.0], measures=["Guidance"])
    assert set(swept.guided_by.ravel()) == {"teeth"}


def test_the_first_interference_is_the_studys() -> None:
    scene = eminentia.Scene.thirty_degree()
    study = drawn(scene, ["FirstInterference"])
    rows = study.numbers()
    swept = eminentia.sweep(
        scene,
        {name: rows[:, place] for place, name in enumerate(SETTINGS)},
        advances_mm=[1.5, 3.0],
        measures=["FirstInterference"],
    )
    np.testing.assert_array_equal(swept.first_interference_mm, rows[:, len(SETTINGS) :])
    assert ((swept.first_interference_cusp == "") == np.isnan(swept.first_interference_mm)).all()
    assert set(swept.first_interference_cusp.ravel()) - {""} <= set(scene.cusps)


def test_what_admits_no_pose_is_not_a_number_and_says_why() -> None:
    text = eminentia.Scene.thirty_degree().to_text()
    scene = eminentia.Scene.from_text(text.replace("path: Straight", "path: Profile([(0.0, 0.0), (2.0, 1.0)])"))
    swept = eminentia.sweep(scene, {"lateral_angle_deg": [10, 20]}, advances_mm=[1.0, 3.0])
    assert not np.isnan(swept.clearance_mm[:, :, 0]).any() and np.isnan(swept.clearance_mm[:, 0, 1]).all()
    assert swept.with_reason == 2 and all("2" in reason for reason in swept.reason)
    assert "2 of them with a reason" in repr(swept)


@pytest.mark.parametrize(
    ("settings", "asked", "words"),
    [
        ({}, {}, "no setting"),
        ({"horizontal_inclinatoin_deg": 30}, {}, "near it: horizontal_inclination_deg"),
        ({"horizontal_inclination_deg": [[20, 95], [99, 20]]}, {}, r"is 95; allowed are -30 to 85 degrees, at \[0, 1\]"),
        ({"horizontal_inclination_deg": [20, np.nan]}, {}, r"not a finite number.*at \[1\]"),
        ({"horizontal_inclination_deg": ["steep"]}, {}, "no array of numbers"),
        ({"horizontal_inclination_deg": [20, None]}, {}, "not a finite number"),
        ({"horizontal_inclination_deg": [1, 2, 3], "lateral_angle_deg": [1, 2]}, {}, "do not go together"),
        ({"horizontal_inclination_deg": 30, "right_guide.horizontal_inclination_deg": 30}, {}, "horizontal"),
        ({"horizontal_inclination_deg": 30}, {"advances_mm": []}, "advances_mm is empty"),
        ({"horizontal_inclination_deg": 30}, {"advances_mm": [31]}, "0.001 to 30"),
        ({"horizontal_inclination_deg": 30}, {"advances_mm": [3, 3]}, "3"),
        ({"horizontal_inclination_deg": 30}, {"excursions": ["opening"]}, "no condylar advance"),
        ({"horizontal_inclination_deg": 30}, {"excursions": ["sideways"]}, "this scene has protrusive"),
        ({"horizontal_inclination_deg": 30}, {"excursions": "protrusive"}, "give a list"),
        ({"horizontal_inclination_deg": 30}, {"cusps": ["99.none"]}, "99.none"),
        ({"horizontal_inclination_deg": 30}, {"measures": ["Interference"]}, "clearance is below 0"),
        ({"horizontal_inclination_deg": 30}, {"threads": -1}, "threads is -1"),
        ({"horizontal_inclination_deg": 30}, {"threads": 2**70}, "threads is beyond"),
    ],
)
def test_what_cannot_be_swept_is_refused_in_plain_words(
    settings: dict[str, object], asked: dict[str, object], words: str
) -> None:
    with pytest.raises(eminentia.Error, match=words):
        eminentia.sweep(eminentia.Scene.thirty_degree(), settings, **asked)  # type: ignore[arg-type]


def test_more_than_memory_holds_is_refused_before_it_is_tried() -> None:
    scene = eminentia.Scene.thirty_degree()
    # A column of values, and so many others that their shape together is beyond any memory.
    column, row = np.full((1 << 21, 1), 30.0), np.full(1 << 21, 15.0)
    with pytest.raises(MemoryError):
        eminentia.sweep(scene, {"horizontal_inclination_deg": column, "lateral_angle_deg": row})
    study = eminentia.Study.from_text(
        f'(title: "t", scene: {scene.to_text()}, factors: [(setting: "lateral_angle_deg", '
        "values: Uniform(min: 0.0, max: 9.0))], plan: MonteCarlo(rows: 1000000000000, seed: 1), "
        "record: (measures: [Clearance]))"
    )
    for read in (study.rows, study.numbers):
        with pytest.raises(MemoryError, match="fewer rows"):
            read()


def test_what_is_not_measured_is_said_to_be_so_and_arrays_stay_as_they_are() -> None:
    swept = eminentia.sweep(eminentia.Scene.thirty_degree(), {"horizontal_inclination_deg": [20, 30]})
    with pytest.raises(eminentia.Error, match=r'measures=\["Opening"'):
        swept.opening_deg
    for array in [swept.clearance_mm, swept.rotation, swept.reason, swept.settings["horizontal_inclination_deg"]]:
        with pytest.raises(ValueError, match="read-only"):
            array[...] = 0
    values = np.array([20.0, 30.0])
    swept = eminentia.sweep(eminentia.Scene.thirty_degree(), {"horizontal_inclination_deg": values})
    values[0] = 99
    assert swept.settings["horizontal_inclination_deg"].tolist() == [20, 30]


def test_a_setting_that_changes_nothing_is_warned_of() -> None:
    text = eminentia.Scene.thirty_degree().to_text()
    scene = eminentia.Scene.from_text(text.replace("path: Straight", "path: Profile([(0.0, 0.0), (8.0, 4.0)])"))
    with pytest.warns(UserWarning, match="horizontal_inclination_deg"):
        swept = eminentia.sweep(scene, {"horizontal_inclination_deg": [20, 30]})
    assert swept.notes
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        eminentia.sweep(scene, {"lateral_angle_deg": [20, 30]})


def test_a_dataset_names_dimensions_and_units() -> None:
    xarray = pytest.importorskip("xarray")
    scene = eminentia.Scene.thirty_degree()
    swept = eminentia.sweep(
        scene,
        {"horizontal_inclination_deg": np.linspace(20, 50, 4)[:, None], "lateral_angle_deg": [10, 15, 20]},
        advances_mm=[1.5, 3.0],
        measures=["Pose", "Clearance", "Guidance", "BennettMovement", "CondylarAdvance"],
    )
    data = swept.to_xarray()
    assert isinstance(data, xarray.Dataset)
    assert data.clearance_mm.dims == ("horizontal_inclination_deg", "lateral_angle_deg", "excursion", "advance", "cusp")
    one = data.clearance_mm.sel(
        horizontal_inclination_deg=30, lateral_angle_deg=15, excursion="protrusive", advance=3.0, cusp="36.mesiobuccal"
    )
    alone = scene.changed({"lateral_angle_deg": 15}).excursions(advances_mm=[3.0])[0]
    assert float(one) == alone.clearance_mm[0, scene.cusps.index("36.mesiobuccal")]
    assert data.clearance_mm.attrs["units"] == data.advance.attrs["units"] == "mm"
    assert data.horizontal_inclination_deg.attrs["units"] == "degrees"
    assert data.attrs["caution"] == eminentia.CAUTION
    assert eminentia.Scene.from_text(data.attrs["scene"]) == scene
    assert data.rotation.dims[-2:] == ("upper_axis", "lower_axis") and data.rotation.shape[-2:] == (3, 3)
    # Values that go together, one for each row, and one that varies along no axis.
    paired = eminentia.sweep(
        scene,
        {"right_guide.lateral_angle_deg": [10, 20], "left_guide.lateral_angle_deg": [12, 22], "horizontal_inclination_deg": 30},
    ).to_xarray()
    assert paired.clearance_mm.dims[0] == "row" and paired["left_guide.lateral_angle_deg"].dims == ("row",)
    assert paired.horizontal_inclination_deg.dims == ()
    named = swept.to_xarray(dims=["patient", "doubt"])
    assert named.clearance_mm.dims[:2] == ("patient", "doubt")
    with pytest.raises(eminentia.Error, match="2 axes"):
        swept.to_xarray(dims=["patient"])


def test_without_xarray_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    original = builtins.__import__

    def without(name: str, *rest: object, **named: object) -> object:
        if name == "xarray":
            raise ImportError(name)
        return original(name, *rest, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(builtins, "__import__", without)
    swept = eminentia.sweep(eminentia.Scene.thirty_degree(), {"horizontal_inclination_deg": 30})
    with pytest.raises(ImportError, match="pip install xarray"):
        swept.to_xarray()


def test_a_sweep_travels_and_is_compared() -> None:
    scene = eminentia.Scene.thirty_degree()
    settings = {"horizontal_inclination_deg": [20, 95]}
    swept = eminentia.sweep(scene, settings, measures=["Clearance", "Guidance"], keep_out_of_range=True)
    again = pickle.loads(pickle.dumps(swept))
    assert again == swept and again.reason.tolist() == swept.reason.tolist()
    assert not again.clearance_mm.flags.writeable
    assert swept != eminentia.sweep(scene, {"horizontal_inclination_deg": [20, 30]}, measures=["Clearance", "Guidance"])
    assert swept != settings
