"""What a small shop has instead, as a sheet says it."""

from __future__ import annotations

from dataclasses import dataclass

from spoonfold.language.amounts import amounts_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Pantry
from spoonfold.plan.safety.avoid import Match
from spoonfold.plan.shop.corner import Other, State, others_of
from spoonfold.plan.shop.shop import Line
from spoonfold.sheets.shopping_words import (
    avoided_words,
    bought_text,
    brands_text,
    findings_text,
    label_text,
    loosely_one,
    weight_text,
)


@dataclass(frozen=True, slots=True)
class CornerRow:
    """What a small shop has instead."""

    instead_of: str
    name: str
    buy: str
    notes: tuple[str, ...]


def corner_rows(line: Line, pantry: Pantry, setting: Setting, texts: Texts) -> list[CornerRow]:
    """Everything that will do instead of a line, with what to know of it."""
    rows = []
    for other in others_of(line, pantry, avoided_words(setting)):
        notes = []
        if other.state is State.DRIED and other.item.group == "beans peas lentils":
            notes.append(texts.say("soak and boil the day before"))
        if other.cooked_only:
            notes.append(texts.say("only where it is cooked"))
        wrong = tuple(
            each for each in other.findings if each.match in (Match.CERTAIN, Match.UNKNOWN)
        )
        if wrong:
            notes.append(
                texts.say("not for everyone: {what}", what=findings_text(wrong, setting, texts))
            )
        label = label_text(other.item, other.findings, setting, texts)
        if label:
            notes.append(texts.say("its label must not name {what}", what=label))
        brands = brands_text(other.item, other.findings, texts)
        if brands:
            notes.append(texts.say("some brands contain {what}", what=brands))
        rows.append(
            CornerRow(line.name, other.item.plural, other_amount(other, texts), tuple(notes))
        )
    return rows


def other_amount(other: Other, texts: Texts) -> str:
    """How much of it, as it is sold."""
    if other.amount is None:
        return texts.say("as much as makes the same amount ready to eat")
    if other.amount.unit.name != "g":
        return amounts_text(loosely_one(other.amount), texts)
    weight = weight_text(other.amount.low, texts)
    if other.drained:
        weight = texts.say("{weight} drained", weight=weight)
    if other.purchase is None or not other.purchase.packages:
        return weight
    return f"{bought_text(other.purchase, texts)}: {weight}"
