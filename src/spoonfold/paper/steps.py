"""The steps of a recipe as every sheet shows them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from spoonfold.language.amounts import minutes_text, temperature_text
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Inline
from spoonfold.model.recipe import Recipe, Step
from spoonfold.paper.amounts import AmountView, in_metric_too, ingredient_name, use_view
from spoonfold.paper.at_size import at_any_size, at_size
from spoonfold.paper.cautions import CautionView, cautions_of, sentence
from spoonfold.plan.metric import MetricLine, metric_steps
from spoonfold.plan.scale import Scaled


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


def steps_view(
    recipe: Recipe,
    instructions: Sequence[tuple[Inline, ...]],
    sizes: Sequence[Scaled],
    metric_by_size: Sequence[Mapping[str, MetricLine]],
    pantry: Pantry,
    at_home: bool,
    texts: Texts,
) -> tuple[StepView, ...]:
    """Every step, with what it takes at each size; `instructions` are the steps' words with the
    taught words marked, `metric_by_size` the lines in metric measures."""
    views = []
    group = None
    metric = [metric_steps(size, lines)
              for size, lines in zip(sizes, metric_by_size, strict=True)]
    for step, instruction in zip(recipe.steps, instructions, strict=True):
        columns = [size.by_step.get(step.number, ()) for size in sizes]
        weighed = [each.get(step.number, ()) for each in metric]
        uses = tuple(
            UseView(
                names=tuple(
                    ingredient_name(each.use.ingredient,
                                    each.measured.shown if each.measured else (),
                                    pantry.find(each.use.ingredient.name), texts)
                    for each in row),
                sizes=tuple(
                    in_metric_too(use_view(each, texts), known, texts)
                    for each, known in zip(row, own, strict=True)),
            )
            for row, own in zip(
                zip(*columns, strict=True), zip(*weighed, strict=True), strict=True)
        )
        views.append(StepView(
            number=step.number,
            group=step.group if step.group != group else None,
            text=at_size(instruction, columns[0], pantry, texts) if len(columns) == 1
            else at_any_size(instruction, columns[0]),
            uses=uses,
            facts=_step_facts(step, at_home, texts),
            cautions=cautions_of(step, texts),
            wash=", ".join(texts.say(term.text) for term in step.wash),
            easier=sentence(step.easier or ""),
        ))
        group = step.group
    return tuple(views)


def _step_facts(step: Step, at_home: bool, texts: Texts) -> tuple[Fact, ...]:
    facts = []
    if step.when == "day before":
        facts.append(Fact("adult", texts.say("The day before")))
    elif step.when:
        # There is no class at home, only something that an adult starts ahead of the rest.
        facts.append(Fact("adult", texts.say("First, with an adult") if at_home
                          else texts.say("In class: done beforehand by an adult")))
    if step.time:
        facts.append(Fact("clock", minutes_text(step.time, texts)))
    if step.wait:
        facts.append(Fact("clock", texts.say(
            "wait {minutes}", minutes=minutes_text(step.wait, texts))))
    if step.heat is not None:
        facts.append(Fact("thermometer", texts.say(
            "to {heat}, by thermometer", heat=temperature_text(step.heat, texts))))
    return tuple(facts)
