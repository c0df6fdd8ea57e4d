"""The page as it is seen: hidden and shown again, of another size, at another scale, at rest."""

import chromium
import native
import picture
from desk import Desk, near, wait_until
from test_drawn import assert_drawn


def test_nothing_is_drawn_while_nothing_moves(opened):
    desk = opened()
    desk.rest()
    assert desk.drawn_over(60) == 0
    desk.key("p", "playing", lambda line: line["playing"])
    wait_until("frames while it plays", lambda: desk.drawn_over(10) > 0)
    desk.key("p", "paused", lambda line: not line["playing"])
    desk.rest()
    assert desk.drawn_over(60) == 0
    # A mouse that passes wakes it.
    before = desk.frames()
    desk.page.mouse.move(500, 500)
    wait_until("a frame for the mouse", lambda: desk.frames() > before)


def test_a_window_of_another_size_is_filled(opened):
    desk = opened("#scene=thirty_degree", size=(1024, 700))
    thirty = native.scene("thirty_degree")

    def canvas():
        return desk.page.evaluate("['width', 'height'].map((side) => document.getElementById('canvas')[side])")

    assert canvas() == [1024, 700]
    desk.page.set_viewport_size({"width": 1280, "height": 800})
    wait_until("the canvas as large as the window", lambda: canvas() == [1280, 800])
    assert_drawn(desk.picture(), thirty)
    session = desk.page.context.new_cdp_session(desk.page)
    metrics = {"width": 1280, "height": 800, "deviceScaleFactor": 1, "mobile": False}
    # And made so small that nothing fits.
    session.send("Emulation.setDeviceMetricsOverride", metrics | {"width": 40, "height": 30})
    wait_until("a small canvas", lambda: canvas() == [40, 30])
    desk.page.evaluate("new Promise(requestAnimationFrame)")
    session.send("Emulation.setDeviceMetricsOverride", metrics)
    wait_until("the canvas as before", lambda: canvas() == [1280, 800])
    desk.rest()


def still_after(desk, other, milliseconds):
    """The number of frames drawn, if none is while another tab lets so many milliseconds pass; a hidden tab's own
    clocks go slowly."""
    before = desk.frames()
    other.wait_for_timeout(milliseconds)
    return before if desk.frames() == before else None


def test_a_hidden_tab_draws_nothing_and_goes_on_where_it_was(playwright, site, tmp_path):
    started = chromium.ByItself(playwright, tmp_path)
    try:
        desk = Desk(started.browser.contexts[0].pages[0])
        desk.page.goto(site)
        desk.settled()
        desk.key("p", "playing", lambda line: line["playing"])
        desk.wait("on its way", lambda line: line["at"] > 0.0)
        other = started.browser.contexts[0].new_page()
        wait_until("hidden", lambda: desk.page.evaluate("document.visibilityState") == "hidden")
        # One that was under way is drawn to its end.
        drawn = wait_until("rest", lambda: still_after(desk, other, 300))
        assert still_after(desk, other, 1500) == drawn
        desk.page.bring_to_front()
        wait_until("shown", lambda: desk.page.evaluate("document.visibilityState") == "visible")
        wait_until("frames again", lambda: desk.frames() > drawn)
        assert desk.now()["playing"]
        desk.key("p", "paused", lambda line: not line["playing"])
        desk.key("Home", "the start", lambda line: near(line["at"], 0.0))
        size = tuple(desk.page.evaluate("[innerWidth, innerHeight]"))
        for part in (picture.middle, picture.left, picture.right):
            picture.assert_alike(part(desk.picture()), part(native.snapshot(native.scene("thirty_degree"), size=size)))
        assert not desk.errors
    finally:
        started.close()
