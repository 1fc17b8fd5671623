"""What each step waits for on the clock, where no step of a recipe says so with `after`.

A step waits for those whose food it goes on with, for the pot that it calls “the pot”, and for the
oven that was lit for it. Chopping isn't queued behind chopping. Whatever isn't surely on its own
waits for all that is written before it; and the rules of safety go by the order as it is written.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from spoonfold.kitchen.actions import Action, Called, Portion, Tidy
from spoonfold.knowledge.equipment import Kind
from spoonfold.knowledge.step_words import step_words
from spoonfold.model.recipe import Step, WorkedOut
from spoonfold.plan.safety.flow import MEATS, Flow

_IN_ORDER = step_words("in order")
_EVERY = step_words("everything")
_WITH_THE_OTHERS = frozenset({"serve", "eat"})
"""What is done when all else is."""
_NAMED = frozenset({Called.BY_NAME, Called.AS_THING})
_PARTS_RAW = frozenset({Kind.BOARD, Kind.BLADE, Kind.KNIFE, Kind.BOWL, Kind.VESSEL})
"""What may carry raw food to other food, when the order of work changes."""


def with_waits(flow: Flow) -> tuple[Step, ...]:
    """The steps, each with what it waits for; as they are where any says `after`, or where it is
    just the step before."""
    steps = flow.recipe.steps
    if any(step.after is not None for step in steps):
        return steps
    works = {step.number: _Work(flow, step) for step in steps}
    waits: dict[int, tuple[int, ...]] = {}
    reached: dict[int, frozenset[int]] = {}
    for number in works:
        before = [other for other in works if other < number]
        if works[number].is_on_its_own:
            before = [other for other in before if works[number].goes_on_with(works[other])]
        # What is waited for by what it waits for needs no word.
        inner = frozenset().union(*(reached[other] for other in before))
        waits[number] = tuple(other for other in before if other not in inner)
        reached[number] = inner | frozenset(before)
    return tuple(_told(step, waits[step.number]) for step in steps)


def _told(step: Step, waits: tuple[int, ...]) -> Step:
    if waits == (step.number - 1,) or (not waits and step.number == 1):
        return step
    value = ", ".join(map(str, waits)) or "none"
    why = "the food that it goes on with"
    return replace(
        step, waits_for=waits, worked_out=(*step.worked_out, WorkedOut("after", value, why))
    )


@dataclass(frozen=True)
class _Work:
    """A step as a piece of work beside others."""

    flow: Flow
    step: Step

    @cached_property
    def actions(self) -> Sequence[Action]:
        return [each for each in self.flow.actions[self.step.number].actions if not each.denied]

    @cached_property
    def portions(self) -> frozenset[Portion]:
        return frozenset().union(*(each.foods | each.joined for each in self.actions))

    @cached_property
    def is_on_its_own(self) -> bool:
        """Whether its words name all that it works on, and nothing in them hangs on what is
        written before."""
        if (
            not self.actions
            or self.flow.actions[self.step.number].unread
            or self.step.when is not None
            or self.step.shared
            or not _IN_ORDER.isdisjoint(self.step.word_set)
        ):
            return False
        named: frozenset[Portion] = frozenset()
        for each in self.actions:
            if each.kind in _WITH_THE_OTHERS or each.washed:
                return False
            if each.kind == "stove" or (each.kind == "wash" and not each.foods):
                # The oven is lit, or the potatoes that were boiled are drained.
                continue
            if not each.foods or not (each.called in _NAMED or each.foods <= named):
                return False
            named |= each.foods | each.joined
        return True

    @cached_property
    def _known_things(self) -> frozenset[str]:
        """Tools and vessels that it speaks of as of what stands there."""
        return frozenset(
            tool.name
            for each in self.actions
            for tool in each.tools
            if not tool.implied and tool.tidy in (Tidy.KNOWN, Tidy.SAME)
        )

    @cached_property
    def _things(self) -> frozenset[str]:
        tools = {tool.name for each in self.actions for tool in each.tools}
        return frozenset(tools | {each.vessel for each in self.actions if each.vessel})

    @cached_property
    def _carriers(self) -> frozenset[str]:
        return self.step.named(*_PARTS_RAW)

    @cached_property
    def _is_raw(self) -> bool:
        return any(
            stay.is_raw and stay.nature.raw in MEATS | {"egg"}
            for stay in self.flow.ledger.stays[self.step.number]
        )

    @cached_property
    def _is_for_all(self) -> bool:
        """Whether it readies what nobody lists one by one: the vegetables, hands, boards."""
        return any(
            each.kind == "wash" and (each.washed or not _EVERY.isdisjoint(each.words))
            for each in self.actions
        )

    def _heated_by(self) -> Iterator[str]:
        return (each.heat for each in self.actions if each.heat and each.kind != "stove")

    def goes_on_with(self, other: _Work) -> bool:
        """Whether it can't be done before the other one is."""
        lit = {each.heat for each in other.actions if each.kind == "stove" and each.heat}
        return (
            other._is_for_all
            or not self.portions.isdisjoint(other.portions)
            or not self._known_things.isdisjoint(other._things)
            or not lit.isdisjoint(self._heated_by())
            or ((self._is_raw or other._is_raw) and not self._carriers.isdisjoint(other._carriers))
        )
