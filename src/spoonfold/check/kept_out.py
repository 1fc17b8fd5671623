"""What must not even be in the room stands in no dish, and in no swap either."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spoonfold.check.known import describe_food
from spoonfold.check.needs import accept_line, named
from spoonfold.check.rule import Facts, Rule, error, warning
from spoonfold.model.recipe import Ingredient
from spoonfold.plan.safety.avoid import Finding, Match, findings_of, worst
from spoonfold.plan.safety.needs import avoids, occasions_of
from spoonfold.problem import Problem
from spoonfold.read.folder import CLASS_FILE, PANTRY_FILE


def _brought_in(
    facts: Facts, *matches: Match
) -> Iterator[tuple[Ingredient, bool, str, Sequence[Finding]]]:
    """Each line, and each swap's, that is or may be what is kept out: the line, whether it is
    a swap's, the words, the findings."""
    pantry = facts.folder.pantry
    classroom = facts.folder.classroom
    if classroom is None or CLASS_FILE in facts.troubled:
        return
    for key, recipe in facts.folder.recipes.items():
        words = tuple(
            dict.fromkeys(
                word
                for occasion in occasions_of(key, classroom)
                for need in occasion.setting.needs
                if need.keep_out
                for word in avoids(need)
            )
        )
        for used, in_swap in (
            *((each, False) for each in recipe.ingredients),
            *((swap.use, True) for swap in recipe.swaps),
        ):
            findings = findings_of(pantry.find(used.name), words, pantry)
            match = worst(findings)
            if match in matches:
                said = " and ".join(each.avoided for each in findings if each.match is match)
                yield used, in_swap, said, findings


def kept_out(facts: Facts) -> Iterator[Problem]:
    """It surely is or contains it."""
    for used, in_swap, words, _ in _brought_in(facts, Match.CERTAIN):
        yield error(
            "kept-out",
            used.place,
            f"{named(used)} is or contains {words}, which must be kept out of the room.",
            "Name another replacement."
            if in_swap
            else "Write another food in the list itself: a swap at one table would leave it in "
            "the room.",
        )


def kept_out_label(facts: Facts) -> Iterator[Problem]:
    """Only the packet, or who asked for it, can say."""
    for used, _, words, findings in _brought_in(facts, Match.LABEL, Match.ASK):
        doubt = (
            "some brands contain it"
            if worst(findings) is Match.LABEL
            else "some families count it with that"
        )
        yield warning(
            "kept-out-label",
            used.place,
            f"{words.capitalize()} must be kept out of the room. Of {named(used)}, {doubt}.",
            f"Write another food; or read the packet of {used.name} before it comes into the "
            f"room, every time, and say so:\n{accept_line('kept-out-label', used.name)}",
        )


def kept_out_unknown(facts: Facts) -> Iterator[Problem]:
    """Nobody can judge it."""
    if PANTRY_FILE in facts.troubled:
        return
    for used, _, words, _ in _brought_in(facts, Match.UNKNOWN):
        yield error(
            "kept-out-unknown",
            used.place,
            f"{words.capitalize()} must be kept out of the room. Whether {named(used)} has it "
            "can't be judged: the pantry doesn't know it.",
            describe_food(facts, used.name),
        )


RULES = (
    Rule("kept-out", kept_out),
    Rule("kept-out-label", kept_out_label),
    Rule("kept-out-unknown", kept_out_unknown),
)
