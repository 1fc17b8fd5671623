"""Is a name known, and if not, which known one is it most like?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from spoonfold.check.rule import Facts
from spoonfold.model.pantry import fold, singulars
from spoonfold.model.recipe import Term
from spoonfold.read.pantry import ALLERGENS, TAGS
from spoonfold.read.shape import nearest

PRICE = "price"
"""The one reason for a swap that isn't something to be avoided."""

# Household words for an allergen or a tag, and what the labels call it.
EVERYDAY: Mapping[str, str] = {
    "dairy": "milk", "lactose": "milk", "casein": "milk", "whey": "milk", "butter": "milk",
    "cheese": "milk", "nut": "tree nut", "nuts": "tree nut", "tree nuts": "tree nut",
    "almond": "tree nut", "walnut": "tree nut", "cashew": "tree nut", "hazelnut": "tree nut",
    "pecan": "tree nut", "pistachio": "tree nut",
    "groundnut": "peanut", "shellfish": "crustacean", "seafood allergy": "crustacean",
    "shrimp": "crustacean", "prawn": "crustacean", "crab": "crustacean", "lobster": "crustacean",
    "clam": "mollusc", "mussel": "mollusc", "oyster": "mollusc", "squid": "mollusc",
    "shellfish allergy": "crustacean", "soya": "soy", "soybean": "soy", "tahini": "sesame",
    "sesame seed": "sesame", "sulfite": "sulphite", "sulphites": "sulphite", "mollusk": "mollusc",
    "celiac": "gluten", "coeliac": "gluten", "wheat flour": "wheat", "flour": "wheat",
    "ham": "pork", "bacon": "pork", "gelatine": "gelatin", "wine": "alcohol", "chicken": "poultry",
    "turkey": "poultry", "vegetarian": "meat", "halal": "pork", "kosher": "pork",
    "spicy": "hot spice", "chili": "hot spice",
}


def label_word(name: str) -> str | None:
    """The allergen or tag that a household word most likely means, unless it is one itself."""
    folded = fold(name)
    known = frozenset((*ALLERGENS, *TAGS))
    if folded in known:
        return None
    for form in singulars(folded):
        if form in known:
            return form
        if form in EVERYDAY:
            return EVERYDAY[form]
    return None


def is_avoidable(facts: Facts, name: str) -> bool:
    """Whether a name is an allergen, a tag, or a food of the pantry."""
    return name in ALLERGENS or name in TAGS or facts.folder.pantry.find(name) is not None


def did_you_mean(name: str, known: Iterable[str], otherwise: str) -> str:
    """A hint with the nearest known name, or another one."""
    listed = {each.casefold(): each for each in known}
    close = nearest(name, listed)
    return f"Did you mean `{listed[close]}`?" if close else otherwise


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
