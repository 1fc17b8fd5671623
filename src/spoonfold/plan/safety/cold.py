"""How long food has been out of the cold: since the refrigerator at home, not since class began.

`sums` estimates when each step runs from the steps' own minutes; a better clock's times go into
the same functions. Minutes are counted from the start of the session.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.knowledge.equipment import Kind
from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Ingredient, Recipe, Step
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.safety.flow import Flow, Hazard
from spoonfold.plan.safety.ledger import Where
from spoonfold.plan.safety.limits import MOST_OUT, MOST_OUT_HOT
from spoonfold.plan.safety.needs import replaced
from spoonfold.plan.safety.words import cuts, on_heat
from spoonfold.problem import Place

Times = Mapping[int, tuple[Fraction, Fraction]]
"""Start and end of each step in class, by its number."""

HOT_WITHIN = Fraction(30)
"""Minutes at the heat after which food is hot, however long it goes on; common practice."""
_KEEPERS = frozenset({"refrigerator"})
"""Beside coolers: a freezer spoils what must not freeze, and a bowl of ice holds little."""
_BEFORE_COOKING = ("arrive", "talk")


@dataclass(frozen=True, slots=True)
class TimeOut:
    """A food between the cold and the heat, or the plate."""

    name: str
    place: Place
    since: Fraction
    """Negative: before the session."""
    until: Fraction
    heated: bool
    """False: it is eaten as it is."""
    key: str
    """Of the listed line whose steps it takes."""
    step: int
    """Where it goes in."""

    @property
    def minutes(self) -> Fraction:
        """How long it is warm."""
        return self.until - self.since


def limit(setting: Setting) -> Fraction:
    """The longest time out of the cold, in minutes: USDA FSIS."""
    return MOST_OUT_HOT if setting.hot_days else MOST_OUT


def class_minutes(step: Step, setting: Setting) -> Fraction:
    """A step's minutes at a table of children, its wait included."""
    work = step.class_time
    if work is None:
        work = (step.time or Fraction(0)) * setting.pace
    return work + (step.wait or Fraction(0))


def sums(flow: Flow, setting: Setting) -> Times:
    """Each step as soon as those that it waits for are done: no queue for anything."""
    begin = Fraction(sum(setting.fixed.get(part, 0) for part in _BEFORE_COOKING))
    times: dict[int, tuple[Fraction, Fraction]] = {}
    for number in flow.order.sorted:
        step = flow.steps[number]
        if step.when is not None:
            continue
        start = max((times[n][1] for n in flow.order.direct[number] if n in times), default=begin)
        times[number] = (start, start + class_minutes(step, setting))
    return times


def times_out(flow: Flow, setting: Setting, times: Times) -> Iterator[TimeOut]:
    """Every perishable food of a dish, once for each step where it goes in."""
    lines = [(each, each) for each in flow.recipe.ingredients]
    lines += [(old, swap.use) for swap in flow.recipe.swaps for old in replaced(flow.recipe, swap)]
    cooked = {ingredient.key for ingredient, _ in flow.cooked_before}
    for listed, used in lines:
        item = flow.item_of(used)
        # Butter and lard keep: Food Code 1-201.10 asks for no time and temperature of them.
        if item is None or "solid fat" in item.tags:
            continue
        for number in dict.fromkeys(use.step for use in flow.uses.of(listed)):
            step = flow.steps[number]
            cut = "cut tcs" in item.tags and (cuts(step) or step.has(Kind.BLADE))
            if "perishable" in item.tags or (listed is used and listed.key in cooked):
                since = -setting.from_home
            elif cut:
                since = times[number][0] if number in times else Fraction(0)
            else:
                continue
            found = _one(flow, setting, listed, used, number, since, times)
            if found is not None:
                yield found


