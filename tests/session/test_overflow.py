"""Sheets that are too long for their paper are made, and told with what to shorten."""

from __future__ import annotations

from pathlib import Path

import pytest

from spoonfold.build import Outcome, build
from spoonfold.problem import Level
from tiny_class import RICE, write_class

pytestmark = pytest.mark.slow
SLOW = "Look at the grains from all sides while they swell, near the rim and in the middle. "
LONG_STEP = RICE.replace("in the water with salt.", f"in the water with salt. {SLOW * 90}")
LONG_TALK = RICE.replace("## Steps", f"## Talk\n\n- {SLOW * 200}\n\n## Steps")


def built(folder: Path, rice: str, part: str) -> Outcome:
    """One part of the tiny class, into the same place each time."""
    return build(write_class(folder / "class", {"recipes/rice.md": rice}), folder / "out", (part,))


@pytest.mark.parametrize(
    ("part", "rice", "path", "said"),
    [
        ("table-cards", LONG_STEP, "content/recipes/rice.md", "step 1 ("),
        ("lesson-card", LONG_TALK, "content/class.yaml", "“Talk” of rice ("),
    ],
)
def test_a_second_sheet_is_told(part: str, rice: str, path: str, said: str, tmp_path: Path) -> None:
    """With the recipe and what to shorten; the sheet is made all the same."""
    outcome = built(tmp_path, rice, part)
    [problem] = outcome.problems
    assert (problem.code, problem.level) == ("sheet-overflows", Level.WARNING)
    assert problem.place.path == path and "rice" in problem.message
    assert said in problem.hint
    assert outcome.made and list((tmp_path / "out/class").rglob("*.pdf"))


def test_it_is_told_again(tmp_path: Path) -> None:
    """Also where nothing has changed and the sheet is carried over."""
    first = built(tmp_path, LONG_STEP, "table-cards")
    again = build(tmp_path / "class", tmp_path / "out", ("table-cards",))
    assert (first.made, again.made) == (1, 0)
    assert again.problems == first.problems != ()


@pytest.mark.parametrize("part", ["table-cards", "lesson-card"])
def test_what_fits_hears_nothing(part: str, tmp_path: Path) -> None:
    """The tiny class's cards are short."""
    assert built(tmp_path, RICE, part).problems == ()
