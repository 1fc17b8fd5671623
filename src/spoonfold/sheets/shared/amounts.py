"""Measured amounts as they stand on a sheet: a text, the scoops, and what to know about both."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from spoonfold.knowledge.names import fold
from spoonfold.language.amounts import (
    amount_text,
    amounts_text,
    joint_of,
    off_text,
    size_comes_first,
)
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Item
from spoonfold.model.recipe import Ingredient
from spoonfold.model.translation import Foreign
from spoonfold.plan.amounts.convert import CUP, TBSP, TSP
from spoonfold.plan.amounts.scale import ScaledLine, ScaledUse
from spoonfold.plan.amounts.scoop import Tool, ToolKind
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.show import show_number
from spoonfold.quantity.unit import PIECE, Unit, size_in


@dataclass(frozen=True, slots=True)
class ScoopMark:
    """One size of scoop and how many of it to count out."""

    kind: ToolKind
    """What the tool looks like."""
    label: str
    """The size as it is engraved on the tool, in the reader's language: “⅓ cup”."""
    tsp: Fraction
    """What the whole tool holds, in US teaspoons."""
    count: int
    """How many level scoops; at least 1."""
    part: Fraction = Fraction(1)
    """So far it is filled."""


@dataclass(frozen=True, slots=True)
class AmountView:
    """An amount on a sheet."""

    text: str
    """`1½ cups`; empty where it is taken as needed."""
    scoops: tuple[ScoopMark, ...] = ()
    words: str = ""
    """The scoops in words, for who can't see them drawn."""
    notes: tuple[str, ...] = ()
    joint: str = ""
    """What stands between it and the name of the food: `de` in Spanish; mostly empty."""
    metric: str = ""
    """The amount in metric measures; empty where it is measured the same way."""
    metric_notes: tuple[str, ...] = ()
    """What to know where it is measured so: the scoops' rounding is no matter there."""


def line_view(line: ScaledLine | None, texts: Texts, metric: Amount | None = None) -> AmountView:
    """An ingredient line's amount, with how to make it and how far off it is; `metric` is the same
    for who measures so."""
    if line is None:
        return AmountView("")
    notes = []
    beaten = sum((each.measured.beaten or 0 for each in line.uses if each.measured), 0)
    if beaten:
        notes.append(
            texts.count(
                "beat 1 and measure this much", "beat {number} and measure this much", beaten
            )
        )
    off = off_text(line.off, texts)
    if off:
        notes.append(off)
    if line.taste_first:
        notes.append(texts.say("start with three quarters, then taste"))
    view = _view(line.amounts, _all_scoops(line), tuple(notes), texts, metric)
    kept = tuple(note for note in notes if note != off)
    return replace(view, metric_notes=kept) if kept else view


def _all_scoops(line: ScaledLine) -> tuple[tuple[Tool, int], ...]:
    """Every scoop that the steps take, together; none where a step takes it otherwise."""
    counts: dict[Tool, int] = {}
    for use in line.uses:
        if use.measured is None or use.measured.scoops is None:
            return ()
        for tool, count in use.measured.scoops.counts:
            counts[tool] = counts.get(tool, 0) + count
    return tuple(sorted(counts.items(), key=lambda pair: -pair[0].tsp))


def use_view(use: ScaledUse, texts: Texts, metric: Amount | None = None) -> AmountView:
    """What one step takes of an ingredient; `metric` is the same for who measures so."""
    if use.measured is None:
        return AmountView("")
    measured = use.measured
    if use.use.piece:
        # A piece is asked of whole ones: the juice of ½.
        text = texts.say(
            "{piece} of {amount}",
            piece=texts.say(use.use.piece),
            amount=amounts_text(measured.shown, texts),
        )
        return AmountView(text)
    counts = measured.scoops.counts if measured.scoops else ()
    return _view(measured.shown, counts, (), texts, metric)


