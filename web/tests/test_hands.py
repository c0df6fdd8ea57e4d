"""Hands at the page: sliders by mouse and by keyboard, numbers typed, what is done undone, touch."""

import native
import picture
import pytest
from desk import near, setting

RIGHT = "horizontal_inclination_deg.right"
LEFT = "horizontal_inclination_deg.left"


def separation(line):
    return line["cusps"][4]["last_separation_mm"]


def assert_numbers_are_the_command_lines(line):
    """The table that the page shows is the one that the command line makes of the same settings."""
    changes = []
    for side in ("right", "left"):
        inclination = setting(line, f"horizontal_inclination_deg.{side}")
        changes += ["--with", f"{side}_guide.horizontal_inclination_deg={inclination!r}"]
    expected = native.cusps(native.scene("thirty_degree"), line["excursion"], *changes)
    for cusp in line["cusps"]:
        last, least = expected[cusp["tooth"], cusp["name"]]
        assert near(cusp["last_separation_mm"], last, 1e-12), (cusp, last)
        assert near(cusp["least_clearance_mm"], least, 1e-12), (cusp, least)


def test_a_slider_is_dragged_by_the_mouse_and_taken_back_by_a_chord(opened):
    desk = opened()
    first, before = desk.now(), desk.picture()
    moved = desk.hold(RIGHT, 0.62, "the slider moved", lambda line: setting(line, RIGHT) > 35.0)
    assert near(setting(moved, LEFT), 30.0)
    assert setting(moved, RIGHT).is_integer(), "no whole step"
    assert separation(moved) > separation(first) + 0.05
    # Along with the mouse, as long as it is held.
    desk.drag(desk.middle(RIGHT, 0.62), desk.middle(RIGHT, 0.75))
    further = desk.wait("the slider dragged on", lambda line: setting(line, RIGHT) > setting(moved, RIGHT) + 5.0)
    assert_numbers_are_the_command_lines(further)
    after = desk.picture()
    for part in (picture.left, picture.middle, picture.right):
        assert picture.difference(part(before), part(after))[0] > picture.ALIKE, part.__name__

    desk.key("Control+z", "the second change undone", lambda line: near(setting(line, RIGHT), setting(moved, RIGHT)))
    undone = desk.key("Control+z", "all undone", lambda line: near(setting(line, RIGHT), 30.0))
    assert undone["settings"] == first["settings"] and not undone["changed"]
    desk.key("Control+y", "redone", lambda line: near(setting(line, RIGHT), setting(moved, RIGHT)))


def test_a_slider_is_moved_by_the_keyboard_alone(opened):
    desk = opened()
    first = desk.now()
    for _ in range(40):
        known = desk.now()["focus_id"]
        line = desk.key("Tab", "the keyboard on another control", lambda line: line["focus_id"] != known)
        if line["focus"] == RIGHT:
            break
    else:
        raise AssertionError(f"Tab does not come to {RIGHT}")
    moved = desk.key("ArrowRight", "a step", lambda line: setting(line, RIGHT) > 30.0)
    step = setting(moved, RIGHT) - 30.0
    moved = desk.key("ArrowRight", "another step", lambda line: near(setting(line, RIGHT), 30.0 + 2 * step))
    assert near(setting(moved, LEFT), 30.0) and separation(moved) > separation(first)
    assert_numbers_are_the_command_lines(moved)
    desk.key("ArrowLeft", "a step back", lambda line: near(setting(line, RIGHT), 30.0 + step))
    # Backwards through the controls.
    desk.key("Shift+Tab", "the control before", lambda line: line["focus"] != RIGHT)


