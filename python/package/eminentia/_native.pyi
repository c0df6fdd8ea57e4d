from collections.abc import Callable, Mapping
from os import PathLike
from pathlib import Path
from typing_extensions import CapsuleType
from typing import Literal, final

import numpy as np
from numpy.typing import NDArray

__all__ = [
    "CAUTION",
    "Column",
    "Error",
    "Excursion",
    "Rows",
    "Scene",
    "Setting",
    "SobolIndices",
    "Stream",
    "Study",
    "Written",
    "__version__",
    "settings",
    "sobol_indices",
]

CAUTION: str
__version__: str

class Error(ValueError):
    """What was given cannot be used: says what, where, and what would be accepted."""

@final
class Setting:
    """One numeric setting."""

    @property
    def name(self) -> str:
        """By which :meth:`Scene.setting`, :meth:`Scene.changed` and studies know it; a guide's setting
        takes ``right_guide.`` or ``left_guide.`` before it, else it is both sides'."""
    @property
    def label(self) -> str:
        """In words."""
    @property
    def unit(self) -> str:
        """``degrees``, ``mm`` or another word for the unit of its numbers."""
    @property
    def min(self) -> float:
        """The least allowed."""
    @property
    def max(self) -> float:
        """The greatest allowed."""
    @property
    def each_side(self) -> bool:
        """Whether each side has its own."""
    @property
    def doc(self) -> str:
        """What it means."""

def settings() -> list[Setting]:
    """Every numeric setting that a scene may have."""

@final
class Excursion:
    """Poses of an excursion, from rest on, and what is read off them. Arrays have n rows, one a pose; they
    are the caller's and may be changed."""

    def __len__(self) -> int: ...
    @property
    def name(self) -> str:
        """``protrusive``, ``right_lateral``, ``left_lateral``, ``right_lateroprotrusive``,
        ``left_lateroprotrusive`` or ``opening``."""
    @property
    def cusps(self) -> list[str]:
        """Tooth (ISO 3950) and name of each cusp, in the order of the columns of separations and
        clearances."""
    @property
    def advance_mm(self) -> NDArray[np.float64]:
        """(n,): advance of the orbiting condyle, of both in protrusion."""
    @property
    def rotation(self) -> NDArray[np.float64]:
        """(n, 3, 3): rotation of the jaw pose, which takes points of the lower member into the upper frame."""
    @property
    def translation_mm(self) -> NDArray[np.float64]:
        """(n, 3): its translation, in the upper frame."""
    @property
    def incisal_point_mm(self) -> NDArray[np.float64]:
        """(n, 3): where the lower member's incisal point is, in the upper frame."""
    @property
    def opening_deg(self) -> NDArray[np.float64]:
        """(n,): inclination of the jaw's forward direction below the horizontal, in the sagittal
        projection."""
    @property
    def right_condyle_mm(self) -> NDArray[np.float64]:
        """(n, 3): advance along the guide's floor, medial shift and drop of the right condyle."""
    @property
    def left_condyle_mm(self) -> NDArray[np.float64]:
        """(n, 3): the same of the left condyle."""
    @property
    def guided_by(self) -> list[str]:
        """n words: what stops the closing."""
    @property
    def separation_mm(self) -> NDArray[np.float64]:
        """(n, cusps): how far each cusp has moved off the occlusal plane, along its normal."""
    @property
    def clearance_mm(self) -> NDArray[np.float64]:
        """(n, cusps): what is left of it above the opposing incline; below zero an interference."""
    @property
    def stopped(self) -> str | None:
        """Why the settings admit no further pose, if they do not; the arrays end before that."""

@final
class Scene:
    """An instrument, the cusps that are watched, the excursions. Never changed."""

    @staticmethod
    def load(path: str | PathLike[str]) -> Scene:
        """Reads a scene file (RON), and casts by their paths from its folder.

        Raises :class:`Error` with file, line, column and field.
        """
    @staticmethod
    def from_text(text: str, *, folder: str | PathLike[str] = ...) -> Scene:
        """As :meth:`load`, of a text; files are looked for from ``folder``."""
    @staticmethod
    def from_link(address: str) -> Scene:
        """The scene that the link of an address carries, as :meth:`link` or the viewer makes it. A second
        set-up beside it, and what was shown, are left out.

        Raises :class:`Error` for an address that carries none, and for a link that was cut off or changed.
        """
    @staticmethod
    def thirty_degree() -> Scene:
        """The teaching scene that is compiled in (invented)."""
    @property
    def title(self) -> str: ...
    @property
    def cusps(self) -> list[str]:
        """Tooth (ISO 3950) and name of each cusp, as in ``36 mesiobuccal``."""
    @property
    def notes(self) -> list[str]:
        """What reading the casts had to mend or assume."""
    def to_text(self) -> str:
        """The scene as the text of a file (RON)."""
    def link(
        self,
        page: str | None = None,
        *,
        excursion: str | None = None,
        at: float | None = None,
        beside: Scene | None = None,
        only_picture: bool = False,
    ) -> str:
        """The address at which the viewer's page opens this scene; without ``page``, what goes behind the
        page's own. ``at`` is how far along the excursion, in the unit of what drives it (mm, or degrees of an
        opening); ``beside`` is laid beside it as B; ``only_picture`` shows the picture with few controls.

        Raises :class:`Error` for a page that is no ``https://`` or ``http://``, an excursion that the scene has
        not, and a scene whose casts are files: those do not travel.
        """
    def setting(self, name: str) -> float | None:
        """A setting's number in its own unit; none where the scene has no such thing, or where both
        sides or several cusps are named and differ.

        Raises :class:`Error` for a name that is none, with those near it.
        """
    def changed(self, changes: Mapping[str, float | str]) -> Scene:
        """The same scene with some settings changed: numbers in the settings' own units, or the word of a
        choice, as in ``{"left_guide.horizontal_inclination_deg": 40.0, "design": "NonArcon"}``.

        Raises :class:`Error` for a name that is none, a number out of range, a change without effect, or
        settings that do not go together.
        """
    def excursions(self) -> list[Excursion]:
        """Solves every excursion of the scene."""

