"""Links, and scenes in a notebook. That a page opens what a link carries is tested where the page is."""

from __future__ import annotations

import base64
import doctest
import http.client
import re
import subprocess
import zlib
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import urlsplit

import pytest

import eminentia
import eminentia._show
from conftest import SCENES

PAGE = "https://course.example/eminentia/"


@pytest.fixture(autouse=True)
def no_page_in_the_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("EMINENTIA_PAGE", raising=False)


def steeper() -> eminentia.Scene:
    return eminentia.Scene.thirty_degree().changed({"horizontal_inclination_deg": 41.5})


def test_a_link_is_the_command_lines_and_comes_back(command: Path) -> None:
    path, beside = SCENES / "unequal_sides.ron", SCENES / "steep_guides.ron"
    told = subprocess.run(
        [command, "link", path, "--page", PAGE, "--excursion", "left_lateral", "--at", "2.5", "--beside", beside, "--only-picture"],
        check=True,
        capture_output=True,
        text=True,
    )
    scene = eminentia.Scene.load(path)
    link = scene.link(
        PAGE, excursion="left_lateral", at=2.5, beside=eminentia.Scene.load(beside), only_picture=True
    )
    assert link + "\n" == told.stdout
    assert eminentia.Scene.from_link(link).to_text() == scene.to_text()
    assert scene.link().startswith("#set-up=1")
    assert scene.link(only_picture=True).startswith("?only=picture#set-up=1")


def test_a_link_is_what_its_page_says_it_is() -> None:
    """Unpacked by the standard library, as docs/links.md tells other programs to."""
    scene = steeper()
    link = scene.link(excursion="right_lateral", at=2.5, beside=eminentia.Scene.thirty_degree())
    mark, version, packed = link[:8], link[8], link[9:]
    assert (mark, version) == ("#set-up=", "1")
    text = zlib.decompress(base64.urlsafe_b64decode(packed + "=" * (-len(packed) % 4))).decode()
    first, *more = text.split("\n")
    assert eminentia.Scene.from_text(first).to_text() == scene.to_text()
    assert more[:2] == ["excursion right_lateral", "driven 2.5"]
    key, _, beside = more[2].partition(" ")
    assert key == "beside" and len(more) == 3
    assert eminentia.Scene.from_text(beside).to_text() == eminentia.Scene.thirty_degree().to_text()
    # Packed by the standard library, it is read.
    again = base64.urlsafe_b64encode(zlib.compress(text.encode())).decode().rstrip("=")
    assert eminentia.Scene.from_link(f"#set-up=1{again}").to_text() == scene.to_text()


def test_invented_casts_travel_and_guide() -> None:
    scene = eminentia.Scene.load(SCENES / "dentate_casts.ron")
    again = eminentia.Scene.from_link(scene.link())
    assert set(again.excursions()[0].guided_by) == {"teeth"}


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("https://course.example/", "carries no set-up"),
        ("#set-up=1eNpL", "cut off or changed"),
        ("#set-up=2eNpL", "begins with 1"),
        ("?set-up=1eNpL", "behind #"),
    ],
)
def test_addresses_without_a_sound_set_up_are_refused(address: str, words: str) -> None:
    with pytest.raises(eminentia.Error, match=words):
        eminentia.Scene.from_link(address)


class _Frames(HTMLParser):
    """What a browser sees of it."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))


def frame(shown: eminentia.Shown) -> dict[str, str | None]:
    ((tag, attributes),) = _Frames(shown._repr_html_()).tags
    assert tag == "iframe"
    return attributes


def test_a_scene_is_shown_in_one_frame_of_the_page() -> None:
    scene = steeper()
    shown = eminentia.show(scene, PAGE, excursion="protrusive", at=3, beside=eminentia.Scene.thirty_degree())
    attributes = frame(shown)
    assert attributes["src"] == shown.address
    assert shown.address == scene.link(
        PAGE, excursion="protrusive", at=3, beside=eminentia.Scene.thirty_degree(), only_picture=True
    )
    assert attributes["height"] == "480" and attributes["title"] == f"Eminentia: {scene.title}"
    # Without both the page has no program; with more it could leave its frame.
    assert set((attributes["sandbox"] or "").split()) == {"allow-scripts", "allow-same-origin", "allow-downloads"}
    assert "only=picture" not in eminentia.show(scene, PAGE, only_picture=False).address
    assert shown.address in repr(shown)


def test_a_title_and_an_address_cannot_leave_their_places() -> None:
    text = eminentia.Scene.thirty_degree().to_text()
    title = eminentia.Scene.thirty_degree().title
    sly = r"""\"><script>alert(1)</script> 'x' & y"""
    scene = eminentia.Scene.from_text(text.replace(title, sly))
    attributes = frame(eminentia.show(scene, "https://course.example/?a='b'&c=d"))
    assert attributes["title"] == """Eminentia: "><script>alert(1)</script> 'x' & y"""
    assert (attributes["src"] or "").startswith("https://course.example/?a='b'&c=d&only=picture#set-up=1")
    for page in ['https://course.example/"onload="x', "https://course.example/<script>"]:
        with pytest.raises(eminentia.Error, match="which no address has"):
            eminentia.show(scene, page)


