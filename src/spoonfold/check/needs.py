"""Every need of the class is met in each dish: by a swap, by reading a label, by asking.

What could replace a food, for hints: usual replacements, as far as the pantry has them. One is
suggested only where the pantry names nothing of what is to be avoided, and the cook decides
whether it cooks alike.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from spoonfold.check.by_function import proposal_for
from spoonfold.check.known import again, describe_food
from spoonfold.check.rule import Facts, Rule, error, warning
from spoonfold.knowledge.names import fold
from spoonfold.knowledge.replacements import replacements
from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Ingredient, Recipe, Swap, slug
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.safety.avoid import Match, findings_of, worst
from spoonfold.plan.safety.needs import Answer, answers_of, avoids, occasions_of, of_safety
from spoonfold.problem import Problem
from spoonfold.quantity.show import show_amount
from spoonfold.quantity.unit import PIECE
from spoonfold.read.folder import CLASS_FILE, PANTRY_FILE


def suggested(item: Item | None, avoided: Iterable[str], pantry: Pantry) -> Item | None:
    """A usual replacement without anything to be avoided; the one with the least to read."""
    if item is None:
        return None
    words = tuple(avoided)
    found = []
    for name in replacements().get(item.name, ()):
        candidate = pantry.find(name)
        findings = findings_of(candidate, words, pantry)
        if candidate is not None and worst(findings) not in (Match.CERTAIN, Match.UNKNOWN):
            found.append((len(findings), candidate))
    return min(found, key=lambda each: each[0])[1] if found else None


def swap_line(ingredient: Ingredient, because: str, avoided: Iterable[str], pantry: Pantry) -> str:
    """An entry for `swaps:` to paste, or one with a blank to fill where nothing is usual."""
    item = suggested(pantry.find(ingredient.name), avoided, pantry)
    listed = ingredient.amount
    name = "…" if item is None else item.name
    if item is not None and listed is not None and listed.unit == PIECE and listed.low > 1:
        name = item.plural
    use = f"{show_amount(listed)} {name}" if listed else f"{name}, {ingredient.as_needed}"
    return _entry(ingredient, use, because)


def _entry(ingredient: Ingredient, use: str, because: str) -> str:
    what = ingredient.name if ingredient.key == slug(ingredient.name) else ingredient.key
    return f'- {{instead of: "{what}", use: "{use}", because: {because}}}'


ALLERGEN_LAW = (
    "FD&C Act 201(qq), 21 U.S.C. 321(qq), with the FASTER Act of 2021 (P.L. 117-11); Regulation "
    "(EU) No 1169/2011, Annex II"
)


@dataclass(frozen=True, slots=True)
class Met:
    """An ingredient that a need meets, and where that need sits."""

    answer: Answer
    who: str
    """A table, never a name; the session, where the need is noted for that one alone."""

    def words(self, match: Match) -> tuple[str, ...]:
        """What is avoided, of one sureness."""
        return tuple(each.avoided for each in self.answer.findings if each.match is match)


@lru_cache(maxsize=1)
def met_by_recipe(facts: Facts) -> tuple[tuple[Recipe, tuple[Met, ...]], ...]:
    """Each recipe with the ingredients that needs meet; what is kept out of the room has rules
    of its own, and what is only not liked may stay without a swap."""
    classroom = facts.folder.classroom
    if classroom is None or CLASS_FILE in facts.troubled:
        return ()
    recipes = []
    for key, recipe in facts.folder.recipes.items():
        found: dict[object, Met] = {}
        for occasion in occasions_of(key, classroom):
            for answer in answers_of(recipe, occasion.setting.needs, facts.folder.pantry):
                need = answer.need
                who = "the class" if need.table is None else f"table {need.table}"
                if occasion.sessions and need not in classroom.setting.needs:
                    numbers = " and ".join(map(str, occasion.sessions))
                    plural = "s" if len(occasion.sessions) > 1 else ""
                    who += f" in session{plural} {numbers}"
                # The same child in several sessions is one thing to mend.
                same = (need.table, avoids(need), answer.ingredient.key, answer.swap is None)
                if not need.keep_out and not need.is_taste:
                    found.setdefault(same, Met(answer, who))
        recipes.append((recipe, tuple(found.values())))
    return tuple(recipes)


def somebody_avoids(key: str, facts: Facts) -> bool:
    """Whether anyone who cooks a recipe must avoid anything at all; what is only not liked isn't
    that."""
    classroom = facts.folder.classroom
    return (
        classroom is not None
        and CLASS_FILE not in facts.troubled
        and any(of_safety(occasion.setting.needs) for occasion in occasions_of(key, classroom))
    )


def uncovered(met: Iterable[Met], match: Match) -> Iterator[Met]:
    """What no swap takes out, of one sureness."""
    return (each for each in met if each.answer.swap is None and each.answer.match is match)


def to_blame(answer: Answer) -> Swap | None:
    """The swap that was meant for this need and can't serve it; None where none was meant."""
    words = {each.avoided for each in answer.findings}
    meant = [each.swap for each in answer.tried if each.swap.because.text in words]
    if len(answer.tried) == 1:
        meant = [answer.tried[0].swap]
    return meant[0] if meant else None


