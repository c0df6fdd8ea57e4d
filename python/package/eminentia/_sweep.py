"""Settings varied together by arrays of values."""

from __future__ import annotations

import operator
import warnings
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from eminentia import _native
from eminentia._arrays import numbers
from eminentia._errors import Error, refused
from eminentia._native import Scene
from eminentia._results import _same

if TYPE_CHECKING:
    import xarray

Floats = NDArray[np.float64]

#: Which arrays each measure gives, with their dimensions behind those of the settings, and their unit.
_ARRAYS: dict[str, tuple[str, tuple[str, ...], str | None]] = {
    "rotation": ("Pose", ("excursion", "advance", "upper_axis", "lower_axis"), None),
    "translation_mm": ("Pose", ("excursion", "advance", "upper_axis"), "mm"),
    "separation_mm": ("Separation", ("excursion", "advance", "cusp"), "mm"),
    "clearance_mm": ("Clearance", ("excursion", "advance", "cusp"), "mm"),
    "opening_deg": ("Opening", ("excursion", "advance"), "degrees"),
    "incisal_point_mm": ("IncisalPoint", ("excursion", "advance", "upper_axis"), "mm"),
    "condyle_advance_mm": ("CondylarAdvance", ("excursion", "advance", "side"), "mm"),
    "bennett_mm": ("BennettMovement", ("excursion", "advance", "direction"), "mm"),
    "guided_by": ("Guidance", ("excursion", "advance"), None),
    "guide_plane": ("Guidance", ("excursion", "advance"), None),
    "first_interference_cusp": ("FirstInterference", ("excursion",), None),
    "first_interference_mm": ("FirstInterference", ("excursion",), "mm"),
}

_MEANING = {
    "rotation": "rotation of the jaw pose, from the lower member into the upper frame",
    "translation_mm": "translation of the jaw pose",
    "separation_mm": "separation of a cusp from the occlusal plane",
    "clearance_mm": "clearance of a cusp above the opposing incline; below 0 an interference",
    "opening_deg": "inclination of the jaw's forward direction below the horizontal",
    "incisal_point_mm": "lower incisal point in the upper frame",
    "condyle_advance_mm": "advance of a condyle",
    "bennett_mm": "Bennett movement of the working condyle",
    "guided_by": "what stops the closing",
    "guide_plane": "plane of the guide that is touched",
    "first_interference_cusp": "cusp that interferes first",
    "first_interference_mm": "condylar advance at which the first interference begins, looked for up to the excursion's end",
}

_COORDINATES = {
    "upper_axis": ["x", "y", "z"],
    "lower_axis": ["x", "y", "z"],
    "side": ["right", "left"],
    "direction": ["outward", "backward", "upward"],
}


