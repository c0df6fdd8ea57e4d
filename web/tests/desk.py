"""A page at the desk: hands from outside, the report for what the page knows, its picture for what it shows.

What is taken for granted of the page:

- `<canvas id="canvas">` fills the page and shows the viewer;
- `window.eminentia.report()` is the viewer's report (`viewer/src/report/mod.rs`) as JSON text;
- `window.eminentia.frames()` counts the frames drawn.

Waits for what should happen, not for a time, since a software driver shows a few frames a second only.
"""

import base64
import json
import time
from pathlib import Path
from urllib.parse import urlsplit

import picture

# Longest time that one thing may take, in seconds: a slow machine building for others at the same time.
PATIENCE = 60.0


def wait_until(what, is_so, patience=PATIENCE):
    """Waits until a function gives something, and gives it."""
    end = time.monotonic() + patience
    while not (found := is_so()):
        assert time.monotonic() < end, f"{what} did not come about"
        time.sleep(0.03)
    return found


class Desk:
    """One page of a browser."""

    def __init__(self, page):
        self.page = page
        self.keyboard = page.keyboard
        self.errors = []
        self.requests = []
        page.on("console", lambda said: self.errors.append(said.text) if said.type == "error" else None)
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        page.on("request", lambda request: self.requests.append(request))

    # What the page knows.

    def now(self):
        """The last report; none before there is a picture."""
        text = self.page.evaluate("window.eminentia?.frames() ? window.eminentia.report() : null")
        return json.loads(text) if text else None

    def wait(self, what, is_so):
        """Waits until the report says so, and gives it."""
        end = time.monotonic() + PATIENCE
        while True:
            line = self.now()
            if line is not None and is_so(line):
                return line
            if line is None:
                stopped = self.page.evaluate("document.querySelector('#cover .wrong')?.textContent")
                assert not stopped and not self.errors, f"no picture: {stopped or self.errors}"
            assert time.monotonic() < end, f"{what} did not come about; errors {self.errors}; last was {line}"
            time.sleep(0.03)

    def settled(self):
        """Waits for a picture whose panels are in order, and gives its report."""
        return self.wait("a settled picture", lambda line: line["settled"] and line["places"])

    def frames(self):
        return self.page.evaluate("window.eminentia.frames()")

    def rest(self):
        """Waits until nothing has been drawn for half a second of the page's own frames."""
        self.settled()
        return wait_until("rest", lambda: self.drawn_over(30) == 0)

    def drawn_over(self, ticks):
        """How many frames are drawn while the browser could have drawn so many."""
        return self.page.evaluate(
            """async (ticks) => {
                const before = window.eminentia.frames();
                for (let tick = 0; tick < ticks; tick++) await new Promise(requestAnimationFrame);
                return window.eminentia.frames() - before;
            }""",
            ticks,
        )

    # What the page shows.

    def picture(self):
        """What the window shows, at rest."""
        self.rest()
        return picture.read(self.page.screenshot())

    def picture_of(self, screenshot):
        self.rest()
        return picture.read(base64.b64decode(screenshot()))

    # Hands.

    def place(self, name):
        """Where a control is in points of the page: left, top, width, height."""
        places = self.now()["places"]
        assert name in places, f"no control {name} among {sorted(places)}"
        scale = self.page.evaluate("devicePixelRatio")
        return [side / scale for side in places[name]]

    def middle(self, name, part=0.5):
        left, top, width, height = self.place(name)
        return left + width * part, top + height / 2

    def hold(self, name, part, what, is_so):
        """Presses the left button on a part (0 to 1) of a control's width, holds it until something is so, and gives
        what came of it once it was let go."""
        self.page.mouse.move(*self.middle(name, part))
        self.page.mouse.down()
        self.wait(what, is_so)
        self.page.mouse.up()
        self.rest()
        return self.now()

    def push(self, name, what, is_so):
        """Pushes a button: it acts when the mouse lets go of it."""
        self.wait(f"{name} at its place", lambda line: line["settled"] and name in line["places"])
        self.page.mouse.move(*self.middle(name))
        self.page.mouse.down()
        self.page.mouse.up()
        return self.wait(what, is_so)

    def drag(self, start, end, steps=6, button="left"):
        """Drags from a point to another in steps, each of which the page may see."""
        self.page.mouse.move(*start)
        self.page.mouse.down(button=button)
        for step in range(1, steps + 1):
            part = step / steps
            self.page.mouse.move(*(a + (b - a) * part for a, b in zip(start, end, strict=True)))
            self.page.evaluate("new Promise(requestAnimationFrame)")
        self.page.mouse.up(button=button)

    def key(self, key, what=None, is_so=None):
        self.keyboard.press(key)
        return self.wait(what, is_so) if is_so else None

    def drop(self, name, content):
        """Drops a file on the canvas: bytes, or a number for a file of so many bytes of nothing."""
        self.drop_files({name: content})

    def drop_files(self, files):
        """Drops files on the canvas, as from the desktop."""
        carried = [
            (name, content if isinstance(content, int) else base64.b64encode(content).decode())
            for name, content in files.items()
        ]
        self.page.evaluate(
            """(files) => {
                const carried = new DataTransfer();
                const large = (size) => Array(Math.ceil(size / 1e8)).fill(new Blob([new Uint8Array(1e8)]));
                for (const [name, content] of files) {
                    const parts = typeof content === "number"
                        ? large(content)
                        : [Uint8Array.from(atob(content), (letter) => letter.charCodeAt(0))];
                    carried.items.add(new File(parts, name));
                }
                const canvas = document.getElementById("canvas");
                for (const kind of ["dragenter", "dragover", "drop"]) {
                    const event = new DragEvent(kind, {
                        dataTransfer: carried, bubbles: true, cancelable: true, clientX: 600, clientY: 400,
                    });
                    canvas.dispatchEvent(event);
                    // Or the browser would open the file in the place of the page.
                    if (kind !== "dragenter" && !event.defaultPrevented) throw new Error(`no hand takes ${kind}`);
                }
            }""",
            carried,
        )

    def drop_file(self, path):
        self.drop(Path(path).name, Path(path).read_bytes())

    # What must hold of every page.

    def hosts(self):
        """From where anything was asked for."""
        return {
            f"{address.scheme}://{address.netloc}"
            for address in (urlsplit(request.url) for request in self.requests)
            if address.scheme not in ("data", "blob", "about")
        }


def setting(line, name):
    return line["settings"][name]


def near(one, other, within=1e-6):
    return abs(one - other) < within
