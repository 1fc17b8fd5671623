"""A dish as one opening of the booklet: on the left what it is and what goes in, on the right
what is done, so that nothing is turned while hands are wet.

Each thing is said once, where the hand needs it. Amounts stand with the ingredients, in the order
in which they are used; what can hurt stands in one strip, and at each step as a sign with its
word. No caution, temperature, washing or adult's part is ever left out for want of room: what
gives way is the drawing, then where things stand, and last the dish gets a second opening, turned
to before the cooking begins. The type is never smaller.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby

from spoonfold.knowledge.cautions import ADULT, CAUTION_GROUPS, CAUTIONS, Caution
from spoonfold.knowledge.equipment import Kind
from spoonfold.language.amounts import minutes_text, temperature_text
from spoonfold.language.texts import Texts
from spoonfold.model.prose import Inline, Text, plain_prose
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.clock.at_home import DAY_BEFORE, home_time, stretches_of
from spoonfold.plan.safety.words import on_heat
from spoonfold.sheets.booklet.plate import PlateView, plate_view
from spoonfold.sheets.shared.amounts import AmountView, in_scoops
from spoonfold.sheets.shared.cautions import sentence
from spoonfold.sheets.shared.recipe import Household, RecipeSheet

LONG_SIGN = 34
"""Letters: a longer word of a sign may end its line anywhere."""
_TOLD_WHOLE = ("raw food", "cold and hot", "two versions", "small bites")
"""Kinds of dangers that hurt unseen: each rule stands in the strip, with its temperatures."""
_ORDER = {name: place for place, name in enumerate(CAUTIONS)}
"""Within a kind the catalogue has the gravest first."""
_MOST_RULES = 2
"""Of heat and blades, which are seen, the others stand at their steps by name."""
ALIKE = 3
"""So many scoops of one size are drawn as one, with a box for each."""
_BESIDE = 2
_SENTENCE = re.compile(r"(?<=[.!?…。！？؟])\s+")
_READY = (Kind.BLADE, Kind.OPENER, Kind.SINK)
"""What a step has that only makes food ready."""


@dataclass(frozen=True, slots=True)
class Sign:
    """A picture and its word at a step."""

    icon: str
    text: str
    is_strong: bool = False
    """What an adult does, and a number that decides."""

    @property
    def is_long(self) -> bool:
        """Whether it may be broken over two lines."""
        return len(self.text) > LONG_SIGN


@dataclass(frozen=True, slots=True)
class OpenStep:
    """One step."""

    number: int
    text: tuple[Inline, ...]
    signs: tuple[Sign, ...]


@dataclass(frozen=True, slots=True)
class StepGroup:
    """Steps under one heading."""

    title: str
    is_authors: bool
    """Whether the heading is the recipe's own."""
    steps: tuple[OpenStep, ...]


@dataclass(frozen=True, slots=True)
class WatchLine:
    """Dangers of one kind."""

    icon: str
    title: str
    steps: str
    """`2, 7–9`."""
    text: str
    brief: str
    """The gravest rule alone."""


