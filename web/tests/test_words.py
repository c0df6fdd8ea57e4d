"""Without anything to draw with: a page of words, with the settings and the table of numbers still at work."""

import re

import chromium
import native
import pytest
from desk import Desk, near


@pytest.fixture
def page(playwright, site):
    """The page in a browser that has neither WebGPU nor WebGL2."""
    browser = chromium.launch(playwright, chromium.NOTHING)
    desk = Desk(browser.new_page(viewport={"width": 1000, "height": 800}))
    desk.page.goto(site)
    yield desk
    hosts, errors = desk.hosts(), desk.errors
    browser.close()
    assert hosts == {site.rstrip("/")} and not errors, (hosts, errors)


def table(page):
    """The numbers of the table: for each cusp its separation and its clearance as they are written."""
    rows = page.locator("#numbers table tbody tr").all()
    return {cells[0]: cells[1:] for cells in (row.locator("th, td").all_inner_texts() for row in rows)}


def number(text):
    return float(re.sub(r"\s*mm$", "", text).replace("−", "-"))


def test_it_says_what_is_needed_and_its_numbers_follow_its_settings(page):
    words = page.page.locator("#numbers")
    words.wait_for()
    said = page.page.locator("body").inner_text()
    assert "WebGPU" in said and "WebGL2" in said
    assert page.page.locator("canvas").count() == 0 or not page.page.locator("canvas").is_visible()

    def assert_table(*changes):
        expected = native.cusps(native.scene("thirty_degree"), "protrusive", *changes)
        shown = table(page.page)
        assert len(shown) == len(expected)
        for (tooth, name), (last, least) in expected.items():
            cells = shown[f"{tooth} {name}"]
            assert near(number(cells[0]), last, 0.005 + 1e-9) and near(number(cells[-1]), least, 0.005 + 1e-9), cells

    assert_table()
    before = table(page.page)
    field = page.page.get_by_label("horizontal condylar inclination, right")
    field.fill("45")
    field.press("Enter")
    page.page.wait_for_function("(before) => document.querySelector('#numbers table').innerText !== before", arg=page.page.locator("#numbers table").inner_text()) if table(page.page) == before else None
    assert_table("--with", "right_guide.horizontal_inclination_deg=45")
    # What makes no sense is said, and changes nothing.
    field.fill("1000")
    field.press("Enter")
    page.page.get_by_role("alert").wait_for()
    assert_table("--with", "right_guide.horizontal_inclination_deg=45")
