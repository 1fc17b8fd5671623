"""What the clock of each session says: does it fit, is there a fire for it, who waits too long."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from spoonfold.check.rule import Facts, Rule, advice, key_place, settings_of, warning
from spoonfold.knowledge.equipment import Kind
from spoonfold.plan.clock.advice import Saving, savings_of
from spoonfold.plan.clock.boil import CIRCUIT_WATTS
from spoonfold.plan.clock.class_work import Timed, times_at
from spoonfold.plan.clock.clock import Idle
from spoonfold.plan.clock.tasks import equipment_of
from spoonfold.plan.safety.cold import limit, sums, times_out
from spoonfold.problem import Level, Place, Problem
from spoonfold.read.folder import CHANGES, CLASS_FILE

LONG_IDLE = 20 * 60
"""Seconds in which a whole table without work is worth a word; common practice."""

MOST_WAYS = 2
"""Ways out that are told; the whole list is on the lesson card."""


def does_not_fit(facts: Facts) -> Iterator[Problem]:
    """A session that takes longer than the time there is, or has too few pots in any order."""
    if CLASS_FILE in facts.troubled:
        # What there is of everything may be what can't be read.
        return
    for each in facts.clocks:
        clock, number = each.clock, each.session.number
        for name in clock.crowded:
            has = each.session.setting.equipment.get(name, 0)
            yield warning(
                "does-not-fit",
                _place(each),
                f"Session {number} needs more of “{name}” at one moment than there is, in whatever "
                "order the tables work: food stays in it from one step to the next.",
                f"Bring more, do it once `for: class`, or free it with `wait: … aside`. There "
                f"{'is' if has == 1 else 'are'} {has or 'none'}.",
            )
        # Without any time to cook it is the fixed parts that are wrong, and told.
        if clock.over and clock.cooking > 0:
            needed = -(-clock.makespan // 60)
            yield warning(
                "does-not-fit",
                _place(each),
                f"Session {number} takes {needed} minutes of cooking, and there "
                f"{'is' if clock.cooking == 1 else 'are'} {clock.cooking}: {clock.over} too many.",
                _way_out(each),
            )


def _way_out(each: Timed) -> str:
    ways = [_saving(saving) for saving in savings_of(each.work, each.clock)[:MOST_WAYS]]
    ways.append(f"{'Or do' if ways else 'Do'} a step `when: before class`, or cook one dish fewer.")
    return " ".join(ways)


def _saving(saving: Saving) -> str:
    minutes = f"{saving.minutes} minutes"
    if saving.dish is None:
        return f"One more {saving.name} saves {minutes}."
    steps = ", ".join(map(str, saving.steps))
    return (
        f"One {saving.name} for the whole class saves {minutes} (`for: class` under step"
        f"{'' if len(saving.steps) == 1 else 's'} {steps} of {saving.dish})."
    )


def no_cooker(facts: Facts) -> Iterator[Problem]:
    """A dish that needs a burner, an oven or a griddle where the session has none."""
    for each in facts.clocks:
        equipment = each.session.setting.equipment
        for dish in each.work.dishes:
            needed = {
                name: step.number
                for step in reversed(dish.recipe.steps)
                for name in equipment_of(step)
                if step.when != "day before" and name in step.named(Kind.HOT)
            }
            for name, number in sorted(needed.items(), key=lambda pair: pair[1]):
                # What no session lists at all is told by its name.
                if not equipment.get(name) and name in _owned(facts):
                    place = key_place(each.session.setting, "equipment", _place(each))
                    found = warning(
                        "no-cooker",
                        place,
                        f"Step {number} of {dish.recipe.key} needs {_a(name)}, and session "
                        f"{each.session.number} has none.",
                        f"Bring one (`{name}: 1` under `equipment`), cook that step `when: day "
                        "before`, or choose a dish without heat.",
                    )
                    yield _firm(found)


def _owned(facts: Facts) -> frozenset[str]:
    """Everything that any session lists."""
    classroom = facts.folder.classroom
    return (
        frozenset()
        if classroom is None
        else frozenset(name for setting, _ in settings_of(classroom) for name in setting.equipment)
    )


def step_too_long(facts: Facts) -> Iterator[Problem]:
    """One step that takes longer by itself than all the time for cooking."""
    told: set[tuple[str, int]] = set()
    for each in facts.clocks:
        for placed in each.clock.placed:
            task, step = placed.task, placed.task.step
            minutes = -(-task.activity.duration // 60)
            key = (task.dish, step.number)
            if minutes > each.clock.cooking > 0 and key not in told:
                told.add(key)
                yield warning(
                    "step-too-long",
                    step.place,
                    f"Step {step.number} takes {minutes} minutes with the children of session "
                    f"{each.session.number}, and there are {each.clock.cooking} for the whole "
                    "dish.",
                    "Have an adult do it beforehand (`when: day before` or `when: before class`), "
                    "or say `class time:` if it goes faster.",
                )


def one_circuit(facts: Facts) -> Iterator[Problem]:
    """Cookers that run together and draw more than the circuits carry."""
    told: set[Place] = set()
    for each in facts.clocks:
        found, setting = each.clock.circuits, each.session.setting
        has = setting.circuits
        place = key_place(setting, "watts", _place(each))
        if found is None or found.circuits <= (has or 1) or place in told:
            continue
        told.add(place)
        things = ", ".join(f"{count} × {name}" for name, count in found.together.items())
        there = (
            "class.yaml doesn't say how many there are"
            if has is None
            else f"there {'is' if has == 1 else 'are'} {has}"
        )
        yield warning(
            "one-circuit",
            place,
            f"In session {each.session.number} {things} run together and draw {found.watts} watts. "
            f"A common household circuit carries {CIRCUIT_WATTS}, so that takes {found.circuits} "
            f"circuits, and {there}.",
            f"Plug them into different circuits and say `circuits: {found.circuits}`, or cook one "
            "after the other.",
        )


def idle_hands(facts: Facts) -> Iterator[Problem]:
    """A whole table without work for long, while its next step is still to come."""
    for each in facts.clocks:
        tables = each.session.setting.tables
        waits = [
            idle
            for idle in each.clock.idle
            if idle.hands == tables[idle.table - 1]
            and len(tables) > 1
            and idle.end - idle.start >= LONG_IDLE
            and idle.end < each.clock.makespan
        ]
        if waits:
            worst = max(waits, key=lambda idle: idle.end - idle.start)
            yield advice(
                "idle-hands",
                _place(each),
                _idle(each, worst),
                "What can be washed up meanwhile is counted already. Give them the table and the "
                "questions of the lesson card, or let them do a step of the others. "
                f"`spoonfold clock {each.session.number}` shows everyone's time.",
            )


def _idle(each: Timed, worst: Idle) -> str:
    return (
        f"In session {each.session.number} everyone at table {worst.table} waits for "
        f"{(worst.end - worst.start) // 60} minutes, from minute {worst.start // 60} of "
        "cooking."
    )


def few_helpers(facts: Facts) -> Iterator[Problem]:
    """More tables than helpers, where a knife or heat is at a table."""
    told: set[Place] = set()
    for each in facts.clocks:
        setting = each.session.setting
        tables, helpers = sum(map(bool, setting.tables)), setting.helpers
        keys = [key_place(setting, key, _place(each)) for key in ("helpers", "tables")]
        place = next(filter(_is_changed, keys), keys[0])
        watched = any(placed.task.step.watch and placed.task.table for placed in each.clock.placed)
        if helpers + 1 < tables and watched and place not in told:
            told.add(place)
            found = warning(
                "few-helpers",
                place,
                f"There {'is' if helpers == 1 else 'are'} {helpers or 'no'} "
                f"helper{'' if helpers == 1 else 's'} for {tables} tables in session "
                f"{each.session.number}, so with the lead cook some tables work with knives or "
                "heat and no adult.",
                "Ask for another helper, set fewer and larger tables (`tables:`), or keep sharp "
                "and hot steps `for: class`.",
            )
            yield _firm(found)


def warm_by_the_clock(facts: Facts) -> Iterator[Problem]:
    """Food that is out of the cold too long because of queues, not by the steps alone."""
    for each in facts.clocks:
        setting = each.session.setting
        most = limit(setting)
        for dish in each.work.dishes:
            flow = facts.flows[dish.recipe.key]
            # What is too long in any kitchen is an error of the recipe, and told there.
            told = {
                out.place.line
                for out in times_out(flow, setting, sums(flow, setting))
                if out.minutes > most
            }
            # A day that goes as slowly as others did must be safe too.
            slowest = replace(each, clock=each.expected.slow) if each.expected else each
            for table in range(1, len(setting.tables) + 1):
                for out in times_out(flow, setting, times_at(slowest, dish.recipe.key, table)):
                    line = out.place.line
                    if out.minutes > most and line not in told:
                        told.add(line)
                        yield warning(
                            "warm-by-the-clock",
                            out.place,
                            f"{out.name.capitalize()} is out of the cold for {int(out.minutes)} "
                            f"minutes at table {table} in session {each.session.number}, since "
                            f"tables wait for each other. At most {int(most)} are safe.",
                            "Keep it in the refrigerator or the cooler with ice, listed under "
                            "`needs` of the step that takes it out, or shorten the queue: "
                            f"`spoonfold clock {each.session.number}` shows it.",
                        )


def _a(name: str) -> str:
    return f"{'an' if name[:1] in 'aeiou' else 'a'} {name}"


def _is_changed(place: Place) -> bool:
    """Whether a change of the day says it."""
    return place.path.startswith(CHANGES)


def _firm(found: Problem) -> Problem:
    """What a change of the day brings nobody has planned for, so it is never let pass."""
    return replace(found, level=Level.ERROR) if _is_changed(found.place) else found


def _place(each: Timed) -> Place:
    return each.session.place


RULES = (
    Rule("does-not-fit", does_not_fit),
    Rule("no-cooker", no_cooker),
    Rule("step-too-long", step_too_long),
    Rule("one-circuit", one_circuit),
    Rule("idle-hands", idle_hands),
    Rule("few-helpers", few_helpers),
    Rule("warm-by-the-clock", warm_by_the_clock),
)
