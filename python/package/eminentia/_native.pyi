from collections.abc import Callable, Mapping, Sequence
from os import PathLike
from typing import Any, SupportsIndex, final

import numpy as np
from numpy.typing import NDArray
from typing_extensions import CapsuleType

from eminentia._results import Column, ElementaryEffects, Excursion, Setting, ShapleyEffects, SobolIndices, Written

__all__ = [
    "CAUTION",
    "Case",
    "Pieces",
    "Rows",
    "Scene",
    "Stream",
    "Study",
    "__version__",
    "rows_again",
    "said",
    "settings",
    "sensitivity",
    "sobol_indices",
    "sweep",
]

CAUTION: str
__version__: str

def settings() -> list[Setting]:
    """Every numeric setting that a scene may have, by name with unit, range and meaning."""

@final
class Case:
    """A patient's records at the chair: what the settings of an instrument are found from. Never changed; equal to another
    that says the same.
    """
    @staticmethod
    def load(path: str | PathLike[str]) -> Case:
        """Reads a case file (RON) and works it through.

        Raises :class:`FileNotFoundError` for a file that is not there, and :class:`Error` for what cannot be read and for
        records that give no settings.
        """
    @staticmethod
    def from_text(text: str) -> Case:
        """As :meth:`load`, of a text."""
    @staticmethod
    def from_dict(fields: Mapping[str, Any]) -> Case:
        """As :meth:`load`, of a mapping with the fields of a case file. Variants are words or mappings of one word, as in
        ``{"FaceBow": {"right_axis_mm": [0, -55, 0], …}}``; arrays are taken for lists.

        Raises :class:`Error` with the field, and :class:`TypeError` for what is no mapping.
        """
    @property
    def title(self) -> str:
        """What the case is called."""
    @property
    def is_refuted(self) -> bool:
        """Whether a repeat of the centric record speaks against it, so that no settings are given."""
    @property
    def warnings(self) -> list[str]:
        """What to doubt, in words."""
    def to_text(self) -> str:
        """The case as the text of a file (RON)."""
    def to_dict(self) -> dict[str, Any]:
        """The case as a dictionary that :meth:`from_dict` reads back."""
    def program(self) -> dict[str, Any]:
        """The settings with their standard errors, the split-cast check and what each record says: the object that
        ``eminentia program --format json`` writes. Angles in degrees, lengths in mm. ``settings`` and ``scene`` are not
        there where the centric record is not confirmed.
        """
    def scene(self) -> Scene:
        """The programmed instrument.

        Raises :class:`Error` where the centric record is not confirmed.
        """
    def bench(
        self,
        *,
        right_deg: float | None = None,
        left_deg: float | None = None,
        right_lateral_deg: float | None = None,
        left_lateral_deg: float | None = None,
    ) -> dict[str, Any]:
        """The bench in the order of hands, with the guides at trial angles in degrees: the object that
        ``eminentia bench --format json`` writes. An angle that is not given stands as the example of a baseline has it.

        Raises :class:`Error` for an angle out of its setting's range.
        """
    def doubt(
        self,
        *,
        draws: SupportsIndex = 2000,
        seed: SupportsIndex = 1,
        landmark_sd_mm: float | None = None,
        axis_sd_mm: float | None = None,
        reference_sd_mm: float | None = None,
        record_sd_mm: float | None = None,
        scale_step_deg: float | None = None,
    ) -> dict[str, Any]:
        """The case redrawn from its uncertainties: how far to trust each setting, and what that does to the teeth. The
        object that ``eminentia doubt --format json`` writes. Standard deviations are of each coordinate, in mm;
        ``scale_step_deg`` is the graduation of the instrument's scales; those that are not given are the usual ones. The
        same seed gives the same draws.

        Raises :class:`Error` where the centric record is not confirmed, for numbers out of range (2 to 100,000 draws),
        and where half the draws fail.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Case: ...
    def __deepcopy__(self, memo: object) -> Case: ...
    def __reduce__(self) -> tuple[Any, ...]: ...

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
    def from_dict(fields: Mapping[str, Any], *, folder: str | PathLike[str] = ...) -> Scene:
        """As :meth:`load`, of a mapping with the fields of a scene file. Variants are words or mappings of one word, as in
        ``{"Table": {"sagittal_inclination_deg": 20, …}}``; arrays are taken for lists.

        Raises :class:`Error` with the field, and :class:`TypeError` for what is no mapping.
        """
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
    def to_dict(self) -> dict[str, Any]:
        """The scene as a dictionary that :meth:`from_dict` reads back."""
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
        condylar advances in millimetres, in rising order, from 0.001 to 30 or 0, which is behind an immediate
        translation where there is one. An opening has no advance and keeps the scene's poses.

        Raises :class:`Error` for advances out of order or range. Settings that admit no pose do not raise: the arrays
        end before it, and ``stopped`` says why.
        """
    def plan(self, wanted: Mapping[str, Any] | None = None) -> dict[str, Any]:
        """Which inclines, factors or guidance give the occlusion that is wanted: the object that ``eminentia plan --format
        json`` writes. ``wanted`` is the field ``plan`` of a scene file as a mapping; without it the scene's own is taken.
        Angles in degrees, lengths in mm.

        Raises :class:`Error` for a plan that cannot be worked out. A goal that cannot be reached does not raise: its
        ``reached`` is false, and what is told is the nearest.
        """
    def planned(self, wanted: Mapping[str, Any] | None = None) -> Scene:
        """The scene as :meth:`plan` plans it; where the goal cannot be reached, the nearest.

        Raises :class:`Error` for a plan that cannot be worked out.
        """
    def contacts(
        self,
        *,
        excursion: str | None = None,
        at: float | None = None,
        films_um: Sequence[float] | None = None,
        intended: str | None = None,
        to_mm: float | None = None,
    ) -> dict[str, Any]:
        """What teeth touch, what guides and what is in the way, of a scene with casts: the object that ``eminentia contacts
        --format json`` writes. ``excursion`` and ``at`` (mm of condylar advance, degrees of an opening) say where marks are
        read, without them centric and the end of each excursion; ``films_um`` are thicknesses of articulating film in
        micrometres; ``intended`` is ``canine-guided``, ``group-function`` or ``balanced``; ``to_mm`` is the advance, 1 to
        15, up to which guidance and interferences are looked for.

        Raises :class:`Error` for a scene without casts and for what is out of range. Warns of an excursion that cannot be
        followed to its end.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Scene: ...
    def __deepcopy__(self, memo: object) -> Scene: ...
    def __reduce__(self) -> tuple[Any, ...]: ...

@final
class Pieces:
    """The table that :meth:`Study.write` writes, as groups of rows that any process makes and one puts together."""
    def __new__(cls, study: Study, name: str) -> Pieces: ...
    @property
    def count(self) -> int:
        """Number of groups."""
    def head(self) -> bytes:
        """What stands before the first group."""
    def piece(self, number: SupportsIndex) -> tuple[bytes, bytes, int, int]:
        """A group by its number from 0, computed on one thread without Python's lock: its bytes, what :meth:`tail` has to
        know of it, its rows, and how many of them have a reason.
        """
    def tail(self, groups: list[tuple[int, bytes]]) -> bytes:
        """What stands behind the last group, made of each group's place in bytes and its note."""

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
    @staticmethod
    def from_dict(fields: Mapping[str, Any], *, folder: str | PathLike[str] | None = None) -> Study:
        """As :meth:`load`, of a mapping with the fields of a study file: ``title``, ``scene`` (a :class:`Scene`, a mapping or
        the path of a file), ``factors``, ``plan``, ``record`` and, where there are any, ``constraints``. Variants are words
        or mappings of one word, as in ``{"Normal": {"mean": 30, "sd": 4}}``. ``factors`` may be a mapping of the settings'
        names to values, and values an array or a list. Files are looked for from ``folder``.

        Raises :class:`Error` with the field, :class:`FileNotFoundError` for a file that is not there, and
        :class:`TypeError` for what is no mapping.
        """
    def to_dict(self) -> dict[str, Any]:
        """The study in full as a dictionary that :meth:`from_dict` reads back, with its base scene in it."""
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
        ignore_free_space: bool = False,
    ) -> Written:
        """Runs the study into a ``.parquet`` or ``.csv`` file by all cores (or ``threads``), in flat memory.

        ``part=(3, 8)`` computes the third of eight parts, into a file with the part in its name. ``resume`` goes on
        with a run that was stopped, and ends with the bytes of one that was not. ``progress`` is called some times a
        second with the rows that will last and the rows in all. ``ignore_free_space`` runs it though it seems not to fit
        on its disk.

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
def said(what: str) -> str:
    """A message that may quote what was given: on one line, everything in it seen, and of a bearable length. For what is
    raised in Python."""
def sensitivity(
    study: Study, output: NDArray[np.float64], start: SupportsIndex, resamples: SupportsIndex, seed: SupportsIndex
) -> SobolIndices | ShapleyEffects | ElementaryEffects:
    """What a contiguous column tells of a study's factors; :func:`eminentia.sensitivity` takes whatever NumPy takes for one."""
def sobol_indices(
    output: NDArray[np.float64], factors: SupportsIndex, resamples: SupportsIndex, seed: SupportsIndex
) -> SobolIndices:
    """Sobol' indices of a contiguous column; :func:`eminentia.sobol_indices` takes whatever NumPy takes for one."""
def sweep(scene: Scene, values: list[NDArray[np.float64]], wanted: dict[str, Any]) -> dict[str, Any]:
    """Computes a pose for each setting, excursion and advance; :func:`eminentia.sweep` broadcasts the settings."""
