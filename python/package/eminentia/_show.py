"""A scene in a notebook: the viewer's page in a frame, with the scene behind the ``#`` of its address."""

from __future__ import annotations

import html
import os
import re
from pathlib import Path

from eminentia._errors import refused
from eminentia._native import Scene
from eminentia._serve import address_of

#: Where the page is, for those who do not say it each time.
PAGE = "EMINENTIA_PAGE"

#: Lowest and highest that a frame is, in pixels of the page.
_HEIGHTS = (100, 4000)

#: What the page needs: its program, and an origin of its own, from which it loads that program and keeps its
#: session. The page's origin is not the notebook's, so that it can do nothing there.
_SANDBOX = "allow-scripts allow-same-origin allow-downloads"

_HOW = (
    f"give page=…, or set {PAGE}: the address of the viewer's page (https://…, or http://localhost:…), or the "
    "folder that ./web/build made (web/site in a clone of the program)"
)


class Shown:
    """A scene shown in the viewer's page; in a notebook the last line of a cell shows it."""

    def __init__(self, address: str, title: str, height: int) -> None:
        self._address = address
        self._title = title
        self._height = height

    @property
    def address(self) -> str:
        """The page's address with the scene behind its ``#``: to be sent, or opened in a browser."""
        return self._address

    def _repr_html_(self) -> str:
        source = html.escape(self._address, quote=True)
        title = html.escape(f"Eminentia: {self._title}", quote=True)
        return (
            f'<iframe src="{source}" title="{title}" width="100%" height="{self._height}" '
            f'sandbox="{_SANDBOX}" allow="fullscreen" referrerpolicy="no-referrer" style="border:0"></iframe>'
        )

    def __repr__(self) -> str:
        return f"<Shown {self._title!r} at {self._address}>"


def show(
    scene: Scene,
    page: str | os.PathLike[str] | None = None,
    height: int = 480,
    only_picture: bool = True,
    *,
    excursion: str | None = None,
    at: float | None = None,
    beside: Scene | None = None,
) -> Shown:
    """Shows a scene in a notebook, in the viewer's page.

    ``page`` is the page's address, or a folder with the built page; that is then served on 127.0.0.1, to this
    machine only, until Python ends. Without it the environment's ``EMINENTIA_PAGE`` says where the page is.
    ``height`` is the frame's, in pixels; ``only_picture`` leaves most controls away. ``excursion``, ``at`` and
    ``beside`` are those of :meth:`Scene.link`. The scene stands behind the ``#`` of the address, which no browser
    sends to a server.

    Raises :class:`Error` without a page, and for what :meth:`Scene.link` refuses.

    >>> import eminentia
    >>> shown = eminentia.show(eminentia.Scene.thirty_degree(), "https://course.example/eminentia/")
    >>> shown.address.startswith("https://course.example/eminentia/?only=picture#set-up=1")
    True
    """
    least, greatest = _HEIGHTS
    if isinstance(height, bool) or not isinstance(height, int) or not least <= height <= greatest:
        raise refused(f"height is {height!r}; allowed are whole numbers of pixels from {least} to {greatest}")
    # Before a folder is served: what cannot be sent needs no page.
    scene.link(excursion=excursion, at=at, beside=beside)
    address = scene.link(
        _page(page), excursion=excursion, at=at, beside=beside, only_picture=only_picture
    )
    return Shown(address, scene.title, height)


def _page(given: str | os.PathLike[str] | None) -> str:
    """The address of the page."""
    page = given if given is not None else os.environ.get(PAGE)
    if page is None or (isinstance(page, str) and not page.strip()):
        raise refused(f"no page to show the scene in; {_HOW}")
    # Two letters at least: a letter before a colon is a disk.
    if isinstance(page, str) and re.match(r"[A-Za-z][A-Za-z0-9+.-]+:", page):
        return page
    folder = Path(page)
    # Of a name that no file can have this says no, where a path would raise what the system says.
    if not os.path.isfile(folder / "index.html"):
        raise refused(f"{folder}: no folder with the viewer's page, which has an index.html; {_HOW}")
    return address_of(folder)
