"""Raw and ready: what met raw food is washed before it meets food that is eaten as it is."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.rule import Facts, Rule, error, flows_of
from spoonfold.model.recipe import Step
from spoonfold.plan.safety.flow import MEATS
from spoonfold.plan.safety.limits import POULTRY
from spoonfold.plan.safety.tools import WashDue, washed, washes_due
from spoonfold.plan.safety.words import boils, on_heat, sauces_with_marinade, says_wash
from spoonfold.problem import Place, Problem

SURFACES = "FDA Food Code, 2017, 4-602.11 (when surfaces are cleaned) and 3-302.11 (raw and ready)"


def _place(step: Step) -> Place:
    return step.notes.get("wash", step.place)


def _with(step: Step, things: list[str]) -> str:
    return "- wash: " + ", ".join(dict.fromkeys([*(t.text for t in step.wash), *things]))


def wash_missing(facts: Facts) -> Iterator[Problem]:
    """Hands or tools that met raw food and aren't washed in time."""
    for flow in flows_of(facts):
        missing: dict[int, list[WashDue]] = {}
        for due in washes_due(flow):
            if due.thing not in washed(flow.steps[due.step]):
                missing.setdefault(due.step, []).append(due)
        for number, dues in missing.items():
            step = flow.steps[number]
            things = list(dict.fromkeys(due.thing for due in dues))
            several = len(things) > 1 or things == ["hands"]
            meets = next((due for due in dues if due.meets is not None), None)
            then = (
                ""
                if meets is None
                else (
                    f" Step {meets.meets} uses the {meets.thing} for food that is eaten as it is."
                )
            )
            yield error(
                "wash-missing",
                _place(step),
                f"In step {number} {' and '.join(things)} touch{'' if several else 'es'} raw "
                f"{dues[0].food.removeprefix('raw ')}, and the step doesn't say that "
                f"{'they are' if several else 'it is'} washed.{then}",
                _with(step, things),
            )


def wash_not_noted(facts: Facts) -> Iterator[Problem]:
    """The words say wash, the note doesn't."""
    for flow in flows_of(facts):
        due: dict[int, set[str]] = {}
        for each in washes_due(flow):
            due.setdefault(each.step, set()).add(each.thing)
        for step in flow.recipe.steps:
            # What raw food asks for is told by its own rule.
            said = [
                thing
                for thing in says_wash(step)
                if thing not in washed(step) and thing not in due.get(step.number, ())
            ]
            if said:
                yield error(
                    "wash-not-noted",
                    _place(step),
                    f"The words of step {step.number} have {' and '.join(said)} washed, but its "
                    "notes don't, so the sheets' wash line and the wait at the sink leave it out.",
                    _with(step, said),
                )


def _boils(step: Step) -> bool:
    """What raw meat lay in is safe after it: it boils, or is as hot as poultry must be."""
    assert POULTRY.least is not None
    return (on_heat(step) and boils(step)) or (
        step.heat is not None and step.heat.fahrenheit >= POULTRY.least.fahrenheit
    )


def marinade_not_sauce(facts: Facts) -> Iterator[Problem]:
    """A marinade that met raw meat and is served."""
    for flow in flows_of(facts):
        starts = [each for each in flow.raw if each.hazard.kind in MEATS]
        for step in flow.recipe.steps:
            if not sauces_with_marinade(step) or _boils(step):
                continue
            met = next(
                (
                    each
                    for each in starts
                    if each.cooked is not None and step.number in flow.order.following[each.cooked]
                ),
                None,
            )
            if met is not None:
                yield error(
                    "marinade-not-sauce",
                    step.place,
                    f"The marinade met raw {met.hazard.name} at step {met.hazard.start}, and step "
                    f"{step.number} serves it without another boil.",
                    "Set some aside before the meat goes in and call it the sauce; or boil the "
                    "marinade in a step with `needs: burner`, and say so.",
                )


RULES = (
    Rule("wash-missing", wash_missing),
    Rule("wash-not-noted", wash_not_noted),
    Rule("marinade-not-sauce", marinade_not_sauce),
)