@lru_cache(maxsize=1 << 12)
def _view(
    amounts: tuple[Amount, ...],
    scoops: tuple[tuple[Tool, int], ...],
    notes: tuple[str, ...],
    texts: Texts,
    metric: Amount | None,
) -> AmountView:
    marks = tuple(
        ScoopMark(tool.kind, _label(tool, texts), tool.tsp / tool.part, count, tool.part)
        for tool, count in scoops
    )
    sized = size_comes_first(texts)
    text = amounts_text(amounts, texts, sized)
    in_metric = "" if metric is None else amount_text(metric, texts, sized)
    words = text
    if marks:
        counted = ", ".join(f"{mark.count} × {mark.label}" for mark in marks)
        words = texts.say("{amount}: level scoops, {counted}", amount=text, counted=counted)
    return AmountView(
        text,
        marks,
        words,
        notes,
        joint_of(amounts, texts),
        metric="" if in_metric == text else in_metric,
    )


def in_scoops(view: AmountView) -> tuple[str, ...]:
    """The scoops in words, where the amount alone doesn't say which they are."""
    parts = [mark for mark in view.scoops if mark.tsp != _WHOLE.get(mark.kind)]
    if not parts or (len(parts) == 1 and parts[0].count == 1 and parts[0].kind in _WHOLE):
        # Whole cups or spoons, and what is left of one: 1½ cups are drawn as 1 and ½.
        return ()
    said = " + ".join(
        mark.label if mark.count == 1 else f"{mark.count} × {mark.label}" for mark in view.scoops
    )
    return () if said == view.text else (said,)


def jug_text(size: Amount, texts: Texts) -> str:
    """What a jug is called: `2-cup jug`, `1 l jug`."""
    if size.unit == CUP:
        return texts.say("{cups}-cup jug", cups=show_number(size.low))
    return texts.say("{size} jug", size=amount_text(size, texts))


def disher_text(number: int, texts: Texts) -> str:
    """What a spring scoop is called, by the number on it."""
    return texts.say("No. {number} scoop", number=number)


def _label(tool: Tool, texts: Texts) -> str:
    """What is engraved on the tool."""
    size = tool.size
    if size is None or (tool.kind in _ENGRAVED and size.unit == _ENGRAVED[tool.kind]):
        unit = _ENGRAVED[tool.kind]
        return f"{show_number(tool.tsp * size_in(TSP, unit))} {texts.say(tool.kind)}"
    match tool.kind:
        case "jug":
            jug = jug_text(size, texts)
            return jug if tool.part == 1 else texts.say("half of the {jug}", jug=jug)
        case "disher":
            return disher_text(int(4 / size.to(CUP).low), texts)
        case "ladle":
            return texts.say("{size} ladle", size=amount_text(size, texts))
        case _:
            return amount_text(size, texts)


_WHOLE = {"cup": 48, "tbsp": 3, "tsp": 1}
"""Teaspoons in one, by the kind of tool."""
_ENGRAVED: Mapping[ToolKind, Unit] = {"cup": CUP, "tbsp": TBSP, "tsp": TSP}


def ingredient_name(
    ingredient: Ingredient, amounts: Sequence[Amount], item: Item | None, texts: Texts
) -> str:
    """The name as a reader sees it, singular or plural as the amount asks: `½ onion`,
    `3 onions`. Where a language says how large it is after the name, that too."""
    name = _counted(ingredient, amounts, item)
    sizes = dict.fromkeys(each.size for each in amounts if each.size)
    if len(sizes) != 1 or size_comes_first(texts):
        return name
    sized = texts.say("{size} {name}", size=texts.say(next(iter(sizes))), name=name)
    return name.changed(sized) if isinstance(name, Foreign) else sized


def _counted(ingredient: Ingredient, amounts: Sequence[Amount], item: Item | None) -> str:
    name = ingredient.said
    if item is None or len(amounts) != 1 or amounts[0].unit != PIECE:
        return name
    many = (amounts[0].high or amounts[0].low) > 1
    wording = ingredient.wording
    if wording is not None:
        # How adjectives follow a noun differs by language: a name of several words stays.
        one, several = (item.called(wording.language, each) for each in (False, True))
        known = {fold(each) for each in (one, several) if each}
        return (several if many else one) or name if fold(name) in known else name
    wanted, other = (item.plural, item.name) if many else (item.name, item.plural)
    if fold(name).endswith(fold(wanted)):
        return name
    if fold(name).endswith(fold(other)) and len(name) >= len(other):
        return name[: len(name) - len(other)] + wanted
    return name
