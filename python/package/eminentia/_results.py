"""Results: what they hold, in which shape and unit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

_Made = tuple[Callable[..., Any], tuple[Any, ...]]


def _same(one: object, other: object) -> bool:
    """Whether two fields hold the same; what could not be measured is like itself."""
    if isinstance(one, np.ndarray) and isinstance(other, np.ndarray):
        return np.array_equal(one, other, equal_nan=one.dtype.kind == "f")
    return bool(one == other)


def _counted(result: object, number: int, what: str, left_out: int) -> str:
    """How a result of many groups of rows shows itself."""
    of_more = f", {left_out} left out" if left_out else ""
    return f"<{type(result).__name__} of {number} {what}{of_more}>"


class _Arrays:
    """A result that holds arrays: compared by what is in them, and never changed."""

    def __post_init__(self) -> None:
        for field in fields(self):  # type: ignore[arg-type]
            value = getattr(self, field.name)
            if isinstance(value, np.ndarray):
                value.flags.writeable = False

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        names = [field.name for field in fields(self)]  # type: ignore[arg-type]
        return all(_same(getattr(self, name), getattr(other, name)) for name in names)

    __hash__ = None  # type: ignore[assignment]

    def __reduce__(self) -> _Made:
        return type(self), tuple(getattr(self, field.name) for field in fields(self))  # type: ignore[arg-type]


@dataclass(frozen=True)
class Setting:
    """One numeric setting of a scene.

    Attributes
    ----------
    name : str
        By which :meth:`Scene.setting`, :meth:`Scene.changed`, :func:`sweep` and studies know it; a guide's setting
        takes ``right_guide.`` or ``left_guide.`` before it, else it is both sides'.
    label : str
        In words.
    unit : str
        ``degrees``, ``mm`` or another word for the unit of its numbers.
    min, max : float
        The least and the greatest allowed.
    each_side : bool
        Whether each side has its own.
    doc : str
        What it means.
    """

    name: str
    label: str
    unit: str
    min: float
    max: float
    each_side: bool
    doc: str

    def __repr__(self) -> str:
        return f"<Setting {self.name}: {self.label}, {self.min:g} to {self.max:g} {self.unit}>"


@dataclass(frozen=True)
class Column:
    """One column of a study's table.

    Attributes
    ----------
    name : str
        The setting's name, or excursion, how far, cusp and measure, as in
        ``protrusive.3mm.36.mesiobuccal.clearance_mm``.
    unit : str or None
        ``degrees`` or ``mm``; none where the column has no unit.
    role : str
        ``factor``, ``derived`` (follows from factors), ``measured`` ``reason`` (why a row is not whole) or
        ``note`` (what is allowed but hardly meant).
    kind : str
        ``number``, ``text`` or ``flag`` (yes or no).
    """

    name: str
    unit: str | None
    role: Literal["factor", "derived", "measured", "reason", "note"]
    kind: Literal["number", "text", "flag"]

    def __repr__(self) -> str:
        return f"<Column {self.name}, {self.role} {self.kind}>"


@dataclass(frozen=True)
class Written:
    """What a run into a file came to.

    Attributes
    ----------
    path : Path
        The file, with the part in its name if it is one.
    rows : int
        Rows in it.
    rows_before : int
        Rows that were there already.
    with_reason : int or None
        Rows with a reason why something could not be measured; none if nothing was computed.
    bytes : int or None
        Its size.
    """

    path: Path
    rows: int
    rows_before: int
    with_reason: int | None
    bytes: int | None

    def __post_init__(self) -> None:
        object.__setattr__(self, "path", Path(self.path))

    def __repr__(self) -> str:
        return f"<Written {self.path}, {self.rows} rows>"


@dataclass(frozen=True, eq=False, repr=False)
class Excursion(_Arrays):
    """Poses of an excursion, from rest on, and what is read off them. Arrays have n rows, one a pose. They cannot be
    written to; ``array.copy()`` can.

    Coordinates are those of the upper frame: x anterior, y to the patient's left, z up, from the middle of the axis
    through the condylar spheres at rest.

    Attributes
    ----------
    name : str
        ``protrusive``, ``right_lateral``, ``left_lateral``, ``right_lateroprotrusive``, ``left_lateroprotrusive`` or
        ``opening``.
    cusps : list of str
        Tooth (ISO 3950) and name of each cusp, as in ``36.mesiobuccal``, in the order of the columns of separations
        and clearances.
    advance_mm : (n,) array
        Advance of the orbiting condyle, of both in protrusion, in mm.
    rotation : (n, 3, 3) array
        Rotation of the jaw pose, which takes points of the lower member into the upper frame:
        ``rotation @ point + translation_mm``.
    translation_mm : (n, 3) array
        Its translation, in mm.
    incisal_point_mm : (n, 3) array
        Where the lower member's incisal point is, in mm.
    opening_deg : (n,) array
        Inclination of the jaw's forward direction below the horizontal, in the sagittal projection, in degrees.
    right_condyle_mm, left_condyle_mm : (n, 3) array
        Of each condyle in its guide, in mm: advance (straight ahead, not along the slope of the floor), medial shift,
        drop.
    guided_by : list of str
        n words: what stops the closing.
    separation_mm : (n, cusps) array
        How far each cusp has moved off the occlusal plane, along its normal, in mm.
    clearance_mm : (n, cusps) array
        What is left of it above the opposing incline, in mm; below zero an interference.
    stopped : str or None
        Why the settings admit no further pose, if they do not; the arrays end before that.
    """

    name: str
    cusps: list[str]
    advance_mm: NDArray[np.float64]
    rotation: NDArray[np.float64]
    translation_mm: NDArray[np.float64]
    incisal_point_mm: NDArray[np.float64]
    opening_deg: NDArray[np.float64]
    right_condyle_mm: NDArray[np.float64]
    left_condyle_mm: NDArray[np.float64]
    guided_by: list[str]
    separation_mm: NDArray[np.float64]
    clearance_mm: NDArray[np.float64]
    stopped: str | None

    def __len__(self) -> int:
        return len(self.guided_by)

    def __repr__(self) -> str:
        return f"<Excursion {self.name}, {len(self)} poses>"


@dataclass(frozen=True, eq=False, repr=False)
class SobolIndices(_Arrays):
    """Which factor an output's variance comes from.

    Attributes
    ----------
    first : (factors, 3) array
        Part of the variance that would go if the factor alone were known; the ends of the interval of 95 %.
    total : (factors, 3) array
        Part that would stay if all but the factor were known; likewise.
    pairs : list of (int, int)
        Places of two factors each, from 0; none where the plan has no ``second_order``.
    second : (pairs, 3) array
        Part that comes of the two factors together and of neither alone; likewise.
    groups : int
        Groups of rows that the indices are of.
    left_out : int
        Groups left out since one of their rows has no output: the indices are not of them.
    variance : float
        Of the output, in the square of its unit.
    """

    first: NDArray[np.float64]
    total: NDArray[np.float64]
    pairs: list[tuple[int, int]]
    second: NDArray[np.float64]
    groups: int
    left_out: int
    variance: float

    def __repr__(self) -> str:
        return _counted(self, self.groups, "groups", self.left_out)


@dataclass(frozen=True, eq=False, repr=False)
class ShapleyEffects(_Arrays):
    """What of an output's variance goes to each factor, also where factors are correlated.

    Attributes
    ----------
    share : (factors, 3) array
        The factor's part of the variance, what is common to several shared out evenly, so that all add up to 1; the
        ends of the interval of 95 %.
    alone : (factors, 3) array
        Part that would go if the factor alone were known, with what it tells of those it is correlated with; likewise.
    last : (factors, 3) array
        Part that would stay if all but the factor were known; likewise.
    groups : int
        Groups of rows that they are of.
    left_out : int
        Groups left out since one of their rows has no output: the effects are not of them.
    variance : float
        Of the output, in the square of its unit.
    """

    share: NDArray[np.float64]
    alone: NDArray[np.float64]
    last: NDArray[np.float64]
    groups: int
    left_out: int
    variance: float

    def __repr__(self) -> str:
        return _counted(self, self.groups, "groups", self.left_out)


@dataclass(frozen=True, eq=False, repr=False)
class ElementaryEffects(_Arrays):
    """What a step of each factor does to an output: which factors matter.

    Attributes
    ----------
    size : (factors, 3) array
        Mean size of the factor's effects, each the change of the output over all of the factor's distribution, in the
        output's unit; the ends of the interval of 95 %.
    mean : (factors, 3) array
        Mean of the effects with their signs; less in size where the factor goes both ways.
    spread : (factors, 3) array
        Standard deviation of the effects: 0 where the factor does the same everywhere.
    trajectories : int
        Trajectories that they are of.
    left_out : int
        Trajectories left out since one of their rows has no output.
    """

    size: NDArray[np.float64]
    mean: NDArray[np.float64]
    spread: NDArray[np.float64]
    trajectories: int
    left_out: int

    def __repr__(self) -> str:
        return _counted(self, self.trajectories, "trajectories", self.left_out)


Column.__module__ = Excursion.__module__ = Setting.__module__ = "eminentia"
SobolIndices.__module__ = Written.__module__ = "eminentia"
ShapleyEffects.__module__ = ElementaryEffects.__module__ = "eminentia"
