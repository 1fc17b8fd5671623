"""The class clock in words: whether it fits, what would help, who waits; for paper and terminal."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from spoonfold.knowledge.equipment import Kind
from spoonfold.language.calendar import time_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Setting
from spoonfold.model.prose import plain
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.clock.advice import HELPER, Saving
from spoonfold.plan.clock.boil import CIRCUIT_WATTS
from spoonfold.plan.clock.class_work import Timed, cooking_begins
from spoonfold.plan.clock.clock import ANCHOR, ClassClock, Idle
from spoonfold.plan.clock.late import Relief, Way
from spoonfold.plan.clock.washing import Washing, WashUp
from spoonfold.sheets.shared.numbers import step_name
from spoonfold.sheets.shared.steps import without_amounts

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class Names:
    """How the steps of a session are called: `5` in one dish, `A5` and `B5` in two."""

    recipes: Mapping[str, Recipe]
    texts: Texts
    letters: Mapping[str, str] = field(default_factory=dict)
    """By recipe; empty for one dish alone."""

    def number(self, dish: str, step: int) -> str:
        """`5` or `A5`."""
        return f"{self.letters.get(dish, '')}{step}"

    def step(self, dish: str, step: int) -> str:
        """`Step 5`."""
        return self.texts.say("Step {number}", number=self.number(dish, step))

    def words(self, dish: str, step: Step) -> str:
        """The step's words, without the amounts of the recipe's own size."""
        return plain(without_amounts(step.said, self.recipes[dish]))

    def opening(self, dish: str, step: Step) -> str:
        """A short name of the step, without the amounts of the recipe's own size."""
        return step_name(self.words(dish, step), self.texts)

    def key(self) -> tuple[tuple[str, str], ...]:
        """Each letter and its dish."""
        return tuple((letter, self.recipes[dish].title) for dish, letter in self.letters.items())


def names_of(each: Timed, texts: Texts) -> Names:
    """The names of a session's steps."""
    return names_in([dish.recipe for dish in each.work.dishes], texts)


def names_in(dishes: Sequence[Recipe], texts: Texts) -> Names:
    """The names of the steps of these dishes."""
    recipes = {recipe.key: recipe for recipe in dishes}
    letters = dict(zip(recipes, _LETTERS, strict=False)) if len(recipes) > 1 else {}
    return Names(recipes, texts, letters)


