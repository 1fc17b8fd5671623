"""The steps of a recipe as every sheet shows them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from spoonfold.language.amounts import minutes_text, temperature_text
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Inline
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.amounts.scale import ScaledUse
from spoonfold.plan.amounts.sizes import Listed
from spoonfold.plan.amounts.uses import Use, Uses
from spoonfold.sheets.amounts import AmountView
from spoonfold.sheets.at_size import at_any_size, at_size
from spoonfold.sheets.cautions import CautionView, cautions_of, sentence
from spoonfold.sheets.recipe_lines import Cells, UseCells


@dataclass(frozen=True, slots=True)
class Fact:
    """A short fact with an icon's name."""

    icon: str
    text: str


@dataclass(frozen=True, slots=True)
class UseView:
    """An ingredient in a step, with its amount for every size."""

    names: tuple[str, ...]
    sizes: tuple[AmountView, ...]


@dataclass(frozen=True, slots=True)
class StepView:
    """One step."""

    number: int
    group: str | None
    """Set on the first step of a group."""
    text: tuple[Inline, ...]
    uses: tuple[UseView, ...]
    facts: tuple[Fact, ...]
    cautions: tuple[CautionView, ...]
    wash: str
    easier: str


@dataclass(frozen=True, slots=True)
class SizedUse:
    """What a step takes of an ingredient, at every size."""

    use: Use
    names: tuple[str, ...]
    cells: UseCells


def sized_uses(
    uses: Uses, listed: Mapping[str, Listed], cells: Mapping[str, Cells], texts: Texts
) -> Mapping[int, tuple[SizedUse, ...]]:
    """By step, with the lines that they are part of by their ingredients' keys."""
    left = {key: iter(each.uses) for key, each in cells.items()}

    def sized(use: Use) -> SizedUse:
        key = use.ingredient.key
        own = next(left[key])
        return SizedUse(use, own.counts.names(use.ingredient, listed[key].item, texts), own)

    return {number: tuple(map(sized, found)) for number, found in uses.by_step.items()}


def steps_view(
    recipe: Recipe,
    instructions: Sequence[tuple[Inline, ...]],
    uses: Mapping[int, Sequence[SizedUse]],
    pantry: Pantry,
    at_home: bool,
    texts: Texts,
) -> tuple[StepView, ...]:
    """Every step, with what it takes at each size; `instructions` are the steps' words with the
    taught words marked."""
    views = []
    group = None
    for step, instruction in zip(recipe.steps, instructions, strict=True):
        own = uses.get(step.number, ())
        views.append(
            StepView(
                number=step.number,
                group=step.group if step.group != group else None,
                text=_said(instruction, own, pantry, texts),
                uses=tuple(UseView(each.names, each.cells.sizes) for each in own),
                facts=_step_facts(step, at_home, texts),
                cautions=cautions_of(step, texts),
                wash=", ".join(texts.say(term.text) for term in step.wash),
                easier=sentence(step.easier or ""),
            )
        )
        group = step.group
    return tuple(views)


def _said(
    instruction: tuple[Inline, ...], uses: Sequence[SizedUse], pantry: Pantry, texts: Texts
) -> tuple[Inline, ...]:
    """The words of a step with its amounts, or without where a sheet shows several sizes."""
    first = [ScaledUse(each.use, each.cells.measured[0]) for each in uses]
    if any(len(each.cells.measured) > 1 for each in uses):
        return at_any_size(instruction, first)
    return at_size(instruction, first, pantry, texts)


def _step_facts(step: Step, at_home: bool, texts: Texts) -> tuple[Fact, ...]:
    facts = []
    if step.when == "day before":
        facts.append(Fact("adult", texts.say("The day before")))
    elif step.when:
        # There is no class at home, only something that an adult starts ahead of the rest.
        facts.append(
            Fact(
                "adult",
                texts.say("First, with an adult")
                if at_home
                else texts.say("In class: done beforehand by an adult"),
            )
        )
    if step.time:
        facts.append(Fact("clock", minutes_text(step.time, texts)))
    if step.wait:
        facts.append(
            Fact("clock", texts.say("wait {minutes}", minutes=minutes_text(step.wait, texts)))
        )
    if step.heat is not None:
        facts.append(
            Fact(
                "thermometer",
                texts.say("to {heat}, by thermometer", heat=temperature_text(step.heat, texts)),
            )
        )
    return tuple(facts)
