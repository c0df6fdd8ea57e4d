"""The site served as a host on the net should serve it.

WhiteNoise hands out the files: their types, the compressed file beside each where the browser takes it, and what has
not changed is not sent again. Waitress listens. Here stands only which headers go with them.
"""

import argparse
import re
from pathlib import Path

from waitress.server import create_server
from whitenoise import WhiteNoise

SITE = Path(__file__).resolve().parents[1] / "site"

# Content-Security-Policy as the page itself says it: a page that is hosted without headers has it all the same.
POLICY = re.compile(r'<meta\s+http-equiv="Content-Security-Policy"\s+content="([^"]+)"', re.IGNORECASE)


def policy(site):
    """The policy that the page of the site states, or none."""
    page = site / "index.html"
    found = POLICY.search(page.read_text(encoding="utf-8")) if page.is_file() else None
    return " ".join(found.group(1).split()) if found else None


def application(site):
    """A folder as an application that Waitress can serve."""
    stated = policy(site)

    def add_headers(headers, _path, _url):
        # Asked each time whether it is still the same; a site that was built anew is there at the next load.
        headers["Cache-Control"] = "no-cache"
        headers["X-Content-Type-Options"] = "nosniff"
        headers["Referrer-Policy"] = "no-referrer"
        if stated:
            headers["Content-Security-Policy"] = stated

    def nothing_there(_environment, start):
        start("404 Not Found", [("Content-Type", "text/plain; charset=utf-8")])
        return [b"There is no such file in the site.\n"]

    return WhiteNoise(
        nothing_there, root=site, index_file=True, allow_all_origins=False, add_headers_function=add_headers
    )


def main():
    parser = argparse.ArgumentParser(prog="web/serve", description="Serves the site to browsers on this machine.")
    parser.add_argument("site", nargs="?", type=Path, default=SITE, help="folder of the site (default: web/site)")
    parser.add_argument("--port", type=int, default=8080, help="port to listen at, 0 for any that is free (default: 8080)")
    given = parser.parse_args()
    if not (given.site / "index.html").is_file():
        parser.exit(1, f"There is no page in {given.site}; ./web/build makes it.\n")
    try:
        server = create_server(application(given.site.resolve()), host="127.0.0.1", port=given.port)
    except OSError as error:
        parser.exit(1, f"Port {given.port} cannot be listened at: {error.strerror}; --port takes another.\n")
    # Read by the tests, which ask for any port.
    print(f"http://127.0.0.1:{server.effective_port}/", flush=True)
    try:
        server.run()
    except KeyboardInterrupt:
        server.close()


if __name__ == "__main__":
    main()
