"""A browser, the site served to it, and pages opened in it."""

import contextlib
import os
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import sync_playwright

import chromium
from desk import PATIENCE, Desk

WEB = Path(__file__).resolve().parents[1]
# What is tested: the page that is quick to build, unless another is named.
SITE = Path(os.environ.get("SITE") or WEB.parent / "target" / "web" / "quick")


@contextlib.contextmanager
def served(folder):
    """A folder served by what `./web/serve` serves with, at a free port; gives its address."""
    command = [sys.executable, WEB / "serving" / "serve.py", folder, "--port", "0"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
        try:
            address = server.stdout.readline().strip()
            assert address.startswith("http://127.0.0.1:"), f"serving {folder} gave {address!r}"
            yield address
        finally:
            server.terminate()


@pytest.fixture(scope="session")
def site():
    """The address of the site."""
    with served(SITE) as address:
        yield address


@pytest.fixture(scope="session")
def playwright():
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def browser(playwright):
    """A browser that draws by WebGPU."""
    started = chromium.launch(playwright)
    yield started
    started.close()


does_not_open = []


@pytest.fixture(scope="session")
def dense_browser(playwright):
    """The same on a screen of two pixels to a point. What Playwright emulates of that does not reach the canvas's
    own size: the observer of sizes goes on counting single pixels."""
    started = chromium.launch(playwright, [*chromium.WEBGPU, "--force-device-scale-factor=2"])
    yield started
    started.close()


@pytest.fixture
def opened(browser, site):
    """Opens pages of the site, each a stranger to the others, and lets none leave an error behind.

    `at` stands behind the address, `first` are scripts run before the page's own, and `ready` waits for the picture;
    more words are the browser context's.
    """
    pages = []

    def open_page(at="", first=(), ready=True, by=browser, size=(1280, 800), scale=1, **more):
        width, height = size
        context = by.new_context(
            viewport={"width": width, "height": height}, device_scale_factor=scale, **more
        )
        context.set_default_timeout(PATIENCE * 1000)
        for script in (chromium.WATCHED, *first):
            context.add_init_script(script)
        desk = Desk(context.new_page())
        pages.append(desk)
        desk.page.goto(site + at)
        if ready:
            # Where one does not open, the others are not waited for.
            assert not does_not_open, "no page opens"
            does_not_open.append(desk)
            desk.settled()
            does_not_open.clear()
        return desk

    yield open_page
    hosts = set().union(*(desk.hosts() for desk in pages))
    errors = [error for desk in pages for error in desk.errors]
    for desk in pages:
        desk.page.context.close()
    assert hosts <= {site.rstrip("/")}, f"something was asked of {hosts}"
    assert not errors, errors


@pytest.fixture
def served_elsewhere(tmp_path):
    """Serves a page from an origin that is not the site's; gives its address."""
    with contextlib.ExitStack() as stack:

        def serve(page):
            folder = tmp_path / "elsewhere"
            folder.mkdir()
            (folder / "index.html").write_text(page, encoding="utf-8")
            return stack.enter_context(served(folder))

        yield serve
