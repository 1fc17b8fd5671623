"""Every raw food reaches its published temperature, by thermometer; so does what is reheated."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spoonfold.check.kitchen import heats
from spoonfold.check.rule import Facts, Rule, error, flows_of
from spoonfold.knowledge.equipment import Kind
from spoonfold.model.recipe import Need
from spoonfold.plan.safety.eggs import raw_part
from spoonfold.plan.safety.flow import FROZEN, Flow, Journey
from spoonfold.plan.safety.limits import RAW_NEEDS
from spoonfold.plan.safety.words import heats_of
from spoonfold.plan.understood.kit import Kit
from spoonfold.problem import Place, Problem
from spoonfold.quantity.temperature import Temperature, show_temperature

_WORDS = {
    "egg": "for eggs by themselves words such as “until yolk and white are firm”",
    "fish": "the words “until it is opaque and flakes”",
    "shellfish": "the words “until it is opaque” or “until the shells open”",
    FROZEN: "a boil, or “ready to eat” after the comma in the list, where the label says so",
}


def _all(flow: Flow) -> tuple[Journey, ...]:
    return (*flow.raw, *flow.frozen)


def _note(step_place: Place, note: Place | None) -> Place:
    return note or step_place


def heat_missing(facts: Facts) -> Iterator[Problem]:
    """A raw food that no later step cooks to a temperature."""
    for flow in flows_of(facts):
        for journey in _all(flow):
            if journey.cooked is None and journey.tried is None:
                yield _missing(flow, journey)
            elif journey.hazard.kind == "egg":
                part = raw_part(flow, journey.hazard)
                if part is not None:
                    yield _part_missing(journey, *part)


def _part_missing(journey: Journey, part: str, place: Place) -> Problem:
    least = journey.hazard.least
    degrees = "" if least is None else f" to {show_temperature(least)}"
    return error(
        "heat-missing",
        place,
        f"The {part}s of {journey.hazard.name} go in here after they were separated, and no step "
        "from here on heats them.",
        f"Whisk them over simmering water{degrees} in this step too, or take pasteurized ones.",
    )


def _missing(flow: Flow, journey: Journey) -> Problem:
    hazard, least = journey.hazard, journey.hazard.least
    place = hazard.place
    if journey.last_at_heat is not None:
        # Browning comes before; what must be measured is what comes out at the end.
        place = flow.steps[journey.last_at_heat].place
    if least is None:
        return error(
            "heat-missing",
            place,
            f"Step {hazard.start} puts in {hazard.name}, to be eaten raw: no step after it is at "
            "the heat.",
            "Cook it at a burner, a griddle or in the oven, and list that under `needs`.",
        )
    if not any(heats(flow, number) for number in flow.steps):
        return error(
            "heat-missing",
            place,
            f"Step {hazard.start} puts in {hazard.name}, and no step cooks anything.",
            f"Write a step that cooks it until it reaches {show_temperature(least)}, or take it "
            "cooked, canned or pasteurized.",
        )
    row = RAW_NEEDS[hazard.kind].row if hazard.kind in RAW_NEEDS else None
    published = f" ({row.food})" if row is not None else ""
    return error(
        "heat-missing",
        place,
        f"Step {hazard.start} puts in {hazard.name}{published}, and no step says that "
        f"{show_temperature(least)} is reached.",
        _how(journey, f"- heat: {least.whole_fahrenheit} °F"),
    )


def _how(journey: Journey, note: str) -> str:
    """The note alone on its line, below what else would do and where it goes."""
    where = "" if journey.at_heat is not None else "Under the step that cooks it"
    words = _WORDS.get(journey.hazard.kind)
    if words is None:
        return f"{where}:\n{note}" if where else note
    return f"{where or 'Under this step'}, or {words}:\n{note}"


def heat_too_low(facts: Facts) -> Iterator[Problem]:
    """A temperature below the published one."""
    for flow in flows_of(facts):
        for number, journeys in _by_step(_all(flow)):
            worst = max(journeys, key=lambda each: _degrees(each.hazard.least))
            yield _too_low(flow, number, worst.hazard.name, worst.hazard.least)


def _by_step(journeys: Sequence[Journey]) -> Iterator[tuple[int, list[Journey]]]:
    found: dict[int, list[Journey]] = {}
    for journey in journeys:
        if journey.tried is not None and journey.hazard.least is not None:
            found.setdefault(journey.tried, []).append(journey)
    yield from found.items()


def _degrees(least: Temperature | None) -> float:
    return 0.0 if least is None else float(least.fahrenheit)


def _too_low(flow: Flow, number: int, name: str, least: Temperature | None) -> Problem:
    step = flow.steps[number]
    assert least is not None and step.heat is not None
    return error(
        "heat-too-low",
        step.notes.get("heat", step.place),
        f"{_exactly(step.heat)} isn't hot enough for {name}: it needs {show_temperature(least)} "
        "in the middle.",
        f"- heat: {least.whole_fahrenheit} °F",
    )


def _exactly(heat: Temperature) -> str:
    """As written where it is whole in one scale: rounding could hide the shortfall."""
    if heat.celsius.denominator == 1 and heat.fahrenheit.denominator != 1:
        return f"{heat.celsius} °C"
    return f"{float(heat.fahrenheit):g} °F"


def reheat_too_low(facts: Facts) -> Iterator[Problem]:
    """Food of the day before that is served hot without having reached its temperature."""
    for flow in flows_of(facts):
        told: set[int] = set()
        for journey in flow.leftovers:
            # Served cold, it needs no heat.
            number = journey.tried or journey.at_heat
            if journey.cooked is not None or number is None or number in told:
                continue
            told.add(number)
            step, least = flow.steps[number], journey.hazard.least
            assert least is not None
            yield error(
                "reheat-too-low",
                _note(step.place, step.notes.get("heat")),
                f"{journey.hazard.name.capitalize()} was cooked the day before and is served hot, "
                f"so it must reach {show_temperature(least)} all through.",
                f"- heat: {least.whole_fahrenheit} °F",
            )


_COOKS = frozenset({"cook"})
_BOILS = frozenset({"boil", "simmer"})


def nothing_hot(facts: Facts) -> Iterator[Problem]:
    """Words that cook, over a list of equipment on which nothing is hot."""
    classroom = facts.folder.classroom
    for flow in flows_of(facts):
        for number, step in flow.steps.items():
            if "needs" not in step.notes or step.has(Kind.HOT):
                continue
            for action, source in heats_of(flow.actions[number].actions):
                if not source or (action.kind not in _COOKS and action.verb.name not in _BOILS):
                    continue
                kit = Kit(() if classroom is None else (classroom.setting,))
                listed = (_need(each) for each in step.needs)
                missing = kit.heat(source, action.heat_said)
                yield error(
                    "nothing-hot",
                    step.notes["needs"],
                    f"The words of step {number} say “{action.verb.name}”, and its `needs` list "
                    "nothing that is hot, so no caution and no adult would be printed for it.",
                    "- needs: " + ", ".join([missing, *listed]),
                )
                break


def _need(need: Need) -> str:
    return need.name if need.count == 1 else f"{need.name} x{need.count}"


RULES = (
    Rule("heat-missing", heat_missing, of_one=True),
    Rule("heat-too-low", heat_too_low, of_one=True),
    Rule("reheat-too-low", reheat_too_low, of_one=True),
    Rule("nothing-hot", nothing_hot, of_one=True),
)
