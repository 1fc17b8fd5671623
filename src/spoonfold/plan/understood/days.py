"""Which steps the words put before the session: the day before, or before anyone comes."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from spoonfold.model.recipe import Step
from spoonfold.plan.safety.flow import Flow

DAY_BEFORE, BEFORE_CLASS = "day before", "before class"
_EARLIEST = {DAY_BEFORE: 0, BEFORE_CLASS: 1}
_SAID = {
    DAY_BEFORE: re.compile(
        r"(?<!from )(?<!of )(?<!made )(?<!cooked )\bthe (?:day|night|evening) before\b"
        r"|\ba (?:day|night) (?:ahead|before|early)\b|^that (?:same )?(?:evening|night)\b"
    ),
    BEFORE_CLASS: re.compile(
        r"\b(?:before|ahead of) (?:the )?(?:class|session|lesson)\b"
        r"|\bbefore (?:anyone|anybody|the children|the class) (?:comes?|arrives?)\b"
    ),
}
_TO_CLASS = re.compile(r"\b(?:carry|bring|take) (?:\w+ )?\w+ to (?:the )?(?:class|session)\b")
_LIES = frozenset({"rest", "cold", "soak", "thaw"})


@dataclass(frozen=True, slots=True)
class Earlier:
    """When a step is done, and what that follows from."""

    when: str
    why: str


def earlier_steps(flow: Flow) -> Mapping[int, Earlier]:
    """By number: the steps whose words say so, and those whose food they go on with."""
    found = {
        step.number: Earlier(when, "the words")
        for step in flow.recipe.steps
        if step.when is None and (when := _said(flow, step))
    }
    for step in flow.recipe.steps:
        if step.when is None and step.number not in found and _TO_CLASS.search(step.words):
            days = {found[n].when for n in _fed_by(flow, step.number) if n in found}
            when = DAY_BEFORE if DAY_BEFORE in days else BEFORE_CLASS
            found[step.number] = Earlier(when, "the words")
    for number in reversed(flow.order.sorted):
        if number in found:
            for other in _fed_by(flow, number):
                then = found.get(other)
                if flow.steps[other].when is None and (
                    then is None or _EARLIEST[then.when] > _EARLIEST[found[number].when]
                ):
                    found[other] = Earlier(found[number].when, f"step {number} goes on with it")
    return found


def _said(flow: Flow, step: Step) -> str:
    for when, words in _SAID.items():
        if words.search(step.words):
            return when
    if "overnight" in step.word_set and any(
        "overnight" in each.words and each.kind in _LIES and not each.denied
        for each in flow.actions[step.number].actions
    ):
        return DAY_BEFORE
    return ""


def _fed_by(flow: Flow, number: int) -> Iterator[int]:
    """The steps before it in which food of it was worked on."""
    portions = {
        portion
        for each in flow.actions[number].actions
        if not each.denied
        for portion in each.foods | each.joined
    }
    if not portions:
        # “Leave it overnight”: whatever was done last.
        yield from flow.order.direct[number]
    for other in flow.order.before[number]:
        if any(
            portion in portions
            for each in flow.actions[other].actions
            for portion in each.foods | each.joined
        ):
            yield other


def waits_for(flow: Flow, step: Step, earlier: Mapping[int, Earlier]) -> tuple[int, ...] | None:
    """What a step that is done earlier waits for, where nobody wrote it: the last step that is
    done as early. None: the step before, as everywhere."""
    if step.number not in earlier or step.after is not None:
        return step.after

    def rank(number: int) -> int:
        when = earlier[number].when if number in earlier else flow.steps[number].when
        return 2 if when is None else _EARLIEST[when]

    before = [n for n in flow.order.before[step.number] if rank(n) <= rank(step.number)]
    if step.number - 1 in before:
        return None
    return (max(before),) if before else ()
