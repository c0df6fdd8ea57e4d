"""Whether two pictures show the same, drawn by different drivers.

Edges are smoothed by one and not by the other, and a driver may round a colour its own way; what stands elsewhere
differs over whole tiles. So the pictures are compared by the means of small tiles, in points of the page, and the
worst tile decides.
"""

import io

import numpy as np
from PIL import Image

# Side of a tile in points: an edge that is smoothed or not changes a pixel of it, a thing that moved a good part.
TILE = 8

# The tiles' means may differ by so much, in steps of 255. `test_picture.py` holds it between what the same thing drawn
# by two drivers makes of it and what a sphere moved by 3 mm does.
ALIKE = 20.0

# Between the panels, below the header and above the caution: points from left, top, right, bottom.
MIDDLE = (316, 40, 372, 24)


def read(picture):
    """A picture from a file's name or from bytes, as numbers from 0 to 255."""
    source = io.BytesIO(picture) if isinstance(picture, bytes) else picture
    with Image.open(source) as opened:
        return np.asarray(opened.convert("RGB"), dtype=float)


def middle(picture, scale=1):
    """What stands between the panels of a picture of the whole window."""
    left, top, right, bottom = (round(side * scale) for side in MIDDLE)
    height, width, _ = picture.shape
    return picture[top : height - bottom, left : width - right]


def instrument(picture, scale=1):
    """What stands between the rows of buttons above and the legend below."""
    return middle(picture, scale)[round(90 * scale) : round(590 * scale)]


def left(picture, scale=1):
    """The panel on the left."""
    _, top, _, bottom = (round(side * scale) for side in MIDDLE)
    return picture[top : len(picture) - bottom, : round(MIDDLE[0] * scale)]


def right(picture, scale=1):
    """The panel on the right."""
    _, top, width, bottom = (round(side * scale) for side in MIDDLE)
    return picture[top : len(picture) - bottom, -width:]


def tiles(picture, scale=1):
    """The means of the tiles."""
    side = round(TILE * scale)
    height, width = (size // side * side for size in picture.shape[:2])
    cut = picture[:height, :width].reshape(height // side, side, width // side, side, 3)
    return cut.mean(axis=(1, 3))


def difference(one, other, scale=1):
    """The greatest difference between their tiles, and where it is in points from left and top."""
    assert one.shape == other.shape, f"pictures of {one.shape[1::-1]} and of {other.shape[1::-1]} pixels"
    apart = np.abs(tiles(one, scale) - tiles(other, scale)).max(axis=2)
    row, column = np.unravel_index(apart.argmax(), apart.shape)
    return float(apart[row, column]), (int(column) * TILE, int(row) * TILE)


def assert_alike(one, other, scale=1, alike=ALIKE):
    worst, place = difference(one, other, scale)
    assert worst <= alike, f"{worst:.1f} apart at {place} points from the left and top; {alike} is alike"
