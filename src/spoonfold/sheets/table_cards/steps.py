"""The steps of one table, or of the one pot for all, with what goes in at that size."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from spoonfold.knowledge.equipment import Kind
from spoonfold.language.amounts import minutes_text, temperature_text
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Inline, Text, plain
from spoonfold.model.recipe import Recipe, Step
from spoonfold.model.teaching import Skill
from spoonfold.plan.amounts.scale import Scaled
from spoonfold.plan.amounts.uses import Use
from spoonfold.plan.clock.times import loads_of
from spoonfold.plan.safety.dish import Dish
from spoonfold.plan.safety.tools import Board
from spoonfold.sheets.shared.cautions import cautions_of
from spoonfold.sheets.shared.recipe import reminded
from spoonfold.sheets.shared.steps import Fact, StepView, at_size, without_amounts
from spoonfold.sheets.table_cards.uses import CardUse, Instead, uses_at


@dataclass(frozen=True, slots=True)
class CardStep:
    """A step that is done at this card's place."""

    view: StepView
    who: tuple[str, ...]
    """The letters of the seats that do it; none: nobody is named."""
    everyone: bool
    board: str
    """`raw`, `ready`, or empty where one kind of board is enough."""
    uses: tuple[CardUse, ...]


@dataclass(frozen=True, slots=True)
class Glance:
    """A step that is done somewhere else: what happens there, and who of this card goes."""

    number: int
    text: str
    who: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """Steps in a row that are done at another place, or before anyone comes."""

    kind: str
    """`before`, `class` or `tables`."""
    title: str
    note: str
    steps: tuple[Glance, ...]


Entry = CardStep | Elsewhere


@dataclass(frozen=True, slots=True)
class CardPlace:
    """Where a card lies, and all that its steps need to know."""

    own: Collection[int]
    """Numbers of the steps that are done there."""
    whole: Scaled
    dish: Dish
    instead: Instead
    who: Mapping[int, tuple[str, ...]]
    """Seats of this card by step."""
    seats: int
    boards: Mapping[int, Board]
    used: Mapping[int, Sequence[Use]]
    """What goes in, by step."""
    portions: str
    """What of a thing that was made for all belongs here; empty at the pot."""
    notes: Mapping[int, str]
    """By step: who cooks it apart, or where a part leaves the one pot."""
    less: Mapping[int, Fraction]
    """By step: portions that are made elsewhere."""


def entries_of(
    recipe: Recipe, place: CardPlace, pantry: Pantry, skills: Mapping[str, Skill], texts: Texts
) -> tuple[Entry, ...]:
    """The dish in the order of its steps, the steps of other places short."""
    own = reminded(
        tuple(
            _view(step, recipe, place, pantry, texts)
            for step in recipe.steps
            if step.number in place.own
        ),
        texts,
    )
    views = {view.number: view for view in own}
    entries: list[Entry] = []
    for kind, run in groupby(recipe.steps, lambda step: _kind(step, place)):
        steps = tuple(run)
        if kind != "own":
            entries.append(_elsewhere(kind, steps, recipe, place, texts))
            continue
        for step in steps:
            who = place.who.get(step.number, ())
            entries.append(
                CardStep(
                    view=views[step.number],
                    who=who,
                    everyone=1 < len(who) == place.seats,
                    board=place.boards[step.number].value if step.number in place.boards else "",
                    uses=uses_at(
                        step,
                        place.whole,
                        place.instead,
                        pantry,
                        texts,
                        len(who) if _by_the_piece(step, skills) else 0,
                    ),
                )
            )
    return tuple(entries)


def _kind(step: Step, place: CardPlace) -> str:
    if step.number in place.own:
        return "own"
    if step.when is not None:
        return "before"
    return "class" if step.for_class else "tables"


def _by_the_piece(step: Step, skills: Mapping[str, Skill]) -> bool:
    """Whether its hands work piece by piece, so that each child can have some of its own."""
    return any(term.text in skills and skills[term.text].by_the_piece for term in step.skills)


def _view(step: Step, recipe: Recipe, place: CardPlace, pantry: Pantry, texts: Texts) -> StepView:
    uses = place.whole.by_step.get(step.number, ())
    said = step.said
    if step.number in place.dish.unsaid:
        said = (*said, *_unsaid(step, place.dish, texts))
    if step.number in place.notes:
        note = Emphasis((Text(place.notes[step.number], step.place),), strong=True)
        said = (*said, Text(" ", step.place), note)
    words = without_amounts(at_size(said, uses, pantry, texts), recipe)
    facts = []
    portions = place.whole.portions - place.less.get(step.number, 0)
    loads = loads_of(place.dish.recipe, step, portions) or 1
    if loads > 1:
        facts.append(Fact("pot", texts.say("{number} loads, one after the other", number=loads)))
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
    return StepView(
        number=step.number,
        group=None,
        text=words,
        uses=(),
        facts=tuple(facts),
        cautions=cautions_of(step, texts),
        wash=", ".join(texts.say(term.text) for term in step.wash),
        easier="",
    )


def _unsaid(step: Step, dish: Dish, texts: Texts) -> Iterator[Inline]:
    """What a step takes instead of a food that its words call by no name that could be changed."""
    for use in dish.uses.by_step.get(step.number, ()):
        if use.ingredient.key in dish.instead_of:
            said = texts.say("Use {name}.", name=use.ingredient.said)
            yield Text(" ", step.place)
            yield Emphasis((Text(said, step.place),), strong=True)


def _elsewhere(
    kind: str, steps: Sequence[Step], recipe: Recipe, place: CardPlace, texts: Texts
) -> Elsewhere:
    taken = place.portions if _is_taken(steps, recipe, place) else ""
    glances = tuple(
        Glance(
            step.number,
            _first_sentence(plain(without_amounts(step.said, recipe))),
            place.who.get(step.number, ()),
        )
        for step in steps
    )
    if kind == "before":
        return Elsewhere(kind, texts.say("Done for you, before class"), taken, glances)
    if kind == "tables":
        return Elsewhere(kind, texts.say("At the tables"), "", glances)
    title = (
        texts.say("From the big pot, once for everyone")
        if any(step.has(Kind.BIG_POT) for step in steps)
        else texts.say("Once for everyone")
    )
    note = (
        texts.say("Who is named goes there: it has its own card.")
        if any(glance.who for glance in glances)
        else texts.say("It has its own card there.")
    )
    return Elsewhere(kind, title, f"{note} {taken}".rstrip(), glances)


def _is_taken(steps: Sequence[Step], recipe: Recipe, place: CardPlace) -> bool:
    """Whether a step of this card goes on with what was made there: then there is a part of it
    to take."""
    wanted = {
        number for step in recipe.steps if step.number in place.own for number in step.follows
    }
    return any(
        step.number in wanted
        and any(place.used.get(number) for number in (step.number, *step.follows))
        for step in steps
    )


def _first_sentence(text: str) -> str:
    first, stop, _ = text.partition(". ")
    return first + stop.rstrip()
