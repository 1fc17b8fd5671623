"""How problems are set out: order, width, the caret, colours."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

from spoonfold.cli.report import Told, columns, listing, printable, shown_line, wrapped
from spoonfold.problem import Level, Place, Problem, by_file
from tiny_class import CLASS, RICE, write_class


def problem(path: str, line: int, level: Level = Level.ERROR, column: int = 1) -> Problem:
    return Problem("some-code", level, Place(path, line, column), "What is wrong.", "What to do.")


class TestOrder:
    def test_files_with_errors_stand_first_and_errors_first_in_each(self) -> None:
        """Then warnings, then hints; what is equally important by file and line."""
        found = [
            problem("a.md", 1, Level.HINT),
            problem("b.md", 9, Level.WARNING),
            problem("c.md", 5, Level.WARNING),
            problem("c.md", 7),
            problem("c.md", 2),
            problem("d.md", 1),
            problem("b.md", 3, Level.HINT),
            problem("d.md", 1),
        ]
        told = [
            (each.path, [(one.level.value[0], one.place.line) for one in each.problems])
            for each in by_file(found)
        ]
        assert told == [
            ("c.md", [("e", 2), ("e", 7), ("w", 5)]),
            ("d.md", [("e", 1)]),
            ("b.md", [("w", 9), ("h", 3)]),
            ("a.md", [("h", 1)]),
        ]

    def test_the_same_whatever_the_order_in_which_they_were_found(self) -> None:
        """The printed text depends on the problems alone."""
        found = [problem(f"{name}.md", line) for name in "cab" for line in (3, 1, 2)]
        assert listing(found, lambda place: None) == listing(found[::-1], lambda place: None)

    def test_what_matters_most_is_printed_last(self) -> None:
        """A terminal shows the end. Hints are only counted where anything worse is wrong, and
        everything but errors where those alone are asked for."""
        found = [
            problem("a.md", 1, Level.HINT),
            problem("b.md", 9, Level.WARNING),
            problem("c.md", 7),
            problem("c.md", 2),
            problem("c.md", 5, Level.WARNING),
        ]

        def heads(*found: Problem, least: Level = Level.WARNING) -> list[str]:
            text = listing(found, lambda place: None, told=Told(least, "the command"))
            return [line for line in text.split("\n") if line.startswith(("a.", "b.", "c.", "And"))]

        warned = ["b.md:9:1: warning: some-code", "c.md:5:1: warning: some-code"]
        errors = ["c.md:2:1: error: some-code", "c.md:7:1: error: some-code"]
        hint = "a.md:1:1: hint: some-code"
        assert heads(*found) == [*warned, *errors, "And 1 hint: the command"]
        assert heads(*found, least=Level.HINT) == [hint, *warned, *errors]
        counted = "And 2 warnings, 1 hint: the command"
        assert heads(*found, least=Level.ERROR) == [*errors, counted]
        assert heads(found[0]) == [hint]
        assert heads(found[0], least=Level.ERROR) == ["And 1 hint: the command"]

    def test_how_to_learn_more_is_said_once(self) -> None:
        """At the end, with the name of what matters most."""
        text = listing([problem("a.md", 1), problem("b.md", 2)], lambda place: None)
        assert text.count("spoonfold why") == 1
        assert text.endswith("Why it matters: spoonfold why some-code")


def under(line: str, column: int, room: int = 60) -> tuple[str, int]:
    """The shown line, and how many columns stand before the caret."""
    shown = shown_line(line, column, room)
    assert shown.caret is not None
    return shown.line, shown.caret.index("^")


class TestCaret:
    @pytest.mark.parametrize(
        ("before", "wide"),
        [
            ("  - 2 ", 6),
            ("日本語 ", 7),
            ("ｆｕｌｌ", 8),
            ("e\u0301te\u0301 ", 4),
            ("🍚 ", 3),
            ("한글 ", 5),
            ("\u1112\u1161\u11ab ", 3),
            ("\t", 4),
            ("á½ ", 3),
            ("\u200bx", 1),
        ],
        ids=ascii,
    )
    def test_stands_under_the_spot(self, before: str, wide: int) -> None:
        """Wide letters count two columns, accents none, a tab as many as are shown."""
        line, at = under(before + "c water", len(before) + 1)
        assert at == wide == columns(line[: line.index("c water")])

    def test_a_line_from_right_to_left_names_the_word(self) -> None:
        """A terminal may turn such a line round, and the column alone would mislead."""
        shown = shown_line("  - 2 כוס מים", 9, 60)
        assert shown.caret == " " * 8 + "^ “ס”"
        assert shown_line("  - 2 cups", 9, 60).caret == " " * 8 + "^"

    @pytest.mark.parametrize("column", [1, 10, 48, 55, 61, 250, 400, 493, 494])
    def test_a_long_line_is_cut_round_the_spot(self, column: int) -> None:
        """It fits, the spot is in it, and both cuts are marked."""
        line = " ".join(f"word{n:02}" for n in range(70)) + " end"
        text, at = under(line, column)
        assert columns(text) <= 60 and at < 60
        assert text[at : at + 3].rstrip("…") in line[column - 1 : column + 2]
        assert text.startswith("…") == (column > 49) and text.endswith("…") == (column < 490)

    def test_wide_letters_are_cut_by_columns(self) -> None:
        """A line of wide letters fits too, cut on either side."""
        text, at = under("飯" * 300, 150)
        assert columns(text) <= 60 and text[0] == text[-1] == "…" and columns(text[:15]) <= 60
        assert at == columns(text[: 1 + (at - 1) // 2])

    def test_a_line_as_long_as_a_book_costs_no_more(self) -> None:
        """Only what can be seen is looked at."""
        assert under("x" * 1_000_000, 900_000) == under("x" * 1_000, 900)

    def test_nothing_commands_the_terminal(self) -> None:
        """Signs that would colour, wipe or turn a line round are shown as strange."""
        assert printable("a\x1b[31mb\u202ec\x07\u2066") == "a�[31mb�c��"
        assert "\x1b" not in listing(
            [Problem("some-code", Level.ERROR, Place("a\x1b.md", 1, 1), "b\x1b", "c\x1b")],
            lambda place: "d\x1b",
        )


class TestWidth:
    @pytest.mark.parametrize("width", [40, 57, 80, 100])
    def test_every_line_fits(self, width: int) -> None:
        """Also what is to be written, below its label."""
        found = [
            Problem(
                code,
                level,
                Place("a.md", 1234, 30),
                "Many words. " * 30,
                "1 cup " + "rice " * 30 + "\nsecond " * 20,
            )
            for code in ("some-code", "a-code-of-thirty-six-signs-in-all-xx")
            for level in Level
        ]
        text = listing(found, lambda place: "long " * 60, width)
        assert max(map(columns, text.split("\n"))) <= width

    def test_what_is_longer_than_a_line_stays_whole(self) -> None:
        """An address that is cut can't be used."""
        address = "https://example.org/" + "x" * 60
        assert wrapped(f"See {address} there.", 40) == ["See", address, "there."]

    def test_what_is_to_be_written_keeps_its_indentation(self) -> None:
        """Four spaces before the note of a step are part of it."""
        found = [Problem("some-code", Level.ERROR, Place("a.md"), "Wrong.", "    - time: 5 min")]
        assert "  write:     - time: 5 min\n" in listing(found, lambda place: None) + "\n"


