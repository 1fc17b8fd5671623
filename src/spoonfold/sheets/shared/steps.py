"""The steps of a recipe as every sheet shows them."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from spoonfold.language.amounts import amount_of, minutes_text, temperature_text
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Explained, Inline, Link, Text, plain
from spoonfold.model.recipe import Ingredient, Recipe, Step
from spoonfold.plan.amounts.mentions import says_amount
from spoonfold.plan.amounts.scale import ScaledUse
from spoonfold.sheets.shared.amounts import AmountView, ingredient_name, use_view
from spoonfold.sheets.shared.cautions import CautionView, cautions_of, sentence
from spoonfold.sheets.shared.lines import HomeSize


def at_size(
    text: tuple[Inline, ...], uses: Sequence[ScaledUse], pantry: Pantry, texts: Texts
) -> tuple[Inline, ...]:
    """The words of a step with every amount in its links as the step really takes it."""

    def says(use: ScaledUse) -> str:
        shown = use.measured.shown if use.measured else ()
        ingredient = use.use.ingredient
        name = ingredient_name(ingredient, shown, pantry.find(ingredient.name), texts)
        return amount_of(shown, name, texts)

    return _with(text, uses, says)


def at_any_size(text: tuple[Inline, ...], uses: Sequence[ScaledUse]) -> tuple[Inline, ...]:
    """The words of a step without the amounts in its links."""
    return _with(text, uses, lambda use: use.use.ingredient.said)


def _with(
    text: tuple[Inline, ...], uses: Sequence[ScaledUse], says: Callable[[ScaledUse], str]
) -> tuple[Inline, ...]:
    return tuple(_link_with(child, uses, says) for child in text)


def _link_with(
    child: Inline, uses: Sequence[ScaledUse], says: Callable[[ScaledUse], str]
) -> Inline:
    match child:
        case Emphasis(children, strong):
            return Emphasis(_with(children, uses, says), strong)
        case Explained(children, term):
            return Explained(_with(children, uses, says), term)
        case Link(children, address, _, place) if address.startswith("#"):
            use = next((each for each in uses if each.use.place == place), None)
            if use is None or use.measured is None or not says_amount(plain(children)):
                return child
            return Text(says(use), place)
        case _:
            return child


@dataclass(frozen=True, slots=True)
class Fact:
    """A short fact with an icon's name."""

    icon: str
    text: str


@dataclass(frozen=True, slots=True)
class UseView:
    """An ingredient in a step, with its amount for every size."""

    key: str
    """The ingredient's."""
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
    minutes: tuple[int, ...] = ()
    """With hands, then waiting, as far as either is known: what may be timed."""


def steps_view(
    recipe: Recipe,
    instructions: Sequence[tuple[Inline, ...]],
    sizes: Sequence[HomeSize],
    pantry: Pantry,
    texts: Texts,
) -> tuple[StepView, ...]:
    """Every step, with what it takes at each size (at least one); `instructions` are the steps'
    words with the taught words marked."""
    own = {each.key: each for each in recipe.ingredients}
    views = []
    group = None
    for step, instruction in zip(recipe.steps, instructions, strict=True):
        uses = [each.scaled.by_step.get(step.number, ()) for each in sizes]
        first = tuple(_in_own_words(each, own) for each in uses[0])
        views.append(
            StepView(
                number=step.number,
                group=step.group if step.group != group else None,
                text=(
                    at_size(instruction, first, pantry, texts)
                    if len(sizes) == 1
                    else at_any_size(instruction, first)
                ),
                uses=tuple(
                    _use_view(each, sizes, pantry, texts)
                    for each in zip(first, *uses[1:], strict=True)
                ),
                facts=_step_facts(step, texts),
                cautions=cautions_of(step, texts),
                wash=", ".join(texts.say(term.text) for term in step.wash),
                easier=sentence(step.easier or ""),
                minutes=tuple(
                    dict.fromkeys(math.ceil(each) for each in (step.time, step.wait) if each)
                ),
            )
        )
        group = step.group
    return tuple(views)


def _in_own_words(use: ScaledUse, ingredients: Mapping[str, Ingredient]) -> ScaledUse:
    """A use of an ingredient as a recipe words it."""
    ingredient = ingredients[use.use.ingredient.key]
    return replace(use, use=replace(use.use, ingredient=ingredient))


def _use_view(
    uses: Sequence[ScaledUse], sizes: Sequence[HomeSize], pantry: Pantry, texts: Texts
) -> UseView:
    """One use at each size."""
    use = uses[0].use
    item = pantry.find(use.ingredient.name)
    return UseView(
        use.ingredient.key,
        tuple(
            ingredient_name(
                use.ingredient, each.measured.shown if each.measured else (), item, texts
            )
            for each in uses
        ),
        tuple(
            use_view(each, texts, size.metric.get(use.place))
            for each, size in zip(uses, sizes, strict=True)
        ),
    )


def _step_facts(step: Step, texts: Texts) -> tuple[Fact, ...]:
    facts = []
    if step.when == "day before":
        facts.append(Fact("adult", texts.say("The day before")))
    elif step.when:
        # There is no class at home, only something that an adult starts ahead of the rest.
        facts.append(Fact("adult", texts.say("First, with an adult")))
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


def without_amounts(children: tuple[Inline, ...], recipe: Recipe) -> tuple[Inline, ...]:
    """The words of a step with no amount that holds at the recipe's own size alone.

    Where nothing is measured, or something else than the words say, an amount misleads.
    """
    names = {each.key: each.said for each in recipe.ingredients}
    said: list[Inline] = []
    for child in children:
        match child:
            case Link(inner, address, _, where) if address.startswith("#") and says_amount(
                plain(inner)
            ):
                said.append(Text(names.get(address[1:], plain(inner)), where))
            case Emphasis(inner) | Explained(inner):
                said.append(replace(child, children=without_amounts(inner, recipe)))
            case _:
                said.append(child)
    return tuple(said)
