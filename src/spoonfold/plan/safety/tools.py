"""Hands and tools that met raw food: which of them, where, and what must be washed when."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass
from enum import Enum

from spoonfold.knowledge.equipment import Kind
from spoonfold.model.recipe import Step
from spoonfold.plan.safety.flow import MEATS, Flow, Journey
from spoonfold.plan.safety.words import bowls, goes_elsewhere, on_heat, ready_one, works_dough

HANDLED_KINDS = MEATS | {"egg", "flour"}
"""Sprouts are rinsed and cooked like a vegetable; their germs are inside."""
CARRIED = frozenset({Kind.BOARD, Kind.BLADE, Kind.KNIFE})
"""Tools that go from hand to hand; a bowl stays with what is in it."""


@dataclass(frozen=True, slots=True)
class WashDue:
    """Something that must be washed at the end of a step."""

    step: int
    thing: str
    food: str
    meets: int | None = None
    """The step where it would meet food that is eaten as it is; None: at once."""


def handled_raw(flow: Flow) -> tuple[Journey, ...]:
    """The raw foods that hands and tools carry on."""
    return tuple(each for each in flow.raw if each.hazard.kind in HANDLED_KINDS)


def washes_due(flow: Flow) -> Iterator[WashDue]:
    """Everything, in the order of steps; each thing once a step."""
    told: set[tuple[int, str]] = set()
    for due in (*_at_once(flow), *_bowls(flow), *_probe(flow), *_carried(flow)):
        if (due.step, due.thing) not in told:
            told.add((due.step, due.thing))
            yield due


def washed(step: Step) -> frozenset[str]:
    """What the step's `wash` names."""
    return frozenset(term.text for term in step.wash)


def _at_once(flow: Flow) -> Iterator[WashDue]:
    """Hands always; the table where raw food was open on it."""
    for journey in handled_raw(flow):
        for number in journey.handled:
            step = flow.steps[number]
            yield WashDue(number, "hands", journey.hazard.name)
            if not on_heat(step) and _on_table(journey, step):
                yield WashDue(number, "table", journey.hazard.name)


def _on_table(journey: Journey, step: Step) -> bool:
    kind = journey.hazard.kind
    if kind == "egg":
        return step.number == journey.hazard.start
    return works_dough(step) if kind == "flour" else True


def _bowls(flow: Flow) -> Iterator[WashDue]:
    """A bowl is due where what was in it moves on, to another bowl or to the heat."""
    journeys = handled_raw(flow)
    full: dict[int, int] = {}
    for number in flow.order.sorted:
        here = [each for each in journeys if number in each.handled]
        if not here:
            continue
        step = flow.steps[number]
        before = [
            n
            for n in full
            if any(n in each.handled and n in flow.order.before[number] for each in here)
        ]
        filled = sum(full.pop(n) for n in before)
        elsewhere = goes_elsewhere(step)
        kept = 0 if elsewhere else min(bowls(step), filled)
        if filled > kept or (elsewhere and bowls(step)):
            yield WashDue(number, "bowl", here[0].hazard.name)
        if not elsewhere and bowls(step):
            full[number] = max(kept, 1)


def _probe(flow: Flow) -> Iterator[WashDue]:
    """The thermometer goes from a food that may still be raw to the next one."""
    for journey in handled_raw(flow):
        for number in journey.touched:
            if flow.steps[number].has(Kind.THERMOMETER):
                yield WashDue(number, "thermometer", journey.hazard.name)


def _carried(flow: Flow) -> Iterator[WashDue]:
    """A board or a blade before it meets what gets no further heat: once, where it last met
    anything raw."""
    journeys = handled_raw(flow)
    raw_steps = {n for each in journeys for n in each.handled}
    clean = {n: set(washed(step)) for n, step in flow.steps.items()}
    for number in reversed(flow.order.sorted):
        step = flow.steps[number]
        for journey in journeys if number in raw_steps else ():
            for name, wash in _carried_in(step) if number in journey.handled else ():
                if wash in clean[number]:
                    continue
                for other in flow.recipe.steps:
                    if other.number not in raw_steps and _meets(
                        flow, journey, step, other, name, wash, clean
                    ):
                        clean[number].add(wash)
                        yield WashDue(number, wash, journey.hazard.name, other.number)
                        break


def _carried_in(step: Step) -> Iterator[tuple[str, str]]:
    """The tools of a step that go from hand to hand, and what the note `wash` calls each."""
    carried = step.named(*CARRIED)
    for need in step.needs:
        if need.name in carried and need.tool is not None and need.tool.wash is not None:
            yield need.name.casefold(), need.tool.wash


def _meets(
    flow: Flow,
    journey: Journey,
    step: Step,
    other: Step,
    name: str,
    wash: str,
    clean: Mapping[int, Set[str]],
) -> bool:
    """Whether the thing of that name comes to the other step as it is, by what is clean at the
    end of each. Things that the class calls by two names are two."""
    order = flow.order
    if name not in other.tools or ready_one(other, wash):
        return False
    if other.number in order.before[step.number]:
        return False
    if step.when == "day before" and other.when != "day before":
        return False  # At somebody's home, with other tools.
    end = journey.cooked
    if end is not None and (end == other.number or end in order.following[other.number]):
        return False  # It is cooked together with the raw food.
    return not any(
        wash in clean[n] for n in order.following[step.number] & order.before[other.number]
    )


class Board(Enum):
    """Which of the two boards a step works on."""

    RAW = "raw"
    READY = "ready"


def boards_of(flow: Flow) -> Mapping[int, Board]:
    """The board of every step that needs one, in a dish with raw meat, fish, egg or dough.

    Empty where nothing raw is handled: then one kind of board is enough.
    """
    raw = {n for each in handled_raw(flow) for n in each.handled}
    if not raw:
        return {}
    return {
        step.number: Board.RAW if step.number in raw else Board.READY
        for step in flow.recipe.steps
        if step.has(Kind.BOARD)
    }
