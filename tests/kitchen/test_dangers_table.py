"""Every danger that is known of kitchens is a rule that a case holds, or says why it is none."""

from __future__ import annotations

import csv
import sys
from pathlib import Path
from typing import NamedTuple

import pytest
from test_words_of_danger import dishes

from spoonfold.problem import Level

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
sys.path.insert(0, str(HERE / "corpus"))

from judge import DEVELOPMENT, judge, recipes_in  # noqa: E402 (its folder is no package)


class Row(NamedTuple):
    """One danger of `dangers.tsv`."""

    topic: str
    code: str
    """Of the rule; or the caution that says it."""
    held: str
    """`recipe NAME` of the development corpus, by its plain words; `case TITLE` of `cases.txt`; or
    `file PATH`."""
    why_not: str
    """Why no rule can see it."""
    source: str


def _rows() -> list[Row]:
    with (HERE / "dangers.tsv").open(encoding="utf-8", newline="") as file:
        return [Row(*each) for each in list(csv.reader(file, delimiter="\t"))[1:]]


ROWS = _rows()


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.topic)
def test_each_danger_is_a_rule_or_says_why_not(row: Row) -> None:
    """One of both, with its source."""
    assert row.source
    assert bool(row.code and row.held) != bool(row.why_not)


@pytest.mark.parametrize("row", [each for each in ROWS if each.held], ids=lambda row: row.topic)
def test_what_is_said_to_hold_a_rule_holds_it(row: Row) -> None:
    """The rule speaks in the very recipe, case or file that is named."""
    kind, name = row.held.split(" ", 1)
    if kind == "file":
        assert row.code in (ROOT / name).read_text("utf-8")
    elif kind == "case":
        assert [row.code in each.found for each in dishes() if each.title == name] == [True]
    else:
        recipe = next(each for each in recipes_in(DEVELOPMENT) if each.name == name)
        judged = next(each for each in judge(recipe) if each.form == "plain")
        errors = {each.code for each in judged.problems if each.level is Level.ERROR}
        assert row.code in errors
