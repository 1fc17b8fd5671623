"""What is named as the part to shorten where a sheet runs over."""

from __future__ import annotations

import re

from demo_class import demo_folder
from spoonfold.sheets import lesson_card, table_cards

FOLDER = demo_folder()
assert FOLDER.classroom is not None
SESSIONS = FOLDER.classroom.sessions


def _lengths(hint: str) -> list[int]:
    return [int(each) for each in re.findall(r"\((\d+) letters\)", hint)]


def test_the_longest_parts_first() -> None:
    """Of every session's lesson card and table card, with how long they are."""
    for session in SESSIONS:
        for problem in (
            lesson_card.too_long(FOLDER, session),
            table_cards.too_long(FOLDER, session, "en"),
        ):
            assert problem is not None and problem.hint is not None
            lengths = _lengths(problem.hint)
            assert lengths and lengths == sorted(lengths, reverse=True), problem.hint


def test_the_dishes_are_named() -> None:
    """The lesson card's problem names every dish of its session."""
    for session in SESSIONS:
        dishes = " and ".join(dish.text for dish in session.dishes)
        assert f"({dishes})" in lesson_card.too_long(FOLDER, session).message
