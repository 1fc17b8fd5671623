"""The helper's brief: a sheet a helper, with the day in short on its front and the rest in full."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pypdfium2
import pytest
from session_sheets import Office, Printed, failures, squeezed

from drawn_letters import letters
from spoonfold.build import build
from spoonfold.language.texts import load_texts
from spoonfold.plan.safety.dish import dishes_at
from spoonfold.press.layouts import shipped_layouts
from spoonfold.sheets.brief import FILE, LAYOUT, Brief, HelperBrief
from spoonfold.sheets.brief.front import words_on
from spoonfold.sheets.shared.cautions import cautions_of
from spoonfold.sheets.shared.numbers import LONGEST, numbers_text, step_name
from tiny_class import CLASS, RICE, write_class

SESSIONS = range(1, 9)
LONG = " and that takes a line or two to tell" * 4
MOST_WORDS = 350
SMALLEST = 11.0
EDGE = 18.0
"""A quarter of an inch, in points: what a copier leaves white."""


def texts_of(value: object) -> Iterator[str]:
    """Every text of page values."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for each in value:
            yield from texts_of(each)
    elif hasattr(value, "__dataclass_fields__"):
        for name in value.__dataclass_fields__:
            yield from texts_of(getattr(value, name))


def told(brief: Brief) -> set[tuple[str, str]]:
    """Every caution and adult's part on a sheet, by step."""
    found = set()
    for known in (*brief.back.watch, *brief.back.yours):
        for part in known.steps.split("; "):
            letter = re.match(r"[A-Z]?", part)[0]  # type: ignore[index]
            for number in numbers_of(part.removeprefix(letter)):
                found.add((f"{letter}{number}", f"{known.title} {known.text}".strip()))
    if brief.front.is_all:
        for row in brief.front.day:
            for step in row.steps:
                number = re.search(r"Step (\w+)", step.title)
                assert number is not None
                found |= {(number[1], text) for text in step.told}
    return found


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


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("Chop the parsley.", "Chop the parsley"),
        ("Grate the cucumber on the large holes and squeeze out its juice.", "Grate the cucumber"),
        ("Bake until the middle of the thickest one is hot enough.", "Bake"),
        ("Shred the red cabbage as finely as you can with a knife.", "Shred the red cabbage"),
        ("Mix the plain yogurt with the cucumber, the mint and the lemon.", "Mix the plain yogurt"),
        (f"{'Very' * 12}!", "Very" * 12),
    ],
)
def test_a_step_has_a_short_name(words: str, name: str) -> None:
    """It ends where a clause does, with no dots; one endless word stays whole."""
    assert step_name(words, load_texts("en", shipped_layouts())) == name


def test_names_are_short_in_every_dish_and_language(office: Office) -> None:
    """No name of the demo is longer than what a row holds, in English and by its Spanish words."""
    for language in ("en", "es"):
        texts = load_texts(language, shipped_layouts())
        for recipe in office.read.recipes.values():
            for step in recipe.steps:
                name = step_name(step.words, texts)
                assert 0 < len(name) <= LONGEST and "…" not in name


@pytest.mark.parametrize("session", SESSIONS)
def test_every_helper_has_a_sheet(office: Office, session: int) -> None:
    """By number and table, with what that table makes and who sits there."""
    brief = office.brief(session)
    assert [each.front.title for each in brief.briefs] == [
        f"Helper {number}, you are at table {number}" for number in (1, 2, 3)
    ]
    for number, each in enumerate(brief.briefs, 1):
        cards = [card for card in office.cards(session).cards if card.table == number]
        assert [dish.title for dish in each.front.cooked] == [card.title for card in cards]


@pytest.mark.parametrize("session", SESSIONS)
def test_every_caution_of_the_table_is_on_its_sheet(office: Office, session: int) -> None:
    """In full with its step, and every adult's part, as that table really cooks."""
    brief = office.brief(session)
    letters_of = {title: letter for letter, title in brief.letters}
    for number, each in enumerate(brief.briefs):
        found = told(each)
        for dish in office.session(session).dishes:
            recipe = office.read.recipes[dish.text]
            letter = letters_of.get(recipe.title, "")
            cooked = dishes_at(
                recipe,
                office.uses[recipe.key],
                office.read.pantry,
                office.session(session).setting,
                "en",
            )[number].recipe
            for step in cooked.steps:
                for view in cautions_of(step, office.texts) if step.when is None else ():
                    text = f"{view.title} {view.text}".strip()
                    assert (f"{letter}{step.number}", text) in found


@pytest.mark.parametrize("session", SESSIONS)
def test_every_swap_and_label_of_the_table_is_on_the_front(office: Office, session: int) -> None:
    """What the helper ticks is never moved to the back, and nothing of another table is there."""
    for number, each in enumerate(office.brief(session).briefs, 1):
        wanted = [swap for card in office.cards(session).cards for swap in card.swaps]
        assert [swap for swap in wanted if swap.table == number] == list(each.front.swaps)
        assert {food for food, _ in each.front.labels} == {
            food
            for _, labels in each.back.labels
            for label in labels.check
            for food in label.ingredients
        }


def test_a_front_has_five_times(office: Office) -> None:
    """Before, three at most with an adult, and the end; the blades are counted twice."""
    for session in SESSIONS:
        for each in office.brief(session).briefs:
            assert 2 <= len(each.front.day) <= 5
            first, last = each.front.day[0], each.front.day[-1]
            counted = first.text.partition("Count: ")[2].rstrip(".")
            if counted:
                assert f"count again: {counted}." in last.text


