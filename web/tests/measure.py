"""Measures the page on this machine, with the software driver; no test.

    target/web-venv/bin/python web/tests/measure.py

Prints the time from the address to the first picture, from a server on this machine and an empty cache; what was
fetched for it; and frames a second while a slider is dragged.
"""

import statistics
import time

from playwright.sync_api import sync_playwright

import chromium
from conftest import WEB, served
from desk import Desk

TIMES = 3


def first_picture(browser, site, first=()):
    """Seconds from the address to the first report, and what was fetched in bytes."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    for script in first:
        context.add_init_script(script)
    desk = Desk(context.new_page())
    start = time.monotonic()
    desk.page.goto(site, wait_until="commit")
    desk.wait("the first picture", lambda _: True)
    seconds = time.monotonic() - start
    weight = sum(request.sizes()["responseBodySize"] for request in desk.requests)
    return desk, seconds, weight


def frames_while_dragging(desk, seconds=5.0):
    """Frames a second while the mouse moves on a slider at each frame of the browser's."""
    desk.settled()
    left, top, width, height = desk.place("horizontal_inclination_deg.right")
    desk.page.mouse.move(left + width / 2, top + height / 2)
    desk.page.mouse.down()
    start, before, step = time.monotonic(), desk.frames(), 0
    while time.monotonic() - start < seconds:
        step += 1
        part = 0.3 + 0.4 * abs(step % 80 - 40) / 40
        desk.page.mouse.move(left + width * part, top + height / 2)
    drawn, passed = desk.frames() - before, time.monotonic() - start
    desk.page.mouse.up()
    return drawn / passed


def main():
    with sync_playwright() as playwright, served(WEB / "site") as site:
        browser = chromium.launch(playwright)
        for name, first in (("WebGPU", ()), ("WebGL2", (chromium.WITHOUT["webgpu"],))):
            opened = [first_picture(browser, site, first) for _ in range(TIMES)]
            seconds = statistics.median(seconds for _, seconds, _ in opened)
            rate = frames_while_dragging(opened[-1][0])
            print(f"{name}: first picture after {seconds:.2f} s (median of {TIMES}), {opened[0][2]:,} bytes fetched,")
            print(f"    {rate:.1f} frames a second while a slider is dragged")
            for desk, *_ in opened:
                desk.page.context.close()
        browser.close()


if __name__ == "__main__":
    main()
