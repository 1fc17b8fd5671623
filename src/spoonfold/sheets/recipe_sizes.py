"""The sizes that a recipe is shown at, and what to know about each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.language.amounts import number_text, off_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Setting
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.eaters import eaters_at_tables, portions_at_tables
from spoonfold.plan.amounts.scale import PanNeed, batches_for, pan_for


@dataclass(frozen=True, slots=True)
class Column:
    """One size of the recipe."""

    key: str
    label: str
    factor: str
    """The conversion factor as a fraction: `× 1½`."""


def home_columns(recipe: Recipe, people: Sequence[int], texts: Texts) -> tuple[Column, ...]:
    """For so many people each."""
    return tuple(_home_column(recipe.serves, each, texts) for each in people)


def _home_column(serves: Fraction, people: int, texts: Texts) -> Column:
    return Column(
        str(people),
        texts.count("1 person", "{number} people", people),
        _factor(people / serves, texts),
    )


def table_portions(setting: Setting) -> tuple[Fraction, ...]:
    """What each table makes, tables at which nobody eats left out."""
    return tuple(each for each in portions_at_tables(setting) if each)


def class_columns(recipe: Recipe, setting: Setting, texts: Texts) -> tuple[Column, ...]:
    """One column for tables that are alike, then the whole class."""
    eaters = [each for each in eaters_at_tables(setting) if each]
    alike = dict(zip(table_portions(setting), eaters, strict=True))
    columns = [
        Column(
            f"table-{index}",
            texts.count("A table of 1", "A table of {number}", count),
            _factor(portions / recipe.serves, texts),
        )
        for index, (portions, count) in enumerate(alike.items(), start=1)
    ]
    whole = sum(table_portions(setting), Fraction(0)) / recipe.serves
    return (
        *columns,
        Column(
            "class",
            texts.count("The class, 1", "The class, {number}", sum(eaters)),
            _factor(whole, texts),
        ),
    )


def _factor(factor: Fraction, texts: Texts) -> str:
    return f"× {number_text(factor, texts)}"


def size_notes(recipe: Recipe, people: int, texts: Texts) -> tuple[str, ...]:
    """Batches and pans for so many people."""
    notes = []
    factor = people / recipe.serves
    label = texts.count("For 1 person", "For {number} people", people)
    batches = batches_for(factor)
    if batches > 1:
        notes.append(
            texts.say("{label}: cook it in {batches} batches.", label=label, batches=batches)
        )
    if recipe.pan is not None and factor != 1:
        notes.append(f"{label}: {_pan(pan_for(recipe.pan, factor), texts)}")
    return tuple(notes)


def _pan(need: PanNeed, texts: Texts) -> str:
    off = off_text(need.off, texts)
    pan = need.pan.text if need.count == 1 else f"{need.count} × {need.pan.text}"
    text = texts.say(
        "the pan needs {area} square inches, such as {pan}", area=round(need.area), pan=pan
    )
    return f"{text} ({off})." if off else f"{text}."
