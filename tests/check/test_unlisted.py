"""A second food behind a comma is told with the lines to write, nothing of them lost."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from spoonfold.check import examine
from tiny_class import RICE

MakeClass = Callable[..., Path]


@pytest.mark.parametrize(
    ("listed", "lines"),
    [
        (
            "1 cup rolled oats, 1/2 cup peanut butter",
            ("1 cup rolled oats", "1/2 cup peanut butter"),
        ),
        (
            "1 cup (90 g) rolled oats, toasted, 1/2 cup peanut butter (optional)",
            ("1 cup (90 g) rolled oats, toasted (optional)", "1/2 cup peanut butter"),
        ),
        (
            "rolled oats, 1/2 cup peanut butter, to taste",
            ("rolled oats, to taste", "1/2 cup peanut butter"),
        ),
    ],
)
def test_the_lines_to_write(listed: str, lines: tuple[str, str], make_class: MakeClass) -> None:
    """Amount, preparation and whether it is optional stay with the first food."""
    rice = RICE.replace("  - 2 cups water\n", f"  - 2 cups water\n  - {listed}\n")
    found = examine(make_class({"recipes/rice.md": rice})).problems
    (told,) = (each for each in found if each.code == "food-behind-comma")
    assert told.hint.split("\n")[1:] == [f"- {each}" for each in lines]
