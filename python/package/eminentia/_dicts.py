"""Dictionaries that say what a file says, made plain."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from eminentia._native import Scene

#: Fields of a study that are values of a factor, and not the name of a kind of values.
_LISTED = (np.ndarray, list, tuple)


def plain(given: Any) -> Any:
    """Dictionaries, lists, numbers and words, in place of whatever stands for them."""
    if isinstance(given, Scene):
        return given.to_dict()
    if isinstance(given, Mapping):
        return {str(name): plain(value) for name, value in given.items()}
    if isinstance(given, np.ndarray):
        return given.tolist()
    if isinstance(given, np.generic):
        return given.item()
    if isinstance(given, (list, tuple)):
        return [plain(value) for value in given]
    if not isinstance(given, (str, bytes, int, float, type(None))) and hasattr(given, "__array__"):
        # A column of another library's.
        return np.asarray(given).tolist()
    return given


def study(given: Mapping[str, Any]) -> dict[str, Any]:
    """A study with its factors as a list of settings and values, which may be given by the settings' names, and values
    in their kind, which may be given as an array."""
    fields = dict(given)
    factors = fields.get("factors")
    if isinstance(factors, Mapping):
        factors = [{"setting": name, "values": values} for name, values in factors.items()]
    if isinstance(factors, (list, tuple)):
        fields["factors"] = [_factor(factor) for factor in factors]
    return fields


def _factor(factor: Any) -> Any:
    if isinstance(factor, Mapping) and isinstance(factor.get("values"), _LISTED):
        return {**factor, "values": {"List": np.asarray(factor["values"]).ravel()}}
    return factor