@dataclass(frozen=True, slots=True)
class Gathered:
    """What one step takes of one ingredient."""

    key: str
    step: str
    """The step's number, once for all that it takes."""
    view: AmountView
    name: str
    preparation: str
    notes: tuple[str, ...]

    @property
    def is_beside(self) -> bool:
        """Whether its scoops are few enough to stand beside its words."""
        drawn = sum(mark.count if mark.count < ALIKE else 1 for mark in self.view.scoops)
        boxes = sum(mark.count for mark in self.view.scoops)
        return drawn <= _BESIDE and boxes <= 2 * _BESIDE


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the time that the dish takes."""

    kind: str
    """`hands`, `waiting`, or `gap` between two groups of steps."""
    percent: str


@dataclass(frozen=True, slots=True)
class Opening:
    """One dish."""

    sheet: RecipeSheet
    plate: PlateView | None
    """None where nothing in it has a known weight and colour."""
    lede: str
    starts_before: bool
    people: str
    hands: str
    waiting: str
    """Empty where nothing waits."""
    oven: str
    ribbon: tuple[Stretch, ...]
    gathered: tuple[Gathered, ...]
    watch: tuple[WatchLine, ...]
    groups: tuple[StepGroup, ...]
    done: str
    has_heat: bool
    """Whether a thermometer says that it is done."""
    cautions: tuple[str, ...]
    """The names of all in it."""

    @property
    def before_cooking(self) -> tuple[StepGroup, ...]:
        """The groups that end before anything is cooked."""
        return self.groups[: self._cooked]

    @property
    def cooking(self) -> tuple[StepGroup, ...]:
        """The others."""
        return self.groups[self._cooked :]

    @property
    def _cooked(self) -> int:
        return 1 if len(self.groups) < 3 else len(self.groups) - 2


def opening_of(household: Household, key: str, sheet: RecipeSheet) -> Opening:
    """The recipe with that key, which `sheet` shows, for a household."""
    recipe, texts = household.folder.recipes[key], household.texts
    people = Fraction(household.people)
    time = home_time(recipe, people)
    groups = tuple(_groups(recipe, sheet, texts))
    return Opening(
        sheet=sheet,
        plate=plate_view(recipe, household.uses[key], household.folder.pantry, texts),
        lede=_first_sentence(plain_prose(sheet.lede)),
        starts_before=time.starts_before,
        people="; ".join(
            (sheet.columns[0].label, *(fact.text for fact in sheet.facts if fact.icon == "people"))
        ),
        hands=_said("{minutes} hands-on", time.hands, texts),
        waiting=_said("{minutes} waiting", time.waiting, texts),
        oven=next((fact.text for fact in sheet.facts if fact.icon == "oven"), texts.say("No oven")),
        ribbon=tuple(_ribbon(recipe, groups, people)),
        gathered=tuple(_gathered(recipe, sheet, texts)),
        watch=tuple(watch_lines(recipe.steps, texts)),
        groups=groups,
        done=_done(recipe, texts),
        has_heat=any(step.heat for step in recipe.steps),
        cautions=tuple(
            dict.fromkeys(known.name for step in recipe.steps for known in known_cautions(step))
        ),
    )


def _first_sentence(text: str) -> str:
    return _SENTENCE.split(" ".join(text.split()), maxsplit=1)[0]


def _said(words: str, minutes: Fraction, texts: Texts) -> str:
    return texts.say(words, minutes=minutes_text(minutes, texts)) if minutes else ""


def _ribbon(recipe: Recipe, groups: Sequence[StepGroup], portions: Fraction) -> Iterator[Stretch]:
    """The day's time in the order of its steps, to scale."""
    time = home_time(recipe, portions)
    steps = {step.number: step for step in recipe.steps}
    whole, is_first = time.hands + time.waiting, True
    for group in groups:
        stretches = [
            ("waiting" if is_wait else "hands", minutes)
            for each in group.steps
            if steps[each.number].when != DAY_BEFORE
            for is_wait, minutes in stretches_of(recipe, steps[each.number], portions)
        ]
        if not stretches or not whole:
            continue
        if not is_first:
            yield Stretch("gap", "1")
        is_first = False
        for kind, together in groupby(stretches, key=lambda each: each[0]):
            share = sum((minutes for _, minutes in together), Fraction(0)) / whole
            yield Stretch(kind, f"{float(share) * (100 - len(groups)):.2f}")


def _gathered(recipe: Recipe, sheet: RecipeSheet, texts: Texts) -> Iterator[Gathered]:
    """Every ingredient in the order of use; one that several steps take, once for each."""
    taken: dict[str, list[tuple[int, str, AmountView]]] = {}
    for step in sheet.steps:
        for use in step.uses:
            taken.setdefault(use.key, []).append((step.number, use.names[0], use.sizes[0]))
    rows: list[tuple[int, Gathered]] = []
    for line in sheet.lines:
        uses = taken.get(line.key, [])
        whole = line.sizes[0]
        if len(uses) < 2:
            at = uses[0][0] if uses else 0
            notes = (*in_scoops(whole), *whole.notes)
            rows.append((at, Gathered(line.key, "", whole, line.names[0], line.preparation, notes)))
            continue
        for index, (number, name, view) in enumerate(uses):
            notes = in_scoops(view)
            if not index and whole.text:
                notes = (*notes, texts.say("{amount} in all", amount=whole.text), *whole.notes)
            key = f"{line.key}-{number}-{index}"
            rows.append((number, Gathered(key, "", view, name, line.preparation, notes)))
    # What no step takes by name is at hand from the beginning.
    rows.sort(key=lambda row: row[0])
    last = 0
    for number, row in rows:
        yield replace(row, step=str(number)) if number and number != last else row
        last = number


def known_cautions(step: Step) -> list[Caution]:
    """Those of a step that have a name, the gravest first."""
    ranks = {group.name: rank for rank, group in enumerate(CAUTION_GROUPS)}
    found = (CAUTIONS.get(term.text.casefold()) for term in step.watch)
    return sorted((each for each in found if each), key=lambda each: ranks[each.group])


