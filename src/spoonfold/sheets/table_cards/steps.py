"""The steps of one table, or of the one pot for all, with what goes in at that size."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from spoonfold.knowledge.equipment import Kind
from spoonfold.knowledge.names import fold, singulars
from spoonfold.language.amounts import minutes_text, temperature_text
from spoonfold.language.texts import SOURCE_LANGUAGE, Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Explained, Inline, Link, Text, plain
from spoonfold.model.recipe import Ingredient, Recipe, Step
from spoonfold.model.teaching import Skill
from spoonfold.plan.amounts.scale import Scaled
from spoonfold.plan.amounts.uses import Use
from spoonfold.plan.clock.tasks import waits_for
from spoonfold.plan.safety.swapped import TableSwap
from spoonfold.plan.safety.tools import Board
from spoonfold.problem import Place
from spoonfold.sheets.shared.cautions import cautions_of
from spoonfold.sheets.shared.recipe import reminded
from spoonfold.sheets.shared.steps import Fact, StepView, at_size, says_amount
from spoonfold.sheets.table_cards.uses import CardUse, Swapped, uses_at

# Another food may take another article, or none.
_ARTICLES: Mapping[str, str] = {
    "en": r"(?:an?\s+)?",
    "es": r"(?:(?:el|la|los|las|una?|unos|unas)\s+|\b(?P<short>de|a)l\s+)?",
}
_SHORTEST = 3
"""Letters of a word that may stand for a food by itself."""


def swapped_words(
    step: Step,
    recipe: Recipe,
    swaps: Iterable[TableSwap],
    used: Sequence[Use],
    pantry: Pantry,
    texts: Texts,
) -> tuple[Inline, ...]:
    """The step's words with each swap's food in place of what it replaces; `used` is what goes
    in at that step. Where the original may stay if its label allows it, so do the words."""
    words = step.said
    for swap in swaps:
        if swap.if_label:
            continue
        changer = _changer(swap, recipe, pantry, texts)
        changed = changer.all(words)
        gone = {each.key for each in swap.originals}
        if changed == words and any(use.ingredient.key in gone for use in used):
            said = texts.say("Use {name}.", name=swap.swap.use.said)
            changed = (*words, Text(" ", step.place), Emphasis((Text(said, step.place),), True))
        words = changed
    return words


def _changer(swap: TableSwap, recipe: Recipe, pantry: Pantry, texts: Texts) -> _Changer:
    language = recipe.language or texts.language
    gone = {each.key for each in swap.originals}
    own, others = set[str](), set[str]()
    for each in recipe.ingredients:
        (own if each.key in gone else others).update(_names(each, pantry, language))
    listed = {fold(each.said) for each in swap.originals}
    # A word that may also mean what stays isn't touched; the amount beside the step says it.
    names = sorted({*listed, *(own - others)}, key=lambda name: (-len(name), name))
    said = (r"[\s-]+".join(re.escape(part) for part in name.split(" ")) for name in names)
    pattern = re.compile(
        rf"(?<!\w){_ARTICLES.get(language.split('-')[0], '')}(?:{'|'.join(said)})(?!\w)",
        re.IGNORECASE,
    )
    return _Changer(pattern, swap.swap.use.said, frozenset(f"#{key}" for key in gone))


def _names(ingredient: Ingredient, pantry: Pantry, language: str) -> Iterator[str]:
    """What the words may call it: its listed name, the pantry's names, its chief word."""
    item = pantry.find(ingredient.name)
    is_english = language.split("-")[0] == SOURCE_LANGUAGE
    names = [ingredient.said]
    if item is not None:
        names += (
            (item.name, item.plural, *item.also) if is_english else (item.names.get(language, ()))
        )
    parts = fold(ingredient.said).split(" ")
    chief = parts[-1] if is_english else parts[0]
    if len(chief) >= _SHORTEST:
        names.append(chief)
    for name in names:
        for one in singulars(fold(name)):
            yield from (one, f"{one}s", f"{one}es")


@dataclass(frozen=True, slots=True)
class _Changer:
    """Replaces the mentions of one food."""

    pattern: re.Pattern[str]
    name: str
    addresses: frozenset[str]
    """Of the links to what it replaces."""

    def all(self, children: tuple[Inline, ...]) -> tuple[Inline, ...]:
        found: list[Inline] = []
        for child in children:
            match child:
                case Text():
                    found.extend(self.text(child))
                case Link(inner, address, _, place) if address in self.addresses:
                    found.extend(self.link(inner, place))
                case Link(inner, address) if address.startswith("#"):
                    found.append(child)
                case Emphasis(inner) | Explained(inner) | Link(inner):
                    found.append(replace(child, children=self.all(inner)))
                case _:
                    found.append(child)
        return tuple(found)

    def link(self, inner: tuple[Inline, ...], place: Place) -> tuple[Inline, ...]:
        """The words of a link without the link: its amount is the replaced food's."""
        changed = self.all(inner)
        if says_amount(plain(inner)) or changed == inner:
            return (self.marked(self.name, place),)
        return changed

    def text(self, text: Text) -> Iterator[Inline]:
        done = 0
        for match in self.pattern.finditer(text.text):
            short = match.groupdict().get("short")
            before = text.text[done : match.start()] + (f"{short} " if short else "")
            if before:
                yield Text(before, text.place)
            name = self.name
            if match[0][0].isupper() and not short:
                name = name[:1].upper() + name[1:]
            yield self.marked(name, text.place)
            done = match.end()
        if done < len(text.text):
            yield Text(text.text[done:], text.place)

    def marked(self, name: str, place: Place) -> Inline:
        return Emphasis((Text(name, place),), strong=True)


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
    swapped: Swapped
    who: Mapping[int, tuple[str, ...]]
    """Seats of this card by step."""
    seats: int
    boards: Mapping[int, Board]
    used: Mapping[int, Sequence[Use]]
    """What goes in, by step."""
    portions: str
    """What of a thing that was made for all belongs here; empty at the pot."""


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
                        place.swapped,
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
    gone = {each.key for swap, _ in place.swapped for each in swap.originals}
    uses = [
        use
        for use in place.whole.by_step.get(step.number, ())
        if use.use.ingredient.key not in gone
    ]
    said = swapped_words(
        step,
        recipe,
        [swap for swap, _ in place.swapped],
        place.used.get(step.number, ()),
        pantry,
        texts,
    )
    words = without_amounts(at_size(said, uses, pantry, texts), recipe)
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
        number for step in recipe.steps if step.number in place.own for number in waits_for(step)
    }
    return any(
        step.number in wanted
        and any(place.used.get(number) for number in (step.number, *waits_for(step)))
        for step in steps
    )


def _first_sentence(text: str) -> str:
    first, stop, _ = text.partition(". ")
    return first + stop.rstrip()
