"""Names that cooks write: each is known, and as bad as the table of usual labels has it.

`food-families.tsv` is from memory (standards of identity, usual labels), with the allergen lists of
FD&C Act 201(qq) and Regulation (EU) No 1169/2011, Annex II. Where a row is of several foods and
one of its letters is of another of them, that is said here.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from spoonfold.read.pantry import ALLERGENS, read_pantry

PANTRY = read_pantry(None, [])

_OF_ANOTHER = {
    "soy sauce": ("sesame", "of teriyaki sauce"),
    "coconut aminos": ("soy wheat", "of tamari; it is made of coconut"),
    "curry paste": ("crustacean", "sure in shrimp paste; of curry paste it is on the label"),
    "thai red curry paste": ("crustacean", "sure in shrimp paste; here it is on the label"),
    "green curry paste": ("crustacean", "sure in shrimp paste; here it is on the label"),
    "kimchi": ("sesame", "of furikake"),
    "soy milk": ("wheat gluten", "of tempeh"),
    "tofu": ("wheat gluten", "of tempeh"),
    "rice milk": ("gluten", "sure in oat drink; here it is on the label"),
    "coconut": ("sulphite tree nut", "of dried coconut; a whole one has no label"),
    "chestnut": ("sulphite", "of dried and sweetened ones"),
    "sesame oil": ("tree nut wheat", "of dukkah and halva"),
    "food coloring": ("wheat soy milk tree nut peanut egg", "of sprinkles and candy"),
    "honey": ("sulphite", "of molasses"),
    "maple syrup": ("sulphite", "of molasses"),
    "sugar": ("sulphite", "of molasses"),
    "orzo": ("fish crustacean celery sesame", "of packets that come with noodles"),
    "pasta": ("fish crustacean celery sesame", "of packets that come with noodles"),
    "udon": ("fish crustacean celery sesame", "of packets that come with noodles"),
    "corn tortilla": ("wheat", "sure in flour tortillas; here it is on the label"),
    "masa": ("wheat", "sure in flour tortillas; here it is on the label"),
    "rice": ("wheat", "of seasoned mixes, which are foods of their own"),
    "baking powder": ("sulphite", "of starches"),
    "yeast": ("sulphite", "of starches"),
    "chili powder": ("milk", "of seasoning packets, which are foods of their own"),
    "ketchup": ("wheat soy mustard fish", "of barbecue sauce"),
    "wine vinegar": ("mustard", "of vinaigrette"),
    "wine": ("mustard", "of vinaigrette"),
    "bottled lemon juice": ("mustard", "of vinaigrette"),
    "popcorn": ("wheat soy milk", "of popped and seasoned popcorn, which is a food of its own"),
    "avocado": ("sulphite", "of guacamole; a whole one has no label"),
}
"""By the name: what its row has for another food of the row, and for which."""

_NOT_RAW = {
    "aioli": "as a shop sells it; made at home it is its egg that is raw",
    "mayonnaise": "as a shop sells it; made at home it is its egg that is raw",
    "raw milk": "a danger of its own, by its word in any line",
}


def _rows() -> list[tuple[str, dict[str, str]]]:
    path = Path(__file__).with_name("food-families.tsv")
    lines = [line for line in path.read_text("utf-8").splitlines() if not line.startswith("#")]
    rows = csv.DictReader(lines, delimiter="\t")
    return [(name, row) for row in rows for name in row["names"].split("; ")]


ROWS = _rows()


def _words(cell: str) -> set[str]:
    return set(cell.split(", ")) if cell else set()


@pytest.mark.parametrize(("name", "row"), ROWS, ids=[name for name, _ in ROWS])
def test_a_name_is_known_as_the_table_has_it(name: str, row: dict[str, str]) -> None:
    """What it has for sure, what to look for, and that it is raw."""
    item = PANTRY.find(name)
    assert item is not None
    others = _OF_ANOTHER.get(name, ("", ""))[0]
    left_out = {each for each in ALLERGENS if each in others}
    assert _words(row["sure"]) - left_out <= set(item.allergens)
    assert _words(row["label"]) - left_out <= {*item.allergens, *item.check_label}
    if row["raw"] == "R" and name not in _NOT_RAW:
        assert item.raw is not None


def test_every_exception_is_needed() -> None:
    """One that nothing needs would hide a later fault."""
    by_name = dict(ROWS)
    assert _OF_ANOTHER.keys() | _NOT_RAW.keys() <= by_name.keys()
    for name, (others, why) in _OF_ANOTHER.items():
        item = PANTRY.find(name)
        assert item is not None and why
        row = by_name[name]
        missing = _words(row["sure"]) - set(item.allergens)
        missing |= _words(row["label"]) - {*item.allergens, *item.check_label}
        assert missing == {each for each in ALLERGENS if each in others}, name
