"""Files in and out of the page: dropped, chosen, downloaded; nothing that was done is lost by a bad one."""

import os

import native
from desk import near, setting

RIGHT = "horizontal_inclination_deg.right"
CASES = native.SCENES / "cases"


def told(line):
    """The notes that are shown."""
    return " ".join(filter(None, (line["note"], line["file_note"])))


def test_a_scene_that_is_dropped_is_opened(opened):
    desk = opened()
    desk.drop_file(native.scene("steep_guides"))
    line = desk.wait("the scene", lambda line: line["title"].startswith("Steep condylar guides"))
    assert line["file"] == "steep_guides.ron" and not line["changed"] and not told(line)
    expected = native.cusps(native.scene("steep_guides"), line["excursion"])
    for cusp in line["cusps"]:
        assert near(cusp["last_separation_mm"], expected[cusp["tooth"], cusp["name"]][0], 1e-12)


def test_a_case_that_is_dropped_lies_on_the_bench(opened):
    desk = opened()
    desk.drop_file(CASES / "bench.ron")
    line = desk.wait("the bench", lambda line: line["room"] == "bench" and line["bench"])
    assert not told(line)
    desk.wait("its dials", lambda line: any(name.startswith("dial:") for name in line["places"]))


def test_a_scene_and_its_casts_are_dropped_together(opened, tmp_path):
    scene, upper, lower = (tmp_path / name for name in ("with_scans.ron", "upper.stl", "lower.stl"))
    written = ("--upper", str(upper), "--lower", str(lower), "--scene-out", str(scene))
    native.run("eminentia", "casts", str(native.scene("denture_casts")), *written)
    desk = opened()
    # Without its casts it says which it misses, and leaves what is there.
    desk.drop_file(scene)
    alone = desk.wait("the scene refused", told)
    assert alone["title"].startswith("Thirty-degree") and "upper.stl" in told(alone)
    desk.drop_files({file.name: file.read_bytes() for file in (lower, scene, upper)})
    line = desk.wait("the scene with its casts", lambda line: line["casts"] is not None)
    expected = native.cusps(scene, line["excursion"])
    for cusp in line["cusps"]:
        assert near(cusp["last_separation_mm"], expected[cusp["tooth"], cusp["name"]][0], 1e-12)


THIRTY = native.scene("thirty_degree").read_text(encoding="utf-8")

BAD = {
    "notes.ron": b"Dear colleague, the guides should be steeper.",
    "cut_off.ron": THIRTY[: len(THIRTY) // 2].encode(),
    "out_of_range.ron": THIRTY.replace("distance_mm: 110.0", "distance_mm: 1100.0").encode(),
    "empty.ron": b"",
    "picture.png": b"\x89PNG\r\n\x1a\n" + os.urandom(100_000),
    "binary.ron": os.urandom(100_000),
    "bell\x07<b>name\u202egnp.ron": b"(",
    "deep.ron": b"(" * 1_000_000,
}


def test_a_file_that_is_no_scene_is_refused_with_a_word_and_nothing_is_lost(opened):
    desk = opened()
    changed = desk.hold(RIGHT, 0.62, "the slider moved", lambda line: setting(line, RIGHT) > 35.0)
    for name, content in BAD.items():
        desk.drop(name, content)
        line = desk.wait(f"{name!r} refused", told)
        note = told(line)
        assert len(note) < 600 and note.isprintable(), note
        assert (line["title"], line["settings"]) == (changed["title"], changed["settings"]), name
        assert line["changed"] and line["history"] == changed["history"], name
        desk.key("Escape", "the note gone", lambda line: not told(line))
    # One that is too large is not read at all.
    desk.drop("huge.ron", 3_000_000_000)
    line = desk.wait("the huge file refused", told)
    assert "huge.ron" in told(line) and line["settings"] == changed["settings"]
    desk.key("Escape", "the note gone", lambda line: not told(line))
    desk.key("Control+z", "undone as before", lambda line: near(setting(line, RIGHT), 30.0))


def chosen(desk, path):
    """Opens a file by the button, as the browser's own dialog gives it."""
    desk.push("open", "the card", lambda line: line["asking"] == "open")
    with desk.page.expect_file_chooser() as chooser:
        desk.push("answer=Choose files…", "the dialog", lambda _: True)
    chooser.value.set_files(path)


def downloaded(desk, folder):
    """Saves the scene by the button and gives the file."""
    desk.push("save", "the card", lambda line: line["asking"] == "save")
    with desk.page.expect_download() as download:
        desk.push("answer=Download", "the card gone", lambda line: line["asking"] is None)
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    return path


def test_a_scene_chosen_by_the_button_is_changed_saved_and_read_by_the_command_line(opened, tmp_path):
    desk = opened()
    chosen(desk, native.scene("unequal_sides"))
    desk.wait("the scene", lambda line: line["file"] == "unequal_sides.ron")
    changed = desk.hold(RIGHT, 0.62, "the slider moved", lambda line: setting(line, RIGHT) > 35.0)
    path = downloaded(desk, tmp_path)
    assert path.suffix == ".ron" and path.name != "unequal_sides.ron", path
    saved = desk.wait("saved", lambda line: not line["changed"])
    assert saved["settings"] == changed["settings"]
    expected = native.cusps(path, changed["excursion"])
    assert len(changed["cusps"]) == len(expected)
    for cusp in changed["cusps"]:
        last, least = expected[cusp["tooth"], cusp["name"]]
        assert near(cusp["last_separation_mm"], last, 1e-12) and near(cusp["least_clearance_mm"], least, 1e-12)
    # And the page reads what it wrote.
    again = opened()
    again.drop_file(path)
    line = again.wait("the file that was saved", lambda line: line["file"] == path.name)
    assert line["settings"] == changed["settings"]
