"""Skills come in an order in which hands can learn them. Hints only: children miss weeks."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.rule import Facts, Rule, advice
from spoonfold.problem import Problem
from spoonfold.read.folder import CLASS_FILE, SKILLS_FILE
from spoonfold.teach.skills import skill_uses, too_early


def skill_too_early(facts: Facts) -> Iterator[Problem]:
    """A skill in a session before the one that teaches its beginnings."""
    classroom = facts.folder.classroom
    if classroom is None or {CLASS_FILE, SKILLS_FILE} & facts.troubled or facts.folder.unread:
        return
    sessions = [(each.number, [dish.text for dish in each.dishes]) for each in classroom.sessions]
    uses = tuple(skill_uses(sessions, facts.folder.recipes))
    for each in too_early(uses, facts.folder.skills):
        yield advice(
            "skill-too-early",
            each.use.skill.place,
            f"“{each.use.skill.text}” comes in session {each.use.session}, and "
            f"“{each.first}” should be known before; it "
            f"first comes in session {each.learnt_in}.",
            f"List `{each.first}` in an earlier step or session, or plan time to show it.",
        )


RULES = (Rule("skill-too-early", skill_too_early),)
