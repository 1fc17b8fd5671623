"""Every kind of question is found by itself, and each is really asked."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from importlib import import_module
from inspect import isabstract
from itertools import product
from pathlib import Path
from pkgutil import iter_modules

import pytest
from worksheet_cases import GRADES, SEEDS, demo

from spoonfold.sheets.worksheet import kinds
from spoonfold.sheets.worksheet.chance import draws_of
from spoonfold.sheets.worksheet.choice import ASKS, asks_by_topic, questions_of
from spoonfold.sheets.worksheet.kinds.convert import Convert, converted
from spoonfold.sheets.worksheet.numbers import numbers_of
from spoonfold.sheets.worksheet.question import Question, Topic


def all_kinds() -> Iterator[type[Question]]:
    """Those that can be asked, from every module there is."""
    for found in iter_modules(kinds.__path__):
        for each in vars(import_module(f"{kinds.__name__}.{found.name}")).values():
            if isinstance(each, type) and issubclass(each, Question) and not isabstract(each):
                yield each


def test_every_kind_is_asked() -> None:
    """Over the season, all grades and twenty seeds no kind is left out."""
    folder, classroom = demo()
    asked = {
        type(question)
        for session in classroom.sessions
        for grade, seed in product(GRADES, SEEDS)
        for question in questions_of(
            numbers_of(folder, session, classroom.households), grade, seed, True
        )
    }
    assert asked == set(all_kinds())
    assert len(asked) > 20


def test_only_what_pours_is_counted_in_fluid_ounces() -> None:
    """Pints and quarts of other food are dry ones, of another size (NIST Handbook 44, appendix
    C); nobody has a fluid ounce of cabbage."""
    folder, classroom = demo()
    asked = [
        question
        for session in classroom.sessions
        for grade in GRADES
        for question in converted(
            numbers_of(folder, session, classroom.households), grade, draws_of("1")
        )
        if isinstance(question, Convert)
    ]
    found = {
        one.food.is_liquid for one in asked if {"fl oz", "pint", "quart"} & {one.to, one.food.unit}
    }
    assert found == {True}
    assert any(not one.food.is_liquid for one in asked)


def test_every_topic_has_a_kind() -> None:
    """A sheet never has a row that nothing can fill."""
    assert {topic for topic, asks in ASKS.items() if asks} == set(Topic)


def test_a_new_module_is_a_new_kind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing else has to name it."""
    (tmp_path / "weighed.py").write_text(
        "from spoonfold.sheets.worksheet.question import Topic\n"
        "def weighed(numbers, grade, draws):\n    return ()\n"
        "ASKS = {Topic.SCOOPS: weighed}\n"
    )
    monkeypatch.setattr(kinds, "__path__", [*kinds.__path__, str(tmp_path)])
    try:
        found = asks_by_topic()
    finally:
        sys.modules.pop(f"{kinds.__name__}.weighed", None)
    assert [ask.__name__ for ask in found[Topic.SCOOPS]] == [
        *(ask.__name__ for ask in ASKS[Topic.SCOOPS]),
        "weighed",
    ]
    assert {topic: found[topic] for topic in Topic if topic != Topic.SCOOPS} == {
        topic: ASKS[topic] for topic in Topic if topic != Topic.SCOOPS
    }
