"""A day with guests, and a day on which a table stays empty, on every sheet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from session_sheets import Office

from spoonfold.language.texts import load_texts
from spoonfold.model.classroom import Session
from spoonfold.plan.clock.class_work import Timed, timed
from spoonfold.plan.people.jobs import jobs_of
from spoonfold.plan.shop.left import trips_of
from spoonfold.press.layouts import shipped_layouts
from spoonfold.sheets.brief.chart import table_rows_of
from spoonfold.sheets.brief.posts import posts_of
from spoonfold.sheets.home_labels import home_labels_of
from spoonfold.sheets.jobs import job_chart
from spoonfold.sheets.lesson_card.clock import names_of
from spoonfold.sheets.lesson_card.day import roles_of, set_up_of
from spoonfold.sheets.prep import prep_of
from spoonfold.sheets.shopping import shopping_of
from spoonfold.sheets.table_cards import people_text, table_cards_of

Bent = Callable[..., Session]


@pytest.fixture
def bent(office: Office) -> Bent:
    """The sixth session of the demo class, with something changed."""
    session = office.session(6)
    return lambda **changes: replace(session, setting=replace(session.setting, **changes))


def list_of(office: Office, session: Session) -> dict[str, str]:
    (trip,) = trips_of([session], office.read.recipes, office.uses, office.read.pantry)
    sheet = shopping_of(office.read, office.classroom, trip, office.texts)
    found = {"": sheet.for_whom}
    for row in (row for section in sheet.sections for row in section.rows):
        found[row.name] = f"{found.get(row.name, '')} {row.need}"
    return found


def test_guests_are_bought_for_plated_for_and_seated(office: Office, bent: Bent) -> None:
    """Twelve guests beside fifteen who eat: 27 portions. The recipe has 1 cup of yogurt for four,
    so table 1 has 9/4 cups instead of 5/4; 16 plates with the lead cook's become 28."""
    session = bent(guests=12)
    assert list_of(office, session)[""] == "12 children and 3 helpers, and 12 guests"
    card = office.cards_of(session).cards[0]
    assert card.people == "For A, B, C, D and your helper, with 4 guests"
    uses = [use for entry in card.entries for use in getattr(entry, "uses", ())]
    assert "2¼ cups" in {use.amount.text for use in uses if use.name == "plain yogurt"}
    prep = prep_of(office.read, office.classroom, session, office.uses, office.texts)
    rows = {row.name: row.count for one in prep.packing.lists for row in one.rows}
    assert rows["plate or bowl, fork, cup"] == 12 + 3 + 1 + 12
    assert rows["tasting spoon"] == 2 * (12 + 3 + 1)
    each = timed(office.read, session, office.uses)
    assert isinstance(each, Timed)
    told = set_up_of(office.read, each, office.uses, names_of(each, office.texts))
    assert any("12 guests (table 1: 4, table 2: 4, table 3: 4)" in line for line in told)


def test_a_table_at_which_nobody_sits_cooks_nothing(office: Office, bent: Bent) -> None:
    """No card, no shopping, no swap, no tool, no job, no label, and no row on a chart."""
    session = bent(tables=(4, 0, 4))
    sessions = [session if each.number == 6 else each for each in office.classroom.sessions]
    classroom = replace(office.classroom, sessions=tuple(sessions))
    jobs = jobs_of(classroom, office.read.recipes)
    texts, read, uses = office.texts, office.read, office.uses
    cards = table_cards_of(read, classroom, uses, session, jobs, texts)
    assert {card.where for card in cards.cards} == {"Table 1", "Table 3"}
    chart = job_chart(read, classroom, session, uses, jobs, texts)
    assert [table.label for table in chart.tables] == ["Table 1", "Table 3"]
    # The coconut yogurt of table 2 isn't bought for sure; that of table 3 hangs on a label.
    usual, now = (list_of(office, each) for each in (office.session(6), session))
    assert "table 2" in usual["coconut yogurt"] and "table 2" not in now["coconut yogurt"]
    prep = prep_of(read, classroom, session, uses, texts)
    full = prep_of(read, classroom, office.session(6), uses, texts)
    assert not any(swap.table == 2 for swap in prep.swaps)
    knives = [
        next(row.count for row in one.packing.sharp if row.name == "knife") for one in (prep, full)
    ]
    assert knives[0] < knives[1]
    each = timed(read, session, uses)
    assert isinstance(each, Timed)
    names = names_of(each, texts)
    assert all(placed.task.table != 2 for placed in each.clock.placed)
    assert all(turn.table != 2 for turn in each.clock.washing.turns)
    assert "Table 2" not in {row.label for row in table_rows_of(each, (1, 2, 3), names).rows}
    assert "Table 2" not in {role.where for role in roles_of(each, names)}
    flows = office.context.examined.facts.flows
    labels = home_labels_of(read, classroom, session, uses, (flows, each), texts)
    assert {label.table for label in labels.labels} == {"Table 1", "Table 3"}
    assert [post.tables for post in posts_of(session.setting)] == [(1,), (3,), (1, 3)]


def test_one_is_one_in_both_languages(office: Office, bent: Bent) -> None:
    """A child alone, a helper, a guest."""
    session = bent(tables=(1,), helpers=1, guests=1)
    assert list_of(office, session)[""] == "1 child and 1 helper, and 1 guest"
    assert people_text(["A"], 1, 1, office.texts) == "For A and your helper, with a guest"
    spanish = load_texts("es", shipped_layouts())
    assert people_text(["A"], 1, 1, spanish) == "Para A y su ayudante, con una visita"
    assert spanish.count("{number} child", "{number} children", 1) == "1 niño o niña"
