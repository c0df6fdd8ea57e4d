"""The comparison of pictures itself, with pictures of the native program: it sees a sphere that moved."""

import native
import picture
import pytest

THIRTY = native.scene("thirty_degree")


def shot(*arguments, scale=1):
    return picture.middle(native.snapshot(THIRTY, *arguments, scale=scale), scale)


@pytest.mark.parametrize("scale", [1, 2])
def test_a_sphere_moved_by_three_millimetres_is_seen(scale):
    own = shot(scale=scale)
    # Each sphere stands at half the distance from the middle.
    moved = shot("--with", "intercondylar_distance_mm=116", scale=scale)
    worst, _ = picture.difference(own, moved, scale)
    assert worst > 3 * picture.ALIKE, worst
    with pytest.raises(AssertionError, match="apart at"):
        picture.assert_alike(own, moved, scale)


def test_a_guide_set_five_degrees_steeper_is_seen():
    steeper = shot("--with", "right_guide.horizontal_inclination_deg=35")
    with pytest.raises(AssertionError, match="apart at"):
        picture.assert_alike(shot(), steeper)


def test_one_step_of_the_colour_of_everything_is_not_a_difference():
    own = shot()
    picture.assert_alike(own, own + 1.0)
    with pytest.raises(AssertionError, match="pixels"):
        picture.assert_alike(own, own[:-8])
