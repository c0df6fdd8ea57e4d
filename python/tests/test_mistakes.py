"""What is said of mistakes: each message names what was given, and nothing given steers a terminal or fills it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import eminentia
import pytest

SCENES = Path(__file__).resolve().parents[2] / "scenes"
# Clears a terminal, turns the line round, and ends it.
EVIL = "\x1b[2Jevil\u202e\n"
SEEN = "\\u{1b}[2Jevil"
LONG = "x" * 10_240
SETTING = "horizontal_inclination_deg"


def scene() -> eminentia.Scene:
    return eminentia.Scene.thirty_degree()


def study() -> eminentia.Study:
    return eminentia.Study.load(SCENES / "studies/record_error.ron")


# Calls that quote a text, and what stands in the message before it.
QUOTED: list[tuple[Callable[[str], object], str]] = [
    (eminentia.Scene.load, ""),
    (eminentia.Case.load, ""),
    (eminentia.Study.load, ""),
    (lambda text: eminentia.Scene.from_dict({**scene().to_dict(), text: 1}), "scene: "),
    (lambda text: eminentia.Scene.from_link(f"http://localhost/#{text}"), "“"),
    (lambda text: scene().setting(text), "no setting is called `"),
    (lambda text: scene().changed({text: 3}), "no setting is called `"),
    (lambda text: scene().changed({SETTING: text}), f"{SETTING} is given `"),
    (lambda text: scene().link(text), "“"),
    (lambda text: scene().plan({text: 1}), "plan: "),
    (lambda text: eminentia.sweep(scene(), {text: [30]}), "no setting is called `"),
    (lambda text: eminentia.sweep(scene(), {SETTING: [30]}, measures=[text]), 'measure "'),
    (lambda text: eminentia.sweep(scene(), {SETTING: [30]}, measures=text), 'measures is "'),
    (lambda text: eminentia.sweep(scene(), {SETTING: [30]}, excursions=[text]), 'excursion "'),
    (lambda text: eminentia.sweep(scene(), {SETTING: [30]}, cusps=[text]), 'cusps has "'),
    (lambda text: study().write(text), ""),
    (lambda text: eminentia.show(scene(), text), ""),
    (lambda text: eminentia.Case.from_dict({text: 1}), "case: "),
]


@pytest.mark.parametrize("call, before", QUOTED)
@pytest.mark.parametrize("text", [EVIL, LONG])
def test_what_is_quoted_is_seen_and_bearable(call: Callable[[str], object], before: str, text: str) -> None:
    with pytest.raises(eminentia.Error) as raised:
        call(text)
    said = str(raised.value)
    quoted = SEEN if text == EVIL else "x" * 40
    assert before in said and (quoted in said or repr(quoted)[1:-1] in said), said
    assert len(said) < 4200 and said.isprintable(), said


@pytest.mark.parametrize(
    "make",
    [
        lambda title: eminentia.Scene.from_dict({**scene().to_dict(), "title": title}),
        lambda title: eminentia.Study.from_dict({**study().to_dict(), "title": title}),
        lambda title: eminentia.Case.from_dict(
            {**eminentia.Case.load(SCENES / "cases/edentulous.ron").to_dict(), "title": title}
        ),
    ],
)
def test_a_title_is_shown_as_it_is_seen(make: Callable[[str], object]) -> None:
    shown = repr(make(EVIL + LONG))
    assert SEEN in shown and shown.isprintable() and len(shown) < 300


def test_a_file_that_is_no_table_of_a_study_is_not_taken_for_one(tmp_path: Path) -> None:
    table = tmp_path / "table.parquet"
    table.write_text("not a table")
    with pytest.raises(eminentia.Error, match="does not tell what study it is of.*overwrite=True"):
        study().write(table, resume=True)
    assert table.read_text() == "not a table"


def test_the_system_speaks_without_numbers(tmp_path: Path) -> None:
    with pytest.raises(eminentia.Error, match="File name too long$"):
        study().write(tmp_path / f"{LONG}.parquet")
