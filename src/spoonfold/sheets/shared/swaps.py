"""Swaps as a table reads them: what to use, how much of it, and how to keep it apart.

A sheet names the table and the food, never a child and never a reason: everyone there cooks
the same.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Session
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.measure import Measured
from spoonfold.plan.amounts.scale import ScaledUse
from spoonfold.plan.amounts.uses import Use, Uses
from spoonfold.plan.safety.avoid import Finding, Match
from spoonfold.plan.safety.dish import Part, parts_of
from spoonfold.plan.safety.swapped import TableSwap, table_swaps
from spoonfold.sheets.shared.amounts import AmountView, ingredient_name, line_view, use_view
from spoonfold.sheets.shared.labels import ON_LABELS


@dataclass(frozen=True, slots=True)
class StepSwap:
    """How much of a replacement one step takes."""

    step: int
    amount: AmountView


@dataclass(frozen=True, slots=True)
class TableSwapView:
    """One swap at one table. For the adults in the room: it belongs into `class/` alone."""

    table: int
    where: str
    """`At table 2`."""
    dish: str
    instead_of: str
    name: str
    amount: AmountView
    preparation: str
    steps: tuple[StepSwap, ...]
    duties: tuple[str, ...]
    """Labels to read, whom to ask, what to make apart."""
    is_taste: bool
    """The original is only not liked there."""
    is_missing: bool
    """The original isn't there on that day."""


def session_swaps(
    session: Session,
    recipes: Mapping[str, Recipe],
    uses: Mapping[str, Uses],
    pantry: Pantry,
    texts: Texts,
) -> tuple[TableSwapView, ...]:
    """Every swap of a session, by table and dish."""
    found = []
    for index, dish in enumerate(session.dishes):
        if dish.text not in recipes:
            continue
        recipe, own = recipes[dish.text], uses[dish.text]
        swaps = table_swaps(recipe, own, pantry, session.setting)
        if not swaps:
            continue
        parts = parts_of(recipe, own, pantry, session.setting, texts.language)
        pot = [
            swap.swap for each in parts if not each.table for swap in each.dish.instead_of.values()
        ]
        for swap in swaps:
            part = next((each for each in parts if each.table == swap.table), None)
            view = _view(swap, swap.swap in pot, recipe, pantry, texts)
            found.append((swap.table, index, _as_cooked(view, swap, part, texts)))
    found.sort(key=lambda each: each[:2])
    return tuple(view for _, _, view in found)


def _as_cooked(
    view: TableSwapView, swap: TableSwap, part: Part | None, texts: Texts
) -> TableSwapView:
    """With the amounts that the table's own card has."""
    own = {key for key, each in part.dish.instead_of.items() if each == swap} if part else set()
    if part is None or not own:
        # It hangs on a label, or nobody eats there.
        return view
    lines = [line for line in part.scaled.lines if line.ingredient.key in own]
    steps = {
        number: use
        for number, uses in sorted(part.scaled.by_step.items())
        for use in uses
        if use.use.ingredient.key in own
    }
    return replace(
        view,
        amount=replace(line_view(lines[0], texts), notes=(), metric_notes=())
        if len(lines) == 1
        else view.amount,
        steps=tuple(StepSwap(number, use_view(use, texts)) for number, use in steps.items())
        if len(lines) == 1 and view.steps
        else view.steps,
    )


def guarded(swaps: Sequence[TableSwapView]) -> tuple[TableSwapView, ...]:
    """The swaps that are kept apart from what they replace: not those for taste."""
    return tuple(swap for swap in swaps if not swap.is_taste)


def contact_rules(texts: Texts) -> tuple[str, ...]:
    """What keeps an allergen from moving: beside every swap (FDA on cross-contact, from memory;
    FoodSafety.gov for the twenty seconds of washing)."""
    return (
        texts.say("Read the label of every packet, every time. The family's own word decides."),
        texts.say(
            "Wash hands for 20 seconds, and board, tools and table, with soap and water. "
            "Sanitiser doesn't take allergens away, and cooking doesn't either."
        ),
        texts.say(
            "Make this first, before any packet of the other food is opened, on a clean "
            "board with clean tools."
        ),
        texts.say(
            "It has its own bowl, pan and spoon, and its own cloth. Nothing moves between "
            "the tables, not even to taste."
        ),
        texts.say("Fresh oil, fresh water: nothing that the other food was cooked in."),
        texts.say("If anything moved, it isn't served: make it again."),
    )


def _view(
    swap: TableSwap, for_all: bool, recipe: Recipe, pantry: Pantry, texts: Texts
) -> TableSwapView:
    use = swap.swap.use
    shown = swap.amount.shown if swap.amount else ()
    return TableSwapView(
        table=swap.table,
        where=texts.say("At table {number}", number=swap.table),
        dish=recipe.title,
        instead_of=swap.originals[0].said,
        name=ingredient_name(use, shown, pantry.find(use.name), texts),
        amount=_amount(swap, 0, swap.amount, texts),
        preparation=use.said_preparation,
        steps=tuple(
            StepSwap(number, _amount(swap, number, measured, texts))
            for number, measured in sorted(swap.by_step.items())
        ),
        duties=_duties(swap, for_all, texts),
        is_taste=swap.is_taste,
        is_missing=swap.is_missing,
    )


def _amount(swap: TableSwap, step: int, measured: Measured | None, texts: Texts) -> AmountView:
    use = swap.swap.use
    whole = Use(use, step, Fraction(1) if measured else None, None, use.place)
    return use_view(ScaledUse(whole, measured), texts)


def _duties(swap: TableSwap, for_all: bool, texts: Texts) -> tuple[str, ...]:
    name, original = swap.swap.use.said, swap.originals[0].said
    said = []
    if swap.is_missing:
        said.append(texts.say("There is no {original} on this day.", original=original))
    elif swap.is_taste:
        said.append(
            texts.say(
                "A matter of taste: somebody there doesn't like {original}. It is no allergy.",
                original=original,
            )
        )
    if swap.if_label:
        said.append(
            texts.say(
                "Only if the label of {original} names {what}.",
                original=original,
                what=_words(swap.if_label, (Match.LABEL, Match.ASK), texts),
            )
        )
    labels = _words(swap.duties, (Match.LABEL,), texts)
    if labels:
        said.append(
            texts.say(
                "Read the label of {name} each time: it must not name {what}.",
                name=name,
                what=labels,
            )
        )
    asked = _words(swap.duties, (Match.ASK,), texts)
    if asked:
        said.append(
            texts.say("Ask the family whether {name} counts as {what}.", name=name, what=asked)
        )
    if swap.shared and not for_all and not swap.is_missing:
        said.append(
            texts.say("The others get theirs out of one pot. Make this table's apart.")
            if swap.is_taste
            else texts.say("The others get theirs out of one pot. Make this table's apart, first.")
        )
    return tuple(said)


def _words(findings: Sequence[Finding], matches: tuple[Match, ...], texts: Texts) -> str:
    return ", ".join(
        dict.fromkeys(
            texts.say(ON_LABELS.get(each.avoided, each.avoided))
            for each in findings
            if each.match in matches
        )
    )
