"""A skill is told in full the first time, and what should come before it comes before it."""

from __future__ import annotations

from spoonfold.model.recipe import Term
from spoonfold.model.teaching import Skill
from spoonfold.problem import Place
from spoonfold.teach.skills import SkillUse, coaching_of, too_early

_PLACE = Place("content/skills.yaml")


def _skill(name: str, *, short: str | None = None, first: tuple[str, ...] = ()) -> Skill:
    before = tuple(Term(each, _PLACE) for each in first)
    return Skill(name, f"how to {name}", "a caution", short, before, False, _PLACE)


def _use(session: int, skill: str) -> SkillUse:
    return SkillUse(session, "rice", 1, Term(skill, _PLACE))


SKILLS = {
    each.name: each
    for each in (
        _skill("claw grip"),
        _skill("slice", short="Curl your fingers.", first=("claw grip", "wash hands")),
        _skill("dice", first=("slice", "claw grip")),
    )
}


def test_the_reminder_from_the_second_session_on() -> None:
    """Twice in one session is the first time twice; the caution is given every time."""
    uses = [_use(1, "slice"), _use(1, "slice"), _use(2, "slice")]
    notes = coaching_of(uses, SKILLS)
    assert [(each.first_time, each.text) for each in notes] == [
        (True, "how to slice"),
        (True, "how to slice"),
        (False, "Curl your fingers."),
    ]
    assert {each.caution for each in notes} == {"a caution"}


def test_without_a_reminder_the_whole_again() -> None:
    """Of a skill that nobody describes there is nothing to say."""
    uses = [_use(1, "dice"), _use(1, "juggle"), _use(2, "dice")]
    assert [each.text for each in coaching_of(uses, SKILLS)] == ["how to dice", "how to dice"]


def test_what_comes_before_its_beginnings() -> None:
    """Told once a pair, where it first is too early; what no session lists is no hint."""
    uses = [_use(1, "dice"), _use(2, "dice"), _use(2, "juggle"), _use(2, "slice")]
    uses += [_use(3, "claw grip")]
    found = [
        (each.use.session, each.use.skill.text, each.first, each.learnt_in)
        for each in too_early(uses, SKILLS)
    ]
    assert found == [
        (1, "dice", "slice", 2),
        (1, "dice", "claw grip", 3),
        (2, "slice", "claw grip", 3),
    ]


def test_the_same_session_is_early_enough() -> None:
    assert not list(too_early([_use(1, "slice"), _use(1, "claw grip")], SKILLS))
