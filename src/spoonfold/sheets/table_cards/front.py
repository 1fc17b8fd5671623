"""What stands in each place of a table card, for a child of nine at arm's length.

The steps as children read them: number, who, when, what, how much. Each danger is a sign with its
word at the step, and stands once, with what to do, in the strip at the foot.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, permutations

from spoonfold.kitchen.reading import sentences_of
from spoonfold.knowledge.cautions import ADULT, CAUTION_GROUPS, CAUTIONS
from spoonfold.language.amounts import temperature_text
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Inline, Text
from spoonfold.model.recipe import Step
from spoonfold.plan.safety.hazards import OF_A_NEED
from spoonfold.sheets.booklet.opening import Sign, known_cautions
from spoonfold.sheets.shared.cautions import sentence
from spoonfold.sheets.shared.steps import Fact
from spoonfold.sheets.table_cards.drawing import JobView, job_view
from spoonfold.sheets.table_cards.steps import CardPlace, CardStep, Elsewhere, Entry
from spoonfold.sheets.table_cards.uses import CardUse

MOST_LANES = 4
"""Children with a column of their own: more columns would be too narrow for large type."""


@dataclass(frozen=True, slots=True)
class Moments:
    """When the steps of a table run; nothing where the session can't be timed."""

    said: Mapping[int, str]
    """`10:25`, by step."""
    starts: Mapping[int, int]
    """Seconds since cooking began."""
    free: Mapping[int, int]
    """When the children of the step have their hands free again."""


NEVER = Moments({}, {}, {})


@dataclass(frozen=True, slots=True)
class Danger:
    """A danger of the card and what to do about it, in two or three words."""

    icon: str
    name: str
    few: str


@dataclass(frozen=True, slots=True)
class FrontStep:
    """A step that is done at this card's place."""

    number: int
    time: str
    who: tuple[str, ...]
    everyone: bool
    board: str
    """`raw`, `ready`, or empty where one kind of board is enough."""
    verb: str
    """The word that is set large; empty where nobody knows which it is."""
    words: tuple[Inline, ...]
    """The others."""
    uses: tuple[CardUse, ...]
    signs: tuple[Sign, ...]
    facts: tuple[Fact, ...]
    dangers: tuple[str, ...]
    """The names of its cautions."""
    drawing: JobView | None


Place = FrontStep | Elsewhere


@dataclass(frozen=True, slots=True)
class Lane:
    """A child's column."""

    letter: str
    jobs: str
    """For the whole session; mostly one."""


def places_of(
    entries: Sequence[Entry], place: CardPlace, moments: Moments, pantry: Pantry, texts: Texts
) -> tuple[Place, ...]:
    """The entries of a card; between two that are done elsewhere in the order of time."""
    steps = {step.number: step for step in place.dish.recipe.steps}
    found: list[Place] = []
    run: list[FrontStep] = []
    for entry in entries:
        if isinstance(entry, Elsewhere):
            found += _by_time(run, moments)
            run = []
            found.append(entry)
        else:
            run.append(_front(entry, steps[entry.view.number], place, moments, pantry, texts))
    return (*found, *_by_time(run, moments))


def _by_time(run: Sequence[FrontStep], moments: Moments) -> list[FrontStep]:
    return sorted(run, key=lambda each: (moments.starts.get(each.number, 0), each.number))


def _front(
    entry: CardStep, step: Step, place: CardPlace, moments: Moments, pantry: Pantry, texts: Texts
) -> FrontStep:
    verb, words = _words(entry, step, place)
    cautions = known_cautions(step)
    return FrontStep(
        number=step.number,
        time=moments.said.get(step.number, ""),
        who=entry.who,
        everyone=entry.everyone,
        board=entry.board,
        verb=verb,
        words=words,
        uses=entry.uses,
        signs=tuple(_signs(step, texts)),
        facts=tuple(_facts(entry, step, texts)),
        dangers=tuple(each.name for each in cautions),
        drawing=job_view(step, place.dish, place.boards.get(step.number), pantry, texts),
    )


