"""The prep list and the packing list of a session: one sheet, two sides."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from spoonfold.knowledge.equipment import Kind
from spoonfold.language.amounts import amount_text, minutes_text, temperature_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Measuring, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Inline
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.amounts.convert import CUP, TBSP, TSP
from spoonfold.plan.amounts.scale import ClassScale, ScaledUse, scaled_for_class
from spoonfold.plan.amounts.uses import Uses, uses_of
from spoonfold.plan.people.packing import BOXES, HELPERS, HOME, SITE, Packing, packing_of
from spoonfold.plan.safety.apart import portions_apart
from spoonfold.plan.safety.cold import cold_places, kept_cold
from spoonfold.plan.safety.dish import cooked_at
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.show import show_number
from spoonfold.sheets.shared.amounts import (
    AmountView,
    disher_text,
    ingredient_name,
    jug_text,
    use_view,
)
from spoonfold.sheets.shared.cautions import CautionView, cautions_of
from spoonfold.sheets.shared.head import Head, dishes_of, head_of
from spoonfold.sheets.shared.steps import Fact, at_size
from spoonfold.sheets.shared.swaps import TableSwapView, session_swaps
from spoonfold.sheets.sheet import BuildContext, Layout, Moment, PackEntry, Part, SessionFile, Sheet

SPOONS_EACH = 2
"""Clean spoons for a taste: one takes from the pot, the other goes to the mouth (common
practice)."""

OVEN_GLOVES = 2
"""Pairs: for the adult at the oven, and dry ones when those are wet (common practice)."""


@dataclass(frozen=True, slots=True)
class PackRow:
    """One thing and how many of it; a count of 0: enough of it, not counted."""

    name: str
    count: int


@dataclass(frozen=True, slots=True)
class PackList:
    """What comes from one place."""

    title: str
    rows: tuple[PackRow, ...]
    is_counted: bool
    """False: it stays where it is, and is only looked for."""


@dataclass(frozen=True, slots=True)
class PackingView:
    """The packing list of a session."""

    sharp: tuple[PackRow, ...]
    """Counted first, and the last to be put away."""
    lists: tuple[PackList, ...]
    towels: str
    tasting: str


def packing_view(
    recipes: Sequence[Recipe],
    setting: Setting,
    packing: Packing,
    has_food_from_home: bool,
    texts: Texts,
) -> PackingView:
    """The list for a session that cooks these dishes."""
    sharp = [each for things in packing.by_keeper.values() for each in things if each.is_sharp]
    boards = sum(
        each.count for things in packing.by_keeper.values() for each in things if each.is_board
    )
    own = {
        keeper: tuple(PackRow(each.name, each.count) for each in things if not each.is_sharp)
        for keeper, things in packing.by_keeper.items()
    }
    boxes = (
        *own.get(BOXES, ()),
        *_measures(setting.measuring, texts),
        *_towels(packing.towels, texts),
    )
    everyone = sum(setting.tables) + setting.helpers + 1
    supplies = _supplies(
        everyone, setting.guests, has_food_from_home, _is_oven_used(recipes), texts
    )
    if not packing.is_parted:
        lists = [PackList(texts.say("To pack"), (*boxes, *supplies), True)]
    else:
        lists = [
            PackList(texts.say("From home"), (*own.get(HOME, ()), *supplies), True),
            PackList(texts.say("From the class's boxes"), boxes, True),
            PackList(texts.say("Helpers bring"), own.get(HELPERS, ()), True),
            PackList(texts.say("Look for it on site"), own.get(SITE, ()), False),
        ]
    return PackingView(
        sharp=tuple(PackRow(each.name, each.count) for each in sharp),
        lists=tuple(each for each in lists if each.rows),
        towels=""
        if not boards
        else texts.count(
            "Under the board lies a damp towel.",
            "Under each of the {number} boards lies a damp towel: a board that slides cuts.",
            boards,
        ),
        tasting=texts.say(
            "For tasting: {number} clean spoons, two for each of us. One takes from the pot, the "
            "other goes to the mouth. Trying is invited, never forced.",
            number=SPOONS_EACH * everyone,
        ),
    )


def _measures(measuring: Measuring, texts: Texts) -> tuple[PackRow, ...]:
    """The cups and spoons of class.yaml: one set is on one ring."""

    cups = [
        show_number(each.low) if each.unit == CUP else amount_text(each, texts)
        for each in measuring.cups
    ]
    spoons = [_spoon(each, texts) for each in (*measuring.tablespoons, *measuring.teaspoons)]
    rows = [
        PackRow(texts.say("set of cups ({sizes})", sizes=", ".join(cups)), measuring.sets),
        PackRow(texts.say("set of spoons ({sizes})", sizes=", ".join(spoons)), measuring.sets),
    ]
    if measuring.jug is not None:
        rows.append(PackRow(jug_text(measuring.jug, texts), 1))
    rows += [
        PackRow(texts.say("{size} ladle", size=amount_text(each, texts)), 1)
        for each in measuring.ladles
    ]
    rows += [PackRow(disher_text(each, texts), 1) for each in measuring.dishers]
    return tuple(rows)


def _spoon(size: Amount, texts: Texts) -> str:
    if size.unit == TBSP:
        return texts.say("{size} tbsp", size=show_number(size.low))
    if size.unit == TSP:
        return texts.say("{size} tsp", size=show_number(size.low))
    return amount_text(size, texts)


def _towels(count: int, texts: Texts) -> tuple[PackRow, ...]:
    return (PackRow(texts.say("towel to lay under a board"), count),) if count else ()


def _is_oven_used(recipes: Sequence[Recipe]) -> bool:
    """In class: what was baked the day before is carried cold."""
    return any(
        step.when != "day before" and step.has(Kind.OVEN)
        for recipe in recipes
        for step in recipe.steps
    )


def _supplies(
    people: int, guests: int, has_food_from_home: bool, is_oven_used: bool, texts: Texts
) -> tuple[PackRow, ...]:
    """What every session needs and no recipe names (common practice). Guests eat, and taste from
    no pot."""
    rows = [
        PackRow(texts.say("what was bought, cold things in the cooler with ice"), 0),
        PackRow(texts.say("tasting spoon"), SPOONS_EACH * people),
        PackRow(texts.say("plate or bowl, fork, cup"), people + guests),
        PackRow(texts.say("hair tie"), 0),
        PackRow(texts.say("soap, paper towels, cloths, bin bags"), 0),
        PackRow(texts.say("first-aid kit"), 1),
        PackRow(texts.say("the sheets of this session"), 0),
    ]
    if is_oven_used:
        rows.insert(5, PackRow(texts.say("dry oven gloves, pairs"), OVEN_GLOVES))
    if has_food_from_home:
        rows.insert(0, PackRow(texts.say("what was cooked the day before, cold"), 0))
    return tuple(rows)


DAY_BEFORE = "day before"
_COLD = frozenset({"refrigerator", "fridge"})


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
    kept_cold: str
    """What stays in the cold until which step, in one sentence; empty: nothing, or there is no
    cold place."""
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
    recipes = dishes_of(folder, session)
    swaps = session_swaps(session, folder.recipes, uses, folder.pantry, texts)
    day_before: list[PrepStep] = []
    on_site: list[PrepStep] = []
    at_tables = cooked_at(recipes, uses, folder.pantry, session.setting, texts.language)
    packing = packing_of(
        recipes,
        session.setting,
        portions_apart(recipes, uses, folder.pantry, session.setting),
        at_tables,
    )
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
        packing=packing_view(recipes, session.setting, packing, bool(day_before), texts),
        kept_cold=_kept_cold(recipes, at_tables, uses, folder.pantry, session.setting, texts),
        note=session.note or "",
    )


def _kept_cold(
    recipes: Sequence[Recipe],
    at_tables: Mapping[str, tuple[Recipe, ...]],
    uses: Mapping[str, Uses],
    pantry: Pantry,
    setting: Setting,
    texts: Texts,
) -> str:
    places = cold_places(setting)
    kept: dict[tuple[str, int, str], None] = {}
    for recipe in recipes:
        for dish in (recipe, *at_tables.get(recipe.key, ())):
            own = uses[recipe.key] if dish is recipe else uses_of(dish, pantry)
            for ingredient, step in kept_cold(dish, own, pantry):
                name = ingredient_name(ingredient, (), pantry.find(ingredient.name), texts)
                kept[recipe.title, step.number, name] = None
    if not places or not kept:
        return ""
    return texts.say(
        "Keep cold until its step ({place}): {foods}.",
        place=", ".join(texts.say(place) for place in places),
        foods="; ".join(
            texts.say("{food} (step {number})", food=name, number=number)
            if len(recipes) == 1
            else texts.say("{food} ({dish}, step {number})", food=name, dish=title, number=number)
            for title, number, name in sorted(kept, key=lambda each: each[:2])
        ),
    )


def _swapped(swap: TableSwapView, amount: str, texts: Texts) -> str:
    words = {"where": swap.where, "amount": amount, "name": swap.name, "original": swap.instead_of}
    if swap.is_missing:
        return texts.say("{where}: {amount} {name} instead of {original}.", **words)
    if swap.is_taste:
        return texts.say("{where}: {amount} {name} instead of {original}, made apart.", **words)
    return texts.say(
        "{where}: {amount} {name} instead of {original}, made apart and first.", **words
    )


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
        text=at_size(step.said, own, folder.pantry, texts),
        taken=tuple(_taken(use, folder, texts) for use in own),
        facts=_facts(step, texts),
        cautions=cautions_of(step, texts),
        wash=", ".join(texts.say(term.text) for term in step.wash),
        swaps=tuple(
            _swapped(swap, part.amount.text, texts)
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


def made(context: BuildContext) -> Iterator[Sheet]:
    """What to do before class and what to pack, a session."""
    for session in context.sessions:
        sheet = prep_of(context.folder, context.classroom, session, context.uses, context.texts)
        yield Sheet(
            (FILE.path(session, context.texts.language),),
            f"Listing what to do before session {session.number}",
            LAYOUT,
            {"prep": sheet},
            context.texts.language,
        )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    say = context.texts.say
    yield PackEntry(
        Moment.BEFORE,
        FILE.path(session, context.texts.language),
        say("Before class and packing"),
        say("the day before, lead cook"),
    )


FILE = SessionFile("prep")

LAYOUT = Layout("prep.html", ("large", "middle", "small"), sides=2, holds=(2580, 2800))

PART = Part(made, FILE.owns, in_pack)
