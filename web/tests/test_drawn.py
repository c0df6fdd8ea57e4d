"""The page draws what the native program draws."""

import chromium
import native
import picture
import pytest


def assert_drawn(desk, file, *arguments, size=(1280, 800), scale=1):
    own, other = desk.picture(), native.snapshot(file, *arguments, size=size, scale=scale)
    picture.assert_alike(picture.middle(own, scale), picture.middle(other, scale), scale)
    # Settings, plot and numbers: the same panels with the same words in them.
    for part in (picture.left, picture.right):
        picture.assert_alike(part(own, scale), part(other, scale), scale)


@pytest.mark.parametrize("scale", [1, 2])
def test_at_the_scale_of_the_screen(opened, browser, dense_browser, scale):
    desk = opened("#scene=thirty_degree", by=dense_browser if scale == 2 else browser, scale=scale)
    assert desk.page.evaluate("drawnBy") == ["webgpu"]
    assert_drawn(desk, native.scene("thirty_degree"), scale=scale)


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
