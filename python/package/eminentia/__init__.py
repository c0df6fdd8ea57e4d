"""What articulator settings do to the teeth, as NumPy and Arrow arrays.

For teaching and research. Settings are verified on the patient; local rules and licensed practice
decide.

A :class:`Scene` is an instrument with the cusps that are watched; :meth:`Scene.excursions` moves it and
gives poses, separations and clearances as NumPy arrays. A :class:`Study` varies a scene's settings by a
plan; its rows come as Arrow batches, as one NumPy array, or are written to Parquet or CSV by all cores.
:func:`show` shows a scene in a notebook, in the viewer's page.

Frame: x anterior, y to the patient's left, z up, in millimetres, the origin in the middle of the axis
through the condylar spheres at rest. "Upper frame" is the frame fixed to the upper member. Angles are in
degrees.

>>> import eminentia
>>> scene = eminentia.Scene.thirty_degree().changed({"horizontal_inclination_deg": 45})
>>> protrusive = scene.excursions()[0]
>>> protrusive.name, protrusive.separation_mm.shape == (len(protrusive), len(scene.cusps))
('protrusive', True)
"""

from eminentia._native import (
    CAUTION,
    Column,
    Error,
    Excursion,
    Rows,
    Scene,
    Setting,
    SobolIndices,
    Stream,
    Study,
    Written,
    __version__,
    settings,
    sobol_indices,
)
from eminentia._show import Shown, show

__all__ = [
    "CAUTION",
    "Column",
    "Error",
    "Excursion",
    "Rows",
    "Scene",
    "Setting",
    "Shown",
    "SobolIndices",
    "Stream",
    "Study",
    "Written",
    "__version__",
    "settings",
    "show",
    "sobol_indices",
]