def watch_lines(steps: Iterable[Step], texts: Texts) -> Iterator[WatchLine]:
    """Every named danger of these steps once, those of one kind together, the gravest kind
    first."""
    at: dict[str, list[int]] = {}
    for step in steps:
        for caution in known_cautions(step):
            at.setdefault(caution.name, []).append(step.number)
    for group in CAUTION_GROUPS:
        met = [CAUTIONS[name] for name in at if CAUTIONS[name].group == group.name]
        if not met:
            continue
        name = met[0].name if len(met) == 1 else group.name
        met.sort(key=lambda each: _ORDER[each.name])
        told = met if group.name in _TOLD_WHOLE else met[:_MOST_RULES]
        rules = [texts.say(each.short) for each in told]
        yield WatchLine(
            met[0].icon if len(met) == 1 else group.icon,
            _capital(texts.say(name)),
            _runs(sorted({number for each in met for number in at[each.name]})),
            sentence("; ".join(rules)),
            sentence(rules[0]),
        )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _runs(numbers: Sequence[int]) -> str:
    """`1, 6–9`: of three and more in a row the first and the last."""
    said: list[str] = []
    for _, run in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0]):
        row = [number for _, number in run]
        said += [f"{row[0]}–{row[-1]}"] if len(row) > 2 else map(str, row)
    return ", ".join(said)


def _groups(recipe: Recipe, sheet: RecipeSheet, texts: Texts) -> Iterator[StepGroup]:
    views = {view.number: view for view in sheet.steps}
    headed = _authors(recipe) or _by_work(recipe, texts)
    for title, steps in headed:
        yield StepGroup(
            title,
            bool(_authors(recipe)),
            tuple(
                OpenStep(
                    step.number,
                    (Text(step.home, step.place),) if step.home else views[step.number].text,
                    tuple(_signs(step, texts)),
                )
                for step in steps
            ),
        )


def _authors(recipe: Recipe) -> list[tuple[str, list[Step]]]:
    """The recipe's own groups; empty where it has none."""
    if not any(step.group for step in recipe.steps):
        return []
    return [
        (title or "", [*steps]) for title, steps in groupby(recipe.steps, key=lambda s: s.group)
    ]


def _by_work(recipe: Recipe, texts: Texts) -> list[tuple[str, list[Step]]]:
    """What is done the day before, what only makes ready, what is cooked or made, what follows
    without heat or blade."""
    rest = list(recipe.steps)
    before = _taken(rest, [step.when == DAY_BEFORE for step in rest])
    first_hot = next(
        (at for at, step in enumerate(rest) if on_heat(step) and not step.when), len(rest)
    )
    ready = first_hot
    while ready and not (rest[ready - 1].has(*_READY) or rest[ready - 1].when):
        ready -= 1
    prepare, rest = rest[:ready], rest[ready:]
    end = len(rest)
    while end and not (on_heat(rest[end - 1]) or rest[end - 1].has(Kind.BLADE)):
        end -= 1
    cook, serve = rest[:end], rest[end:]
    is_hot = any(on_heat(step) for step in cook)
    found = (
        (texts.say("The day before"), before),
        (texts.say("Prepare"), prepare),
        (texts.say("Cook") if is_hot else texts.say("Make"), cook),
        (texts.say("Serve"), serve),
    )
    return [(title, steps) for title, steps in found if steps]


def _taken(steps: list[Step], which: Sequence[bool]) -> list[Step]:
    """The first ones as long as they are such, taken off the list."""
    count = next((at for at, each in enumerate(which) if not each), len(which))
    taken = steps[:count]
    del steps[:count]
    return taken


def _signs(step: Step, texts: Texts) -> Iterator[Sign]:
    """The adult's part first, then the dangers, what is washed, and the numbers."""
    if step.when or (step.adult and step.home):
        # The words for home say what the adult does there.
        yield Sign("adult", texts.say("adult"), True)
    if not step.home:
        for term in step.adult:
            known = ADULT.get(term.text.casefold())
            said = texts.say(known.text) if known else texts.say("An adult {job}", job=term.text)
            yield Sign("adult", said.rstrip("."), True)
    if step.when == DAY_BEFORE and step.group:
        yield Sign("clock", texts.say("the day before"))
    for caution in known_cautions(step):
        yield Sign(caution.icon, texts.say(caution.name))
    for term in step.watch:
        if term.text.casefold() not in CAUTIONS:
            yield Sign("caution", term.text, True)
    if step.wash:
        things = ", ".join(texts.say(term.text) for term in step.wash)
        yield Sign("hands", texts.say("wash: {things}", things=things))
    if step.heat is not None:
        yield Sign("thermometer", temperature_text(step.heat, texts), True)
    if step.wait:
        minutes = minutes_text(step.wait, texts)
        yield Sign("clock", texts.say("wait {minutes}", minutes=minutes), True)


def _done(recipe: Recipe, texts: Texts) -> str:
    """By the last thing that is heated to a temperature, and by the author's own words."""
    heat = next((step.heat for step in reversed(recipe.steps) if step.heat), None)
    said = next((step.done for step in reversed(recipe.steps) if step.done), "")
    parts = []
    if heat is not None:
        parts.append(texts.say("{heat} in the middle: done.", heat=temperature_text(heat, texts)))
    if said:
        parts.append(sentence(said))
    return " ".join(parts)
