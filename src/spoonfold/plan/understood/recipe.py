"""The recipe as it is understood: with the notes that follow from what is written.

Whoever judges or prints a step asks its notes. What nobody wrote of them and what still follows
is put there once, here: a recipe in plain words is judged and printed as if its notes stood in it.
A written note holds as it is, but for cautions and washing: there doubt adds and never takes
away, so that what is due comes to what was written.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from operator import is_
from typing import Any

from spoonfold.knowledge.equipment import Kind
from spoonfold.knowledge.lexicons import is_read
from spoonfold.model.classroom import Classroom, Setting
from spoonfold.model.recipe import Step, Term, WorkedOut
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.hazards import OF_A_NEED, adult_due, cautions_due
from spoonfold.plan.safety.needs import occasions_of
from spoonfold.plan.safety.tools import washes_due
from spoonfold.plan.safety.words import says_wash
from spoonfold.plan.understood.kit import Kit
from spoonfold.plan.understood.waits import with_waits
from spoonfold.plan.understood.words import with_words

_OLD_ENOUGH = 99
"""The youngest of a class of which nothing is known."""


def understood(flow: Flow, classroom: Classroom | None) -> Flow:
    """The same dish with all its notes. Without a class, nothing follows from its ages, needs,
    equipment and cords."""
    settings = settings_that_cook(flow.recipe.key, classroom)
    kit = Kit(settings)
    if is_read(flow.recipe.language or (classroom.languages[0] if classroom else "en")):
        flow = _with(flow, with_words(flow, kit))
        flow = _with(flow, with_waits(flow))
    flow = _with(flow, [_measured(step, kit) for step in flow.recipe.steps])
    due = _due(flow, settings)
    return _with(flow, [_called_for(step, due[step.number]) for step in flow.recipe.steps])


def settings_that_cook(dish: str, classroom: Classroom | None) -> tuple[Setting, ...]:
    """What is known of the places where a dish is cooked."""
    if classroom is None:
        return ()
    return tuple(each.setting for each in occasions_of(dish, classroom))


def _with(flow: Flow, steps: Sequence[Step]) -> Flow:
    if all(map(is_, steps, flow.recipe.steps)):
        return flow
    return flow.with_notes(replace(flow.recipe, steps=tuple(steps)))


def _measured(step: Step, kit: Kit) -> Step:
    """With the thermometer that a temperature asks for."""
    if step.heat is None or step.has(Kind.THERMOMETER):
        return step
    name = kit.of_kind(Kind.THERMOMETER) or Kind.THERMOMETER.value
    return replace(
        step,
        needs=(*step.needs, kit.need(name, step.place)),
        worked_out=(*step.worked_out, WorkedOut("needs", name, "the temperature")),
    )


def _due(flow: Flow, settings: Sequence[Setting]) -> Mapping[int, Sequence[WorkedOut]]:
    """All cautions, washing and adults that the steps call for, by number."""
    found: dict[int, dict[tuple[str, str], WorkedOut]] = {
        step.number: {} for step in flow.recipe.steps
    }

    def put(number: int, note: str, value: str, why: str) -> None:
        found[number].setdefault((note, value), WorkedOut(note, value, why))

    for caution in cautions_due(flow, settings):
        # The recipe is read by families and the world, and nobody there may see from it that a
        # child avoids something; the sheets of the table that swaps say it.
        if caution.caution != OF_A_NEED:
            put(caution.step, "watch", caution.caution, caution.because)
    for wash in washes_due(flow):
        put(wash.step, "wash", wash.thing, f"raw {wash.food.removeprefix('raw ')}")
    youngest = min((setting.ages[0] for setting in settings), default=_OLD_ENOUGH)
    for step in flow.recipe.steps:
        for thing in says_wash(step):
            put(step.number, "wash", thing, "the words")
        job = adult_due(step, youngest)
        if job and not step.adult:
            put(step.number, "adult", job, _why(job))
    return {number: tuple(due.values()) for number, due in found.items()}


def _why(job: str) -> str:
    return "blades in young hands" if job.startswith("sits") else "the heat"


def _called_for(step: Step, due: Sequence[WorkedOut]) -> Step:
    """The step with what is due in it and isn't written."""
    terms = {"watch": step.watch, "wash": step.wash, "adult": step.adult}
    new = [
        each
        for each in due
        if each.value not in {term.text.casefold() for term in terms[each.note]}
    ]
    if not new:
        return step
    notes: dict[str, Any] = {
        note: (*written, *(Term(each.value, step.place) for each in new if each.note == note))
        for note, written in terms.items()
    }
    return replace(step, **notes, worked_out=(*step.worked_out, *new))
