"""Numbers as callers give them."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from eminentia._errors import Error


def numbers(name: str, given: ArrayLike) -> NDArray[np.float64]:
    """Anything that NumPy takes for an array of real numbers, as float64."""
    try:
        array = np.asarray(given)
        if array.dtype.kind not in "biuf":
            # A column of another library's, with gaps, or a list of numbers and None.
            if array.dtype.kind != "O":
                raise TypeError
            return array.astype(np.float64)
        return array.astype(np.float64, copy=False)
    except (TypeError, ValueError) as error:
        raise Error(f"{name} is no array of numbers; NumPy has to be able to make one of float64") from error
