"""The kitchen along the steps: where each food is, raw, hot or cold, and for how long it is warm.

Bacteria grow between 41 and 135 °F (FDA Food Code, 2017, 3-501.16). What spoils there is followed
through every action that it has a part in, from the cold, through the heat, to the plate. A place
that somebody names holds until the food is taken in hand again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from spoonfold.kitchen.actions import Action, Portion, ReadSteps
from spoonfold.plan.safety.limits import COLD_BY_CODE, HOT_BY_CODE


class Where(StrEnum):
    """How warm it is around a food."""

    COLD = "cold"
    WARM = "warm"
    HOT = "hot"


@dataclass(frozen=True, slots=True)
class Nature:
    """What is known of a listed food before anything is done to it."""

    name: str
    raw: str = ""
    """Its raw hazard; empty: none."""
    spoils: bool = False
    """As it is bought, or once it is open."""
    spoils_cooked: bool = False
    spoils_cut: bool = False


@dataclass(frozen=True, slots=True)
class Noted:
    """What the notes of a step say for all that is done in it."""

    cold: bool = False
    hot: bool = False


@dataclass(frozen=True, slots=True)
class Stay:
    """One food at one action."""

    portion: Portion
    nature: Nature
    action: Action
    where: Where
    """Around it, from this action on."""
    warm: Fraction
    """Minutes between cold and hot since it was last either, this action included, as far as the
    words say."""
    is_raw: bool
    """It wasn't at any heat yet."""
    is_cooked: bool
    spoils: bool


_HEATS = frozenset({"wet", "cook", "warm"})
_LIES = frozenset({"rest", "cover", "soak", "thaw", "cold", "open", "check", "measure", "eat"})
"""Kinds of verbs that leave a food where it is, if no place is named."""


def heats_food(action: Action) -> bool:
    """Whether an action heats the food in it. To light an oven heats none."""
    if action.denied or action.kind == "stove" or not action.heat:
        return False
    return action.heat != "oven" or action.heat_said or bool(action.verb.implied.heat)


class Ledger:
    """Every stay of every food, in the order of the steps."""

    def __init__(
        self,
        order: Sequence[int],
        actions: ReadSteps,
        natures: Mapping[str, Nature],
        notes: Mapping[int, Noted],
    ) -> None:
        self._natures = natures
        self._where: dict[Portion, Where] = {}
        self._warm: dict[Portion, Fraction] = {}
        self._hot: set[Portion] = set()
        self._cut: set[Portion] = set()
        self.stays: dict[int, tuple[Stay, ...]] = {
            number: tuple(self._step(actions[number].actions, notes.get(number, Noted())))
            for number in order
        }
        """By the number of the step."""

    def _step(self, actions: Sequence[Action], noted: Noted) -> Iterator[Stay]:
        heated = any(map(heats_food, actions))
        for action in actions:
            if action.denied:
                continue
            for portion in sorted(action.foods | action.joined):
                nature = self._natures.get(portion.key)
                if nature is not None:
                    yield self._stay(portion, nature, action, noted, heated)

    def _stay(
        self, portion: Portion, nature: Nature, action: Action, noted: Noted, heated: bool
    ) -> Stay:
        was_hot = portion in self._hot
        hot = heats_food(action) or (
            noted.hot and not heated and action.kind in ("mix", "rest", *_HEATS)
        )
        where = self._place(portion, nature, action, noted, hot)
        minutes = action.minutes or Fraction(0)
        if where is Where.WARM:
            warm = self._warm.get(portion, Fraction(0)) + minutes
        else:
            warm = Fraction(0)
        self._where[portion], self._warm[portion] = where, warm
        if hot and action.kind != "warm":
            self._hot.add(portion)
        if action.kind in ("cut", "grind") and portion in action.foods:
            self._cut.add(portion)
        spoils = (
            nature.spoils
            or (nature.spoils_cooked and portion in self._hot)
            or (nature.spoils_cut and portion in self._cut)
        )
        return Stay(portion, nature, action, where, warm, not was_hot, portion in self._hot, spoils)

    def _place(
        self, portion: Portion, nature: Nature, action: Action, noted: Noted, hot: bool
    ) -> Where:
        held = action.degrees if action.kind == "rest" else None
        if held is not None and held.fahrenheit >= HOT_BY_CODE.fahrenheit:
            return Where.HOT
        if held is not None and held.fahrenheit <= COLD_BY_CODE.fahrenheit:
            return Where.COLD
        if hot or action.where == "hot":
            return Where.HOT
        if action.where == "cold":
            return Where.COLD
        if action.where == "warm" or action.out_of_cold:
            return Where.WARM
        if action.kind not in _LIES:
            return Where.WARM
        if noted.cold:
            return Where.COLD
        before = self._where.get(portion, Where.WARM)
        # What was hot cools where it stands.
        return Where.WARM if before is Where.HOT else before
