"""Pictures of results, on Matplotlib.

    import eminentia
    from eminentia import plot

    plot.disclusion(scene.excursions()[0], cusps=["36.mesiobuccal"])
    plot.response(swept, excursion="protrusive", cusp="36.mesiobuccal")
    plot.tornado(indices, names)

Each draws into ``ax``, or into new axes, and gives the axes back. Nothing is told by colour alone: lines differ in dash
and marker too, and what is below zero, where a cusp interferes, is hatched. Matplotlib is asked for where something is
drawn, and comes with ``pip install matplotlib``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import cycle
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from eminentia._errors import Error, refused
from eminentia._native import settings
from eminentia._results import ElementaryEffects, Excursion, ShapleyEffects, SobolIndices
from eminentia._sweep import Sweep

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["disclusion", "response", "tornado"]

#: Dash and marker of one line after the other, told apart in print and without seeing colours.
_STYLES = [("-", "o"), ("--", "s"), (":", "^"), ("-.", "D"), ((0, (5, 1)), "v"), ((0, (1, 1)), "P")]

#: Most markers of a line, so that they stay marks.
_MARKS = 9

_MEASURES = {"clearance_mm": "clearance, mm", "separation_mm": "separation, mm"}


def _axes(ax: Axes | None) -> Axes:
    if ax is not None:
        return ax
    try:
        import matplotlib.pyplot as plt
    except ImportError as error:
        raise ImportError("pictures need Matplotlib, which comes with: pip install matplotlib") from error
    _, made = plt.subplots(layout="constrained")
    return made


def _measure(name: str) -> str:
    if name not in _MEASURES:
        raise refused(f"measure is \"{name}\"; allowed are {', '.join(_MEASURES)}")
    return _MEASURES[name]


def _place(name: str, known: Sequence[str], what: str) -> int:
    if name not in known:
        raise refused(f"{what} \"{name}\": here are {', '.join(known)}")
    return list(known).index(name)


def _line(ax: Axes, x: NDArray[np.float64], y: NDArray[np.float64], label: str, style: tuple[Any, str]) -> None:
    dash, marker = style
    every = max(1, len(x) // _MARKS)
    ax.plot(x, y, linestyle=dash, marker=marker, markevery=every, markersize=4, label=label)


def _interference(ax: Axes) -> None:
    """Marks what is below zero, where that is seen."""
    least, most = ax.get_ylim()
    if least < 0:
        ax.axhspan(least, min(0.0, most), facecolor="none", edgecolor="0.75", hatch="//", linewidth=0, zorder=0)
        ax.set_ylim(least, most)
    ax.axhline(0, color="0.3", linewidth=0.8)


def disclusion(
    excursion: Excursion,
    *,
    cusps: Sequence[str] | None = None,
    measure: str = "clearance_mm",
    ax: Axes | None = None,
) -> Axes:
    """Separation or clearance of cusps along an excursion, against the condylar advance, both in mm.

    Parameters
    ----------
    excursion : Excursion
        Of :meth:`Scene.excursions`.
    cusps : sequence of str, optional
        As in ``36.mesiobuccal``; all of them without it.
    measure : str
        ``clearance_mm`` or ``separation_mm``.
    ax : matplotlib Axes, optional
        Where to draw.

    Raises
    ------
    Error
        For a cusp that is not there, another measure, and an opening, which has no advance.
    """
    label = _measure(measure)
    if excursion.name == "opening":
        raise Error("an opening has no condylar advance to be drawn against")
    places = {cusp: _place(cusp, excursion.cusps, "cusp") for cusp in (excursion.cusps if cusps is None else cusps)}
    ax = _axes(ax)
    values: NDArray[np.float64] = getattr(excursion, measure)
    for (cusp, place), style in zip(places.items(), cycle(_STYLES)):
        _line(ax, excursion.advance_mm, values[:, place], cusp, style)
    if measure == "clearance_mm":
        _interference(ax)
    stopped = "" if excursion.stopped is None else " (stops short)"
    ax.set(xlabel="condylar advance, mm", ylabel=label, title=excursion.name.replace("_", " ") + stopped)
    ax.legend(frameon=False, fontsize="small")
    return ax


def response(
    swept: Sweep,
    *,
    excursion: str,
    cusp: str,
    advance_mm: float | None = None,
    setting: str | None = None,
    measure: str = "clearance_mm",
    ax: Axes | None = None,
) -> Axes:
    """Separation or clearance of a cusp, in mm, as a setting varies; a line for each value of a second one.

    Parameters
    ----------
    swept : Sweep
        Of one setting, or of two of which each varies along an axis of its own.
    excursion, cusp : str
        Which, by their names.
    advance_mm : float, optional
        One of the sweep's; its last without it.
    setting : str, optional
        The setting along the picture's lower edge; the first that varies without it.
    measure : str
        ``clearance_mm`` or ``separation_mm``.
    ax : matplotlib Axes, optional
        Where to draw.

    Raises
    ------
    Error
        For a name that is none, an advance that was not swept, and a sweep that is no curve: with more than two axes,
        or along none.
    """
    label = _measure(measure)
    values: NDArray[np.float64] = getattr(swept, measure)
    advances = swept.advances_mm
    wanted = float(advances[-1]) if advance_mm is None else advance_mm
    if wanted not in advances:
        raise refused(f"advance_mm is {wanted}; swept were {', '.join(f'{own:g}' for own in advances)}")
    values = values[
        ...,
        _place(excursion, swept.excursions, "excursion"),
        int(np.flatnonzero(advances == wanted)[0]),
        _place(cusp, swept.cusps, "cusp"),
    ]
    axes = swept.axes
    varying = [name for name in axes if name in swept.settings]
    if not varying or len(axes) > 2 or len(varying) != len(axes):
        raise refused(
            f"a curve is drawn of one setting, or of two along axes of their own; the axes here are {', '.join(axes) or 'none'}"
        )
    along = _place(setting or varying[0], varying, "setting")
    values = np.moveaxis(values, along, 0)
    known = {own.name: own for own in settings()}

    def about(name: str) -> tuple[str, str]:
        own = known.get(name.removeprefix("right_guide.").removeprefix("left_guide."))
        side = name.split("_guide.")[0] + " " if name.startswith(("right_guide.", "left_guide.")) else ""
        return (name, "") if own is None else (side + own.label, {"degrees": "°"}.get(own.unit, f" {own.unit}"))

    x = np.moveaxis(swept.settings[varying[along]], along, 0)
    ax = _axes(ax)
    order = np.argsort(x.reshape(len(x), -1)[:, 0], kind="stable")
    name, unit = about(varying[along])
    if len(axes) == 1:
        _line(ax, x[order], values[order], cusp, _STYLES[0])
    else:
        other, other_unit = about(varying[1 - along])
        second = np.moveaxis(swept.settings[varying[1 - along]], along, 0)[0]
        for place, style in zip(range(values.shape[1]), cycle(_STYLES)):
            _line(ax, x[order, place], values[order, place], f"{second[place]:g}{other_unit}", style)
        ax.legend(frameon=False, fontsize="small", title=other)
    if measure == "clearance_mm":
        _interference(ax)
    ax.set(
        xlabel=f"{name}, {unit.strip()}" if unit else name,
        ylabel=label,
        title=f"{cusp}, {excursion.replace('_', ' ')}, {wanted:g} mm",
    )
    return ax


def tornado(
    told: SobolIndices | ShapleyEffects | ElementaryEffects, names: Iterable[str], *, ax: Axes | None = None
) -> Axes:
    """What each factor has of an output as bars with their intervals, the factor that matters most on top.

    Parameters
    ----------
    told : SobolIndices, ShapleyEffects or ElementaryEffects
        Of :func:`eminentia.sensitivity`.
    names : iterable of str
        Of the factors, in the order of the study's.
    ax : matplotlib Axes, optional
        Where to draw.

    Raises
    ------
    Error
        For more or fewer names than factors.
    """
    names = list(names)
    part = "part of the variance"
    match told:
        case SobolIndices():
            tables, across = [(told.total, "total"), (told.first, "first order")], part
            counted = f"{told.groups} groups"
        case ShapleyEffects():
            tables, across = [(told.share, "share"), (told.last, "would stay if all but it were known")], part
            counted = f"{told.groups} groups"
        case ElementaryEffects():
            tables, across = [(told.size, "mean size"), (told.spread, "sd")], "change over the factor's distribution"
            counted = f"{told.trajectories} trajectories"
    main = tables[0][0]
    if len(names) != len(main):
        raise refused(f"{len(names)} names are given for {len(main)} factors; give one for each")
    ax = _axes(ax)
    order = np.argsort(main[:, 0], kind="stable")
    places = np.arange(len(order), dtype=float)
    for (table, label), (shift, hatch, face) in zip(tables, [(0.2, "", "0.75"), (-0.2, "////", "white")], strict=True):
        value, low, high = table[order].T
        # An interval of resamples need not hold the estimate.
        ends = np.maximum([value - low, high - value], 0)
        ax.barh(places + shift, value, 0.38, xerr=ends, label=label, hatch=hatch, facecolor=face, edgecolor="0.2", capsize=2)
    ax.axvline(0, color="0.3", linewidth=0.8)
    ax.set_yticks(places, [names[place] for place in order])
    left_out = f", {told.left_out} left out" if told.left_out else ""
    ax.set(xlabel=across, title=f"{counted}{left_out}")
    ax.legend(frameon=False, fontsize="small", loc="lower right")
    return ax