@pytest.mark.parametrize(
    "page", ["javascript:alert(1)", "JavaScript://x/%0aalert(1)", "data:text/html,x", "file:///tmp/index.html", "ftp://a.example/"]
)
def test_only_addresses_of_the_web_are_pages(page: str, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(eminentia.Error, match="https:// or http://"):
        eminentia.show(steeper(), page)
    monkeypatch.setenv("EMINENTIA_PAGE", page)
    with pytest.raises(eminentia.Error, match="https:// or http://"):
        eminentia.show(steeper())


def test_the_environment_says_where_the_page_is_and_else_it_is_said_how(monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(eminentia.Error, match=r"EMINENTIA_PAGE.*web/build.*web/site"):
        eminentia.show(steeper())
    monkeypatch.setenv("EMINENTIA_PAGE", " ")
    with pytest.raises(eminentia.Error, match="EMINENTIA_PAGE"):
        eminentia.show(steeper())
    monkeypatch.setenv("EMINENTIA_PAGE", PAGE)
    assert eminentia.show(steeper()).address.startswith(PAGE)
    other = "http://localhost:8123/"
    assert eminentia.show(steeper(), other).address.startswith(other), "what is given goes before"


@pytest.mark.parametrize("height", [0, -480, 99, 4001, 1e3, "480", True, None])
def test_heights_that_are_none_are_refused(height: object) -> None:
    with pytest.raises(eminentia.Error, match="100 to 4000"):
        eminentia.show(steeper(), PAGE, height)  # type: ignore[arg-type]


def test_what_cannot_travel_is_not_shown(tmp_path: Path) -> None:
    with pytest.raises(eminentia.Error, match="no such excursion"):
        eminentia.show(steeper(), PAGE, excursion="opening")
    with pytest.raises(eminentia.Error, match="0 to 30 mm"):
        eminentia.show(steeper(), PAGE, at=31)
    faces = "".join(f"f {a} {b} {c}\n" for a, b, c in [(1, 2, 3), (1, 2, 4), (1, 3, 4), (2, 3, 4)])
    for name, z in [("u.obj", 0), ("l.obj", -10)]:
        corners = [(0, 0, z), (30, 0, z), (0, 30, z), (0, 0, z - 5)]
        (tmp_path / name).write_text("".join(f"v {x} {y} {z}\n" for x, y, z in corners) + faces)
    files = 'casts: (upper: "u.obj", lower: "l.obj", unit: Millimetre)'
    text, changed = re.subn(r"invented_casts: \([^)]*\)", files, (SCENES / "dentate_casts.ron").read_text())
    assert changed == 1
    scene = eminentia.Scene.from_text(text, folder=tmp_path)
    with pytest.raises(eminentia.Error, match="u.obj.*cannot carry them.*invented_casts"):
        eminentia.show(scene, PAGE)


def ask(address: str, path: str, host: str | None = None, method: str = "GET") -> tuple[int, str | None, bytes]:
    parts = urlsplit(address)
    assert parts.hostname == "127.0.0.1" and parts.port is not None
    connection = http.client.HTTPConnection(parts.hostname, parts.port, timeout=30)
    connection.request(method, path, headers={"Host": host or parts.netloc})
    answer = connection.getresponse()
    told = (answer.status, answer.getheader("Content-Type"), answer.read())
    connection.close()
    return told


def site(folder: Path) -> Path:
    folder.mkdir()
    (folder / "index.html").write_text("<!doctype html>the page")
    (folder / "start.js").write_text("export {}")
    (folder / "page.wasm").write_bytes(b"\0asm\1\0\0\0")
    (folder / "below").mkdir()
    return folder


def test_a_folder_is_served_to_this_machine_with_the_right_types(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "secret.txt").write_text("not of the page")
    folder = site(tmp_path / "site")
    address = eminentia.show(steeper(), folder).address
    assert ask(address, "/?only=picture") == (200, "text/html; charset=utf-8", b"<!doctype html>the page")
    assert ask(address, "/page.wasm") == (200, "application/wasm", b"\0asm\1\0\0\0")
    assert ask(address, "/start.js")[:2] == (200, "text/javascript; charset=utf-8")
    for path in ["/secret.txt", "/../secret.txt", "/%2e%2e/secret.txt", "/below/", "/nothing"]:
        assert ask(address, path)[0] == 404, path
    assert ask(address, "/", method="POST")[0] == 501
    # By another name: what a page of somebody else's would ask by, if that name were turned here.
    assert ask(address, "/", host="elsewhere.example")[0] == 403
    assert ask(address, "/", host=f"localhost:{urlsplit(address).port}")[0] == 200
    assert capfd.readouterr() == ("", ""), "it is silent"


def test_each_folder_is_served_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    one, other = site(tmp_path / "one"), site(tmp_path / "other")
    origin = lambda shown: urlsplit(shown.address).netloc
    first = origin(eminentia.show(steeper(), one))
    monkeypatch.setenv("EMINENTIA_PAGE", str(tmp_path / "other" / ".." / "one"))
    assert origin(eminentia.show(steeper())) == first
    assert origin(eminentia.show(steeper(), str(other))) != first


def test_a_folder_without_a_page_is_refused(tmp_path: Path) -> None:
    for folder in [tmp_path, tmp_path / "nothing", SCENES / "thirty_degree.ron"]:
        with pytest.raises(eminentia.Error, match=r"index\.html.*web/build"):
            eminentia.show(steeper(), folder)


def test_the_functions_own_example_runs() -> None:
    failed, attempted = doctest.testmod(eminentia._show)
    assert attempted > 0 and failed == 0
