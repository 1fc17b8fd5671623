"""The day itself on the lesson card: what happens when, how the room is set up, who is where."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor

from spoonfold.language.amounts import minutes_text, temperature_text
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.amounts.eaters import guests_at_tables
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.advice import without_a_helper
from spoonfold.plan.clock.class_work import Timed, cooking_begins
from spoonfold.plan.clock.clock import ANCHOR
from spoonfold.plan.clock.tasks import Beforehand
from spoonfold.plan.people.packing import packing_of
from spoonfold.plan.safety.dish import cooked_at
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.tools import Board, boards_of
from spoonfold.sheets.lesson_card.clock import (
    Names,
    circuit_text,
    clock_text,
    day_time,
    step_time,
    washing_anchors,
)
from spoonfold.sheets.shared.cautions import CautionView, cautions_of, sentence, with_all
from spoonfold.sheets.shared.swaps import session_swaps

BEFORE_CLASS = "before class"
PARTS = {
    "arrive": "Arrive, wash hands",
    "talk": "Talk",
    "cook": "Cook",
    "eat": "Eat together",
    "clean up": "Clean up, count the tools",
}
"""The parts of a session as the card has them."""


@dataclass(frozen=True, slots=True)
class DayRow:
    """A time to look out for."""

    time: str
    what: str
    """A part of the session, or `Step 9`."""
    words: str
    latest: str
    """By when everyone must have begun; empty for a part."""
    is_part: bool


@dataclass(frozen=True, slots=True)
class Role:
    """Where an adult stands, and at which steps a child works only beside one."""

    who: str
    where: str
    steps: str


@dataclass(frozen=True, slots=True)
class SafetyRow:
    """What to say and watch when a step comes up."""

    time: str
    step: str
    cautions: tuple[CautionView, ...]
    """In full the first time; after that by name alone."""
    heat: str
    wash: str


def day_of(each: Timed, names: Names, topic: str) -> tuple[DayRow, ...]:
    """Parts and anchors in one list."""
    texts, setting = names.texts, each.session.setting
    rows = []
    for part in each.clock.parts:
        if part.end == part.start:
            continue
        words = topic if part.name == "talk" else ""
        label = texts.say(PARTS.get(part.name, part.name))
        rows.append(DayRow(day_time(setting, part.start, texts), label, words, "", True))
        if part.name == "cook":
            rows += _while_cooking(each, names)
    rows.append(DayRow(day_time(setting, setting.minutes, texts), texts.say("End"), "", "", True))
    return tuple(rows)


def _while_cooking(each: Timed, names: Names) -> list[DayRow]:
    """The steps to look out for, and when to send somebody to the sink."""
    texts, setting = names.texts, each.session.setting
    begin = setting.starts.hour * 60 + setting.starts.minute
    steps = {
        (dish.recipe.key, step.number): step
        for dish in each.work.dishes
        for step in dish.recipe.steps
    }
    rows = [
        (
            (anchor.at.hour * 60 + anchor.at.minute - begin) % (24 * 60),
            DayRow(
                clock_text(anchor.at, texts),
                names.step(anchor.dish, anchor.step),
                names.opening(anchor.dish, steps[anchor.dish, anchor.step]),
                clock_text(anchor.latest, texts),
                False,
            ),
        )
        for anchor in each.clock.anchors
    ]
    rows += [
        (
            anchor.at,
            DayRow(
                day_time(setting, anchor.at, texts),
                texts.say("Wash up"),
                anchor.words,
                day_time(setting, anchor.latest, texts),
                False,
            ),
        )
        for anchor in washing_anchors(each, names)
    ]
    return [row for _, row in sorted(rows, key=lambda pair: pair[0])]


def set_up_of(
    folder: ClassFolder, each: Timed, uses: Mapping[str, Uses], names: Names
) -> tuple[str, ...]:
    """What to do before anyone comes, in order."""
    say, setting = names.texts.say, each.session.setting
    recipes = [dish.recipe for dish in each.work.dishes]
    packing = packing_of(recipes, setting, at_tables=cooked_in(folder, each, names))
    packed = [one for things in packing.by_keeper.values() for one in things]
    boards = sum(one.count for one in packed if one.is_board)
    blades = [one for one in packed if one.is_sharp]
    lines = [say("Wash your hands, the tables and the sink. Soap, paper towels and a bin there.")]
    lines += _beforehand(each, names)
    circuits = circuit_text(each.clock, names.texts)
    if circuits:
        lines.append(circuits + " " + say("No cord where people walk."))
    if boards:
        lines.append(
            names.texts.count(
                "Lay a damp towel under the board: one that slides cuts.",
                "Lay a damp towel under every board ({number}): one that slides cuts.",
                boards,
            )
        )
    if any(
        Board.RAW in boards_of(Flow(dish.recipe, dish.uses, folder.pantry)).values()
        for dish in each.work.dishes
    ):
        lines.append(say("Mark boards “raw” and “ready”, and part them on every table."))
    if blades:
        things = ", ".join(f"{one.count} × {say(one.name)}" for one in blades)
        lines.append(
            say(
                "Count the blades and keep them out of reach until everyone sits: {things}.",
                things=things,
            )
        )
    for swap in session_swaps(each.session, folder.recipes, uses, folder.pantry, names.texts):
        lines.append(
            say(
                "{where}: {name} instead of {original}: there is none on this day.",
                where=swap.where,
                name=swap.name,
                original=swap.instead_of,
            )
            if swap.is_missing
            else say(
                "{where}: {name} instead of {original}, for the taste.",
                where=swap.where,
                name=swap.name,
                original=swap.instead_of,
            )
            if swap.is_taste
            else say(
                "{where}: {name} instead of {original}. Closed, with its own bowl and "
                "spoon; made first.",
                where=swap.where,
                name=swap.name,
                original=swap.instead_of,
            )
        )
    if setting.guests:
        at_tables = ", ".join(
            say("table {number}: {count}", number=table, count=count)
            for table, count in enumerate(guests_at_tables(setting), start=1)
            if count
        )
        lines.append(
            names.texts.count(
                "A seat and a plate for the guest ({tables}). Before the meal, ask what they must "
                "not eat.",
                "A seat and a plate for each of {number} guests ({tables}). Before the meal, ask "
                "each what they must not eat.",
                setting.guests,
                tables=at_tables,
            )
        )
    lines.append(
        say("Table cards and the job chart on the tables, two clean tasting spoons for everyone.")
    )
    return tuple(lines)


def _beforehand(each: Timed, names: Names) -> Iterator[str]:
    """What an adult does before class, by the time at which to begin at the latest: the earliest
    first."""
    texts, setting = names.texts, each.session.setting
    boils = {(boil.dish, boil.step.number): boil for boil in each.clock.tasks.boils}
    lines = []
    for one, begin in begun_before(each):
        boil = boils.get((one.dish, one.step.number))
        more = (
            ""
            if boil is None
            else " "
            + texts.say(
                "({litres} litres boil in about {minutes}: an estimate, with the lid on.)",
                litres=f"{float(boil.litres):.1f}",
                minutes=minutes_text(boil.minutes, texts),
            )
        )
        lines.append(
            (
                begin,
                texts.say(
                    "By {time}: {step}. {words}",
                    time=day_time(setting, begin, texts),
                    step=names.step(one.dish, one.step.number),
                    words=sentence(names.opening(one.dish, one.step)),
                )
                + more,
            )
        )
    for _, line in sorted(lines, key=lambda timed: timed[0]):
        yield line


def begun_before(each: Timed) -> Iterator[tuple[Beforehand, int]]:
    """What an adult does before class, with the minute at which to begin at the latest; none of
    them is after 0, when the session begins."""
    cooking = cooking_begins(each.session.setting)
    for one in each.clock.tasks.beforehand:
        if one.step.when == BEFORE_CLASS:
            own = max(Fraction(0), one.minutes - (one.step.wait or 0))
            # Hands are done when the children come; what heats up is hot when they cook.
            yield one, floor(min(-own, cooking - one.minutes) / ANCHOR) * ANCHOR


def blades_of(folder: ClassFolder, each: Timed, names: Names) -> str:
    """The blades to count, `9 × knife, 3 × grater`; empty for none."""
    recipes = [dish.recipe for dish in each.work.dishes]
    packing = packing_of(recipes, each.session.setting, at_tables=cooked_in(folder, each, names))
    packed = (one for things in packing.by_keeper.values() for one in things)
    return ", ".join(
        f"{one.count}\u00a0×\u00a0{names.texts.say(one.name)}" for one in packed if one.is_sharp
    )


def cooked_in(folder: ClassFolder, each: Timed, names: Names) -> Mapping[str, tuple[Recipe, ...]]:
    """By a recipe's key, what each table cooks of it."""
    return cooked_at(
        [dish.recipe for dish in each.work.dishes],
        {dish.recipe.key: dish.uses for dish in each.work.dishes},
        folder.pantry,
        each.session.setting,
        names.texts.language,
    )


