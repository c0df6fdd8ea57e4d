"""What is raised."""

from __future__ import annotations


class Error(ValueError):
    """What was given cannot be used: says what, where, and what would be accepted."""


class FileMissing(FileNotFoundError, Error):
    """A file that is not there; ``filename`` says which."""


# As which they are known, and found again by whoever unpickles them.
Error.__module__ = "eminentia"
