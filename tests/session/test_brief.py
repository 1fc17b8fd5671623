"""The helper's brief: one side a dish, household amounts, coaching, cautions, answers."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction as F
from pathlib import Path

import pytest
from session_sheets import Office, Printed, failures, squeezed

from spoonfold.build import build
from spoonfold.language.amounts import amounts_text
from spoonfold.model.classroom import HOME_MEASURING
from spoonfold.model.prose import plain
from spoonfold.plan.amounts.scale import scaled
from spoonfold.plan.amounts.tools import kitchen_of
from spoonfold.sheets.brief import FILE, BriefSide, numbers_text
from spoonfold.sheets.card import card_size
from tiny_class import CLASS, write_class

SESSIONS = range(1, 9)


@pytest.fixture(scope="module")
def kofta(built: Callable[[int, str], Printed]) -> Printed:
    """The brief of the longest dish."""
    return built(6, "helper-brief-en.pdf")


@pytest.fixture(scope="module")
def feast(built: Callable[[int, str], Printed]) -> Printed:
    """The brief of a session with two dishes."""
    return built(8, "helper-brief-en.pdf")


def side(office: Office, session: int) -> BriefSide:
    return office.brief(session).sides[0]


@pytest.mark.slow
@pytest.mark.parametrize(("which", "session"), [("kofta", 6), ("feast", 8)])
def test_a_dish_has_one_side_with_everything(
    office: Office, which: str, session: int, request: pytest.FixtureRequest
) -> None:
    """Steps, coaching, cautions, words and questions of a dish are all on its one page."""
    pages = request.getfixturevalue(which).pages
    sides = office.brief(session).sides
    assert len(pages) == len(sides)
    for page, each in zip(pages, sides, strict=True):
        assert squeezed(each.sheet.title) in page
        for step in each.sheet.steps:
            assert squeezed(plain(step.text)) in page
        for skill in each.skills:
            assert squeezed(skill.how) in page and squeezed(skill.caution) in page
        for known in (*each.watch, *each.yours, *each.easier):
            assert squeezed(known.title + known.text) in page
        for text in (*each.questions, *each.science, *each.rules):
            assert squeezed(text) in page
        for word in each.sheet.words:
            assert squeezed(word.meaning[1:]) in page


@pytest.mark.parametrize("session", SESSIONS)
def test_amounts_are_for_practice_at_home(office: Office, session: int) -> None:
    """They are those of the household size that cards are made for, with a drawer's measures."""
    people = card_size(office.classroom.households)
    for each in office.brief(session).sides:
        recipe = office.read.recipes[each.sheet.key]
        home = scaled(
            recipe,
            office.uses[recipe.key],
            office.read.pantry,
            kitchen_of(HOME_MEASURING),
            F(people),
        )
        wanted = {
            line.ingredient.key: amounts_text(line.amounts, office.texts) for line in home.lines
        }
        assert {line.key: line.sizes[0].text for line in each.sheet.lines} == wanted
        assert each.for_whom == f"for {people} people"


@pytest.mark.parametrize("session", SESSIONS)
def test_every_skill_of_the_dish_is_coached(office: Office, session: int) -> None:
    """The first time in full, later by its reminder; its caution every time."""
    earlier = {
        term.text
        for before in office.classroom.sessions[: session - 1]
        for dish in before.dishes
        for step in office.read.recipes[dish.text].steps
        if step.when is None
        for term in step.skills
    }
    for each in office.brief(session).sides:
        recipe = office.read.recipes[each.sheet.key]
        asked = {term.text for step in recipe.steps if step.when is None for term in step.skills}
        assert {note.name for note in each.skills} == asked
        for note in each.skills:
            skill = office.read.skills[note.name]
            assert note.is_new == (note.name not in earlier)
            wanted = skill.how if note.is_new else skill.short or skill.how
            assert note.how.rstrip(".") == wanted.rstrip(".")
            assert note.caution == (skill.caution or "")


