"""One truth on every sheet: what each table cooks is what is packed, bought and labelled."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from fractions import Fraction

import pytest
from session_sheets import Office

from spoonfold.model.classroom import Session
from spoonfold.plan.safety.dish import Dish, dishes_at
from spoonfold.sheets.prep import prep_of

SESSIONS = range(1, 9)


def dishes(office: Office, session: Session) -> Iterator[tuple[int, Dish]]:
    """What each table cooks, with the table's number."""
    for term in session.dishes:
        recipe = office.read.recipes[term.text]
        made = dishes_at(recipe, office.uses[recipe.key], office.read.pantry, session.setting, "en")
        yield from enumerate(made, start=1)


@pytest.mark.parametrize("number", SESSIONS)
def test_every_tool_of_every_step_is_packed(office: Office, number: int) -> None:
    """No table looks for a tool that nobody brought, also where it cooks something else."""
    session = office.session(number)
    prep = prep_of(office.read, office.classroom, session, office.uses, office.texts)
    rows = (*prep.packing.sharp, *(row for one in prep.packing.lists for row in one.rows))
    packed = {row.name.casefold() for row in rows}
    wanted = {
        need.name.casefold()
        for _, dish in dishes(office, session)
        for step in dish.recipe.steps
        if step.when != "day before"
        for need in step.needs
    }
    assert wanted and wanted <= packed, wanted - packed


@pytest.mark.parametrize("number", SESSIONS)
def test_every_line_of_a_tables_dish_is_used_up(office: Office, number: int) -> None:
    """A swap is used up by the steps as what it replaces was: nothing is left in the bowl."""
    for _, dish in dishes(office, office.session(number)):
        taken: dict[str, Fraction] = defaultdict(Fraction)
        pieces: set[str] = set()
        for uses in dish.uses.by_step.values():
            for use in uses:
                taken[use.ingredient.key] += use.share or 0
                if use.piece is not None:
                    pieces.add(use.ingredient.key)
        for line in dish.recipe.ingredients:
            if line.amount is not None and line.key not in pieces:
                assert taken[line.key] == 1, (dish.recipe.title, line.name)
