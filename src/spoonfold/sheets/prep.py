"""The prep list and the packing list of a session: one sheet, two sides."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from spoonfold.language.amounts import minutes_text, temperature_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Inline
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.amounts.scale import ClassScale, ScaledUse, scaled_for_class
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.safety.swapped import portions_apart
from spoonfold.sheets.amounts import AmountView, ingredient_name, use_view
from spoonfold.sheets.at_size import at_size
from spoonfold.sheets.cautions import CautionView, cautions_of
from spoonfold.sheets.head import Head, head_of
from spoonfold.sheets.packing import PackingView, packing_view
from spoonfold.sheets.steps import Fact
from spoonfold.sheets.swaps import TableSwapView, session_swaps

DAY_BEFORE = "day before"
_COLD = frozenset({"refrigerator", "fridge"})

SIDES = 2
SIZES = ("large", "middle", "small")
"""Sizes of type to try until both lists fit on one sheet."""


@dataclass(frozen=True, slots=True)
class Taken:
    """Some of an ingredient, for the whole class."""

    name: str
    preparation: str
    amount: AmountView


@dataclass(frozen=True, slots=True)
class PrepStep:
    """A step that an adult does beforehand, at the size of the class."""

    anchor: str
    number: int
    dish: str
    text: tuple[Inline, ...]
    taken: tuple[Taken, ...]
    facts: tuple[Fact, ...]
    cautions: tuple[CautionView, ...]
    wash: str
    swaps: tuple[str, ...]
    """What is made apart for one table."""
    is_cooled: bool
    """Food that is cooked at home and carried cold: when it was how cold is written down."""


@dataclass(frozen=True, slots=True)
class Prep:
    """What is done before the children come, and what is packed for it."""

    head: Head
    day_before: tuple[PrepStep, ...]
    on_site: tuple[PrepStep, ...]
    swaps: tuple[TableSwapView, ...]
    packing: PackingView
    note: str
    """The session's own note."""


def prep_of(
    folder: ClassFolder,
    classroom: Classroom,
    session: Session,
    uses: Mapping[str, Uses],
    texts: Texts,
) -> Prep:
    """Both lists of a session; a dish that can't be read is left out."""
    recipes = [folder.recipes[dish.text] for dish in session.dishes if dish.text in folder.recipes]
    swaps = session_swaps(session, folder.recipes, uses, folder.pantry, texts)
    day_before: list[PrepStep] = []
    on_site: list[PrepStep] = []
    apart = portions_apart(recipes, uses, folder.pantry, session.setting)
    for recipe in recipes:
        scale = scaled_for_class(recipe, uses[recipe.key], folder.pantry, session.setting)
        for step in recipe.steps:
            if step.when is not None:
                into = day_before if step.when == DAY_BEFORE else on_site
                into.append(_step(recipe, step, scale, folder, swaps, texts))
    return Prep(
        head=head_of(folder, classroom, session, texts),
        day_before=tuple(day_before),
        on_site=tuple(on_site),
        swaps=swaps,
        packing=packing_view(recipes, session.setting, apart, bool(day_before), texts),
        note=session.note or "",
    )


def prep_name(language: str) -> str:
    """The file of a session's lists."""
    return f"prep-{language}.pdf"


def _step(
    recipe: Recipe,
    step: Step,
    scale: ClassScale,
    folder: ClassFolder,
    swaps: tuple[TableSwapView, ...],
    texts: Texts,
) -> PrepStep:
    own = scale.shared.by_step.get(step.number, ()) if scale.shared is not None else ()
    return PrepStep(
        anchor=f"{recipe.key}-{step.number}",
        number=step.number,
        dish=recipe.title,
        text=at_size(step.text, own, folder.pantry, texts),
        taken=tuple(_taken(use, folder, texts) for use in own),
        facts=_facts(step, texts),
        cautions=cautions_of(step, texts),
        wash=", ".join(texts.say(term.text) for term in step.wash),
        swaps=tuple(
            texts.say(
                "{where}: {amount} {name} instead of {original}, made apart and first.",
                where=swap.where,
                amount=part.amount.text,
                name=swap.name,
                original=swap.instead_of,
            )
            for swap in swaps
            if swap.dish == recipe.title
            for part in swap.steps
            if part.step == step.number
        ),
        is_cooled=step.when == DAY_BEFORE
        and any(need.name.casefold() in _COLD for need in step.needs),
    )


def _taken(use: ScaledUse, folder: ClassFolder, texts: Texts) -> Taken:
    ingredient = use.use.ingredient
    shown = use.measured.shown if use.measured is not None else ()
    return Taken(
        name=ingredient_name(ingredient, shown, folder.pantry.find(ingredient.name), texts),
        preparation=", ".join(
            each for each in (ingredient.preparation, ingredient.as_needed) if each
        ),
        amount=use_view(use, texts),
    )


def _facts(step: Step, texts: Texts) -> tuple[Fact, ...]:
    """Times at home are those of one household, so only a wait is told: it stays what it is."""
    facts = []
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
