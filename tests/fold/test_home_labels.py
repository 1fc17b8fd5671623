"""Labels to take home: their allergens, times and number are those of the plan."""

from __future__ import annotations

import datetime
import re
from collections import Counter
from dataclasses import replace
from itertools import zip_longest
from pathlib import Path

import pypdfium2
import pytest

from demo_class import demo_facts, demo_folder
from spoonfold.check import examine
from spoonfold.language.calendar import time_text
from spoonfold.language.texts import Texts, load_texts
from spoonfold.language.translated import folder_in, uses_in
from spoonfold.model.classroom import Session
from spoonfold.plan.clock.class_work import times_at
from spoonfold.plan.safety.cold import chill_by, sums
from spoonfold.plan.safety.dish import dish_with, dishes_at
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.swapped import table_swaps
from spoonfold.press.html import environment_for, rendered
from spoonfold.press.layouts import layouts_for, shipped_layouts
from spoonfold.press.pdf import printer
from spoonfold.problem import Failure
from spoonfold.sheets.home_labels import (
    Here,
    HomeLabels,
    PortionLabel,
    chilled_by,
    clock_of,
    eaten_at,
    home_labels_of,
)
from tiny_class import CLASS, RICE, write_class

ROOT = Path(__file__).resolve().parents[2]
DEMO = demo_folder()
FACTS = demo_facts()
TEXTS = Texts("en")
assert DEMO.classroom is not None
CLASSROOM = DEMO.classroom

every_session = pytest.mark.parametrize("session", CLASSROOM.sessions, ids=lambda each: each.number)


def labels(session: Session) -> HomeLabels:
    return home_labels_of(
        DEMO, CLASSROOM, session, FACTS.uses, (FACTS.flows, clock_of(FACTS.clocks, session)), TEXTS
    )


def of_dish(session: Session, key: str) -> list[PortionLabel]:
    """The labels of a dish, under whatever name its tables cook it."""
    recipe = DEMO.recipes[key]
    titles = {
        dish.recipe.title
        for dish in dishes_at(recipe, FACTS.uses[key], DEMO.pantry, session.setting, "en")
    }
    return [each for each in labels(session).labels if each.dish in titles]


@every_session
def test_one_a_child_and_one_to_spare(session: Session) -> None:
    """Each dish has a label for every child of a table, and one more."""
    for dish in session.dishes:
        counted = Counter(label.table for label in of_dish(session, dish.text))
        assert counted == {
            f"Table {number}": children + 1
            for number, children in enumerate(session.setting.tables, start=1)
        }


@every_session
def test_a_table_has_the_allergens_of_what_it_cooks(session: Session) -> None:
    """What the pantry says of each food that a table really uses, whether listed or swapped, is on
    its label, and nothing else is said to be contained."""
    for dish in session.dishes:
        recipe = DEMO.recipes[dish.text]
        swaps = table_swaps(recipe, FACTS.uses[dish.text], DEMO.pantry, session.setting)
        for label in of_dish(session, dish.text):
            own = [swap for swap in swaps if f"Table {swap.table}" == label.table]
            gone = {each.key for swap in own if not swap.if_label for each in swap.originals}
            foods = [each.name for each in recipe.ingredients if each.key not in gone]
            foods += [swap.swap.use.name for swap in own]
            items = [item for name in foods if (item := DEMO.pantry.find(name)) is not None]
            assert {each.allergen for each in label.labels.contains} == {
                allergen for item in items for allergen in item.allergens
            }
            told = {each.allergen for each in (*label.labels.contains, *label.labels.check)}
            assert {allergen for item in items for allergen in item.check_label} <= told


def test_the_table_without_milk_has_no_milk_in_its_box() -> None:
    """Where yogurt is swapped, milk is asked of the label of what replaces it, and the other
    tables' boxes say that they contain milk."""
    found = {label.table: label.labels for label in of_dish(CLASSROOM.sessions[5], "turkey-kofta")}
    assert "milk" in {each.allergen for each in found["Table 1"].contains}
    assert "milk" not in {each.allergen for each in found["Table 2"].contains}
    assert "milk" in {each.allergen for each in found["Table 2"].check}


def test_where_a_label_decides_both_foods_are_on_the_box() -> None:
    """A swap that is used only if a packet names an allergen leaves the original on the list."""
    recipe, uses = DEMO.recipes["turkey-kofta"], FACTS.uses["turkey-kofta"]
    setting = CLASSROOM.sessions[5].setting
    swap = table_swaps(recipe, uses, DEMO.pantry, setting)[0]
    sure, perhaps = (
        eaten_at(
            dish_with(
                Flow(recipe, uses, DEMO.pantry), setting, [replace(swap, if_label=found)], "en"
            )
        )
        for found in ((), swap.duties)
    )
    gone = {each.key for each in swap.originals}
    assert not gone & {each.key for each in sure.ingredients}
    assert gone <= {each.key for each in perhaps.ingredients}
    assert swap.duties and swap.swap.use in perhaps.ingredients


