"""Is a name known, and if not, which known one is it most like?"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator

from spoonfold.check.rule import Facts
from spoonfold.knowledge.carriers import household_words
from spoonfold.knowledge.names import fold, singulars
from spoonfold.model.recipe import Term
from spoonfold.plan.shop.corner import PRICE, SHOP
from spoonfold.read.folder import PANTRY_FILE
from spoonfold.read.pantry import ALLERGENS, TAGS, lines_to_add
from spoonfold.read.shape import nearest, quoted_list

_REMARK = re.compile(r"\s+# .*$")
"""A message's lines are wrapped, and half a remark would be read as part of the entry."""

NO_NEEDS = (PRICE, SHOP)
"""The reasons for a swap that aren't something to be avoided."""


def label_word(name: str) -> str | None:
    """The allergen or tag that is meant, where the name is a household word or another form of
    it; None where the name is that word itself, or none at all."""
    if _is_label_word(name):
        return None
    for form in singulars(fold(name)):
        if form in ALLERGENS or form in TAGS:
            return form
        if form in household_words():
            return household_words()[form]
    return None


def is_avoidable(facts: Facts, name: str) -> bool:
    """Whether a name is an allergen, a tag, or a food of the pantry."""
    food = facts.folder.pantry.find(name)
    # Of a word for many foods the pantry can't say which of its own are meant.
    return _is_label_word(name) or (food is not None and not food.is_family)


def _is_label_word(name: str) -> bool:
    return fold(name) in ALLERGENS or fold(name) in TAGS


def did_you_mean(name: str, known: Iterable[str], otherwise: str) -> str:
    """A hint with the nearest known name, or another one."""
    listed = {each.casefold(): each for each in known}
    close = nearest(name, listed)
    return f"Did you mean `{listed[close]}`?" if close else otherwise


def describe_food(facts: Facts, name: str) -> str:
    """A hint for a food that the pantry doesn't know: the nearest names, and the lines to add."""
    close = facts.folder.pantry.nearest(name)
    asked = f"Did you mean {quoted_list(close)}? Otherwise describe" if close else "Describe"
    lines = (_REMARK.sub("", line) for line in lines_to_add(name))
    entry = "\n".join(line for line in lines if line)
    return (
        f"{asked} it in {PANTRY_FILE}. In the place of “read the label” goes what it contains, "
        f"such as [milk, wheat], or [] for nothing:\n{entry}"
    )


def unknown_once(terms: Iterable[Term], known: Iterable[str]) -> Iterator[tuple[Term, str]]:
    """Each unknown name where it first stands, with a word on how often it comes again.

    One name that is nowhere explained is one thing to mend, in however many steps it stands.
    """
    names = frozenset(known)
    found: dict[str, list[Term]] = defaultdict(list)
    for term in terms:
        if term.text not in names:
            found[term.text].append(term)
    for places in found.values():
        yield places[0], again(len(places))


def again(times: int) -> str:
    """How often something stands in other places too."""
    if times < 2:
        return ""
    return f" It stands in {times - 1} more place{'s' if times > 2 else ''}."
