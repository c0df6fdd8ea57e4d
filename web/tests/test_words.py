"""Without anything to draw with: a page of words, with the settings and the table of numbers still at work."""

import re

import chromium
import native
import pytest
from desk import near, wait_until

RIGHT = "right_guide.horizontal_inclination_deg"


@pytest.fixture(scope="module")
def bare(playwright):
    """A browser that has neither WebGPU nor WebGL2."""
    browser = chromium.launch(playwright, chromium.NOTHING)
    yield browser
    browser.close()


@pytest.fixture
def page(opened, bare):
    page = opened("#scene=thirty_degree", by=bare, ready=False, size=(1000, 800)).page
    teeth(page).wait_for()
    return page


def teeth(page):
    return page.get_by_role("table", name="Teeth")


def table(page):
    """What the table says: for each cusp its separation and its clearance."""
    rows = (row.get_by_role("cell").all_inner_texts() for row in teeth(page).locator("tbody tr").all())
    return {cells[0]: [float(cell.replace("−", "-")) for cell in cells[1:3]] for cells in rows}


def assert_table(page, excursion, sample, *changes):
    """The numbers are the command line's at this sample, to the half of the last digit that is written."""
    expected = native.excursions(native.scene("thirty_degree"), *changes)[excursion][sample]["cusps"]
    shown = table(page)
    assert len(shown) == len(expected) > 0
    for cusp in expected:
        separation, clearance = shown[f"{cusp['tooth']} {cusp['name']}"]
        assert near(separation, cusp["separation_mm"], 0.005 + 1e-9), (cusp, shown)
        assert near(clearance, cusp["clearance_mm"], 0.005 + 1e-9), (cusp, shown)


def test_it_says_what_is_needed_and_its_numbers_follow_its_settings(page):
    said = page.locator("body").inner_text()
    assert "WebGPU" in said and "WebGL2" in said and "For teaching and research" in said
    assert not page.locator("canvas").is_visible()

    assert_table(page, "protrusive", 0)
    page.get_by_role("slider", name="Place on the excursion").press("End")
    assert_table(page, "protrusive", -1)
    before = table(page)
    field = page.get_by_label("horizontal condylar inclination, right")
    field.fill("45")
    field.press("Enter")
    wait_until("other numbers", lambda: table(page) != before)
    assert_table(page, "protrusive", -1, "--with", f"{RIGHT}=45")
    page.get_by_role("combobox", name="Excursion").select_option("left lateral")
    wait_until("the other excursion", lambda: table(page) != before)
    page.get_by_role("slider").press("End")
    assert_table(page, "left_lateral", -1, "--with", f"{RIGHT}=45")

    # What is out of range is said, and changes nothing.
    field.fill("1000")
    field.press("Enter")
    told = page.get_by_role("alert")
    wait_until("a word about it", lambda: re.search(r"horizontal condylar inclination.* to 85", told.inner_text()))
    assert_table(page, "left_lateral", -1, "--with", f"{RIGHT}=45")
    page.get_by_role("button", name="Undo").click()
    assert_table(page, "left_lateral", -1)
