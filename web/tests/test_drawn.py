"""The page draws what the native program draws."""

import chromium
import native
import picture
import pytest


def assert_instrument_drawn(desk, file, scale):
    """At another scale the legend of the native picture, made for larger words, has its lines elsewhere."""
    own, other = desk.picture(), native.snapshot(file, scale=scale)
    picture.assert_alike(picture.instrument(own, scale), picture.instrument(other, scale), scale)


def assert_drawn(desk, file, *arguments, size=(1280, 800), scale=1):
    own, other = desk.picture(), native.snapshot(file, *arguments, size=size, scale=scale)
    picture.assert_alike(picture.middle(own, scale), picture.middle(other, scale), scale)
    # Settings, plot and numbers: the same panels with the same words in them.
    for part in (picture.left, picture.right):
        picture.assert_alike(part(own, scale), part(other, scale), scale)


def test_on_an_ordinary_screen(opened):
    desk = opened("#scene=thirty_degree")
    assert desk.page.evaluate("drawnBy") == ["webgpu"]
    assert_drawn(desk, native.scene("thirty_degree"))


def test_on_a_screen_of_twice_the_pixels(opened, dense_browser):
    desk = opened("#scene=thirty_degree", by=dense_browser, scale=2)
    assert desk.page.evaluate("document.getElementById('canvas').width") == 2 * 1280
    assert_instrument_drawn(desk, native.scene("thirty_degree"), 2)


def test_casts_and_the_end_of_an_excursion(opened):
    desk = opened("#scene=denture_casts")
    desk.key("End", "the end", lambda line: line["at"] == line["end"])
    end = desk.now()
    assert_drawn(desk, native.scene("denture_casts"), "--excursion", end["excursion"], "--at", str(end["end"]))


@pytest.mark.parametrize("missing", ["webgpu", "adapter"])
def test_by_webgl2_where_webgpu_is_taken_away(opened, missing):
    desk = opened("#scene=thirty_degree", first=[chromium.WITHOUT[missing]])
    assert desk.page.evaluate("drawnBy").count("webgl2") == 1
    assert "webgpu" not in desk.page.evaluate("drawnBy")
    assert_drawn(desk, native.scene("thirty_degree"))