@pytest.mark.parametrize("session", SESSIONS)
def test_every_caution_is_told_with_its_steps(office: Office, session: int) -> None:
    """What children may meet and what is kept for an adult, each text once, no step left out."""
    for each in office.brief(session).sides:
        recipe = office.read.recipes[each.sheet.key]
        told = [
            number for known in (*each.watch, *each.yours) for number in numbers_of(known.steps)
        ]
        wanted = [
            step.number
            for step in recipe.steps
            if step.when is None
            for _ in (*step.watch, *step.adult)
        ]
        assert sorted(told) == sorted(wanted)
        texts = [(known.title, known.text) for known in (*each.watch, *each.yours)]
        assert len(set(texts)) == len(texts)


def numbers_of(text: str) -> Sequence[int]:
    """Reads back what `numbers_text` writes."""
    found: list[int] = []
    for part in text.split(", "):
        first, _, last = part.partition("–")
        found += range(int(first), int(last or first) + 1)
    return found


@pytest.mark.parametrize(
    ("numbers", "text"),
    [([4], "4"), ([3, 2], "2, 3"), ([1, 2, 3, 7], "1–3, 7"), ([9, 9, 5, 10], "5, 9, 10")],
)
def test_step_numbers_are_written_as_people_do(numbers: list[int], text: str) -> None:
    """Two in a row by a comma, three by a dash, in order and once."""
    assert numbers_text(numbers) == text
    assert numbers_of(text) == sorted(set(numbers))


def test_work_is_told_by_place(office: Office) -> None:
    """Which steps are done before, at each table, and once for everyone, and for how many."""
    assert side(office, 2).work == (
        ("Before class, by an adult", "step 1"),
        ("At each table", "steps 2, 3, 5. 5 eat: 5 portions"),
        ("Once for everyone", "steps 4, 6–9. 15 portions"),
    )


def test_swaps_come_with_what_keeps_them_apart(office: Office) -> None:
    """Tables and foods by name, with the rules; nothing where everyone cooks the same."""
    swapped, plain_side = side(office, 6), side(office, 2)
    assert [(swap.table, swap.name) for swap in swapped.swaps] == [
        (2, "coconut yogurt"),
        (3, "white beans"),
        (3, "coconut yogurt"),
    ]
    assert any("20 seconds" in rule for rule in swapped.rules)
    assert plain_side.swaps == () and plain_side.rules == ()


def test_science_is_short_and_questions_are_single(office: Office) -> None:
    """Two sentences a paragraph at most; every question of the dish stands alone."""
    soup = side(office, 2)
    assert soup.science[0] == (
        "Heat makes water move. In a boil, large bubbles break all over the top and the soup jumps."
    )
    assert len(soup.questions) == 4 and all(text.endswith("?") for text in soup.questions)


@pytest.mark.slow
@pytest.mark.parametrize("which", ["kofta", "feast"])
def test_the_strict_checker_finds_nothing(which: str, request: pytest.FixtureRequest) -> None:
    """Two columns, frames and lists are PDF/UA-1."""
    assert failures(request.getfixturevalue(which).pdf) == []


@pytest.mark.slow
def test_briefs_go_to_the_adults_alone_and_are_carried_over(tmp_path: Path) -> None:
    """They lie in the session's folder of `class/`, and stay when something else is made."""
    folder = write_class(tmp_path)
    for only in ("brief", "site"):
        outcome = build(folder, folder / "build", [only])
        assert outcome.write_failure is None and outcome.print_failure is None
        found = [
            path.relative_to(folder / "build").as_posix()
            for path in (folder / "build").rglob("*brief*")
        ]
        assert found == [f"class/session-01/{FILE.name('en')}"]


def test_one_child_has_one_portion(tmp_path: Path) -> None:
    """A table of one: 1 portion, not 1 portions."""
    alone = Office(
        write_class(tmp_path, {"class.yaml": CLASS.replace("tables: [4]", "tables: [1]")})
    )
    assert side(alone, 1).work == (("At each table", "step 1. 1 eats: 1 portion"),)
