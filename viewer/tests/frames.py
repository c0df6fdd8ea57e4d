"""Measures the viewer in a real window, on a virtual screen with the software driver; no test.

    cargo build --release -p viewer
    python3 viewer/tests/frames.py target/release/viewer scenes/thirty_degree.ron scenes/dentate_casts.ron

For each scene: frames a second while the excursion plays and while a slider is dragged, processor time of the viewer
and its driver for a frame of the playing (which other work on the machine changes little), milliseconds from a move of
the slider to the changed picture on the screen, and the part of a core that the window takes at rest.

Needs Xvfb and the X libraries libX11 and libXtst, which come with xdotool.
"""

import ctypes
import json
import mmap
import os
import struct
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

WIDTH, HEIGHT = 1280, 800
SLIDER = "horizontal_inclination_deg.right"
# Of the screen, where the instrument is drawn: left, top, right, bottom.
PICTURE = (380, 160, 860, 560)
PATIENCE = 60.0
SECONDS = 6.0
MOVES = 20


class Screen:
    """A virtual screen, its keys and its mouse."""

    def __init__(self, folder):
        self.server = subprocess.Popen(
            ["Xvfb", "-displayfd", "1", "-noreset", "-nolisten", "tcp", "-screen", "0", f"{WIDTH}x{HEIGHT}x24",
             "-fbdir", str(folder)],
            stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        self.name = ":" + self.server.stdout.readline().strip()
        self.x, self.test = ctypes.CDLL("libX11.so.6"), ctypes.CDLL("libXtst.so.6")
        self.x.XOpenDisplay.restype = ctypes.c_void_p
        self.x.XDefaultRootWindow.restype = ctypes.c_ulong
        self.display = ctypes.c_void_p(self.x.XOpenDisplay(self.name.encode()))
        with open(folder / "Xvfb_screen0", "rb") as file:
            self.memory = mmap.mmap(file.fileno(), 0, prot=mmap.PROT_READ)
        header, colours = (struct.unpack_from(">I", self.memory, 4 * word)[0] for word in (0, 19))
        self.start = header + colours * 12

    def focus(self):
        """Gives the only window the keyboard: there is no window manager."""
        root = ctypes.c_ulong(self.x.XDefaultRootWindow(self.display))
        parent, count = ctypes.c_ulong(), ctypes.c_uint()
        children = ctypes.POINTER(ctypes.c_ulong)()
        self.x.XQueryTree(self.display, root, ctypes.byref(root), ctypes.byref(parent), ctypes.byref(children),
                          ctypes.byref(count))
        for window in children[:count.value]:
            self.x.XSetInputFocus(self.display, ctypes.c_ulong(window), 1, ctypes.c_ulong(0))
        self.x.XFlush(self.display)

    def key(self, name):
        code = self.x.XKeysymToKeycode(self.display, ctypes.c_ulong(self.x.XStringToKeysym(name.encode())))
        for is_down in (1, 0):
            self.test.XTestFakeKeyEvent(self.display, code, is_down, ctypes.c_ulong(0))
        self.x.XFlush(self.display)

    def move(self, x, y):
        self.test.XTestFakeMotionEvent(self.display, -1, round(x), round(y), ctypes.c_ulong(0))
        self.x.XFlush(self.display)

    def button(self, is_down):
        self.test.XTestFakeButtonEvent(self.display, 1, int(is_down), ctypes.c_ulong(0))
        self.x.XFlush(self.display)

    def picture(self):
        left, top, right, bottom = PICTURE
        rows = (self.start + 4 * (row * WIDTH + left) for row in range(top, bottom))
        return b"".join(self.memory[row:row + 4 * (right - left)] for row in rows)

    def close(self):
        self.server.terminate()
        self.server.wait()


class Viewer:
    """The viewer on a screen, and the lines of its report: one for each frame that differs from the one before."""

    def __init__(self, program, scene, screen, folder):
        self.report = folder / "report.jsonl"
        surroundings = {**os.environ, "DISPLAY": screen.name, "XDG_STATE_HOME": str(folder / "kept")}
        surroundings.pop("WAYLAND_DISPLAY", None)
        self.process = subprocess.Popen([program, scene, "--report", self.report], env=surroundings,
                                        stderr=subprocess.DEVNULL)

    def lines(self):
        text = self.report.read_text() if self.report.exists() else ""
        return text[:text.rfind("\n") + 1].splitlines()

    def wait(self, what, is_so):
        begun = time.monotonic()
        while time.monotonic() - begun < PATIENCE:
            lines = self.lines()
            if lines and is_so(line := json.loads(lines[-1])):
                return line
            time.sleep(0.02)
        raise SystemExit(f"{what} did not come about")

    def rest(self):
        """Waits until no frame has come for a while."""
        before = -1
        while (now := len(self.lines())) != before:
            before = now
            time.sleep(1.5)

    def spent(self):
        """Seconds of processor time so far, a hundred ticks a second on every Linux."""
        fields = Path(f"/proc/{self.process.pid}/stat").read_text().rsplit(")", 1)[1].split()
        return sum(int(field) for field in fields[11:13]) / 100

    def close(self):
        self.process.terminate()
        self.process.wait()


def counted(viewer, does):
    """Frames a second while something is done, and milliseconds of processor time for each."""
    viewer.rest()
    before, spent, begun = len(viewer.lines()), viewer.spent(), time.monotonic()
    does(begun)
    frames = len(viewer.lines()) - before
    return frames / (time.monotonic() - begun), 1000 * (viewer.spent() - spent) / frames


def playing(screen):
    def does(begun):
        screen.key("p")
        time.sleep(begun + SECONDS - time.monotonic())
        screen.key("p")
    return does


def dragging(screen, place):
    left, top, width, height = place

    def does(begun):
        step = 0
        while time.monotonic() - begun < SECONDS:
            step += 1
            screen.move(left + width * (0.3 + 0.4 * abs(step % 160 - 80) / 80), top + height / 2)
            time.sleep(0.008)
    return does


def to_picture(screen, place):
    """Milliseconds from a move of the slider that is held to another picture on the screen."""
    left, top, width, height = place
    taken = []
    for move in range(MOVES):
        time.sleep(0.6)
        before, begun = screen.picture(), time.monotonic()
        screen.move(left + width * (0.35 if move % 2 else 0.65), top + height / 2)
        while screen.picture() == before and time.monotonic() - begun < PATIENCE:
            time.sleep(0.001)
        taken.append(1000 * (time.monotonic() - begun))
    return taken


def measure(program, scene):
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        screen = Screen(folder)
        viewer = Viewer(program, scene, screen, folder)
        try:
            viewer.wait("the first frame", lambda _: True)
            screen.focus()
            played, spent = counted(viewer, playing(screen))
            screen.key("End")
            viewer.rest()
            left, top, width, height = place = json.loads(viewer.lines()[-1])["places"][SLIDER]
            screen.move(left + width / 2, top + height / 2)
            screen.button(True)
            dragged, _ = counted(viewer, dragging(screen, place))
            taken = to_picture(screen, place)
            screen.button(False)
            screen.move(5, HEIGHT - 5)
            viewer.rest()
            # Nobody is at the window: it listens less often after some seconds.
            time.sleep(5)
            before = viewer.spent()
            time.sleep(20)
            idle = (viewer.spent() - before) / 20
        finally:
            viewer.close()
            screen.close()
    print(f"{scene}: {played:.1f} frames/s playing, {spent:.0f} ms of processor time each, {dragged:.1f} dragging a slider; slider to picture "
          f"{median(taken):.0f} ms (median of {MOVES}, most {max(taken):.0f}); at rest {100 * idle:.2f} % of a core")


if __name__ == "__main__":
    if len(sys.argv) < 3:
        raise SystemExit(__doc__)
    for scene in sys.argv[2:]:
        measure(sys.argv[1], scene)