def calls(count: int) -> int:
    """Calls of functions while so many problems on as many lines are set out."""
    found = [problem("a.md", line) for line in range(1, count + 1)]
    made = 0

    def counted(*_: object) -> None:
        nonlocal made
        made += 1

    sys.setprofile(counted)
    try:
        listing(found, lambda place: f"line {place.line}")
    finally:
        sys.setprofile(None)
    return made


def test_twice_as_many_problems_take_twice_the_work() -> None:
    """Counted in calls, which no busy machine changes."""
    assert calls(1000) < 2.1 * calls(500)


def on_a_terminal(folder: Path, **environment: str) -> str:
    """What `spoonfold check` prints on a terminal."""
    ours, theirs = pty.openpty()
    env = {
        key: value
        for key, value in os.environ.items()
        if key not in ("NO_COLOR", "TERM", "COLUMNS")
    }
    running = subprocess.Popen(
        [sys.executable, "-m", "spoonfold", "check"],
        cwd=folder,
        stdout=theirs,
        stdin=theirs,
        stderr=subprocess.DEVNULL,
        env={**env, "TERM": "xterm", **environment},
    )
    os.close(theirs)
    printed = b""
    try:
        while block := os.read(ours, 4096):
            printed += block
    except OSError:
        pass  # The other end is closed: all was printed.
    os.close(ours)
    running.wait()
    return printed.decode().replace("\r\n", "\n")


def piped(folder: Path, **environment: str) -> str:
    """What `spoonfold check` prints where nobody watches."""
    return subprocess.run(
        [sys.executable, "-m", "spoonfold", "check"],
        cwd=folder,
        capture_output=True,
        encoding="utf-8",
        check=False,
        env={**os.environ, "PYTHONUTF8": "1", **environment},
    ).stdout


class TestTerminal:
    @pytest.fixture
    def folder(self, tmp_path: Path) -> Path:
        return write_class(
            tmp_path,
            {
                "recipes/rice.md": RICE.replace("2 cups", "2 c"),
                "class.yaml": CLASS.replace("first day: 2027-09-18", "first day: 18.09.2027"),
            },
        )

    def test_colours_are_on_a_terminal(self, folder: Path) -> None:
        """The level, the file, the caret and what to write; with them away, the same text."""
        coloured = on_a_terminal(folder)
        where = "\x1b[1mcontent/recipes/rice.md:8:7\x1b[0m: "
        assert f"{where}\x1b[31m\x1b[1merror\x1b[0m: bare-unit-letter" in coloured

    @pytest.mark.parametrize("environment", [{"NO_COLOR": "1"}, {"TERM": "dumb"}], ids=str)
    def test_no_colour_where_none_is_wanted(
        self, folder: Path, environment: dict[str, str]
    ) -> None:
        """`NO_COLOR` set to anything, and a terminal that has none."""
        assert "\x1b[3" not in on_a_terminal(folder, **environment)

    @pytest.mark.parametrize(("terminal", "widest"), [("30", 40), ("55", 55), ("200", 100)])
    def test_the_terminals_width_is_filled(self, folder: Path, terminal: str, widest: int) -> None:
        """At least 40 columns and at most 100."""
        text = on_a_terminal(folder, NO_COLOR="1", COLUMNS=terminal)
        assert max(map(columns, text.split("\n"))) <= widest
        assert ("mend: Write year, month and day: 2027-09-18." in text) == (widest > 50)

    def test_the_same_where_nobody_watches(self, folder: Path) -> None:
        """Whatever the terminal around is: 80 columns, no colour, the same order."""
        text = piped(folder, COLUMNS="50", TERM="xterm", FORCE_COLOR="1")
        assert text == piped(folder, COLUMNS="200", TERM="dumb", NO_COLOR="1")
        assert text == on_a_terminal(folder, COLUMNS="80", NO_COLOR="1")
