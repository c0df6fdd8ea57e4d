"""What an address asks for: a scene, a lesson, a set-up that somebody sent; and what a hostile one gets."""

import base64
import zlib

import native
import pytest
from desk import near, setting
from test_files import told

BUILT_IN = "Thirty-degree teaching setup (invented)"


def link(lines, version="1"):
    """A link with these lines, written from the definition of its form and not by the program."""
    packed = zlib.compress(lines.encode() if isinstance(lines, str) else lines, 9)
    return version + base64.urlsafe_b64encode(packed).decode().rstrip("=")


def on_one_line(name):
    """A scene as a link has it: without comments and line ends."""
    text = native.scene(name).read_text(encoding="utf-8")
    return " ".join(line.strip() for line in text.splitlines() if not line.lstrip().startswith("//"))


def test_a_scene_and_a_lesson_by_name(opened):
    desk = opened("#scene=curved_paths")
    first = desk.settled()
    assert first["title"] != BUILT_IN and not told(first) and not first["changed"]
    # Another address in the same tab.
    desk.page.evaluate("location.hash = '#lesson=christensen'")
    lesson = desk.wait("the lesson", lambda line: line["lesson"])["lesson"]
    assert lesson["step"] == 1 and lesson["steps"] > 1 and lesson["title"] == "Flat rims, and the gap behind"
    desk.page.evaluate("location.hash = '#scene=steep_guides'")
    desk.wait("the other scene", lambda line: line["title"].startswith("Steep condylar guides"))


def test_a_set_up_that_was_sent_is_shown_as_it_was(opened):
    lines = [on_one_line("unequal_sides"), "excursion right_lateral", "driven 3", "view front"]
    desk = opened(f"#set-up={link(chr(10).join(lines))}")
    line = desk.wait("the set-up", lambda line: line["title"] != BUILT_IN)
    assert not told(line)
    assert (line["excursion"], line["view"]) == ("right_lateral", "front") and near(line["at"], 3.0)
    expected = native.cusps(native.scene("unequal_sides"), "right_lateral")
    for cusp in line["cusps"]:
        assert near(cusp["last_separation_mm"], expected[cusp["tooth"], cusp["name"]][0], 1e-12)


def test_a_set_up_sent_by_the_command_line_is_shown(opened):
    given = ("--with", "right_guide.horizontal_inclination_deg=41.5")
    written = native.run("eminentia", "link", str(native.scene("thirty_degree")), *given).split()
    fragment = next(word for word in written if "#set-up=" in word).split("#", 1)[1]
    desk = opened(f"#{fragment}")
    line = desk.wait("the set-up", lambda line: near(setting(line, "horizontal_inclination_deg.right"), 41.5))
    expected = native.cusps(native.scene("thirty_degree"), line["excursion"], *given)
    for cusp in line["cusps"]:
        assert near(cusp["last_separation_mm"], expected[cusp["tooth"], cusp["name"]][0], 1e-12)


def test_what_is_shown_is_sent_by_the_button_and_seen_by_whoever_opens_the_link(opened):
    desk = opened("#scene=unequal_sides")
    desk.hold("lateral_angle_deg.left", 0.7, "the slider moved", lambda line: line["changed"])
    desk.key("n", "another excursion", lambda line: line["excursion"] == "right_lateral")
    desk.key("End", "its end", lambda line: line["at"] == line["end"])
    sent = desk.push("send", "a word about the link", told)
    fragment = desk.page.evaluate("location.hash")
    seen = opened(fragment).settled()
    for what in ("title", "settings", "choices", "excursion", "at", "view", "cusps"):
        assert seen[what] == sent[what], what


GOOD = link(on_one_line("unequal_sides"))

HOSTILE = {
    "nothing": "#set-up=",
    "cut off": f"#set-up={GOOD[: len(GOOD) // 2]}",
    "a letter changed": f"#set-up={GOOD[:200]}{'A' if GOOD[200] != 'A' else 'B'}{GOOD[201:]}",
    "another form": f"#set-up={link(on_one_line('unequal_sides'), version='9')}",
    "a bomb": f"#set-up={link(b' ' * 10_000_000)}",
    "very long": f"#set-up=1{'A' * 200_000}",
    "control characters": "#set-up=1%00%1b%5B31m%E2%80%AEgnp",
    "no text": f"#set-up={link(bytes([0xFF, 0xFE, 0x00]))}",
    "a scene that makes no sense": "#set-up=" + link('(title: "<img src=x onerror=alert(1)>")'),
    "brackets without end": f"#set-up={link('(' * 150_000)}",
    "an unknown line": "#set-up=" + link(on_one_line("unequal_sides") + "\nformat c:"),
    "no such scene": "#scene=../../etc/passwd",
    "a scene with a tag": "#scene=<script>alert(1)</script>",
    "no such lesson": "#lesson=%22%3E%3Cscript%3E",
    "no such word": "#fetch=http://example.org/",
    "a broken escape": "#scene=%E0%A4%A",
    "a name of every object": "#scene=__proto__",
}


# Opened as somebody does who follows a link; the others in a tab that is open, for opening a page costs more than
# looking at a link.
OPENED = ("cut off", "a bomb", "no such scene")


def assert_refused(desk, name, title):
    line = desk.wait(f"a word about {name}", told)
    note = told(line)
    assert line["title"] == title and not line["lesson"] and not line["changed"], name
    assert len(note) < 1000 and all(letter.isprintable() or letter == "\n" for letter in note), (name, note)
    assert desk.page.evaluate("document.scripts.length") == 1, name


@pytest.mark.parametrize("name", OPENED)
def test_a_hostile_link_gets_a_word_and_the_built_in_scene(opened, name):
    assert_refused(opened(HOSTILE[name]), name, BUILT_IN)


def test_a_hostile_link_in_a_tab_that_is_open_leaves_what_is_shown(opened):
    desk = opened("#scene=curved_paths")
    title = desk.settled()["title"]
    assert title != BUILT_IN
    for name, fragment in HOSTILE.items():
        desk.page.evaluate("(fragment) => { location.hash = fragment }", fragment)
        assert_refused(desk, name, title)
        desk.key("Escape", "the note gone", lambda line: not told(line))