def moment(setting: Setting, seconds: int, texts: Texts) -> str:
    """The time of day so many seconds after cooking began, to the minute before."""
    return day_time(setting, cooking_begins(setting) + seconds // 60, texts)


def rounded_moment(setting: Setting, seconds: int, texts: Texts) -> str:
    """The same to the nearest five minutes: nobody cooks to the second."""
    whole = (cooking_begins(setting) * 60 + seconds + ANCHOR * 30) // 60
    return day_time(setting, whole // ANCHOR * ANCHOR, texts)


def step_time(each: Timed, dish: str, step: int, start: int, texts: Texts) -> str:
    """When a step begins, to five minutes: its anchor's time where it has one, so that two
    roundings never stand on one sheet."""
    anchor = next(
        (one.at for one in each.clock.anchors if (one.dish, one.step) == (dish, step)), None
    )
    if anchor is not None:
        return clock_text(anchor, texts)
    return rounded_moment(each.session.setting, start, texts)


def day_time(setting: Setting, minutes: int, texts: Texts) -> str:
    """The time of day so many minutes after the session began."""
    total = setting.starts.hour * 60 + setting.starts.minute + minutes
    return clock_text(datetime.time(total // 60 % 24, total % 60), texts)


def clock_text(time: datetime.time, texts: Texts) -> str:
    """`10:35`: on a day's sheet nobody takes it for the evening."""
    text = time_text(time, texts.language)
    return text.replace("\u202f", " ").removesuffix(" AM").removesuffix(" PM")


def verdict(each: Timed, texts: Texts) -> str:
    """Whether it fits, and by how much, and what earlier days say of it."""
    said = _verdict(each.clock, texts)
    expected = each.expected
    if expected is None:
        return said
    low, high = -(-expected.low // 60), -(-expected.high // 60)
    told = (
        texts.count(
            "{low} to {high} minutes, by {number} day that was noted",
            "{low} to {high} minutes, by {number} days that were noted",
            expected.times,
            low=low,
            high=high,
        )
        if low < high
        else texts.count(
            "planned by {number} day that was noted",
            "planned by {number} days that were noted",
            expected.times,
        )
    )
    return f"{said} ({told})"


def _verdict(clock: ClassClock, texts: Texts) -> str:
    if clock.over:
        return texts.count(
            "Does not fit: {number} minute too long",
            "Does not fit: {number} minutes too long",
            clock.over,
        )
    if not clock.fits:
        return texts.say("Does not fit: there is too little equipment")
    if not clock.spare:
        return texts.say("Fits, without a minute to spare")
    return texts.count(
        "Fits, with {number} minute to spare", "Fits, with {number} minutes to spare", clock.spare
    )


def lacking(each: Timed, names: Names) -> tuple[str, ...]:
    """What is short whatever the order, one sentence each."""
    say = names.texts.say
    told = [
        names.texts.count(
            "{step} needs {needs} × {name} at once, and there is {number}.",
            "{step} needs {needs} × {name} at once, and there are {number}.",
            short.has,
            step=names.step(short.dish, short.step.number),
            needs=short.needs,
            name=say(short.name),
        )
        for short in each.clock.tasks.shortages
    ]
    told += [
        say("There are too few of {name} in any order: food waits in them.", name=say(name))
        for name in each.clock.crowded
    ]
    return tuple(told)


def saving_text(saving: Saving, names: Names) -> str:
    """`One more burner saves 14 minutes.`"""
    texts = names.texts
    minutes = texts.count("{number} minute", "{number} minutes", saving.minutes)
    if saving.name == HELPER:
        return texts.say("One more helper saves {minutes}.", minutes=minutes)
    thing = texts.say(saving.name)
    if saving.dish is None:
        return texts.say("One more {thing} saves {minutes}.", thing=thing, minutes=minutes)
    steps = ", ".join(names.number(saving.dish, step) for step in saving.steps)
    return texts.say(
        "One {thing} for the whole class at {steps} saves {minutes}.",
        thing=thing,
        steps=texts.count("step {steps}", "steps {steps}", len(saving.steps), steps=steps),
        minutes=minutes,
    )


def relief_text(relief: Relief, names: Names) -> str:
    """`Step 7: Mix the yogurt (saves 4 minutes)`, or with how it is easier."""
    recipe, texts = names.recipes[relief.dish], names.texts
    step = next(each for each in recipe.steps if each.number == relief.step)
    label = names.step(relief.dish, relief.step)
    if relief.way is Way.EASIER:
        return texts.count(
            "{step}: {words} (saves about {number} minute)",
            "{step}: {words} (saves about {number} minutes)",
            relief.minutes,
            step=label,
            words=step.easier or "",
        )
    return texts.count(
        "{step}: {words} (saves {number} minute)",
        "{step}: {words} (saves {number} minutes)",
        relief.minutes,
        step=label,
        words=names.opening(relief.dish, step),
    )


def idle_text(idle: Idle, each: Timed, texts: Texts) -> str:
    """`Table 3, all 4: 10:36 to 10:47 (11 minutes)`."""
    setting = each.session.setting
    return texts.say(
        "Table {table}, {who}: {start} to {end} ({minutes} min)",
        table=idle.table,
        who=_who(idle, each, texts),
        start=moment(setting, idle.start, texts),
        end=moment(setting, idle.end, texts),
        minutes=(idle.end - idle.start) // 60,
    )


def idle_at_tables(each: Timed, texts: Texts) -> tuple[str, ...]:
    """A line a table, to five minutes: `Table 3: 2 children 10:35 to 10:45, all 11:00 to 11:15`."""
    setting = each.session.setting
    lines: dict[int, list[str]] = {}
    for idle in main_idle(each):
        lines.setdefault(idle.table, []).append(
            texts.say(
                "{who} {start} to {end}",
                who=_who(idle, each, texts),
                start=rounded_moment(setting, idle.start, texts),
                end=rounded_moment(setting, idle.end, texts),
            )
        )
    return tuple(
        texts.say("Table {number}: {times}", number=table, times=", ".join(lines[table]))
        for table in sorted(lines)
    )


def _who(idle: Idle, each: Timed, texts: Texts) -> str:
    if idle.hands == each.session.setting.tables[idle.table - 1]:
        return texts.say("all {count}", count=idle.hands)
    return texts.count("{number} child", "{number} children", idle.hands)


def circuit_text(clock: ClassClock, texts: Texts) -> str:
    """How many circuits the cookers need; empty where one is enough or nobody knows."""
    found = clock.circuits
    if found is None or found.circuits < 2:
        return ""
    things = ", ".join(f"{count} × {texts.say(name)}" for name, count in found.together.items())
    return texts.say(
        "{things} at once draw {watts} watts: plug them into {count} different circuits "
        "(one carries {most}).",
        things=things,
        watts=found.watts,
        count=found.circuits,
        most=CIRCUIT_WATTS,
    )


def main_idle(each: Timed) -> tuple[Idle, ...]:
    """The waits worth a line: the most hands of a table for a stretch, fewer hands within it
    left out, and no single child where the others have work."""
    tables = each.session.setting.tables
    kept: list[Idle] = []
    for idle in sorted(each.clock.idle, key=lambda one: (-one.hands, one.start, one.table)):
        if idle.hands * 2 < tables[idle.table - 1]:
            continue
        inside = any(
            one.table == idle.table and one.start < idle.end and idle.start < one.end
            for one in kept
        )
        if not inside:
            kept.append(idle)
    return tuple(sorted(kept, key=lambda one: (one.start, one.table)))


CLEAN_UP = "clean up"


@dataclass(frozen=True, slots=True)
class WashAnchor:
    """When to send somebody to the sink while one thing cooks; minutes since the session began,
    on full fives."""

    at: int
    latest: int
    """When the last ones go."""
    words: str


def washing_anchors(each: Timed, names: Names) -> Iterator[WashAnchor]:
    """One for each step that goes on by itself meanwhile, by their first turns."""
    texts, setting = names.texts, each.session.setting
    groups: dict[tuple[str, int] | None, list[WashUp]] = {}
    for turn in each.clock.washing.turns:
        groups.setdefault(turn.during, []).append(turn)
    for turns in groups.values():
        tables = dict.fromkeys(turn.table for turn in turns)
        numbers = ", ".join(map(str, tables))
        at, latest = (_to_five(setting, turn.start) for turn in (turns[0], turns[-1]))
        yield WashAnchor(
            at,
            latest,
            texts.say(
                "{tables}, {meanwhile}",
                meanwhile=meanwhile_text(turns[0], names),
                tables=texts.count(
                    "table {tables}", "tables {tables}", len(tables), tables=numbers
                ),
            ),
        )


def meanwhile_text(turn: WashUp, names: Names) -> str:
    """What goes on by itself: `while step 9 cooks`."""
    if turn.during is None:
        return names.texts.say("while the others work")
    dish, number = turn.during
    step = next(one for one in names.recipes[dish].steps if one.number == number)
    if step.has(Kind.HOT):
        return names.texts.say("while step {number} cooks", number=names.number(dish, number))
    return names.texts.say("while step {number} rests", number=names.number(dish, number))


def washing_at_tables(each: Timed, names: Names) -> tuple[str, ...]:
    """A line a table, to five minutes: `Table 2: 10:30–10:35 3 × knife; 10:40–10:50 ...`."""
    texts, setting = names.texts, each.session.setting
    lines: dict[int, list[str]] = {}
    for turn in each.clock.washing.turns:
        start, end = (_to_five(setting, at) for at in (turn.start, turn.end))
        lines.setdefault(turn.table, []).append(
            texts.say(
                "{start}–{end} {things}",
                start=day_time(setting, start, texts),
                end=day_time(setting, max(start + ANCHOR, end), texts),
                things=things_text(turn.things, names),
            )
        )
    return tuple(
        texts.say("Table {number}: {times}", number=table, times="; ".join(lines[table]))
        for table in sorted(lines)
    )


def left_to_wash(each: Timed, names: Names) -> str:
    """What the clean-up is left with, and whether that fits in it; empty where nothing is."""
    texts, washing = names.texts, each.clock.washing
    if not washing.left:
        return ""
    needed, given = _minutes_left(washing), each.session.setting.fixed.get(CLEAN_UP, 0)
    told = texts.say(
        "For the clean-up: {things}, pots and dishes.", things=things_text(washing.left, names)
    )
    if needed > given:
        told += " " + texts.count(
            "That takes about {needed} minutes, and there is {number}: leave some for the adults.",
            "That takes about {needed} minutes, and there are {number}: leave some for the adults.",
            given,
            needed=needed,
        )
    return told


def things_text(things: Sequence[tuple[str, int]], names: Names) -> str:
    """`4 × knife, board`; a number stays on the line of its thing."""
    say = names.texts.say
    return ", ".join(
        f"{count}\u00a0×\u00a0{say(name)}" if count > 1 else say(name) for name, count in things
    )


def _minutes_left(washing: Washing) -> int:
    return -(-washing.left_seconds // 60)


def _to_five(setting: Setting, seconds: int) -> int:
    whole = (cooking_begins(setting) * 60 + seconds + ANCHOR * 30) // 60
    return whole // ANCHOR * ANCHOR