def test_dangers_come_by_rank(office: Office) -> None:
    """Raw turkey is the first; where the table has beans, nobody is warned of it."""
    turkey, _, beans = office.brief(6).briefs
    assert turkey.front.dangers[0].title == "Raw poultry"
    assert all(each.title != "Raw poultry" for each in beans.front.dangers)
    assert len(turkey.front.dangers) == 3


def test_a_table_that_makes_something_else_reads_its_own_words(office: Office) -> None:
    """Its dish, its step and its blades: a can's lid and not the turkey."""
    beans = office.brief(6).briefs[2]
    said = " ".join(texts_of(beans))
    assert "White bean kofta" in said and "Open the white beans" in said
    assert "ground turkey" not in " ".join(
        text for text in texts_of(beans.back) if not text.startswith("Read")
    )


def variants() -> Iterator[tuple[str, str, list[str]]]:
    """Classes of other shapes, and the titles of their sheets."""
    yield "tables: [1]", "helpers: 1", ["Helper 1, you are at table 1"]
    yield (
        "tables: [3]",
        "helpers: 2",
        ["Helper 1, you are at table 1", "Helper 2, you are beside the lead cook"],
    )
    yield "tables: [3, 3, 3, 3, 3]", "helpers: 1", ["Helper 1, you go round all tables"]
    yield "tables: [4, 4]", "helpers: 0", ["For a helper who comes today"]


@pytest.mark.parametrize(("tables", "helpers", "titles"), list(variants()))
def test_a_class_of_any_shape_has_its_helpers(
    tmp_path: Path, tables: str, helpers: str, titles: list[str]
) -> None:
    """One table or five, one child, two helpers at one table, none at all."""
    text = CLASS.replace("tables: [4]", tables).replace("helpers: 1", helpers)
    office = Office(write_class(tmp_path, {"class.yaml": text}))
    brief = office.brief(1)
    assert [each.front.title for each in brief.briefs] == titles
    for each in brief.briefs:
        assert any("stays at the burner" in text for _, text in told(each))
        assert any("Boiling water" in text for _, text in told(each))
        assert each.front.chart is not None and each.front.chart.rows
        assert words_on(each.front) <= MOST_WORDS


def pages_of(pdf: bytes) -> list[pypdfium2.PdfPage]:
    return list(pypdfium2.PdfDocument(pdf))


def check_printed(brief: HelperBrief, printed: Printed) -> None:
    """Two sides each, what is held of a front, and every text on the sheet."""
    pages = pages_of(printed.pdf)
    assert len(pages) == 2 * len(brief.briefs)
    shown = [
        one
        for one in (brief.briefs, brief.shorter)
        if all(
            squeezed(text) in printed.pages[2 * number] + printed.pages[2 * number + 1]
            for number, each in enumerate(one)
            for text in _printed_texts(each)
        )
    ]
    assert shown
    for page in pages:
        width, height = page.get_size()
        for letter, size, _, box in letters([page]):
            assert size >= SMALLEST - 0.01, (letter, size)
            left, bottom, right, top = box
            assert left >= EDGE and right <= width - EDGE, letter
            assert bottom >= EDGE and top <= height - EDGE, letter
    for front in pages[::2]:
        assert len(front.get_textpage().get_text_range().split()) <= MOST_WORDS


def _printed_texts(brief: Brief) -> Iterator[str]:
    """What must be read on the sheet, as whole runs of words."""
    front, back = brief.front, brief.back
    yield front.title
    for row in front.day:
        yield row.text
        for step in row.steps:
            yield step.title
            yield from step.told
    for swap in front.swaps:
        yield from swap.duties
    for danger in front.dangers:
        yield danger.text
    for skill in front.skills:
        yield skill.short
    yield from (*front.apart, *front.questions, *back.rules, *back.questions)
    for known in (*back.watch, *back.yours, *back.easier):
        yield known.title + known.text
    for note in back.skills:
        yield note.how + note.caution


@pytest.mark.slow
@pytest.mark.parametrize("session", [1, 6, 8])
def test_a_helper_has_one_sheet_of_paper(
    office: Office, built: Callable[[int, str], Printed], session: int
) -> None:
    """Front and back, large enough, far enough from the edge, and nothing is lost."""
    printed = built(session, "helper-brief-en.pdf")
    check_printed(office.brief(session), printed)
    assert failures(printed.pdf) == []


@pytest.mark.slow
def test_nothing_is_lost_where_a_sheet_is_too_small(tmp_path: Path) -> None:
    """Two dozen dangers and long words go on overleaf: nothing is cut, and nothing is smaller."""
    steps = "".join(
        f"{number}. Stir the rice {'very ' * 12}gently for the {number}th time.\n"
        f"    - time: 1 min\n    - needs: burner, pot\n    - watch: steam, danger number {number} "
        f"of a kind that nobody has met before{LONG}\n"
        f"    - adult: holds the pot with both hands during round {number}\n"
        for number in range(2, 22)
    )
    office = Office(write_class(tmp_path, {"recipes/rice.md": RICE + steps}))
    brief = office.brief(1)
    printed = office.printed("brief.html", LAYOUT.sizes, 2, brief=brief)
    whole = "".join(printed.pages)
    assert len(printed.pages) > 2
    for text in _printed_texts(brief.shorter[0]):
        assert squeezed(text) in whole
    assert min(size for _, size, _, _ in letters(pages_of(printed.pdf))) >= SMALLEST - 0.01


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
