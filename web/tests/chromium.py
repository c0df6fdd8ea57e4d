"""Debian's Chromium, and how it is started on a machine without a graphics card.

Measured with Chromium 156 and Playwright 1.65 on two cores, with a page that clears a canvas to blue and draws in red:

| flags (headless) | draws by | what a screenshot shows |
| --- | --- | --- |
| none | WebGL2; WebGPU's adapter is null | the canvas |
| `--disable-gpu` | WebGL2 | the canvas |
| `--disable-gpu --disable-3d-apis` | nothing | |
| `--enable-unsafe-webgpu --use-webgpu-adapter=swiftshader` | WebGPU | black: the canvas is not put into the page |
| these with `--use-angle=swiftshader` alone | WebGPU | white |
| these with `WEBGPU` below | WebGPU, and WebGL2 | the canvas, at device scales 1 and 2 |
| `WEBGPU` and `--disable-vulkan-surface` | WebGPU | black; on a real display (Xvfb) the canvas |
| `WEBGPU` and `--disable-features=WebGPU`, or `--disable-blink-features=WebGPU` | WebGPU all the same | |
| `WEBGPU` and `--disable-3d-apis` | WebGPU; no WebGL2 | |

So no display is needed. WebGPU is taken away inside the page (`WITHOUT` below), in the browser that has it: three
browsers started for that would cost more than the tests. A page is never hidden under Playwright, which keeps every
tab awake; a browser that is started by itself and joined with `no_defaults` hides its tabs as it does for a person.
"""

import os
import re
import shutil
import subprocess
import threading

PROGRAM = os.environ.get("CHROMIUM") or shutil.which("chromium") or "/usr/bin/chromium"

QUIET = [
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

WEBGPU = [
    "--ignore-gpu-blocklist",
    "--enable-unsafe-webgpu",
    "--use-webgpu-adapter=swiftshader",
    "--enable-features=Vulkan",
    "--use-vulkan=swiftshader",
    "--use-angle=swiftshader",
]

NOTHING = ["--disable-gpu", "--disable-3d-apis"]

# Scripts run before any of the page, by what they take away.
WITHOUT = {
    # A browser that does not know WebGPU.
    "webgpu": "delete Navigator.prototype.gpu",
    # One that knows it, on a machine whose graphics it refuses.
    "adapter": "GPU.prototype.requestAdapter = async () => null",
}

# Which kinds of drawing a page has got, in `drawnBy`.
WATCHED = """
window.drawnBy = [];
const contextOf = HTMLCanvasElement.prototype.getContext;
HTMLCanvasElement.prototype.getContext = function (kind, ...more) {
    const context = contextOf.call(this, kind, ...more);
    if (context && this.id === "canvas" && !window.drawnBy.includes(kind)) window.drawnBy.push(kind);
    return context;
};
"""


def launch(playwright, flags=WEBGPU):
    """A browser driven by Playwright."""
    return playwright.chromium.launch(executable_path=PROGRAM, headless=True, args=QUIET + flags)


class ByItself:
    """A browser that behaves to its tabs as to a person's: those behind are hidden."""

    def __init__(self, playwright, folder):
        command = [PROGRAM, *QUIET, *WEBGPU, "--headless=new", "--remote-debugging-port=0"]
        self.process = subprocess.Popen(
            [*command, f"--user-data-dir={folder}", "--window-size=1280,900", "about:blank"],
            stderr=subprocess.PIPE,
            text=True,
        )
        address = next((found.group() for line in self.process.stderr if (found := re.search(r"ws://\S+", line))), None)
        assert address, "Chromium ended before it listened"
        # What it goes on saying is read, or it would wait to say it.
        threading.Thread(target=self.process.stderr.read, daemon=True).start()
        self.browser = playwright.chromium.connect_over_cdp(address, no_defaults=True)

    def close(self):
        self.browser.close()
        self.process.terminate()
        self.process.wait()
