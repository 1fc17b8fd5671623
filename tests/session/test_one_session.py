"""The sheets of one session: only an error in what it reads stops them; others are told."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from spoonfold.build import build
from spoonfold.check import Examined, examine
from spoonfold.language.texts import Texts
from spoonfold.problem import has_errors
from spoonfold.sheets.changed import ChangeSlip, changed_paths, made
from spoonfold.sheets.sheet import BuildContext, Edition
from tiny_class import CLASS, RICE

TWO = CLASS.replace("  - {dishes: [rice]}\n", "  - {dishes: [rice]}\n  - {dishes: [soup]}\n")
BROKEN = RICE.replace("Plain rice", "Soup").replace("serves: 4", "serves: none")

MakeClass = Callable[..., Path]


def _jobs(folder: Path) -> Path:
    return folder / "build/class/session-01/jobs-en.pdf"


def test_an_error_in_a_dish_of_another_day_is_told_and_stops_nothing(make_class: MakeClass) -> None:
    """Nor does a note, or a change of another day; without a session all of it does."""
    folder = make_class(
        {"class.yaml": TWO, "recipes/soup.md": BROKEN, "changes/2027-09-25.txt": "something else\n"}
    )
    whole = build(folder, folder / "build", ("jobs",))
    assert whole.is_stopped and not _jobs(folder).exists()
    one = build(folder, folder / "build", ("jobs",), sessions=(1,))
    if one.print_failure is not None:
        pytest.skip(one.print_failure.message)
    assert not one.is_stopped and _jobs(folder).is_file()
    assert has_errors(one.problems)
    assert not (folder / "build/class/session-02").exists()


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("class.yaml", TWO.replace("ages: 9-12", "ages: many")),
        ("pantry.yaml", "rice: {allergens: [mlik]}\n"),
        ("words.yaml", "- boil\n"),
        ("recipes/rice.md", RICE.replace("serves: 4", "serves: none")),
        ("changes/2027-09-18.txt", "something else\n"),
    ],
)
def test_an_error_in_what_it_reads_stops_it(make_class: MakeClass, path: str, text: str) -> None:
    """The class, the pantry, the words, its own dish, its own changes."""
    soup = {"recipes/soup.md": RICE.replace("Plain rice", "Soup"), "class.yaml": TWO}
    folder = make_class({**soup, path: text})
    outcome = build(folder, folder / "build", ("jobs",), sessions=(1,))
    assert outcome.is_stopped and has_errors(outcome.problems)
    assert not (folder / "build").exists()


def test_a_changed_day_has_a_pack_of_what_is_other_than_planned(make_class: MakeClass) -> None:
    """A guest changes what is bought, and moves no child to another job."""
    folder = make_class({"changes/2027-09-18.txt": "as of Friday evening\n1 guest\n"})
    examined = examine(folder)
    session = _context(examined).sessions[0]
    context = _context(examined)
    paths = changed_paths(context, session)
    assert "class/session-01/shopping-en.pdf" in paths
    assert "class/session-01/safety-en.pdf" not in paths
    [pack] = made(context)
    slip = pack.slip({})
    assert [each.path for each in pack.pieces if each.path not in paths] == []
    values = slip.values["slip"]
    assert isinstance(values, ChangeSlip)
    assert values.lines[0].what == "1 guest"
    assert len(values.lines) <= 5
    assert "(changed Friday evening)" in values.head.date


def test_a_day_as_planned_has_none(make_class: MakeClass) -> None:
    """Nobody prints a slip that says nothing."""
    assert list(made(_context(examine(make_class())))) == []


def _context(examined: Examined) -> BuildContext:
    classroom = examined.read.folder.classroom
    assert classroom is not None
    edition = Edition(examined.read.folder, examined.facts.uses, Texts("en"))
    return BuildContext(examined, classroom, (edition,), edition, classroom.households)