def roles_of(each: Timed, names: Names) -> tuple[Role, ...]:
    """The lead cook, then each helper."""
    say, setting = names.texts.say, each.session.setting
    tables = [table for table, children in enumerate(setting.tables, start=1) if children]
    helpers = setting.helpers
    together = _watched(each, None, names)
    roles = [Role(say("Lead cook"), say("at the heat, and where a hand is up"), together)]
    for helper in range(1, helpers + 1):
        if helpers < len(setting.tables):
            where, steps = say("goes round all tables"), _watched(each, 0, names)
        elif helper <= len(tables):
            table = tables[helper - 1]
            where, steps = say("Table {number}", number=table), _watched(each, table, names)
        else:
            where, steps = say("beside the lead cook"), together
        roles.append(Role(say("Helper {number}", number=helper), where, steps))
    return tuple(roles)


def _watched(each: Timed, table: int | None, names: Names) -> str:
    """The steps with an adult at a table (0: at any), in time: `10:22 step 3`."""
    own = [
        one
        for one in each.clock.placed
        if one.task.adult is not None
        and (one.task.table == table or (table == 0 and one.task.table is not None))
    ]
    first: dict[tuple[str, int], int] = {}
    for one in own:
        first.setdefault((one.task.dish, one.task.step.number), one.start)
    return ", ".join(
        names.texts.say(
            "{time} step {number}",
            number=names.number(*key),
            time=step_time(each, *key, start, names.texts),
        )
        for key, start in first.items()
    )