def _words(entry: CardStep, step: Step, place: CardPlace) -> tuple[str, tuple[Inline, ...]]:
    """The verb, and what follows it: the author's few words, or else the whole step."""
    text = entry.view.text
    if step.card is not None:
        text = (Text(step.card, step.place),)
        if step.number in place.notes:
            note = (Text(place.notes[step.number], step.place),)
            text = (*text, Text(" ", step.place), Emphasis(note, strong=True))
    elif not _begins_with_verb(step):
        return "", text
    first = text[0] if text else None
    if not isinstance(first, Text):
        return "", text
    verb, space, rest = first.text.lstrip().partition(" ")
    ends = verb.rstrip(".,:;")
    return ends, (replace(first, text=verb[len(ends) :] + space + rest), *text[1:])


def _begins_with_verb(step: Step) -> bool:
    """Whether the step's own first word is its command, as far as it can be read."""
    if step.wording is not None:
        return False
    sentences = sentences_of(step)
    clauses = sentences[0].clauses if sentences else ()
    return bool(clauses) and clauses[0].verb is not None and clauses[0].at == 0


def _facts(entry: CardStep, step: Step, texts: Texts) -> Iterator[Fact]:
    """The numbers that count, a temperature without the words around it."""
    for fact in entry.view.facts:
        if fact.icon == "thermometer" and step.heat is not None:
            yield Fact(fact.icon, temperature_text(step.heat, texts))
        else:
            yield fact


def _signs(step: Step, texts: Texts) -> Iterator[Sign]:
    """The dangers first, the gravest before the others, then what an adult does and what is
    washed."""
    for caution in known_cautions(step):
        yield Sign(caution.icon, texts.say(caution.name))
    for term in step.watch:
        if term.text.casefold() not in CAUTIONS:
            yield Sign("caution", term.text, True)
    for term in step.adult:
        known = ADULT.get(term.text.casefold())
        # What is free may be long: the helper has it in full on the brief.
        said = texts.say("with an adult") if known is None else texts.say(known.text).rstrip(".")
        yield Sign("adult", said, True)
    if step.wash:
        things = ", ".join(texts.say(term.text) for term in step.wash)
        yield Sign("hands", texts.say("wash: {things}", things=things))


def dangers_of(places: Sequence[Place], swaps: bool, texts: Texts) -> tuple[Danger, ...]:
    """Every named danger of these steps once, the gravest first; those against which the same
    helps together. A table that swaps is told of that above its steps."""
    met = {name for each in places if isinstance(each, FrontStep) for name in each.dangers}
    if swaps:
        met.discard(OF_A_NEED)
    ranks = {group.name: rank for rank, group in enumerate(CAUTION_GROUPS)}
    known = [caution for caution in CAUTIONS.values() if caution.name in met]
    known.sort(key=lambda each: ranks[each.group])
    alike: dict[tuple[str, str], list[str]] = {}
    for each in known:
        alike.setdefault((each.group, each.few), []).append(each.name)
    return tuple(
        Danger(
            CAUTIONS[names[0]].icon,
            sentence(", ".join(texts.say(name) for name in names)).rstrip("."),
            texts.say(few),
        )
        for (_, few), names in alike.items()
    )


def lanes_of(letters: Sequence[str], places: Sequence[Place]) -> tuple[str, ...]:
    """The letters in the order in which children who share a step stand side by side."""
    shared = [
        frozenset(each.who)
        for each in places
        if isinstance(each, FrontStep) and 1 < len(each.who) < len(letters)
    ]
    if not shared or len(letters) > MOST_LANES:
        return tuple(letters)
    doing = [each.who for each in places if isinstance(each, FrontStep) and each.who]

    def price(order: Sequence[str]) -> tuple[int, int]:
        gaps = 0
        for who in shared:
            at = [order.index(letter) for letter in who]
            gaps += max(at) - min(at) + 1 - len(at)
        middles = [sum(map(order.index, who)) / len(who) for who in doing]
        # What comes first is read first, as far as lanes allow.
        turned = sum(before > after for before, after in combinations(middles, 2))
        return gaps, turned

    return min(permutations(letters), key=price)