def named(ingredient: Ingredient) -> str:
    """An ingredient in a message."""
    name = f"“{ingredient.name}”"
    return f"{name} (optional)" if ingredient.optional else name


def accept_line(code: str, food: str) -> str:
    """The line of a recipe's header that takes a warning about one food as read, with a reason to
    fill in."""
    named = json.dumps(food, ensure_ascii=False)
    return f"accept: [{{warning: {code}, food: {named}, because: …}}]"


def need_not_met(facts: Facts) -> Iterator[Problem]:
    """A dish surely has what somebody avoids, and no swap is there."""
    for recipe, met in met_by_recipe(facts):
        without = (each for each in uncovered(met, Match.CERTAIN) if to_blame(each.answer) is None)
        for found in _by_ingredient(without):
            ingredient = found[0].answer.ingredient
            lines = " and ".join(str(each.swap.use.place.line) for each in found[0].answer.tried)
            tried = f" The swaps on lines {lines} bring something else to avoid." if lines else ""
            yield error(
                "need-not-met",
                ingredient.place,
                f"{named(ingredient)} has what must be avoided: "
                f"{_who_avoids(found, Match.CERTAIN)}. No swap takes it out.{tried}",
                _swap_hint(recipe, facts.uses[recipe.key], found, facts.folder.pantry),
            )


def _swap_hint(recipe: Recipe, uses: Uses, found: Sequence[Met], pantry: Pantry) -> str:
    words = tuple(dict.fromkeys(word for each in found for word in avoids(each.answer.need)))
    because = found[0].words(Match.CERTAIN)[0]
    ingredient = found[0].answer.ingredient
    proposal = proposal_for(recipe, uses, ingredient, words, pantry)
    if proposal is None:
        line = swap_line(ingredient, because, words, pantry)
        return f"Under `swaps:` write for example\n{line}"
    row = proposal.row
    use = ", ".join(filter(None, (f"{show_amount(proposal.amount)} {row.name}", row.preparation)))
    return f"{proposal.told} Under `swaps:` write for example\n{_entry(ingredient, use, because)}"


def need_label(facts: Facts) -> Iterator[Problem]:
    """Only the label can say."""
    for _, met in met_by_recipe(facts):
        for found in _by_ingredient(uncovered(met, Match.LABEL)):
            ingredient = found[0].answer.ingredient
            because = found[0].words(Match.LABEL)[0]
            yield warning(
                "need-label",
                ingredient.place,
                f"Some brands of {named(ingredient)} have what must be avoided: "
                f"{_who_avoids(found, Match.LABEL)}.",
                f"Add a swap because of {because}; or read the label each time, and say so:\n"
                f"{accept_line('need-label', ingredient.name)}",
            )


def need_ask(facts: Facts) -> Iterator[Problem]:
    """Only the family can say."""
    for _, met in met_by_recipe(facts):
        for found in _by_ingredient(uncovered(met, Match.ASK)):
            ingredient = found[0].answer.ingredient
            because = found[0].words(Match.ASK)[0]
            yield warning(
                "need-ask",
                ingredient.place,
                f"{_who_avoids(found, Match.ASK).capitalize()}. Some families count "
                f"{named(ingredient)} with that, and others don't.",
                f"Ask the family. If they do, add a swap because of {because}; if they don't, say "
                f"so:\n{accept_line('need-ask', ingredient.name)}",
            )


def need_unknown(facts: Facts) -> Iterator[Problem]:
    """A food that nobody can judge, where somebody must avoid something: a swap at one table
    would leave it on the tools of the others."""
    if PANTRY_FILE in facts.troubled:
        return
    unknown: dict[str, list[list[Met]]] = {}
    for _, met in met_by_recipe(facts):
        for found in _by_ingredient(each for each in met if each.answer.match is Match.UNKNOWN):
            unknown.setdefault(fold(found[0].answer.ingredient.name), []).append(found)
    for places in unknown.values():
        ingredient = places[0][0].answer.ingredient
        yield error(
            "need-unknown",
            ingredient.place,
            f"{_who_avoids(places[0], Match.UNKNOWN).capitalize()}. Whether {named(ingredient)} "
            f"has it can't be judged: the pantry doesn't know it.{again(len(places))}",
            describe_food(facts, ingredient.name),
        )


def _by_ingredient(met: Iterable[Met]) -> Iterable[list[Met]]:
    """One problem for each line of the list, whoever it concerns."""
    grouped: dict[str, list[Met]] = {}
    for each in met:
        grouped.setdefault(each.answer.ingredient.key, []).append(each)
    return grouped.values()


def _who_avoids(met: Sequence[Met], match: Match) -> str:
    """“table 2 avoids milk, and table 3 avoids soy”."""
    return ", and ".join(
        dict.fromkeys(f"{each.who} avoids {' and '.join(each.words(match))}" for each in met)
    )


RULES = (
    Rule("need-not-met", need_not_met),
    Rule("need-label", need_label),
    Rule("need-ask", need_ask),
    Rule("need-unknown", need_unknown),
)
