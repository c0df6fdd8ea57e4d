from collections.abc import Callable, Mapping, Sequence
from os import PathLike
from typing import Any, SupportsIndex, final

import numpy as np
from numpy.typing import NDArray
from typing_extensions import CapsuleType

from eminentia._results import Column, Excursion, Setting, SobolIndices, Written

__all__ = [
    "CAUTION",
    "Rows",
    "Scene",
    "Stream",
    "Study",
    "__version__",
    "rows_again",
    "settings",
    "sobol_indices",
    "sweep",
]

CAUTION: str
__version__: str

def settings() -> list[Setting]:
    """Every numeric setting that a scene may have, by name with unit, range and meaning."""

@final
class Scene:
    """An instrument with the cusps that are watched. Never changed, and may be used by any number of threads; equal to
    another of the same settings and casts.
    """
    @staticmethod
    def load(path: str | PathLike[str]) -> Scene:
        """Reads a scene file (RON) and the casts that it names.

        Raises :class:`FileNotFoundError` for a file that is not there, and :class:`Error` with file, line, column and
        field, saying what was given and what is allowed.
        """
    @staticmethod
    def from_text(text: str, *, folder: str | PathLike[str] = ...) -> Scene:
        """As :meth:`load`, of a text; casts are looked for from ``folder``."""
    @staticmethod
    def from_link(address: str) -> Scene:
        """The scene that the link of an address carries, as :meth:`link` or the viewer makes it. A second set-up beside
        it, and what was shown, are left out.

        Raises :class:`Error` for an address that carries none, and for a link that was cut off or changed.
        """
    @staticmethod
    def thirty_degree() -> Scene:
        """The teaching scene that is compiled in (invented)."""
    @property
    def title(self) -> str:
        """What the scene is called."""
    @property
    def cusps(self) -> list[str]:
        """Tooth (ISO 3950) and name of each cusp, as in ``36.mesiobuccal``, in the order of the arrays' columns."""
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
        """The address at which the viewer's page opens this scene; without ``page``, what goes behind the page's own.
        ``at`` is how far along the excursion, in the unit of what drives it (mm, or degrees of an opening);
        ``beside`` is laid beside it as B; ``only_picture`` shows the picture with few controls.

        Raises :class:`Error` for a page that is no ``https://`` or ``http://``, an excursion that the scene has not,
        and a scene whose casts are files: those do not travel.
        """
    def setting(self, name: str) -> float | None:
        """A setting's number in its own unit; none where the scene has no such thing, or where both sides or several cusps
        are named and differ.

        Raises :class:`Error` for a name that is none, with those near it.
        """
    def changed(self, changes: Mapping[str, float | str]) -> Scene:
        """The same scene with some settings changed: numbers in the settings' own units, or the word of a choice, as in
        ``{"left_guide.horizontal_inclination_deg": 40.0, "design": "NonArcon"}``.

        Raises :class:`Error` for a name that is none, a number out of range, a change without effect, or settings that
        do not go together, and :class:`TypeError` for what is neither a number nor a word.
        """
    def excursions(self, *, advances_mm: Sequence[float] | NDArray[np.floating[Any]] | None = None) -> list[Excursion]:
        """Solves every excursion of the scene, from rest on: at as many poses as the scene has samples, or at these
        condylar advances in millimetres, in rising order, from 0 to 30. An opening has no advance and keeps the scene's
        poses.

        Raises :class:`Error` for advances out of order or range. Settings that admit no pose do not raise: the arrays
        end before it, and ``stopped`` says why.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Scene: ...
    def __deepcopy__(self, memo: object) -> Scene: ...
    def __reduce__(self) -> tuple[Any, ...]: ...

@final
class Rows:
    """Some rows of a study, computed. ``pyarrow.record_batch(rows)``, ``pyarrow.table(rows)`` and every other reader of
    Arrow's PyCapsule interface take them without a copy. First column ``row``, the row's number from 0; then the study's
    columns, null where nothing could be measured, with ``unit`` and ``role`` in their metadata.
    """
    def __len__(self) -> int: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __copy__(self) -> Rows: ...
    def __reduce__(self) -> tuple[Any, ...]: ...
    def __arrow_c_schema__(self) -> CapsuleType: ...
    def __arrow_c_array__(self, requested_schema: object | None = None) -> tuple[CapsuleType, CapsuleType]: ...
    def __arrow_c_stream__(self, requested_schema: object | None = None) -> CapsuleType: ...

@final
class Stream:
    """Rows of a study that are computed as they are read, batch by batch, in flat memory:
    ``pyarrow.RecordBatchReader.from_stream(stream)``.
    """
    def __reduce__(self) -> tuple[Any, ...]: ...
    def __arrow_c_schema__(self) -> CapsuleType: ...
    def __arrow_c_stream__(self, requested_schema: object | None = None) -> CapsuleType: ...

@final
class Study:
    """A scene's settings varied by a plan, ready to be computed: any row from its number alone. Never changed, and may be
    used by any number of threads; equal to another of the same table.
    """
    @staticmethod
    def load(path: str | PathLike[str]) -> Study:
        """Reads a study file (RON), its base scene and columns by their paths from its folder.

        Raises :class:`FileNotFoundError` for a file that is not there, and :class:`Error` with file, line, column and
        field.
        """
    @staticmethod
    def from_text(text: str, *, folder: str | PathLike[str] = ...) -> Study:
        """As :meth:`load`, of a text; files are looked for from ``folder``."""
    def to_text(self) -> str:
        """The study in full as the text of a file (RON), with its base scene in it, its columns as lists and its
        published ranges as distributions.
        """
    @property
    def title(self) -> str:
        """What the study is called."""
    @property
    def sha256(self) -> str:
        """Hash of all that the table depends on: the same hash, the same rows."""
    @property
    def row_count(self) -> int:
        """Number of rows."""
    @property
    def notes(self) -> list[str]:
        """What is allowed but hardly meant, and what reading casts had to mend or assume."""
    @property
    def columns(self) -> list[Column]:
        """Factors, settings that follow from them, measures, the reason; ``row`` is not among them."""
    @property
    def number_columns(self) -> list[str]:
        """Names of the columns of kind ``number``, in the order of the columns of :meth:`numbers`."""
    def __arrow_c_schema__(self) -> CapsuleType: ...
    def rows(self, start: SupportsIndex = 0, stop: SupportsIndex | None = None) -> Rows:
        """Computes rows ``start`` to before ``stop`` (to the last without it) into one batch. Python's lock is released
        meanwhile, and Ctrl-C ends it at once.

        Raises :class:`Error` for rows that the study does not have, and :class:`MemoryError` for more than memory
        holds.
        """
    def stream(
        self, start: SupportsIndex = 0, stop: SupportsIndex | None = None, *, batch_rows: SupportsIndex = 65536
    ) -> Stream:
        """As :meth:`rows`, in batches of ``batch_rows`` that are computed as they are read.

        Raises :class:`Error` for rows that the study does not have and for batches of no rows.
        """
    def numbers(
        self,
        start: SupportsIndex = 0,
        stop: SupportsIndex | None = None,
        *,
        columns: Sequence[str] | None = None,
    ) -> NDArray[np.float64]:
        """(rows, columns of kind ``number``): those columns alone, named by :attr:`number_columns`, or those that
        ``columns`` names, in its order; each in the unit of its column, not a number where nothing could be measured.
        NumPy takes over the memory that they were computed into.

        Raises :class:`Error` for rows and columns that the study does not have, and :class:`MemoryError` for more than
        memory holds.
        """
    def write(
        self,
        path: str | PathLike[str],
        *,
        part: tuple[SupportsIndex, SupportsIndex] | None = None,
        resume: bool = False,
        overwrite: bool = False,
        threads: SupportsIndex = 0,
        progress: Callable[[int, int], object] | None = None,
    ) -> Written:
        """Runs the study into a ``.parquet`` or ``.csv`` file by all cores (or ``threads``), in flat memory.

        ``part=(3, 8)`` computes the third of eight parts, into a file with the part in its name. ``resume`` goes on
        with a run that was stopped, and ends with the bytes of one that was not. ``progress`` is called some times a
        second with the rows that will last and the rows in all.

        Raises :class:`Error` for what cannot be written or gone on with. Ctrl-C, and whatever ``progress`` raises, end
        the run with what was written safe: rows under way are dropped, and ``resume`` computes them again.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Study: ...
    def __deepcopy__(self, memo: object) -> Study: ...
    def __reduce__(self) -> tuple[Any, ...]: ...

def rows_again(written: bytes) -> Rows:
    """The rows that :class:`Rows` wrote when it was pickled."""
def sobol_indices(
    output: NDArray[np.float64], factors: SupportsIndex, resamples: SupportsIndex, seed: SupportsIndex
) -> SobolIndices:
    """Sobol' indices of a contiguous column; :func:`eminentia.sobol_indices` takes whatever NumPy takes for one."""
def sweep(scene: Scene, values: list[NDArray[np.float64]], wanted: dict[str, Any]) -> dict[str, Any]:
    """Computes a pose for each setting, excursion and advance; :func:`eminentia.sweep` broadcasts the settings."""
