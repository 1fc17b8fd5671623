"""Words that tell a description, a vague amount or a fixed name from a food's own name."""

from __future__ import annotations


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


def _phrases(text: str) -> frozenset[str]:
    return frozenset(text.split("|"))


ABOUT = frozenset({"about", "approx", "approx.", "approximately", "around", "roughly", "~", "ca."})
"""Before a number: it is not meant exactly."""

HEAPING = frozenset(
    {"heaped", "heaping", "scant", "rounded", "generous", "level", "full", "good", "packed"}
)
"""Before a measure: how full it is, which nobody can scale."""

FOODS_LIKE_UNITS = _phrases(
    "bottle gourd|bottle gourds|pound cake|pound cakes|cube steak|cube steaks|leaf lettuce"
    "|head cheese|drop biscuits|drop scones|stick beans|clove powder|sheet gelatin"
)
"""Foods whose first word would otherwise be read as a unit."""

FIXED_NAMES = (
    "half and half",
    "half & half",
    "macaroni and cheese",
    "mac and cheese",
    "sweet and sour",
    "hot and sour",
    "salt and vinegar",
    "bread and butter pickles",
    "bread and butter pudding",
    "pork and beans",
    "peas and carrots",
    "oil and vinegar dressing",
    "cookies and cream",
    "rice and beans mix",
    "five spice",
)
"""Names of one food in which two are named."""

DESCRIBING = _words(
    """
    boneless skinless seedless pitted unpitted peeled unpeeled shelled unshelled hulled trimmed
    fresh freshly frozen thawed dried dry raw cooked uncooked roasted toasted smoked canned tinned
    jarred pickled salted unsalted sweetened unsweetened plain ripe overripe firm soft softened
    melted cold cool warm hot chilled boiling lukewarm tepid room-temperature small medium large
    extra extra-large tiny big thick thin long short whole halved quartered chopped diced minced
    sliced grated shredded crushed cubed mashed ground finely coarsely roughly thinly thickly
    lightly well washed rinsed drained low-sodium low-salt no-salt-added reduced-sodium
    reduced-fat low-fat nonfat non-fat fat-free full-fat lean extra-lean extra-virgin
    cold-pressed organic good-quality quality best all-purpose unbleached self-rising
    self-raising bone-in skin-on free-range stone-ground old-fashioned quick-cooking long-grain
    short-grain medium-grain loosely firmly packed beaten sifted crumbled young tender mild
    crisp juicy flat-leaf leafy thick-cut thin-cut center-cut day-old stale leftover
    """
)
"""Words that describe a food and are never one."""

COLOURS = _words("red green yellow white black brown purple golden dark light pink")
"""Two of these before one food are two foods: red and green peppers."""

NUMBER_WORDS: tuple[tuple[str, str], ...] = (
    ("one and a half", "1 1/2"),
    ("two and a half", "2 1/2"),
    ("three and a half", "3 1/2"),
    ("one and one half", "1 1/2"),
    ("three quarters of a", "3/4"),
    ("three quarters", "3/4"),
    ("three-quarters", "3/4"),
    ("two thirds", "2/3"),
    ("two-thirds", "2/3"),
    ("one half", "1/2"),
    ("one-half", "1/2"),
    ("one third", "1/3"),
    ("one-third", "1/3"),
    ("one quarter", "1/4"),
    ("one-quarter", "1/4"),
    ("a quarter of a", "1/4"),
    ("a half", "1/2"),
    ("a quarter", "1/4"),
    ("a third", "1/3"),
    ("a dozen", "12"),
    ("one dozen", "12"),
    ("half a dozen", "6"),
    ("a couple of", "2"),
    ("half of a", "1/2"),
    ("half an", "1/2"),
    ("half a", "1/2"),
    ("quarter of a", "1/4"),
    ("dozen", "12"),
    ("half", "1/2"),
    ("one", "1"),
    ("two", "2"),
    ("three", "3"),
    ("four", "4"),
    ("five", "5"),
    ("six", "6"),
    ("seven", "7"),
    ("eight", "8"),
    ("nine", "9"),
    ("ten", "10"),
    ("eleven", "11"),
    ("twelve", "12"),
)
"""Numbers in words, the longer before the shorter that starts it, and their figures."""

VAGUE_LITTLE = ("a little", "a little bit of", "a bit of", "a touch of", "some")
VAGUE_MANY = ("a few", "a couple", "a lot of", "lots of", "several", "few", "many", "plenty of")
"""Amounts that nobody can measure: the first kind may mean "as needed"."""
