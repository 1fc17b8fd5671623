"""Perishable food is out of the cold for two hours at most, counted from home."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.rule import Facts, Rule, error, flows_of
from spoonfold.plan.safety.cold import TimeOut, limit, sums, times_out
from spoonfold.plan.safety.needs import occasions_of
from spoonfold.problem import Problem
from spoonfold.read.folder import CLASS_FILE


def too_long_warm(facts: Facts) -> Iterator[Problem]:
    """Food that is warm for longer than the two hours, or the one of a hot day."""
    classroom = facts.folder.classroom
    if classroom is None or CLASS_FILE in facts.troubled:
        return
    for flow in flows_of(facts):
        told: set[int] = set()
        for occasion in occasions_of(flow.recipe.key, classroom):
            setting = occasion.setting
            for out in times_out(flow, setting, sums(flow, setting)):
                if out.minutes > limit(setting) and out.place.line not in told:
                    told.add(out.place.line)
                    yield _problem(out, int(limit(setting)), int(setting.from_home))


def _problem(out: TimeOut, most: int, from_home: int) -> Problem:
    home = f", {from_home} of them on the way from home" if out.since < 0 else ""
    until = "until it is hot" if out.heated else "until it is eaten"
    return error(
        "too-long-warm",
        out.place,
        f"{out.name.capitalize()} would be out of the cold for {int(out.minutes)} minutes "
        f"{until}{home}. At most {most} are safe.",
        "Keep it in the refrigerator or the cooler with ice, and list that under `needs` of the "
        "step that takes it out; or cook it earlier.",
    )


RULES = (Rule("too-long-warm", too_long_warm, of_one=True),)
