"""Every caution that a step calls for is there: a class sheet without it can hurt."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.rule import Facts, Rule, error, flows_of
from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.model.classroom import Setting
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.hazards import CautionDue, adult_due, cautions_due
from spoonfold.plan.safety.needs import occasions_of
from spoonfold.problem import Problem
from spoonfold.read.folder import CLASS_FILE
from spoonfold.read.shape import nearest


def _settings(facts: Facts, flow: Flow) -> tuple[Setting, ...]:
    """The settings of the sessions that cook the dish; none where the class is unread."""
    classroom = facts.folder.classroom
    if classroom is None or CLASS_FILE in facts.troubled:
        return ()
    return tuple(each.setting for each in occasions_of(flow.recipe.key, classroom))


def caution_missing(facts: Facts) -> Iterator[Problem]:
    """A step without a caution that it calls for."""
    for flow in flows_of(facts):
        missing: dict[int, list[CautionDue]] = {}
        for due in cautions_due(flow, _settings(facts, flow)):
            named = {term.text.casefold() for term in flow.steps[due.step].watch}
            if due.caution not in named:
                missing.setdefault(due.step, []).append(due)
        for number, dues in missing.items():
            step = flow.steps[number]
            names = " and ".join(f"“{due.caution}” because of {due.because}" for due in dues)
            # What is nearly the name of a missing one was meant to be it.
            meant = {
                nearest(due.caution, [term.text.lower() for term in step.watch]) for due in dues
            }
            whole = ", ".join(
                [
                    *(
                        term.text
                        for term in step.watch
                        if term.text.lower() in CAUTIONS or term.text.lower() not in meant
                    ),
                    *(due.caution for due in dues),
                ]
            )
            yield error(
                "caution-missing",
                step.notes.get("watch", step.place),
                f"Step {number} calls for {names}.",
                f"- watch: {whole}",
            )


def adult_missing(facts: Facts) -> Iterator[Problem]:
    """A hot step, or a blade in small hands, without an adult."""
    for flow in flows_of(facts):
        settings = _settings(facts, flow)
        youngest = min((setting.ages[0] for setting in settings), default=99)
        for step in flow.recipe.steps:
            job = adult_due(step, youngest)
            if job and not step.adult:
                what = "a blade in hands that young" if job.startswith("sits") else "heat"
                yield error(
                    "adult-missing",
                    step.place,
                    f"Step {step.number} has {what}, and no adult is named for it: one stays "
                    "within arm's reach.",
                    f"- adult: {job}",
                )


RULES = (Rule("caution-missing", caution_missing), Rule("adult-missing", adult_missing))
