"""Writes the licences of everything that the page is compiled from, as those licences ask: licences.py TARGET FILE"""

import json
import subprocess
import sys
from pathlib import Path

NAMES = ("LICEN", "COPYING", "NOTICE", "OFL", "UFL")


def cargo(*words):
    return subprocess.run(["cargo", *words, "--locked"], check=True, capture_output=True, text=True).stdout


def packages(target):
    """What the page is compiled from, without our own."""
    tree = cargo("tree", "-p", "web", "--target", target, "-e", "normal", "--prefix", "none", "--format", "{p}")
    used = {tuple(line.split()[:2]) for line in tree.splitlines() if line}
    told = json.loads(cargo("metadata", "--format-version", "1", "--filter-platform", target))
    found = (package for package in told["packages"] if package["source"])
    return sorted((one for one in found if (one["name"], f"v{one['version']}") in used), key=lambda one: one["name"])


def texts(package):
    """The licences that lie in a package, fonts' licences too."""
    folder = Path(package["manifest_path"]).parent
    for path in sorted(folder.rglob("*")):
        if path.is_file() and (path.name.upper().startswith(NAMES) or path.suffix == ".txt" and path.parent.name == "fonts"):
            yield path.read_text(encoding="utf-8", errors="replace").strip()


def main(target, file):
    by_text = {}
    lines = ["The page is compiled from Eminentia (MIT or Apache-2.0) and from:", ""]
    for package in packages(target):
        name = f"{package['name']} {package['version']}"
        lines.append(f"{name}: {package['license']}; {package['repository'] or ''}")
        for text in texts(package):
            by_text.setdefault(text, []).append(name)
    for text, names in by_text.items():
        lines += ["", "=" * 78, ", ".join(sorted(set(names))), "", text]
    Path(file).write_text("\n".join(lines) + "\n", encoding="utf-8")


main(*sys.argv[1:])
