"""A folder with the built page, served to this machine."""

from __future__ import annotations

import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

#: The machine itself, and nobody else.
_HERE = "127.0.0.1"

_servers: dict[Path, str] = {}
_lock = threading.Lock()


class _Files(SimpleHTTPRequestHandler):
    """Hands out the files of one folder, without lists of them."""

    # A browser compiles what comes as application/wasm while it comes, and a module only as JavaScript. Said here,
    # since a machine's own list of types may have neither.
    extensions_map = {
        **SimpleHTTPRequestHandler.extensions_map,
        ".html": "text/html; charset=utf-8",
        ".css": "text/css; charset=utf-8",
        ".js": "text/javascript; charset=utf-8",
        ".mjs": "text/javascript; charset=utf-8",
        ".json": "application/json",
        ".svg": "image/svg+xml",
        ".wasm": "application/wasm",
    }

    def send_head(self):  # type: ignore[no-untyped-def]
        # A page of somebody else's, whose name was turned to this machine, asks by its own name.
        name = (self.headers.get("Host") or "").rpartition(":")[0]
        if name not in (_HERE, "localhost"):
            self.send_error(403, "Only for this machine")
            return None
        return super().send_head()

    def list_directory(self, path):  # type: ignore[no-untyped-def]
        self.send_error(404, "No such file")
        return None

    def end_headers(self) -> None:
        # Built anew, the page is another one under the same address.
        self.send_header("Cache-Control", "no-cache")
        self.send_header("X-Content-Type-Options", "nosniff")
        super().end_headers()

    def log_message(self, format: str, *args: object) -> None:
        """Says nothing: it would stand between the cells of the notebook."""


def address_of(folder: Path) -> str:
    """The address at which the folder is served; from its first use on until Python ends, once for each folder."""
    folder = folder.resolve()
    with _lock:
        address = _servers.get(folder)
        if address is None:
            server = ThreadingHTTPServer((_HERE, 0), partial(_Files, directory=str(folder)))
            server.daemon_threads = True
            threading.Thread(target=server.serve_forever, name="eminentia page", daemon=True).start()
            address = f"http://{_HERE}:{server.server_address[1]}/"
            _servers[folder] = address
        return address