def test_a_number_is_typed_and_letters_are_keys_of_the_viewer_elsewhere(opened):
    desk = opened()
    field = f"number:{RIGHT}"
    desk.page.mouse.click(*desk.middle(field))
    desk.wait("the keyboard in the field", lambda line: line["focus"] == field)
    desk.keyboard.type("22,25")
    typed = desk.key("Enter", "the number typed", lambda line: near(setting(line, RIGHT), 22.25))
    assert_numbers_are_the_command_lines(typed)
    desk.page.mouse.click(*desk.middle(field))
    desk.wait("the keyboard in the field again", lambda line: line["focus"] == field)
    desk.keyboard.type("steep")
    told = desk.key("Enter", "the word refused", lambda line: line["note"] is not None)
    assert "horizontal condylar inclination, right" in told["note"]
    assert near(setting(told, RIGHT), 22.25)
    desk.key("Escape", "the note gone", lambda line: line["note"] is None)

    desk.key("End", "the end", lambda line: near(line["at"], 6.0))
    desk.key("f", "the view from the front", lambda line: line["view"] == "front")
    desk.key("n", "the next excursion", lambda line: line["excursion"] == "right_lateral")
    desk.key("z", "the baseline", lambda line: near(setting(line, RIGHT), 30.0))


@pytest.fixture
def touched(opened):
    """A page on a screen that is touched, and what touches it."""
    desk = opened(has_touch=True)
    session = desk.page.context.new_cdp_session(desk.page)

    def touch(*paths, steps=6):
        """Fingers along straight paths, all at the same time."""
        for step in range(steps + 1):
            places = [[a + (b - a) * step / steps for a, b in zip(*path, strict=True)] for path in paths]
            points = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(places)]
            kind = "touchMove" if step else "touchStart"
            session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
            desk.page.evaluate("new Promise(requestAnimationFrame)")
        session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})

    return desk, touch


def aside(point, by):
    return point[0] + by[0], point[1] + by[1]


# On the picture, away from the instrument's labels.
HERE = (600, 560)


def test_one_finger_turns_as_the_mouse_does(touched):
    desk, touch = touched
    there = aside(HERE, (60, -30))
    touch((HERE, there))
    desk.wait("the picture turned", lambda line: line["view"] is None)
    touched_picture = picture.middle(desk.picture())
    desk.key("o", "the usual view", lambda line: line["view"] == "oblique")
    usual = picture.middle(desk.picture())
    assert picture.difference(usual, touched_picture)[0] > 2 * picture.ALIKE
    desk.drag(HERE, there)
    desk.wait("the picture turned by the mouse", lambda line: line["view"] is None)
    # What is under the mouse is named; a finger that was lifted is nowhere.
    desk.page.mouse.move(640, 795)
    desk.rest()
    picture.assert_alike(touched_picture, picture.middle(desk.picture()))


def test_two_fingers_pan_and_pinch_and_take_both_back(touched):
    desk, touch = touched
    usual = picture.middle(desk.picture())
    by = (48, -32)
    fingers = [(560, 560), (640, 560)]
    touch(*((finger, aside(finger, by)) for finger in fingers))
    panned = picture.middle(desk.picture())
    assert picture.difference(usual, panned)[0] > 2 * picture.ALIKE
    assert desk.now()["view"] == "oblique", "two fingers turned it"
    # Back again, it is as it was.
    touch(*((aside(finger, by), finger) for finger in fingers))
    picture.assert_alike(usual, picture.middle(desk.picture()))

    # Fingers that open to twice their distance make it larger, and closing again as it was.
    middle = (612, 383)
    fingers = [(aside(middle, (side * 50, 0)), aside(middle, (side * 100, 0))) for side in (-1, 1)]
    touch(*fingers)
    assert picture.difference(usual, picture.middle(desk.picture()))[0] > 2 * picture.ALIKE
    touch(*(finger[::-1] for finger in fingers))
    picture.assert_alike(usual, picture.middle(desk.picture()))


def test_a_slider_is_moved_by_a_finger(touched):
    desk, touch = touched
    touch((desk.middle(RIGHT, 0.52), desk.middle(RIGHT, 0.7)))
    desk.wait("the slider moved", lambda line: setting(line, RIGHT) > 40.0)
    # Frames may be behind the finger.
    desk.rest()
    moved = desk.now()
    assert near(setting(moved, LEFT), 30.0) and moved["view"] == "oblique"
    assert_numbers_are_the_command_lines(moved)
    # A finger that was lifted is nowhere: the slider stays when the mouse passes.
    desk.page.mouse.move(*desk.middle(RIGHT, 0.1))
    desk.rest()
    assert near(setting(desk.now(), RIGHT), setting(moved, RIGHT))