@final
class Column:
    """One column of a study's table."""

    @property
    def name(self) -> str: ...
    @property
    def unit(self) -> str | None:
        """``degrees`` or ``mm``; none where the column has no unit."""
    @property
    def role(self) -> Literal["factor", "derived", "measured", "reason"]: ...
    @property
    def kind(self) -> Literal["number", "text", "flag"]: ...

@final
class Rows:
    """Some rows of a study, computed. ``pyarrow.record_batch(rows)``, ``pyarrow.table(rows)`` and every other reader
    of Arrow's PyCapsule interface take them without a copy. First column ``row``, the row's number from 0; then
    the study's columns, null where nothing could be measured, with ``unit`` and ``role`` in their metadata."""

    def __len__(self) -> int: ...
    def __arrow_c_schema__(self) -> CapsuleType: ...
    def __arrow_c_array__(self, requested_schema: object | None = None) -> tuple[CapsuleType, CapsuleType]: ...
    def __arrow_c_stream__(self, requested_schema: object | None = None) -> CapsuleType: ...

@final
class Stream:
    """Rows of a study that are computed as they are read, batch by batch, in flat memory:
    ``pyarrow.RecordBatchReader.from_stream(stream)``."""

    def __arrow_c_schema__(self) -> CapsuleType: ...
    def __arrow_c_stream__(self, requested_schema: object | None = None) -> CapsuleType: ...

@final
class Written:
    """What a run into a file came to."""

    @property
    def path(self) -> Path:
        """The file, with the part in its name if it is one."""
    @property
    def rows(self) -> int: ...
    @property
    def rows_before(self) -> int:
        """Rows that were there already."""
    @property
    def with_reason(self) -> int | None:
        """Rows with a reason why something could not be measured; none if nothing was computed."""
    @property
    def bytes(self) -> int | None: ...

@final
class Study:
    """A scene's settings varied by a plan, ready to be computed: any row from its number alone. Never changed,
    and may be used by any number of threads."""

    @staticmethod
    def load(path: str | PathLike[str]) -> Study:
        """Reads a study file (RON), its base scene and columns by their paths from its folder.

        Raises :class:`Error` with file, line, column and field.
        """
    @staticmethod
    def from_text(text: str, *, folder: str | PathLike[str] = ...) -> Study:
        """As :meth:`load`, of a text; files are looked for from ``folder``."""
    @property
    def title(self) -> str: ...
    @property
    def sha256(self) -> str:
        """Hash of all that the table depends on: the same hash, the same rows."""
    @property
    def row_count(self) -> int: ...
    @property
    def notes(self) -> list[str]:
        """What is allowed but hardly meant, and what reading casts had to mend or assume."""
    @property
    def columns(self) -> list[Column]:
        """Factors, settings that follow from them, measures, the reason; ``row`` is not among them."""
    def __arrow_c_schema__(self) -> CapsuleType: ...
    def rows(self, start: int = 0, stop: int | None = None) -> Rows:
        """Computes rows ``start`` to before ``stop`` (to the last without it) into one batch. Python's lock is
        released meanwhile.

        Raises :class:`Error` for rows that the study does not have.
        """
    def stream(self, start: int = 0, stop: int | None = None, *, batch_rows: int = 65536) -> Stream:
        """As :meth:`rows`, in batches of ``batch_rows`` that are computed as they are read."""
    def numbers(self, start: int = 0, stop: int | None = None) -> NDArray[np.float64]:
        """(rows, columns of kind ``number``): those columns alone, in their order, not a number where nothing
        could be measured. NumPy takes over the memory that they were computed into."""
    def write(
        self,
        path: str | PathLike[str],
        *,
        part: tuple[int, int] | None = None,
        resume: bool = False,
        overwrite: bool = False,
        threads: int = 0,
        progress: Callable[[int, int], object] | None = None,
    ) -> Written:
        """Runs the study into a ``.parquet`` or ``.csv`` file by all cores (or ``threads``), in flat memory.

        ``part=(3, 8)`` computes the third of eight parts, into a file with the part in its name. ``resume`` goes on
        with a run that was stopped, and ends with the bytes of one that was not. ``progress`` is called some times a
        second with the rows that will last and the rows in all.

        Raises :class:`Error` for what cannot be written or gone on with, and :class:`KeyboardInterrupt`, or whatever
        ``progress`` raises, once what was computed is safe.
        """

@final
class SobolIndices:
    """Which factor an output's variance comes from."""

    @property
    def first(self) -> NDArray[np.float64]:
        """(factors, 3): part of the variance that would go if the factor alone were known; the ends of the interval
        that holds 95 % of the resamples."""
    @property
    def total(self) -> NDArray[np.float64]:
        """(factors, 3): part that would stay if all but the factor were known."""
    @property
    def groups(self) -> int: ...
    @property
    def left_out(self) -> int:
        """Groups left out since one of their rows has no output."""
    @property
    def variance(self) -> float: ...

def sobol_indices(
    output: NDArray[np.float64], *, factors: int, resamples: int = 1000, seed: int = 1
) -> SobolIndices:
    """First-order and total Sobol' indices of a measured column, read in place.

    ``output`` is (groups · (factors + 2),): a column of a study whose plan is ``Indices``, all its rows in order.
    First order by Saltelli et al. (2010), total by Jansen (1999). Raises :class:`Error` for other lengths, an output
    that does not vary, or an array that is not contiguous.
    """