class Sweep:
    """What a sweep of settings gives. Arrays start with the settings' common shape, written S below; behind it stand
    excursion, advance and what is measured. They cannot be written to; ``array.copy()`` can. Not a number where the
    settings admit no pose; :attr:`reason` says why.

    Coordinates are those of the upper frame: x anterior, y to the patient's left, z up, in mm, from the middle of the
    axis through the condylar spheres at rest.
    """

    __slots__ = ("_given", "_told", "_scene", "_shape")

    def __init__(self, scene: Scene, given: Mapping[str, Floats], shape: tuple[int, ...], told: Mapping[str, Any]) -> None:
        self._scene = scene
        self._given = dict(given)
        self._shape = shape
        self._told = dict(told)

    @property
    def scene(self) -> Scene:
        """The scene whose settings were varied."""
        return self._scene

    @property
    def shape(self) -> tuple[int, ...]:
        """S, the settings' common shape."""
        return self._shape

    @property
    def settings(self) -> dict[str, Floats]:
        """Each setting's values, broadcast to S, in its own unit."""
        return {name: np.broadcast_to(values, self._shape) for name, values in self._given.items()}

    @property
    def axes(self) -> list[str]:
        """Names of the axes of S, as :meth:`to_xarray` has them: the setting that alone varies along one, if it varies
        along no other, else ``row``, or ``row_0``, ``row_1``, …"""
        return self._axes()

    @property
    def excursions(self) -> list[str]:
        """Names along the axis of excursions."""
        return list(self._told["excursions"])

    @property
    def advances_mm(self) -> Floats:
        """(advances,): condylar advances in mm."""
        array: Floats = self._told["advances_mm"]
        return array

    @property
    def cusps(self) -> list[str]:
        """Names along the axis of cusps, as in ``36.mesiobuccal``."""
        return list(self._told["cusps"])

    @property
    def notes(self) -> list[str]:
        """What is allowed but hardly meant."""
        return list(self._told["notes"])

    @property
    def rotation(self) -> Floats:
        """S + (excursions, advances, 3, 3): rotation of the jaw pose, from the lower member into the upper frame."""
        return self._numbers("rotation")

    @property
    def translation_mm(self) -> Floats:
        """S + (excursions, advances, 3): translation of the jaw pose, in mm."""
        return self._numbers("translation_mm")

    @property
    def separation_mm(self) -> Floats:
        """S + (excursions, advances, cusps): how far each cusp has moved off the occlusal plane, in mm."""
        return self._numbers("separation_mm")

    @property
    def clearance_mm(self) -> Floats:
        """S + (excursions, advances, cusps): what is left of it above the opposing incline, in mm; below zero an
        interference."""
        return self._numbers("clearance_mm")

    @property
    def opening_deg(self) -> Floats:
        """S + (excursions, advances): inclination of the jaw's forward direction below the horizontal, in degrees."""
        return self._numbers("opening_deg")

    @property
    def incisal_point_mm(self) -> Floats:
        """S + (excursions, advances, 3): the lower incisal point in the upper frame, in mm."""
        return self._numbers("incisal_point_mm")

    @property
    def condyle_advance_mm(self) -> Floats:
        """S + (excursions, advances, 2): advance of the right and of the left condyle, in mm."""
        return self._numbers("condyle_advance_mm")

    @property
    def bennett_mm(self) -> Floats:
        """S + (excursions, advances, 3): of the working condyle outward, backward and upward, in mm; not a number in
        protrusion, which has no working side."""
        return self._numbers("bennett_mm")

    @property
    def guided_by(self) -> NDArray[np.object_]:
        """S + (excursions, advances) words: what stops the closing; empty without a pose."""
        return self._words("guided_by")

    @property
    def guide_plane(self) -> NDArray[np.object_]:
        """S + (excursions, advances) words: the plane of the guide that is touched; empty where no plane is."""
        return self._words("guide_plane")

    @property
    def first_interference_cusp(self) -> NDArray[np.object_]:
        """S + (excursions,) words: the cusp that interferes first; empty where none does up to the excursion's end."""
        return self._words("first_interference_cusp")

    @property
    def first_interference_mm(self) -> Floats:
        """S + (excursions,): condylar advance in mm at which the first interference begins; not a number where there
        is none up to the excursion's end in the scene, or the last of :attr:`advances_mm` where that is farther."""
        return self._numbers("first_interference_mm")

    @property
    def reason(self) -> NDArray[np.object_]:
        """S words: why something could not be measured; empty where nothing is missing."""
        reasons = np.full(self._shape, "", dtype=object)
        reasons.flat[self._told["reason_rows"]] = self._told["reasons"]
        reasons.flags.writeable = False
        return reasons

    @property
    def with_reason(self) -> int:
        """How many settings have a :attr:`reason`."""
        return len(self._told["reasons"])

    def _numbers(self, name: str) -> Floats:
        array: Floats | None = self._told["numbers"].get(name)
        if array is None:
            raise self._not_measured(name)
        return array

    def _words(self, name: str) -> NDArray[np.object_]:
        codes = self._told["codes"].get(name)
        if codes is None:
            raise self._not_measured(name)
        words = np.array([*self._told["words"], ""], dtype=object)
        found: NDArray[np.object_] = words[np.minimum(codes, len(words) - 1)]
        found.flags.writeable = False
        return found

    def _read(self, name: str) -> NDArray[Any]:
        return self._numbers(name) if name in self._told["numbers"] else self._words(name)

    def _not_measured(self, name: str) -> Error:
        return Error(f"{name} was not measured; give measures=[\"{_ARRAYS[name][0]}\", …]")

    def _measured(self) -> Iterable[str]:
        there = {**self._told["numbers"], **self._told["codes"]}
        return (name for name in _ARRAYS if name in there)

    def to_xarray(self, dims: Sequence[str] | None = None) -> xarray.Dataset:
        """The same as an xarray Dataset, with units and meanings in the attributes.

        ``dims`` names the axes of S. Without it, an axis along which one setting alone varies, and that one along no
        other, is named after the setting and has its values as coordinate; a single other axis is ``row``, several
        are ``row_0``, ``row_1``, … The settings are coordinates in any case.

        Raises :class:`ImportError` where xarray is not installed, and :class:`Error` for other than one name an axis.
        """
        try:
            import xarray
        except ImportError as error:
            raise ImportError("to_xarray needs xarray, which comes with: pip install xarray") from error
        axes = self._axes() if dims is None else list(dims)
        if len(axes) != len(self._shape) or len(set(axes)) != len(axes):
            raise refused(f"dims has to name each of the {len(self._shape)} axes of the settings, and none twice")
        coordinates: dict[str, Any] = {
            "excursion": self.excursions,
            "advance": ("advance", self.advances_mm, {"units": "mm", "long_name": "condylar advance"}),
            "cusp": self.cusps,
        }
        variables: dict[str, Any] = {}
        for name in self._measured():
            _, behind, unit = _ARRAYS[name]
            about = {"long_name": _MEANING[name], **({"units": unit} if unit else {})}
            variables[name] = ((*axes, *behind), self._read(name), about)
            coordinates |= {one: _COORDINATES[one] for one in behind if one in _COORDINATES}
        variables["reason"] = (axes, self.reason, {"long_name": "why something could not be measured"})
        labels = zip(self._given, self._told["units"], self._told["labels"], strict=True)
        for name, unit, label in labels:
            own = self._given[name]
            varies = [axis for axis, size in zip(axes, own.shape, strict=True) if size > 1]
            coordinates[name] = (varies, own.reshape([size for size in own.shape if size > 1]), {"units": unit, "long_name": label})
        about = {
            "title": self._scene.title,
            "caution": _native.CAUTION,
            "program": f"eminentia {_native.__version__}",
            "scene": self._scene.to_text(),
            "notes": "\n".join(self.notes),
        }
        return xarray.Dataset(variables, coords=coordinates, attrs=about)

    def _axes(self) -> list[str]:
        along: list[list[str]] = [[] for _ in self._shape]
        for name, values in self._given.items():
            varies = [axis for axis, size in enumerate(values.shape) if size > 1]
            for axis in varies:
                # One that varies along several axes names none of them.
                along[axis] += [name] if len(varies) == 1 else ["", ""]
        unnamed = sum(len(names) != 1 for names in along)
        numbers = iter(range(unnamed))
        return [names[0] if len(names) == 1 else "row" if unnamed == 1 else f"row_{next(numbers)}" for names in along]

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Sweep):
            return NotImplemented
        if self._scene != other._scene or self._shape != other._shape or list(self._given) != list(other._given):
            return False
        names = list(self._measured())
        if names != list(other._measured()) or self.excursions != other.excursions or self.cusps != other.cusps:
            return False
        return (
            all(_same(self.settings[name], other.settings[name]) for name in self._given)
            and _same(self.advances_mm, other.advances_mm)
            and all(_same(self._read(name), other._read(name)) for name in names)
            and _same(self.reason, other.reason)
        )

    __hash__ = None  # type: ignore[assignment]

    def __reduce__(self) -> tuple[Callable[..., Sweep], tuple[Any, ...]]:
        return _again, (self._scene, self._given, self._shape, self._told)

    def __repr__(self) -> str:
        settings = ", ".join(self._given)
        lacking = f", {self.with_reason} of them with a reason" if self.with_reason else ""
        return (
            f"<Sweep of {settings}: settings {self._shape}{lacking}; {len(self.excursions)} excursions, "
            f"{len(self.advances_mm)} advances, {len(self.cusps)} cusps>"
        )


