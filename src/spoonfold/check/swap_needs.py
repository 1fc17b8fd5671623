"""A swap for a need brings nothing else to avoid, is needed, and has no gap beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spoonfold.check.known import NO_NEEDS, describe_food, is_avoidable
from spoonfold.check.needs import (
    Met,
    met_by_recipe,
    named,
    need_not_met,
    somebody_avoids,
    swap_line,
    to_blame,
    uncovered,
)
from spoonfold.check.rule import Facts, Rule, error, warning
from spoonfold.model.recipe import Recipe, Swap
from spoonfold.plan.safety.avoid import Finding, Match, finding_of, worst
from spoonfold.plan.safety.needs import left_with, replaced, swaps_of
from spoonfold.plan.shop.corner import PRICE
from spoonfold.problem import Place, Problem
from spoonfold.read.folder import PANTRY_FILE


def _blamed(facts: Facts, match: Match) -> Iterator[tuple[Met, Swap, Sequence[Finding]]]:
    """Each swap once that was meant for a need and can't serve it, with what it brings."""
    seen: set[Place] = set()
    for _, met in met_by_recipe(facts):
        for each in uncovered(met, Match.CERTAIN):
            swap = to_blame(each.answer)
            if swap is None or swap.use.place in seen:
                continue
            brings = next(tried.brings for tried in each.answer.tried if tried.swap is swap)
            if worst(brings) is match:
                seen.add(swap.use.place)
                yield each, swap, brings


def swap_brings(facts: Facts) -> Iterator[Problem]:
    """The swap for a need brings another thing that is avoided at the same table."""
    pantry = facts.folder.pantry
    for met, swap, brings in _blamed(facts, Match.CERTAIN):
        # That it has the very thing it is meant to avoid is said by `swap-not-free`.
        own = finding_of(pantry.find(swap.use.name), swap.because.text, pantry)
        if own is not Match.CERTAIN:
            words = " and ".join(each.avoided for each in brings if each.match is Match.CERTAIN)
            yield error(
                "swap-brings",
                swap.use.place,
                f"This takes {met.answer.ingredient.name} out for {met.who}, but "
                f"{swap.use.name} is or contains {words}, which is avoided there too.",
                "Name a replacement that is without all of it, or add another swap.",
            )


def swap_unknown(facts: Facts) -> Iterator[Problem]:
    """The swap for a need is a food that nobody can judge."""
    if PANTRY_FILE in facts.troubled:
        return
    pantry = facts.folder.pantry
    unknown = {swap.use.place: swap for _, swap, _ in _blamed(facts, Match.UNKNOWN)}
    unknown |= {
        swap.use.place: swap for _, swap in _for_a_need(facts) if pantry.find(swap.use.name) is None
    }
    # A swap for the price is cooked beside the tables that avoid something.
    unknown |= {
        swap.use.place: swap
        for key, recipe in facts.folder.recipes.items()
        if somebody_avoids(key, facts)
        for swap in recipe.swaps
        if pantry.find(swap.use.name) is None
    }
    for swap in unknown.values():
        yield error(
            "swap-unknown",
            swap.use.place,
            f"The pantry doesn't know “{swap.use.name}”, so nobody can say whether it may stand "
            f"in for {swap.instead_of.text}.",
            describe_food(facts, swap.use.name),
        )


def _for_a_need(facts: Facts) -> Iterator[tuple[Recipe, Swap]]:
    """Swaps for something that is avoided, not for the price or the shop."""
    for recipe in facts.folder.recipes.values():
        for swap in recipe.swaps:
            reason = swap.because.text
            if reason not in NO_NEEDS and is_avoidable(facts, reason) and replaced(recipe, swap):
                yield recipe, swap


def swap_needless(facts: Facts) -> Iterator[Problem]:
    """A swap for something that the original doesn't have."""
    pantry = facts.folder.pantry
    for recipe, swap in _for_a_need(facts):
        reason = swap.because.text
        originals = replaced(recipe, swap)
        if all(finding_of(pantry.find(each.name), reason, pantry) is None for each in originals):
            item = pantry.find(originals[0].name)
            known = (*item.allergens, *item.check_label) if item else ()
            yield warning(
                "swap-needless",
                swap.because.place,
                f"This swap is because of {reason}, but {originals[0].name} isn't known to be or "
                f"contain {reason}.",
                f"because: {known[0] if known else PRICE}",
            )


def swap_incomplete(facts: Facts) -> Iterator[Problem]:
    """One ingredient is swapped because of something that another surely has too."""
    pantry = facts.folder.pantry
    told = {problem.place for problem in need_not_met(facts)}
    for recipe, swap in _for_a_need(facts):
        reason = swap.because.text
        for each in left_with(recipe, reason, pantry):
            # A swap with this very reason that doesn't serve has rules of its own.
            meant = any(other.because.text == reason for other in swaps_of(recipe, each))
            if not meant and each.place not in told:
                told.add(each.place)
                yield error(
                    "swap-incomplete",
                    each.place,
                    f"Line {swap.place.line} swaps {swap.instead_of.text} because of {reason}, "
                    f"but {named(each)} is or contains {reason} too: the dish would pass for one "
                    "without it.",
                    "Under `swaps:` write for example\n"
                    + swap_line(each, reason, (reason,), pantry),
                )


RULES = (
    Rule("swap-brings", swap_brings),
    Rule("swap-unknown", swap_unknown),
    Rule("swap-needless", swap_needless),
    Rule("swap-incomplete", swap_incomplete),
)
