"""What a day changes: written, shown, refused where it is unsafe, and taken back byte by byte."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from authoring import run

from spoonfold.check import examine
from spoonfold.model.classroom import Session
from tiny_class import CLASS

DAY = "content/changes/2027-09-18.txt"
TWO_TABLES = CLASS.replace("[4]", "[4, 3]").replace("helpers: 1", "helpers: 2")

MakeClass = Callable[..., Path]


@pytest.fixture
def folder(make_class: MakeClass) -> Path:
    """A class of two tables with an adult at each."""
    return make_class({"class.yaml": TWO_TABLES.replace("pot: 1", "pot: 2")})


def _change(folder: Path, *words: str) -> tuple[int, str]:
    result = run("change", "1", *words, "--folder", str(folder))
    return result.exit_code, result.output


def _session(folder: Path) -> Session:
    classroom = examine(folder).read.folder.classroom
    assert classroom is not None
    return classroom.sessions[0]


def _bytes(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_what_is_written_holds_for_its_day_alone(folder: Path) -> None:
    """The session is as it would be in class.yaml, and the plan stays."""
    code, output = _change(folder, "table 2: 2 children", "1 guest", "--as-of", "Friday evening")
    assert code == 0
    assert "Table 2: 2 children (E, F)" in output
    read = examine(folder).read
    assert read.planned is not None and read.planned.sessions[0].setting.tables == (4, 3)
    session = _session(folder)
    assert session.setting.tables == (4, 2) and session.setting.guests == 1
    assert session.changed is not None and session.changed.as_of == "Friday evening"


def test_words_without_quotes_are_one_line(folder: Path) -> None:
    """Nobody has to know of quotes for the one change that most days have."""
    assert _change(folder, "1", "pot", "borrowed")[0] == 0
    assert _session(folder).setting.equipment["pot"] == 3


def test_a_line_of_the_same_table_takes_the_place_of_the_one_before(folder: Path) -> None:
    """The last word on a table is the one that holds."""
    for children in (2, 3):
        assert _change(folder, f"table 1: {children} children")[0] == 0
    assert (folder / DAY).read_text("utf-8") == "table 1: 3 children\n"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("no helpers", "few-helpers"),
        ("stove broken", "no-cooker"),
        ("3 helpers less", "impossible-change"),
        ("table 5: 2 children", "impossible-change"),
        ("no rice", "missing-not-replaced"),
        ("a blue day", "not-a-change"),
    ],
)
def test_what_is_unsafe_or_cant_be_is_refused(folder: Path, words: str, said: str) -> None:
    """Nothing is written, and what would do is said."""
    before = _bytes(folder)
    code, output = _change(folder, words)
    assert code == 1 and said in output
    assert "Nothing was written" in output
    assert _bytes(folder) == before


def test_taking_back_restores_every_byte(folder: Path) -> None:
    """Through several changes, over a file that was written by hand."""
    path = folder / DAY
    path.parent.mkdir()
    path.write_bytes("\ufeff# by hand\r\n1 guest  \r\ntable 1: 3 children".encode())
    states = [_bytes(folder)]
    for words in ("table 2: 2 children", "table 1: 2 children", "20 minutes more"):
        assert _change(folder, words)[0] == 0
        states.append(_bytes(folder))
    for state in reversed(states[:-1]):
        assert _change(folder, "--back")[0] == 0
        assert _bytes(folder) == state
    assert _change(folder, "--back")[0] == 2


def test_what_was_changed_by_hand_since_is_not_lost(folder: Path) -> None:
    """Taking back would throw it away."""
    assert _change(folder, "1 guest")[0] == 0
    (folder / DAY).write_text("2 guests\n", "utf-8")
    code, output = _change(folder, "--back")
    assert code == 2 and "by hand" in output
    assert (folder / DAY).read_text("utf-8") == "2 guests\n"


def test_a_session_that_is_called_off_is_none_and_can_come_back(folder: Path) -> None:
    """The calendar keeps it; the class doesn't meet."""
    before = _bytes(folder)
    assert _change(folder, "called off")[0] == 0
    classroom = examine(folder).read.folder.classroom
    assert classroom is not None
    assert classroom.sessions == () and [each.number for each in classroom.called_off] == [1]
    assert _change(folder, "--back")[0] == 0
    assert _bytes(folder) == before


def test_where_it_no_longer_fits_the_ways_are_told(folder: Path) -> None:
    """With the minutes of each, and the talk last."""
    code, output = _change(folder, "23 minutes less")
    assert code == 0 and "Does not fit" in output
    assert "Talk for" in output.split("Ways")[1]
