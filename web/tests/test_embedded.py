"""The picture alone, in a page of somebody else."""

import json

import picture
from desk import wait_until


def embedding(address):
    return f"""<!doctype html><meta charset="utf-8"><title>A course</title><link rel="icon" href="data:,">
<style>body {{ margin: 0 }} iframe {{ border: 0; display: block }}</style>
<iframe src="{address}" width="800" height="600" title="An articulator that moves"></iframe>
"""


def test_a_course_page_shows_a_scene_in_a_frame(browser, site, served_elsewhere):
    address = served_elsewhere(embedding(f"{site}?only=picture#scene=denture_casts"))
    page = browser.new_page(viewport={"width": 1000, "height": 700})
    errors = []
    page.on("console", lambda said: errors.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(address)
    frame = wait_until("the frame", lambda: next((frame for frame in page.frames if frame.url.startswith(site)), None))

    def report():
        text = frame.evaluate("window.eminentia?.frames() ? window.eminentia.report() : null")
        return json.loads(text) if text else None

    line = wait_until("the picture", lambda: (line := report()) and line["settled"] and line)
    assert line["title"].startswith("Complete dentures")
    # No settings, no table: their controls are nowhere.
    assert not any(name in line["places"] for name in line["settings"]), sorted(line["places"])
    assert "page=plan" not in line["places"] and "save" not in line["places"]
    # The whole frame is the picture, which moves.
    def shown():
        return picture.read(page.screenshot(clip={"x": 0, "y": 0, "width": 800, "height": 450}))

    rest = shown()
    frame.focus("#canvas")
    page.keyboard.press("End")
    wait_until("the end", lambda: (line := report()) and line["at"] == line["end"])
    # What would change something is nobody's here.
    page.keyboard.press("z")
    page.keyboard.press("Control+o")
    frame.evaluate("new Promise(requestAnimationFrame)")
    line = report()
    assert line["asking"] is None and not line["changed"] and line["at"] == line["end"]
    assert picture.difference(rest, shown())[0] > picture.ALIKE
    page.close()
    assert not errors, errors