def _one(
    flow: Flow,
    setting: Setting,
    listed: Ingredient,
    used: Ingredient,
    number: int,
    since: Fraction,
    times: Times,
) -> TimeOut | None:
    hazard = Hazard(used.name, "cold", listed, number, None, used.place)
    touched = flow.journey(hazard).touched
    in_class = [n for n in touched if n in times]
    if not in_class:
        return None
    # In the refrigerator or among ice until a step takes it out: the sheet of what is done before
    # class says so. Where the author wrote what that step needs, it must be among it.
    chilled = [n for n in touched if flow.steps[n].has(Kind.COLD_PLACE)]
    early = [n for n in chilled if n not in times]
    is_kept = in_class[0] in chilled or (
        "needs" not in flow.steps[in_class[0]].notes and bool(cold_places(setting))
    )
    if early or is_kept:
        since = max(since, times[in_class[0]][0])
    hot = next((n for n in in_class if on_heat(flow.steps[n])), None)
    if hot is not None:
        start, end = times[hot]
        until = min(end, start + HOT_WITHIN)
    else:
        # What it waits for in the cold, it isn't warm.
        cold = sum((flow.steps[n].wait or Fraction(0) for n in chilled if n in times), Fraction(0))
        until = max(times[n][1] for n in in_class) - cold
    return TimeOut(used.name, used.place, since, until, hot is not None, listed.key, number)


@dataclass(frozen=True, slots=True)
class LastHeat:
    """What becomes of a food at the heat, by the words of the steps."""

    step: int | None
    """The last step in class that heats it; None: none does."""
    spoils: bool
    """As it is then: cooked, cut or out of its packet."""


def last_heats(flow: Flow, times: Times) -> Mapping[tuple[str, int], LastHeat]:
    """By a food's key and the step where it goes in, the last heat of its own branch: what is in a
    pot is heated with what comes into it, and with what of it is poured into another. Only what
    the words speak of is there."""
    last: dict[tuple[str, int], int | None] = {}
    spoils: dict[tuple[str, int], bool] = {}
    held: dict[str, tuple[int, frozenset[tuple[str, int]]]] = {}
    for number in flow.order.sorted:
        step, stays = flow.steps[number], flow.ledger.stays[number]
        for stay in stays:
            food = (stay.portion.key, stay.portion.step)
            last.setdefault(food, None)
            spoils[food] = stay.spoils
        if number not in times or not on_heat(step):
            continue
        hot = {(s.portion.key, s.portion.step) for s in stays if s.where is Where.HOT}
        vessels = step.named(Kind.VESSEL)
        for vessel, (before, inside) in held.items():
            if number in flow.order.following[before] and (vessel in vessels or inside & hot):
                hot |= inside
        held |= dict.fromkeys(vessels, (number, frozenset(hot)))
        last |= dict.fromkeys(hot, number)
    return {food: LastHeat(number, spoils[food]) for food, number in last.items()}


def cold_places(setting: Setting) -> tuple[str, ...]:
    """Where the class keeps food cold, by the names of its list of equipment."""
    return tuple(
        name
        for name in setting.listed(Kind.COLD_PLACE)
        if (tool := setting.tool(name)) and (tool.name in _KEEPERS or Kind.COOLER in tool.kinds)
    )


def kept_cold(recipe: Recipe, uses: Uses, pantry: Pantry) -> Iterator[tuple[Ingredient, Step]]:
    """What stays in the cold until a step of the class takes it out, each with that step."""
    steps = {step.number: step for step in recipe.steps}
    for ingredient in recipe.ingredients:
        item = pantry.find(ingredient.name)
        if item is None or "perishable" not in item.tags or "solid fat" in item.tags:
            continue
        first = min((use.step for use in uses.of(ingredient)), default=None)
        if first is not None and steps[first].when is None:
            yield ingredient, steps[first]


def chill_by(flow: Flow, setting: Setting, times: Times) -> Fraction | None:
    """Until when what is taken home must be in the cold, in minutes from the session's start.

    Each food counts from the end of the last heat that it was in itself, anything else from the
    cold. None: nothing in it needs the cold.
    """
    heats = last_heats(flow, times)
    begins = []
    for out in times_out(flow, setting, times):
        known = heats.get((out.key, out.step))
        if not out.heated or (known is not None and known.step is None):
            begins.append(out.since)
    ends = [times[each.step][1] for each in heats.values() if each.step is not None and each.spoils]
    if not ends:
        # Where nobody can tell what was heated, it was until the last heat of all.
        ends = sorted(times[n][1] for n in times if on_heat(flow.steps[n]))[-1:]
    begins += ends
    return min(begins) + limit(setting) if begins else None
