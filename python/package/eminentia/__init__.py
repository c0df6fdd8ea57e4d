"""What articulator settings do to the teeth, as NumPy and Arrow arrays.

For teaching and research. Settings are verified on the patient; local rules and licensed practice
decide.

A :class:`Scene` is an instrument with the cusps that are watched; :meth:`Scene.excursions` moves it and
gives poses, separations and clearances as NumPy arrays. :func:`sweep` varies settings by arrays of values, as NumPy
broadcasts them. A :class:`Study` varies a scene's settings by a plan; its rows come as Arrow batches, as one NumPy
array, or are written to Parquet or CSV by all cores. :func:`show` shows a scene in a notebook, in the viewer's page.

Scenes, studies and results can be pickled and compared. What was given wrongly raises :class:`Error`, a
:class:`ValueError`; a file that is not there, :class:`FileNotFoundError`.

Frame: x anterior, y to the patient's left, z up, in millimetres, the origin in the middle of the axis
through the condylar spheres at rest. "Upper frame" is the frame fixed to the upper member. Angles are in
degrees.

>>> import eminentia
>>> scene = eminentia.Scene.thirty_degree().changed({"horizontal_inclination_deg": 45})
>>> protrusive = scene.excursions()[0]
>>> protrusive.name, protrusive.separation_mm.shape == (len(protrusive), len(scene.cusps))
('protrusive', True)
"""

from eminentia._errors import Error
from eminentia._native import CAUTION, Case, Rows, Scene, Stream, Study, __version__, settings
from eminentia._results import Column, ElementaryEffects, Excursion, Setting, ShapleyEffects, SobolIndices, Written
from eminentia._show import Shown, show
from eminentia._statistics import sensitivity, sobol_indices
from eminentia._sweep import Sweep, sweep

__all__ = [
    "CAUTION",
    "Case",
    "Column",
    "ElementaryEffects",
    "Error",
    "Excursion",
    "Rows",
    "Scene",
    "Setting",
    "ShapleyEffects",
    "Shown",
    "SobolIndices",
    "Stream",
    "Study",
    "Sweep",
    "Written",
    "__version__",
    "sensitivity",
    "settings",
    "show",
    "sobol_indices",
    "sweep",
]
