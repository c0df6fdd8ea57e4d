"""What is kept in the browser: changes survive a reload, tabs do not overwrite each other's, and a storage that is
full or forbidden is said and breaks nothing."""

import chromium
import pytest
from desk import Desk, near, setting, wait_until
from test_files import told

RIGHT = "horizontal_inclination_deg.right"


def changed(desk, part=0.62):
    """Changes a setting by its slider; gives the setting."""
    before = setting(desk.settled(), RIGHT)
    line = desk.hold(RIGHT, part, "the slider moved", lambda line: not near(setting(line, RIGHT), before))
    return setting(line, RIGHT)


def is_kept(desk, value):
    return f"horizontal_inclination_deg: {value!r}," in desk.page.evaluate(
        "Object.values({ ...localStorage }).join('\\n')"
    )


def wait_until_kept(desk, value):
    wait_until(f"{value} kept", lambda: is_kept(desk, value))


def taken_up(desk, value):
    """Takes up what is offered after a reload, or finds it there."""
    line = desk.wait("the session", lambda line: line["asking"] == "take_up" or near(setting(line, RIGHT), value))
    if line["asking"] == "take_up":
        line = desk.push("answer=Take them up", "taken up", lambda line: near(setting(line, RIGHT), value))
    assert line["changed"]


def test_what_was_changed_is_there_after_a_reload(opened):
    desk = opened()
    value = changed(desk)
    wait_until_kept(desk, value)
    desk.page.reload()
    taken_up(desk, value)
    # Thrown away, it is not offered again.
    desk.key("Control+z", "the scene's own value", lambda line: near(setting(line, RIGHT), 30.0))
    wait_until("nothing kept", lambda: not is_kept(desk, value))
    desk.page.reload()
    line = desk.settled()
    assert line["asking"] is None and near(setting(line, RIGHT), 30.0)


def test_two_tabs_keep_a_session_each(opened):
    first = opened()
    one = changed(first, 0.62)
    wait_until_kept(first, one)
    second = Desk(first.page.context.new_page())
    second.page.goto(first.page.url)
    line = second.settled()
    # What is in use in a tab that is open is no offer to another.
    assert line["asking"] is None and near(setting(line, RIGHT), 30.0), line["asking"]
    two = changed(second, 0.8)
    assert not near(one, two)
    wait_until_kept(second, two)
    wait_until_kept(first, one)
    for desk, value in ((first, one), (second, two)):
        desk.page.reload()
        taken_up(desk, value)
    assert not second.errors


FULL = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError') }"
FORBIDDEN = """Object.defineProperty(window, "localStorage", {
    get() { throw new DOMException("forbidden", "SecurityError") },
})"""
ABSENT = 'Object.defineProperty(window, "localStorage", { value: null })'


@pytest.mark.parametrize("storage", [FULL, FORBIDDEN, ABSENT], ids=["full", "forbidden", "absent"])
def test_where_nothing_can_be_kept_it_is_said_and_the_rest_works(opened, storage):
    desk = opened(first=[storage])
    value = changed(desk)
    line = desk.wait("a word about it", told)
    assert "browser" in told(line) and near(setting(line, RIGHT), value)
    desk.key("Escape", "the note gone", lambda line: not told(line))
    # Said once, not at each change.
    desk.key("Control+z", "undone", lambda line: near(setting(line, RIGHT), 30.0))
    desk.rest()
    assert not told(desk.now())


def test_a_storage_that_is_really_full_is_said(opened):
    desk = opened()
    desk.page.evaluate(
        """() => {
            let [text, number] = ["x".repeat(1 << 20), 0];
            while (text) {
                try { localStorage.setItem(`other program ${number++}`, text) }
                catch { text = text.slice(text.length / 2 + 0.5) }
            }
        }"""
    )
    changed(desk)
    line = desk.wait("a word about it", told)
    assert "browser" in told(line)
    # What others keep there is theirs.
    assert desk.page.evaluate("localStorage.getItem('other program 0').length") == 1 << 20


KEEPS_ITS_DEVICE = """
const deviceOf = GPUAdapter.prototype.requestDevice;
GPUAdapter.prototype.requestDevice = async function (...what) {
    return (window.device = await deviceOf.apply(this, what));
};
"""
LOST = {
    "webgpu": (KEEPS_ITS_DEVICE, "window.device.destroy()"),
    "webgl2": (
        chromium.WITHOUT["webgpu"],
        "document.getElementById('canvas').getContext('webgl2').getExtension('WEBGL_lose_context').loseContext()",
    ),
}


@pytest.mark.parametrize("by", LOST)
def test_graphics_that_are_lost_in_mid_work_are_said_and_the_work_is_kept(opened, by):
    first, lose = LOST[by]
    desk = opened(first=[first])
    value = changed(desk)
    wait_until_kept(desk, value)
    desk.page.evaluate(lose)
    desk.page.locator("#cover .wrong").wait_for()
    assert "graphics" in desk.page.locator("#cover .wrong").inner_text()
    # The browser says of itself that drawing failed.
    desk.errors.clear()
    desk.page.get_by_role("button", name="Load the page anew").click()
    taken_up(desk, value)
