"""What is raised."""

from __future__ import annotations


class Error(ValueError):
    """What was given cannot be used: says what, where, and what would be accepted."""


class FileMissing(FileNotFoundError, Error):
    """A file that is not there; ``filename`` says which."""


def refused(what: str) -> Error:
    """An error whose message quotes what was given."""
    # The native half looks here for what it raises.
    from eminentia._native import said

    # A path may hold bytes that are no letters.
    return Error(said(what.encode(errors="backslashreplace").decode()))


# As which they are known, and found again by whoever unpickles them.
Error.__module__ = "eminentia"