@every_session
def test_the_time_is_the_earliest_of_all_tables(session: Session) -> None:
    """By the session's clock: no table's portions would be in the warm for too long."""
    clock = clock_of(FACTS.clocks, session)
    assert clock is not None
    starts = datetime.datetime.combine(session.date, session.setting.starts)
    for dish in session.dishes:
        flow = FACTS.flows[dish.text]
        due = [
            chill_by(flow, session.setting, times_at(clock, dish.text, table))
            for table in range(1, len(session.setting.tables) + 1)
        ]
        known = [int(each) for each in due if each is not None]
        expected = ""
        if known:
            at = starts + datetime.timedelta(minutes=min(known) // 5 * 5)
            expected = time_text(at.time(), "en")
        assert {label.chill_by for label in of_dish(session, dish.text)} == {expected}


def test_a_queue_at_the_fire_moves_the_time() -> None:
    """The label isn't by the steps' own minutes where tables wait for each other."""
    moved = [
        session.number
        for session in CLASSROOM.sessions
        for dish in session.dishes
        if chilled_by(FACTS.flows[dish.text], session, clock_of(FACTS.clocks, session), TEXTS)
        != chilled_by(FACTS.flows[dish.text], session, None, TEXTS)
    ]
    assert moved


def test_without_a_clock_the_steps_minutes_count(tmp_path: Path) -> None:
    """A session that can't be timed still has a time on its boxes."""
    facts = examine(write_class(tmp_path, {"class.yaml": CLASS, "recipes/rice.md": RICE})).facts
    assert facts.folder.classroom is not None
    session = facts.folder.classroom.sessions[0]
    flow = facts.flows["rice"]
    due = chill_by(flow, session.setting, sums(flow, session.setting))
    assert due is not None
    at = datetime.datetime.combine(session.date, session.setting.starts)
    found = home_labels_of(
        facts.folder, facts.folder.classroom, session, facts.uses, (facts.flows, None), TEXTS
    ).labels
    assert {label.chill_by for label in found} == {
        time_text((at + datetime.timedelta(minutes=int(due) // 5 * 5)).time(), "en")
    }
    assert {label.reheat for label in found} == {"165 °F (74 °C)"}


def test_what_is_eaten_cold_says_nothing_of_heat() -> None:
    """Fruit isn't to be heated; the rice of the same day is."""
    feast = CLASSROOM.sessions[7]
    assert {label.reheat for label in of_dish(feast, "fruit-salad")} == {""}
    assert {label.reheat for label in of_dish(feast, "tomato-rice")} == {"165 °F (74 °C)"}


def test_what_was_chilled_before_class_is_eaten_cold() -> None:
    """Noodles for cold rolls were boiled and rinsed cold: nobody heats a roll."""
    assert {label.reheat for label in of_dish(CLASSROOM.sessions[0], "rice-paper-rolls")} == {""}


def test_what_was_heated_again_in_class_isnt_heated_once_more() -> None:
    """The caution of that step says “only once”; the box says the same."""
    for number, dish in ((3, "egg-fried-rice"), (4, "chickpea-stew")):
        found = of_dish(CLASSROOM.sessions[number], dish)
        assert all(label.is_heated_again and not label.reheat for label in found)
    assert not any(
        label.is_heated_again for label in of_dish(CLASSROOM.sessions[5], "turkey-kofta")
    )


def test_a_box_with_honey_says_so_for_babies() -> None:
    """It may be opened at home by someone who read no recipe; the rice of the same day has none."""
    feast = CLASSROOM.sessions[7]
    assert all(label.has_honey for label in of_dish(feast, "fruit-salad"))
    assert not any(label.has_honey for label in of_dish(feast, "tomato-rice"))


def test_fewer_labels_fill_their_page() -> None:
    """Four stand in larger type with more room to write, and still whole: the longest ones, in
    Spanish, take no more pages than there must be."""
    texts = load_texts("es", shipped_layouts())
    folder = folder_in(DEMO, "es")
    sheet = home_labels_of(
        folder,
        CLASSROOM,
        CLASSROOM.sessions[5],
        uses_in(FACTS.uses, folder.recipes),
        (FACTS.flows, clock_of(FACTS.clocks, CLASSROOM.sessions[5])),
        texts,
    )
    layouts = layouts_for(ROOT)
    press = printer(layouts)
    if isinstance(press, Failure):
        pytest.skip(press.message)
    html = rendered(environment_for(layouts, texts), "home-labels.html", sheet=sheet, size="4")
    pdf = press.print([html], layouts.find("look/paper.css"))
    assert isinstance(pdf, bytes)
    pages = list(pypdfium2.PdfDocument(pdf))
    # Five labels a table: two sheets, each with an empty back, but the last one.
    assert len(pages) == 2 * 2 * len(sheet.tables) - 1
    for page in pages[::4]:
        picture = page.render(scale=1).to_pil().convert("L")
        foot = int(picture.height * 0.94)
        ink = picture.crop((0, 0, picture.width, foot)).point(lambda tone: 255 - tone).getbbox()
        assert ink is not None and ink[3] > picture.height * 0.85


def test_no_label_has_another_on_its_back() -> None:
    """Whatever is cut out of a sheet of paper is of one table, and nothing is lost behind it."""
    session = CLASSROOM.sessions[7]
    layouts = layouts_for(ROOT)
    press = printer(layouts)
    if isinstance(press, Failure):
        pytest.skip(press.message)
    sheet = labels(session)
    html = rendered(environment_for(layouts, TEXTS), "home-labels.html", sheet=sheet, size="6")
    pdf = press.print([html], layouts.find("look/paper.css"))
    assert isinstance(pdf, bytes)
    texts = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]
    sides = [set(re.findall(r"Table \d+(?= ·)", text)) for text in texts]
    for front, back in zip_longest(sides[::2], sides[1::2], fillvalue=set[str]()):
        assert len(front) == 1 and not back


def custard(folder: Path) -> HomeLabels:
    """Cooked yolks, and whites that nothing cooks."""
    tools = "mixing bowl: 4, whisk: 2, thermometer: 1, knife: 4"
    written = CLASS.replace("knife: 4", tools).replace("minutes: 60", "minutes: 150")
    facts = examine(write_class(folder, {"class.yaml": written, "recipes/rice.md": CUSTARD})).facts
    assert facts.folder.classroom is not None
    session = facts.folder.classroom.sessions[0]
    plan = (facts.flows, clock_of(facts.clocks, session))
    return home_labels_of(facts.folder, facts.folder.classroom, session, facts.uses, plan, TEXTS)


CUSTARD = """---
title: Custard with snow
place: Lima, Peru
country: PE
serves: 4
ingredients:
  - 4 large eggs, separated
  - 2 cups whole milk
  - 1/2 cup sugar
---

Custard.

## Steps

1. Beat the [whites](#eggs "white") with half of the sugar until they are stiff.
    - time: 5 min
    - needs: mixing bowl, whisk
2. Whisk the [yolks](#eggs "yolk") with the milk and the rest of the sugar, and cook the custard
   to 160 °F, stirring.
    - time: 10 min
    - heat: 160 °F
    - needs: burner, pot, thermometer
3. Fold the snow into the custard.
    - time: 2 min
"""


def test_raw_white_isnt_cooked_with_the_custard(tmp_path: Path) -> None:
    """USDA FSIS's two hours count for it from the refrigerator at home, half an hour before the
    class; for what was cooked alone they would count from 10:30 at the earliest."""
    assert {label.chill_by for label in custard(tmp_path).labels} == {
        time_text(datetime.time(11, 30), "en")
    }


def test_nothing_is_thrown_away_while_it_is_still_in_class(tmp_path: Path) -> None:
    """The class ends at 12:30: with something that keeps cold the box is on ice by 11:30, without
    it stays there."""
    without = custard(tmp_path / "without")
    assert {label.here for label in without.labels} == {Here.EATEN}
    ends = datetime.time(11, 40)
    for session in CLASSROOM.sessions:
        for label in labels(session).labels:
            if label.chill_by:
                at = datetime.datetime.strptime(label.chill_by, "%I:%M %p").time()
                assert (label.here is Here.ON_ICE) == (at <= ends)
                assert label.here is not Here.EATEN


def test_what_was_never_hot_isnt_heated_at_home() -> None:
    """Leaves and yogurt of the kofta, whichever table made it; nothing of a soup."""
    for label in of_dish(CLASSROOM.sessions[5], "turkey-kofta"):
        assert {"cucumber", "romaine lettuce", "tomatoes"} < set(label.eaten_cold)
        assert any("yogurt" in food for food in label.eaten_cold)
        assert not {"ground turkey", "white beans", "onion"} & set(label.eaten_cold)
    assert {label.eaten_cold for label in of_dish(CLASSROOM.sessions[1], "red-lentil-soup")} == {()}


def test_a_box_lists_what_its_table_put_in() -> None:
    """White beans at the table without meat, turkey at the others."""
    for label in of_dish(CLASSROOM.sessions[5], "turkey-kofta"):
        assert ("white beans" in label.foods) == (label.table == "Table 3")
        assert ("ground turkey" in label.foods) == (label.table != "Table 3")


def test_no_label_names_anything_but_a_table() -> None:
    """A need is of a child; the box says the table and the food."""
    for session in CLASSROOM.sessions:
        assert all(label.table.startswith("Table ") for label in labels(session).labels)
        assert not any("need" in repr(label).lower() for label in labels(session).labels)
