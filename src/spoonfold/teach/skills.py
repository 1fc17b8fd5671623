"""Skills in the order of the season: what comes too early, and who is told how much.

The first time that a season uses a skill its whole coaching is given, later the reminder.
Children miss weeks, so nothing here is more than advice.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from spoonfold.model.recipe import Recipe, Term
from spoonfold.model.teaching import Skill


@dataclass(frozen=True, slots=True)
class SkillUse:
    """A skill in one step of one session."""

    session: int
    recipe: str
    step: int
    skill: Term


@dataclass(frozen=True, slots=True)
class Coaching:
    """What the card of a step says about a skill."""

    use: SkillUse
    first_time: bool
    text: str
    """How it is done; the one-line reminder from the second session on."""
    caution: str | None
    """Given every time."""


@dataclass(frozen=True, slots=True)
class TooEarly:
    """A skill before one that should come first."""

    use: SkillUse
    first: str
    learnt_in: int
    """The session that brings it."""


def skill_uses(
    sessions: Sequence[tuple[int, Sequence[str]]], recipes: Mapping[str, Recipe]
) -> Iterator[SkillUse]:
    """Every use, by session, dish and step; `sessions` are numbers with the dishes' keys."""
    for number, dishes in sessions:
        for key in dishes:
            if key in recipes:
                for step in recipes[key].steps:
                    if step.when is None:
                        for term in step.skills:
                            yield SkillUse(number, key, step.number, term)


def coaching_of(uses: Sequence[SkillUse], skills: Mapping[str, Skill]) -> tuple[Coaching, ...]:
    """The note for every use of a known skill."""
    learnt: dict[str, int] = {}
    notes = []
    for use in uses:
        skill = skills.get(use.skill.text)
        if skill is None:
            continue
        first = learnt.setdefault(skill.name, use.session) == use.session
        text = skill.how if first or skill.short is None else skill.short
        notes.append(Coaching(use, first, text, skill.caution))
    return tuple(notes)


def too_early(uses: Sequence[SkillUse], skills: Mapping[str, Skill]) -> Iterator[TooEarly]:
    """Each skill whose beginnings come in a later session; told once a pair.

    What no session lists may be shown on arrival, as washing hands is, so it is no hint.
    """
    learnt: dict[str, int] = {}
    for use in uses:
        learnt.setdefault(use.skill.text, use.session)
    told: set[tuple[str, str]] = set()
    for use in uses:
        skill = skills.get(use.skill.text)
        for term in skill.first if skill is not None else ():
            first = learnt.get(term.text)
            pair = (use.skill.text, term.text)
            if first is not None and first > use.session and pair not in told:
                told.add(pair)
                yield TooEarly(use, term.text, first)
