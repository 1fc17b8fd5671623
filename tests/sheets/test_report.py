"""The season in figures, by sums worked out by hand and published intervals."""

from __future__ import annotations

from pathlib import Path

import pytest

from spoonfold.language.texts import Texts
from spoonfold.plan.people.votes import wilson
from spoonfold.read.folder import read_folder
from spoonfold.sheets.season.report import Report, report_of, rows_of
from tiny_class import CLASS, write_class

EN = Texts("en")
FIRST = "---\ncame: 4\nspent: 6.00\nvotes: {rice: 3 of 4}\nquotes: [More., Ada said more.]\n---\n"
SECOND = "---\ncame: 3\nspent: 8.00\nhelpers: 2\nvotes: {rice: 3 of 3}\n---\n"
FILES = {
    "class.yaml": CLASS + "  - {dishes: [rice]}\n  - {dishes: [rice]}\n",
    "after/2027-09-18.md": FIRST,
    "after/2027-09-25.md": SECOND,
    "private/children.yaml": "[Ada, Bo]\n",
}


def report(folder: Path, changes: dict[str, str | None] | None = None) -> Report | None:
    read = read_folder(write_class(folder, {**FILES, **(changes or {})})).folder
    assert read.classroom is not None
    return report_of(read, read.classroom, EN)


@pytest.mark.parametrize(
    ("yes", "votes", "low", "high"),
    [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_intervals_as_published(yes: int, votes: int, low: float, high: float) -> None:
    """R. G. Newcombe, Two-sided confidence intervals for the single proportion, Statistics in
    Medicine 17, 1998, 857-872, method 3 (score), from memory."""
    assert wilson(yes, votes) == pytest.approx((low, high), abs=5e-5)


class TestReport:
    """Two of three sessions of an hour were held, by one helper and then by two."""

    def test_figures(self, tmp_path: Path) -> None:
        """7 places, 7 hours of children, 2 and 3 adults: 5 hours, 14 dollars, 2 for each."""
        made = report(tmp_path)
        assert made is not None
        figures = {each.what: (each.value, each.of) for each in made.figures}
        assert figures == {
            "sessions held": ("2", "3 were planned"),
            "places taken by children": ("7", ""),
            "hours of children in class": ("7", ""),
            "children on the list": ("2", ""),
            "hours of helpers and the lead cook in class": ("5", ""),
            "spent on food": ("$14.00", ""),
            "for a child and session": ("$2.00", ""),
            "dish cooked": ("1", ""),
            "place they are from": ("1", ""),
        }
        assert all(len(row) == 3 for row in rows_of(made, EN))

    def test_what_is_known_of_a_part_says_so(self, tmp_path: Path) -> None:
        """A sum of one note out of two is no sum of the season."""
        made = report(tmp_path, {"after/2027-09-25.md": "It went well.\n"})
        assert made is not None
        known = {each.what: each.of for each in made.figures}
        assert known["places taken by children"] == "noted of 1 of 2 sessions"
        assert known["spent on food"] == "noted of 1 of 2 sessions"

    def test_votes_of_all_days_and_how_sure_they_are(self, tmp_path: Path) -> None:
        """6 of 7: between 49 and 97 of a hundred (worked out by hand)."""
        made = report(tmp_path)
        assert made is not None
        (verdict,) = made.verdicts
        assert (verdict.yes, verdict.votes, verdict.low, verdict.high) == (6, 7, 49, 97)

    def test_no_name(self, tmp_path: Path) -> None:
        """What says one is left out."""
        made = report(tmp_path)
        assert made is not None and made.quotes == ("More.",)

    def test_nothing_noted(self, tmp_path: Path) -> None:
        """Nothing is claimed of a season that nobody has written about."""
        assert report(tmp_path, {"after/2027-09-18.md": None, "after/2027-09-25.md": None}) is None


@pytest.mark.parametrize("votes", ["9", "9 of 8", "many of 9", "-1 of 9"])
def test_votes_that_are_none(tmp_path: Path, votes: str) -> None:
    """Refused where they stand, with what to write."""
    note = f"---\nvotes: {{rice: {votes}}}\n---\n"
    found = read_folder(write_class(tmp_path, {"after/2027-09-18.md": note})).problems
    assert [each.code for each in found] == ["not-votes"] and " of " in found[0].hint