def missing_helper(each: Timed, names: Names) -> tuple[str, ...]:
    """What changes when one helper doesn't come."""
    texts, setting = names.texts, each.session.setting
    if not setting.helpers:
        return ()
    told = []
    seconds = without_a_helper(each.work)
    if seconds is not None:
        minutes = -(-(seconds - each.clock.cooking * 60) // 60)
        told.append(
            texts.count(
                "It then takes {number} minute more than there is: use the list for ten "
                "minutes late.",
                "It then takes {number} minutes more than there are: use the list for ten "
                "minutes late.",
                minutes,
            )
            if minutes > 0
            else texts.say("It still fits.")
        )
    if setting.helpers <= len(setting.tables):
        alone = _harmless(each, names)
        told.append(
            texts.say("A table without an adult waits with blades and heat until one comes.")
        )
        if alone:
            told.append(texts.say("Alone it does only: {steps}.", steps=alone))
    return tuple(told)


def _harmless(each: Timed, names: Names) -> str:
    """Steps at a table with no caution, no adult's job and no blade, whichever table it is."""
    found: dict[str, None] = {}
    for (dish, number), steps in _versions(each).items():
        at_tables = any(
            one.task.table is not None
            for one in each.clock.placed
            if (one.task.dish, one.task.step.number) == (dish, number)
        )
        if at_tables and not any(step.watch or step.adult or step.heat for step in steps):
            found[names.number(dish, number)] = None
    return texts_of(found, names)


def texts_of(numbers: Mapping[str, None], names: Names) -> str:
    """`steps 2, 5`; empty where there are none."""
    return (
        ""
        if not numbers
        else names.texts.count(
            "step {steps}", "steps {steps}", len(numbers), steps=", ".join(numbers)
        )
    )


def _versions(each: Timed) -> dict[tuple[str, int], list[Step]]:
    """Every step of the cooking in the order of time, as one table has it and another, that cooks
    with something else."""
    found: dict[tuple[str, int], list[Step]] = {}
    for one in each.clock.placed:
        found.setdefault((one.task.dish, one.task.step.number), []).append(one.task.step)
    return found


def safety_of(each: Timed, names: Names) -> tuple[SafetyRow, ...]:
    """Every step with something to watch at any table, in the order in which they come up."""
    texts = names.texts
    first: dict[tuple[str, int], tuple[int, Step]] = {}
    for number, one in enumerate(each.clock.tasks.beforehand):
        if one.step.when == BEFORE_CLASS:
            first[one.dish, one.step.number] = (number - len(each.clock.tasks.beforehand), one.step)
    versions = _versions(each)
    for placed in each.clock.placed:
        key = placed.task.dish, placed.task.step.number
        first.setdefault(key, (placed.start, with_all(versions[key])))
    told: set[str] = set()
    rows = []
    for (dish, number), (start, step) in sorted(first.items(), key=lambda pair: pair[1][0]):
        cautions = tuple(_told(view, told) for view in cautions_of(step, texts))
        heat = (
            ""
            if step.heat is None
            else texts.say(
                "{heat} in the middle, by thermometer", heat=temperature_text(step.heat, texts)
            )
        )
        wash = ", ".join(texts.say(term.text) for term in step.wash)
        if cautions or heat or wash:
            time = texts.say("before") if start < 0 else step_time(each, dish, number, start, texts)
            rows.append(SafetyRow(time, names.number(dish, number), cautions, heat, wash))
    return tuple(_merged(rows))


def _merged(rows: Iterable[SafetyRow]) -> Iterator[SafetyRow]:
    """Steps that begin together and ask for the same stand in one row."""
    groups: dict[SafetyRow, list[str]] = {}
    for row in rows:
        groups.setdefault(replace(row, step=""), []).append(row.step)
    for row, steps in groups.items():
        yield replace(row, step=", ".join(steps))


def _told(view: CautionView, told: set[str]) -> CautionView:
    """A caution that was said in full is called by its name; an adult's job is said each time."""
    if view.icon == "adult" or not view.title:
        return view
    if view.title in told:
        return CautionView(view.icon, view.title, "")
    told.add(view.title)
    return view
