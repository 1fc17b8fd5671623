"""Which ingredients of a dish a need meets, and the swap that takes each of them out.

A line of `needs` is one child, or one rule of the place, and all that it avoids is looked
after together: a swap covers an ingredient when its replacement is nothing that this child
avoids, nor anything that another child at the same table does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spoonfold.model.classroom import Classroom, DietNeed, Setting
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Ingredient, Recipe, Swap, slug
from spoonfold.plan.safety.avoid import Finding, Match, finding_of, findings_of, worst

SURE = frozenset({Match.CERTAIN, Match.UNKNOWN})
"""What a replacement must not be: the avoided thing itself, or a food that nobody can judge."""


@dataclass(frozen=True, slots=True)
class Occasion:
    """When a dish is cooked for the same needs."""

    sessions: tuple[int, ...]
    """Numbers; none for a dish that no session cooks."""
    setting: Setting


@dataclass(frozen=True, slots=True)
class Tried:
    """A swap of the right ingredient that doesn't serve, and why."""

    swap: Swap
    brings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """An ingredient that a need meets, and what is done about it."""

    need: DietNeed
    ingredient: Ingredient
    findings: tuple[Finding, ...]
    swap: Swap | None
    """None: nothing covers it. Where only the label decides, what to use if it says so."""
    duties: tuple[Finding, ...] = ()
    """What to read or ask about the replacement."""
    tried: tuple[Tried, ...] = ()

    @property
    def match(self) -> Match:
        """The surest finding."""
        found = worst(self.findings)
        assert found is not None
        return found


def replaced(recipe: Recipe, swap: Swap) -> tuple[Ingredient, ...]:
    """The listed ingredients that a swap replaces: by name, or by address in one part alone."""
    wanted = slug(swap.instead_of.text)
    return tuple(each for each in recipe.ingredients if wanted in (slug(each.name), each.key))


def swaps_of(recipe: Recipe, ingredient: Ingredient) -> tuple[Swap, ...]:
    """The swaps that replace an ingredient, as listed."""
    return tuple(swap for swap in recipe.swaps if ingredient in replaced(recipe, swap))


def avoids(need: DietNeed) -> tuple[str, ...]:
    """The words of a need."""
    return tuple(term.text for term in need.avoid)


def of_safety(needs: Sequence[DietNeed]) -> tuple[DietNeed, ...]:
    """What is handled as an allergy: every need but what is only not liked."""
    return tuple(need for need in needs if not need.is_taste)


def at_tables(need: DietNeed, needs: Sequence[DietNeed]) -> tuple[str, ...]:
    """All that is avoided where this need sits, its own words first: what one child is given,
    the others at the table meet too."""
    others = (
        other
        for other in needs
        if need.table is None or other.table is None or other.table == need.table
    )
    return tuple(dict.fromkeys(word for each in (need, *others) for word in avoids(each)))


def answers_of(recipe: Recipe, needs: Sequence[DietNeed], pantry: Pantry) -> tuple[Answer, ...]:
    """Every ingredient that a need meets, surely or perhaps, need by need.

    Optional ingredients count: somebody may put them in. What is kept out of the room has no
    swap, for the original would still be in it. Of what is only not liked, only what surely is it
    counts, and no label is read for it.
    """
    return tuple(
        _answer(recipe, each, need, findings, needs, pantry)
        for need in needs
        for each in recipe.ingredients
        if (findings := _met(each, need, pantry))
    )


def _met(ingredient: Ingredient, need: DietNeed, pantry: Pantry) -> tuple[Finding, ...]:
    findings = findings_of(pantry.find(ingredient.name), avoids(need), pantry)
    if need.is_taste:
        return tuple(each for each in findings if each.match is Match.CERTAIN)
    return findings


def _answer(
    recipe: Recipe,
    ingredient: Ingredient,
    need: DietNeed,
    findings: tuple[Finding, ...],
    needs: Sequence[DietNeed],
    pantry: Pantry,
) -> Answer:
    if need.keep_out:
        return Answer(need, ingredient, findings, None)
    together = at_tables(need, needs)
    serving: list[tuple[Swap, tuple[Finding, ...]]] = []
    tried = []
    for swap in swaps_of(recipe, ingredient):
        brings = findings_of(pantry.find(swap.use.name), together, pantry)
        if worst(brings) in SURE:
            tried.append(Tried(swap, brings))
        else:
            serving.append((swap, brings))
    # The swap that was written for a need of this table, then the one with the least to read.
    item = pantry.find(ingredient.name)
    words = {each.avoided for each in findings_of(item, together, pantry)}
    serving.sort(key=lambda each: (each[0].because.text not in words, len(each[1])))
    if not serving:
        return Answer(need, ingredient, findings, None, (), tuple(tried))
    swap, duties = serving[0]
    harmful = {word for each in of_safety((need, *needs)) for word in avoids(each)}
    duties = tuple(each for each in duties if each.avoided in harmful)
    return Answer(need, ingredient, findings, swap, duties, tuple(tried))


def left_with(recipe: Recipe, reason: str, pantry: Pantry) -> tuple[Ingredient, ...]:
    """The ingredients that surely are or contain something, and that no swap takes out."""
    return tuple(
        each
        for each in recipe.ingredients
        if finding_of(pantry.find(each.name), reason, pantry) is Match.CERTAIN
        and not any(
            finding_of(pantry.find(swap.use.name), reason, pantry) not in SURE
            for swap in swaps_of(recipe, each)
        )
    )


def occasions_of(dish: str, classroom: Classroom) -> tuple[Occasion, ...]:
    """The sessions that cook a dish, one entry for each that differs in its needs or tables; a
    dish in no session is judged by the class's own needs."""
    found: list[Occasion] = []
    for session in classroom.sessions:
        if not any(term.text == dish for term in session.dishes):
            continue
        alike = next(
            (
                index
                for index, each in enumerate(found)
                if (each.setting.needs, each.setting.tables)
                == (session.setting.needs, session.setting.tables)
            ),
            None,
        )
        if alike is None:
            found.append(Occasion((session.number,), session.setting))
        else:
            found[alike] = Occasion((*found[alike].sessions, session.number), found[alike].setting)
    return tuple(found) or (Occasion((), classroom.setting),)
