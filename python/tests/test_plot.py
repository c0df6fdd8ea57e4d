"""Pictures: what is drawn is what was computed, and can be told without colour."""

from __future__ import annotations

import builtins
import sys

import matplotlib

matplotlib.use("Agg")

import matplotlib.pyplot as plt  # noqa: E402
import numpy as np  # noqa: E402
import pytest  # noqa: E402

import eminentia  # noqa: E402
from conftest import SCENES  # noqa: E402
from eminentia import plot  # noqa: E402


@pytest.fixture(autouse=True)
def closed() -> object:
    yield
    plt.close("all")


def swept(**settings: object) -> eminentia.Sweep:
    return eminentia.sweep(eminentia.Scene.thirty_degree(), settings, advances_mm=[1.5, 3.0])  # type: ignore[arg-type]


def test_disclusion_along_an_excursion_has_a_line_for_each_cusp() -> None:
    own = eminentia.Scene.thirty_degree().excursions()[0]
    ax = plot.disclusion(own)
    lines = [line for line in ax.get_lines() if not line.get_label().startswith("_")]
    assert [line.get_label() for line in lines] == own.cusps
    for line, values in zip(lines, own.clearance_mm.T, strict=True):
        np.testing.assert_array_equal(line.get_xdata(), own.advance_mm)
        np.testing.assert_array_equal(line.get_ydata(), values)
    first = lines[:6]
    assert len({(line.get_linestyle(), line.get_marker(), str(line._dash_pattern)) for line in first}) == len(first)
    assert ax.get_xlabel() == "condylar advance, mm" and ax.get_ylabel() == "clearance, mm"
    _, chosen = plt.subplots()
    again = plot.disclusion(own, cusps=["36.mesiobuccal"], measure="separation_mm", ax=chosen)
    assert again is chosen and again.get_ylabel() == "separation, mm"
    for asked, words in [({"cusps": ["99.none"]}, "here are"), ({"measure": "opening_deg"}, "allowed are")]:
        with pytest.raises(eminentia.Error, match=words):
            plot.disclusion(own, **asked)


def test_what_interferes_is_hatched() -> None:
    own = eminentia.Scene.thirty_degree().changed({"horizontal_inclination_deg": 0}).excursions()[0]
    assert own.clearance_mm.min() < 0
    assert [patch.get_hatch() for patch in plot.disclusion(own).patches] == ["//"]
    assert not plot.disclusion(own, measure="separation_mm").patches


def test_a_response_curve_runs_along_the_setting_with_a_line_for_each_of_a_second() -> None:
    inclinations = np.array([50.0, 20.0, 35.0])
    one = plot.response(swept(horizontal_inclination_deg=inclinations), excursion="protrusive", cusp="36.mesiobuccal")
    (line,) = [line for line in one.get_lines() if not line.get_label().startswith("_")]
    assert line.get_xdata().tolist() == [20, 35, 50], "in rising order"
    assert one.get_xlabel() == "horizontal condylar inclination, °"
    both = swept(horizontal_inclination_deg=inclinations[:, None], lateral_angle_deg=[10, 20])
    place = both.excursions.index("left_lateral"), 0, both.cusps.index("46.mesiobuccal")
    values = both.clearance_mm[(slice(None), slice(None), *place)]
    asked = {"excursion": "left_lateral", "cusp": "46.mesiobuccal", "advance_mm": 1.5}
    ax = plot.response(both, **asked)
    lines = [line for line in ax.get_lines() if not line.get_label().startswith("_")]
    assert [line.get_label() for line in lines] == ["10°", "20°"]
    for line, column in zip(lines, values.T, strict=True):
        np.testing.assert_array_equal(line.get_ydata(), column[[1, 2, 0]])
    ax = plot.response(both, setting="lateral_angle_deg", **asked)
    lines = [line for line in ax.get_lines() if not line.get_label().startswith("_")]
    assert [line.get_label() for line in lines] == ["50°", "20°", "35°"]
    np.testing.assert_array_equal(lines[1].get_ydata(), values[1])
    for wrong, words in [
        ({"excursion": "sideways"}, "here are protrusive"),
        ({"cusp": "99.none"}, "here are"),
        ({"advance_mm": 2.0}, "swept were 1.5, 3"),
        ({"setting": "design"}, "here are horizontal"),
    ]:
        with pytest.raises(eminentia.Error, match=words):
            plot.response(both, **{**asked, **wrong})
    paired = swept(**{"right_guide.lateral_angle_deg": [10, 20], "left_guide.lateral_angle_deg": [10, 20]})
    with pytest.raises(eminentia.Error, match="the axes here are row"):
        plot.response(paired, excursion="protrusive", cusp="36.mesiobuccal")


def test_a_tornado_has_the_greatest_total_on_top() -> None:
    study = eminentia.Study.load(SCENES / "studies" / "record_error.ron")
    factors = [column.name for column in study.columns if column.role == "factor"]
    output = study.numbers(columns=["protrusive.3mm.36.mesiobuccal.clearance_mm"])[:, 0]
    indices = eminentia.sobol_indices(output, factors=len(factors), resamples=50)
    ax = plot.tornado(indices, factors)
    total, first = ax.containers[1], ax.containers[3]
    assert {type(bars).__name__ for bars in (total, first)} == {"BarContainer"}
    widths = [bar.get_width() for bar in total]
    assert widths == sorted(indices.total[:, 0])
    assert ax.get_yticklabels()[-1].get_text() == factors[int(np.argmax(indices.total[:, 0]))]
    assert {bar.get_hatch() for bar in total} != {bar.get_hatch() for bar in first}
    with pytest.raises(eminentia.Error, match="give one for each"):
        plot.tornado(indices, factors[:-1])
    for name, words in [("screening", "200 trajectories"), ("shared_out", "1024 groups")]:
        study = eminentia.Study.load(SCENES / "studies" / f"{name}.ron")
        factors = [column.name for column in study.columns if column.role == "factor"]
        output = study.numbers(columns=["protrusive.3mm.36.mesiobuccal.clearance_mm"])[:, 0]
        ax = plot.tornado(eminentia.sensitivity(study, output), factors)
        assert ax.get_title() == words
        assert ax.get_yticklabels()[-1].get_text() == "anterior_guide.sagittal_inclination_deg"


def test_without_matplotlib_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    original = builtins.__import__

    def without(name: str, *rest: object, **named: object) -> object:
        if name.startswith("matplotlib"):
            raise ImportError(name)
        return original(name, *rest, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(ImportError, match="pip install matplotlib"):
        plot.disclusion(eminentia.Scene.thirty_degree().excursions()[0])
    assert "matplotlib" in sys.modules
