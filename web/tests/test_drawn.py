"""The page draws what the native program draws."""

import chromium
import native
import picture
import pytest


def assert_drawn(own, file, *arguments):
    other = native.snapshot(file, *arguments)
    # Settings, plot and numbers: the same panels with the same words in them.
    for part in (picture.middle, picture.left, picture.right):
        picture.assert_alike(part(own), part(other))


def test_on_an_ordinary_screen(opened):
    desk = opened("#scene=thirty_degree")
    assert desk.page.evaluate("drawnBy") == ["webgpu"]
    assert_drawn(desk.picture(), native.scene("thirty_degree"))


def test_on_a_screen_of_twice_the_pixels(opened, dense_browser):
    desk = opened("#scene=thirty_degree", by=dense_browser, scale=2)
    assert desk.page.evaluate("document.getElementById('canvas').width") == 2 * 1280
    sharp = desk.picture()
    # As far away as the other: four pixels for one.
    height, width, _ = sharp.shape
    near = sharp.reshape(height // 2, 2, width // 2, 2, 3).mean(axis=(1, 3))
    # Letters are put on their pixels otherwise.
    other = native.snapshot(native.scene("thirty_degree"))
    picture.assert_alike(picture.instrument(near), picture.instrument(other))


def test_casts_and_the_end_of_an_excursion(opened):
    desk = opened("#scene=denture_casts")
    desk.key("End", "the end", lambda line: line["at"] == line["end"])
    end = desk.now()
    assert_drawn(desk.picture(), native.scene("denture_casts"), "--excursion", end["excursion"], "--at", str(end["end"]))


@pytest.mark.parametrize("missing", ["webgpu", "adapter"])
def test_by_webgl2_where_webgpu_is_taken_away(opened, missing):
    desk = opened("#scene=thirty_degree", first=[chromium.WITHOUT[missing]])
    assert desk.page.evaluate("drawnBy").count("webgl2") == 1
    assert "webgpu" not in desk.page.evaluate("drawnBy")
    assert_drawn(desk.picture(), native.scene("thirty_degree"))