Sweep.__module__ = "eminentia"


def _again(scene: Scene, given: Mapping[str, Floats], shape: tuple[int, ...], told: dict[str, Any]) -> Sweep:
    """A sweep out of a pickle, its arrays kept from being written to again."""
    for array in [told["advances_mm"], *told["numbers"].values(), *told["codes"].values(), *given.values()]:
        array.flags.writeable = False
    return Sweep(scene, given, shape, told)


def sweep(
    scene: Scene,
    settings: Mapping[str, ArrayLike],
    *,
    advances_mm: ArrayLike | None = None,
    excursions: Sequence[str] | None = None,
    cusps: Sequence[str] | None = None,
    measures: Sequence[str] = ("Pose", "Separation", "Clearance"),
    keep_out_of_range: bool = False,
    threads: int = 0,
) -> Sweep:
    """Varies settings of a scene by arrays of values, and measures at each of them.

    The rows are those of a study with the same values, to the last bit. They are computed by all cores without
    Python's lock; Ctrl-C ends it at once.

    Parameters
    ----------
    scene : Scene
        What is varied.
    settings : mapping
        Values by the settings' names, as :func:`settings` lists them: scalars, lists or arrays of any shape and
        numeric type, which NumPy's rules broadcast against each other to the common shape S.
    advances_mm : (advances,) array, optional
        Condylar advances in mm, 0.001 to 30, each once. Without it the end of the scene's excursions, if that is one.
    excursions : sequence of str, optional
        Their names, of the scene's or of ``protrusive``, ``right_lateral`` and ``left_lateral``. Without it all of the
        scene's but an opening, which has no condylar advance.
    cusps : sequence of str, optional
        As in ``36.mesiobuccal``; all of the scene's without it.
    measures : sequence of str
        Of ``Pose``, ``Separation``, ``Clearance``, ``Opening``, ``IncisalPoint``, ``CondylarAdvance``,
        ``BennettMovement``, ``Guidance`` and ``FirstInterference``, as a study's file names them.
    keep_out_of_range : bool
        Whether a value out of its setting's range, or not a number, gives settings with a reason and without numbers;
        otherwise it is refused.
    threads : int
        How many; 0 for as many as the machine has.

    Raises
    ------
    Error
        For a name that is none, a value out of range, shapes that do not go together, and whatever a study of the
        same rows would refuse.
    MemoryError
        For more settings than memory holds.

    Examples
    --------
    >>> import eminentia
    >>> import numpy as np
    >>> scene = eminentia.Scene.thirty_degree()
    >>> inclinations = np.linspace(20, 50, 4)
    >>> swept = eminentia.sweep(
    ...     scene,
    ...     {"horizontal_inclination_deg": inclinations[:, None], "lateral_angle_deg": [10, 15, 20]},
    ...     advances_mm=[1.5, 3.0],
    ... )
    >>> swept.clearance_mm.shape == (4, 3, len(swept.excursions), 2, len(swept.cusps))
    True
    """
    given = {name: numbers(f"settings[{name!r}]", values) for name, values in dict(settings).items()}
    try:
        shape = np.broadcast_shapes(*(values.shape for values in given.values()))
    except ValueError as error:
        shapes = ", ".join(f"{name} {values.shape}" for name, values in given.items())
        raise refused(f"the settings' shapes do not go together: {shapes}") from error
    # As many axes as the common shape, and never changed behind the sweep's back.
    given = {name: _kept(values.reshape((1,) * (len(shape) - values.ndim) + values.shape)) for name, values in given.items()}
    flat = [
        np.ascontiguousarray(np.broadcast_to(values, shape)).ravel() if values.size != 1 else values.ravel()
        for values in given.values()
    ]
    wanted = {
        "names": list(given),
        "shape": list(shape),
        "advances_mm": None if advances_mm is None else numbers("advances_mm", advances_mm).ravel().tolist(),
        "excursions": _words_of("excursions", excursions),
        "cusps": _words_of("cusps", cusps),
        "measures": _words_of("measures", measures),
        "threads": operator.index(threads),
        "keep_out_of_range": bool(keep_out_of_range),
    }
    told = _native.sweep(scene, flat, wanted)
    for note in told["notes"]:
        warnings.warn(note, stacklevel=2)
    return Sweep(scene, given, shape, told)


def _kept(values: Floats) -> Floats:
    copied = values.copy()
    copied.flags.writeable = False
    return copied


def _words_of(name: str, given: Sequence[str] | None) -> list[str] | None:
    if isinstance(given, str):
        raise refused(f"{name} is \"{given}\"; give a list of them, as in {name}=[\"{given}\"]")
    if given is None:
        return None
    words = list(given)
    if not all(isinstance(word, str) for word in words):
        raise refused(f"{name} is {given!r}; give a list of words")
    return words
