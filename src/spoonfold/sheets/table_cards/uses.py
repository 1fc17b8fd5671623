"""What goes in at a step of one table: its own amounts, its swaps, each child's share."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from spoonfold.language.amounts import amount_text, number_text, off_text
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Ingredient, Step
from spoonfold.plan.amounts.measure import Measured, Way
from spoonfold.plan.amounts.scale import Scaled, ScaledUse
from spoonfold.plan.amounts.share import Share, share_of
from spoonfold.plan.people.jobs import Kind, kind_of
from spoonfold.plan.safety.swapped import TableSwap
from spoonfold.quantity.unit import PIECE
from spoonfold.sheets.shared.amounts import AmountView, ingredient_name, use_view
from spoonfold.sheets.shared.swaps import TableSwapView


@dataclass(frozen=True, slots=True)
class Instead:
    """A table's swaps as they are read: what replaces a food, and what may have to."""

    of: Mapping[str, str]
    """What a line of the table's own stands for, by its key."""
    perhaps: Sequence[tuple[TableSwap, TableSwapView]] = ()
    """Only if a label says so."""


@dataclass(frozen=True, slots=True)
class CardUse:
    """What goes in at a step."""

    key: str
    name: str
    amount: AmountView
    instead: str
    """`instead of plain yogurt`, where the table cooks with something else."""
    each: str
    """`each cuts ¼ onion`; empty where it can't be said simply."""
    note: str
    """How to come by the amount: `beat 3 and measure this much`; mostly empty."""
    is_either: bool = False
    """One of two of which a label decides: the helper ticks the box of the one that is used."""


def uses_at(
    step: Step, whole: Scaled, instead: Instead, pantry: Pantry, texts: Texts, children: int = 0
) -> tuple[CardUse, ...]:
    """What goes in at a step; `instead` says what of it stands for something else."""
    found: dict[str, CardUse] = {}
    for use in whole.by_step.get(step.number, ()):
        ingredient = use.use.ingredient
        line = whole.line(ingredient)
        tasted = line is not None and line.taste_first
        said = instead.of.get(ingredient.key)
        own = _own_use(
            use,
            step,
            "" if said is None else texts.say("instead of {ingredient}", ingredient=said),
            tasted,
            pantry,
            texts,
            children,
        )
        is_either = any(ingredient in swap.originals for swap, _ in instead.perhaps)
        found[f"{ingredient.key}-{len(found)}"] = replace(own, is_either=is_either)
        for swap, view in instead.perhaps:
            if ingredient in swap.originals:
                found.setdefault(f"swap-{view.name}", _perhaps(swap, view, step, texts))
    return tuple(found.values())


def _own_use(
    use: ScaledUse,
    step: Step,
    instead: str,
    tasted: bool,
    pantry: Pantry,
    texts: Texts,
    children: int,
) -> CardUse:
    ingredient = use.use.ingredient
    item = pantry.find(ingredient.name)
    shown = use.measured.shown if use.measured else ()
    name = ingredient_name(ingredient, shown, item, texts)
    if ingredient.as_needed:
        name = f"{name}, {ingredient.said_preparation}"
    share = share_of(use.measured, item, children) if use.measured else None
    each = "" if share is None else _each(share, ingredient, item, kind_of(step), texts)
    return CardUse(
        ingredient.key,
        name,
        use_view(use, texts),
        instead,
        each,
        "; ".join(_notes(use, tasted, texts)),
    )


def _notes(use: ScaledUse, tasted: bool, texts: Texts) -> Iterator[str]:
    yield from _beaten(use.measured, texts)
    # One clove more or less is no matter of measuring.
    if use.measured is not None and use.measured.way is not Way.COUNT:
        off = off_text(use.measured.off, texts)
        if off:
            yield off
    if use.measured is not None and use.measured.of_all is not None:
        yield texts.say(
            "your table's share of {number}", number=number_text(use.measured.of_all, texts)
        )
    if tasted:
        yield texts.say("start with three quarters, then taste")


def _beaten(measured: Measured | None, texts: Texts) -> Iterator[str]:
    if measured is not None and measured.beaten:
        yield texts.count(
            "beat 1 and measure this much", "beat {number} and measure this much", measured.beaten
        )


def _each(share: Share, ingredient: Ingredient, item: Item | None, kind: Kind, texts: Texts) -> str:
    # Large or medium has been said of the whole.
    plain_each = replace(share.each, size=None)
    own = amount_text(plain_each, texts)
    if plain_each.unit == PIECE:
        own = f"{own} {ingredient_name(ingredient, (plain_each,), item, texts)}"
    each = (
        texts.say("each cuts {share}", share=own)
        if kind is Kind.KNIFE
        else texts.say("each takes {share}", share=own)
    )
    if share.more is None or not share.more_for:
        return each
    more = amount_text(replace(share.more, size=None), texts)
    return texts.count(
        "{each}, one of you {more} more",
        "{each}, {number} of you {more} more",
        share.more_for,
        each=each,
        more=more,
    )


def _perhaps(swap: TableSwap, view: TableSwapView, step: Step, texts: Texts) -> CardUse:
    """Usually it stays in the cupboard."""
    amount = next((each.amount for each in view.steps if each.step == step.number), AmountView(""))
    beaten = "".join(_beaten(swap.by_step.get(step.number), texts))
    return CardUse(
        f"swap-{view.name}",
        view.name,
        AmountView(amount.text),
        texts.say("only if the label says so"),
        "",
        beaten,
        is_either=True,
    )
