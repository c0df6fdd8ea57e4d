"""What is made of a finished table."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from eminentia import _native
from eminentia._arrays import numbers
from eminentia._errors import Error
from eminentia._native import Study
from eminentia._results import ElementaryEffects, ShapleyEffects, SobolIndices


def _column(output: ArrayLike) -> NDArray[np.float64]:
    array = numbers("output", output)
    if array.ndim != 1:
        raise Error(f"output has shape {array.shape}; give one column, of shape (rows,)")
    return np.ascontiguousarray(array)


def sensitivity(
    study: Study, output: ArrayLike, *, start: int = 0, resamples: int = 1000, seed: int = 1
) -> SobolIndices | ShapleyEffects | ElementaryEffects:
    """What a measured column tells of a study's factors, as its plan lays out the rows.

    The plan ``Indices`` gives :class:`SobolIndices`, ``Shapley`` :class:`ShapleyEffects`, and ``ElementaryEffects``
    :class:`ElementaryEffects`. Where the plan has independent scramblings, intervals are Student's over them.

    Parameters
    ----------
    study : Study
        Whose rows the numbers are of.
    output : (rows,) array
        A measured column, its rows in order, as :meth:`Study.numbers` has it; of any numeric type. Not a number where
        nothing could be measured: that group is left out, as are groups that are not there in full.
    start : int
        The row of the first number.
    resamples : int
        Of the bootstrap that intervals of Sobol' indices come of where points are random or of one scrambling, from 20
        to 100,000.
    seed : int
        Of the bootstrap, 0 or more.

    Raises
    ------
    Error
        For a plan that tells nothing of the kind, rows that the study does not have, fewer than two whole groups, and an
        output that does not vary.
    """
    return _native.sensitivity(study, _column(output), start, resamples, seed)


def sobol_indices(output: ArrayLike, *, factors: int, resamples: int = 1000, seed: int = 1) -> SobolIndices:
    """First-order and total Sobol' indices of a measured column whose groups are drawn independently.

    First order by Saltelli et al. (2010), total by Jansen (1999), with intervals by resampling groups. These hold for
    random points; of Sobol' points they are too wide, and :func:`sensitivity` gives true ones.

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
    return _native.sobol_indices(_column(output), factors, resamples, seed)
