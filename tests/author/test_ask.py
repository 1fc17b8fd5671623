"""`ask` puts the questions that words leave open, and writes each answer where it belongs."""

from __future__ import annotations

import importlib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from spoonfold.author.ask import questions, write_answer
from spoonfold.author.written import Refused
from spoonfold.check import examine
from spoonfold.cli import main
from spoonfold.problem import Level, Place, Problem
from tiny_class import RICE, write_class

PATH = "content/recipes/rice.md"
OPEN = RICE.replace("2 cups water", "2 c water").replace("1 cup rice", "1 cup rice or bulgur")


@pytest.fixture
def watched(monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody is there to answer."""
    monkeypatch.setattr(importlib.import_module("spoonfold.cli.ask"), "is_watched", lambda: True)


def run(folder: Path, answers: str = "", name: str = "rice") -> Result:
    return CliRunner().invoke(main, ["ask", name, "--folder", str(folder)], input=answers)


@pytest.mark.usefixtures("watched")
class TestAnswers:
    def test_a_number(self, tmp_path: Path) -> None:
        """The way of that number takes the place of what stood there, and no other sign."""
        folder = write_class(tmp_path, {"recipes/rice.md": OPEN.replace("\n", "\r\n").encode()})
        result = run(folder, "1\n2\n")
        assert "1) 2 cups water\n  2) 2 cans water\n" in result.output
        expected = OPEN.replace("2 c water", "2 cans water").replace(" or bulgur", "")
        assert (folder / PATH).read_bytes() == expected.replace("\n", "\r\n").encode()

    def test_her_own_words(self, tmp_path: Path) -> None:
        """They stand where the proposal would; what comes of them is asked again."""
        folder = write_class(tmp_path, {"recipes/rice.md": OPEN})
        run(folder, "1 cup millet, rinsed\n3 c water\n1\n")
        text = (folder / PATH).read_text("utf-8")
        assert "  - 1 cup millet, rinsed\n  - 3 cups water\n" in text

    def test_what_is_left_open_stays(self, tmp_path: Path) -> None:
        """Enter leaves a question; nothing is asked twice."""
        folder = write_class(tmp_path, {"recipes/rice.md": OPEN})
        result = run(folder, "\n\n")
        assert (result.exit_code, (folder / PATH).read_text("utf-8")) == (0, OPEN)
        assert result.output.endswith(f"{PATH}: 2 errors.\n")

    def test_a_temperature_is_written_after_a_yes_to_it(self, tmp_path: Path) -> None:
        """As a note of its step, behind the last line of its words."""
        bent = RICE.replace("  - salt", "  - 2 eggs\n  - salt")
        bent = bent.replace(
            "water with salt.", "water with salt.\n2. Stir in the eggs\n   and cook."
        )
        folder = write_class(tmp_path, {"recipes/rice.md": bent})
        codes = [each.code for each in examine(folder).problems if each.level is Level.ERROR]
        assert codes == ["heat-missing"]
        run(folder, "1\n")
        assert "   and cook.\n    - heat: 160 °F\n" in (folder / PATH).read_text("utf-8")


def test_nothing_is_written_where_nobody_answers(tmp_path: Path) -> None:
    """The questions and what could be answered are printed."""
    folder = write_class(tmp_path, {"recipes/rice.md": OPEN})
    result = run(folder, "1\n1\n")
    assert result.exit_code == 0
    assert result.output.endswith("2 open. They are answered at a terminal; nothing was written.\n")
    assert (folder / PATH).read_text("utf-8") == OPEN
    assert run(folder, name="rise").exit_code == 2


def heat(line: int) -> Problem:
    return Problem(
        "heat-missing", Level.ERROR, Place("a.md", line, 1), "Hot?", "So:\n- heat: 160 °F"
    )


@pytest.mark.parametrize(
    ("text", "line", "expected"),
    [
        ("1. Cook.", 1, "1. Cook.\n    - heat: 160 °F"),
        (
            "1. Cook\n   it.\n    - time: 5 min",
            1,
            "1. Cook\n   it.\n    - heat: 160 °F\n    - time: 5 min",
        ),
        ("1. Cook.\n    - heat: 100 °F", 2, "1. Cook.\n    - heat: 160 °F"),
        ("1. Cook.\n    - heat: 100 °F\n2. Eat.", 1, "1. Cook.\n    - heat: 160 °F\n2. Eat."),
        ("## Steps\n\nCook.", 1, None),
        ("1. Cook.", 9, None),
    ],
)
def test_where_a_note_goes(tmp_path: Path, text: str, line: int, expected: str | None) -> None:
    """Under the words of its step, or in the place of the note that is there."""
    asked = questions([heat(line)], "a.md", text)
    assert bool(asked) == (expected is not None)
    for each in asked:
        (tmp_path / "a.md").write_bytes(text.encode())
        assert write_answer(tmp_path, "a.md", each.ways[0]) is None
        assert (tmp_path / "a.md").read_text("utf-8") == expected
        (tmp_path / "a.md").write_bytes(b"Something else.")
        assert isinstance(write_answer(tmp_path, "a.md", each.ways[0]), Refused)


def test_hints_and_what_is_certain_are_not_asked() -> None:
    """Nor what another file holds."""
    hint = Problem("x", Level.HINT, Place("a.md", 1, 1), "m", "- heat: 160 °F")
    assert questions([hint, heat(1)], "b.md", "1. Cook.") == ()
    assert questions([hint], "a.md", "1. Cook.") == ()
