"""What is made of a finished table."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from eminentia import _native
from eminentia._arrays import numbers
from eminentia._errors import Error
from eminentia._results import SobolIndices


def sobol_indices(output: ArrayLike, *, factors: int, resamples: int = 1000, seed: int = 1) -> SobolIndices:
    """First-order and total Sobol' indices of a measured column.

    First order by Saltelli et al. (2010), total by Jansen (1999), with intervals by resampling groups.

    Parameters
    ----------
    output : (groups · (factors + 2),) array
        A column of a study whose plan is ``Indices``, all its rows in order, as :meth:`Study.numbers` has it; of any
        numeric type, and strided if need be. Not a number where nothing could be measured: that group is left out.
    factors : int
        Number of factors of the study.
    resamples : int
        From 20 to 100,000.
    seed : int
        Of the resampling, 0 or more.

    Raises
    ------
    Error
        For an output of another length or shape, one that does not vary, and too few resamples.
    """
    array = numbers("output", output)
    if array.ndim != 1:
        raise Error(f"output has shape {array.shape}; give one column, of shape (rows,)")
    return _native.sobol_indices(np.ascontiguousarray(array), factors, resamples, seed)
