"""Every weight, piece and edible share is the published one, or says that it is not."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

Entry = dict[str, Any]
Foods = dict[str, list[dict[str, str]]]

ROW = re.compile(r"USDA SR26 (\d{5}): (\S+) (.+)")
REFUSE = re.compile(r"USDA SR26 (\d{5}): refuse (\d+) %")
SPELT = {".25": "1/4", ".33": "1/3", ".333": "1/3", ".5": "1/2", ".75": "3/4"}
UNITS = {
    "",
    "cup",
    "tbsp",
    "tsp",
    "fl oz",
    "oz",
    "lb",
    "clove",
    "slice",
    "sprig",
    "leaf",
    "stalk",
    "ear",
    "head",
    "bunch",
    "can",
    "package",
    "sheet",
}
MANY = {"leaves": "leaf", "sprigs": "sprig", "cloves": "clove", "slices": "slice"}
FORMS = {
    "chopped",
    "diced",
    "minced",
    "sliced",
    "grated",
    "shredded",
    "mashed",
    "crushed",
    "whole",
    "halves",
    "pureed",
    "cubed",
    "packed",
    "unpacked",
    "sifted",
    "cooked",
    "dry",
    "drained",
    "melted",
    "ground",
    "small",
    "medium",
    "large",
    "extra large",
}
SIZES = ("extra large", "large", "medium", "small")
UNPUBLISHED = ("from memory", "common practice")
WEIGHT_OF = {"oz": Fraction("28.349523125"), "lb": Fraction("453.59237")}
"""Grams; NIST Handbook 44, Appendix C."""


def split(measure: str) -> tuple[str, str]:
    """The amount and the unit of a measure: `1/2 cup` -> `1/2`, `cup`."""
    amount, _, unit = measure.partition(" ")
    return amount, MANY.get(unit, unit)


def weights(pantry: dict[str, Entry]) -> Iterator[tuple[str, dict[str, str]]]:
    for name, entry in pantry.items():
        for weight in entry.get("weights", ()):
            yield name, weight


def cited(source: str, published: Foods) -> tuple[re.Match[str] | None, list[dict[str, str]]]:
    """The parts of a citation, and every row that it names."""
    match = ROW.fullmatch(source)
    if match is None:
        return None, []
    ndb, amount, measure = match.groups()
    rows = published.get(ndb, [])
    return match, [row for row in rows if (row["amount"], row["measure"]) == (amount, measure)]


def test_published_weights_are_copied(pantry: dict[str, Entry], published: Foods) -> None:
    """A weight that cites the USDA release has the grams and the amount of exactly that row."""
    checked = 0
    for name, weight in weights(pantry):
        if not weight["source"].startswith("USDA"):
            continue
        match, rows = cited(weight["source"], published)
        assert match, f"{name}: {weight['source']}"
        assert weight["grams"] in {row["grams"] for row in rows}, f"{name}: {weight}"
        amount = match.group(2)
        assert split(weight["measure"])[0] == SPELT.get(amount, amount), f"{name}: {weight}"
        checked += 1
    assert checked >= 700


def test_published_units_agree(pantry: dict[str, Entry]) -> None:
    """A cup, a spoon, an ounce, a slice or a can is cited from a row of that very unit."""
    longer = {"tablespoon": "tbsp", "tablespoons": "tbsp", "teaspoon": "tsp", "packet": "package"}
    for name, weight in weights(pantry):
        match = ROW.fullmatch(weight["source"])
        if match is None:
            continue
        _, unit = split(weight["measure"])
        row = match.group(3).removeprefix("serving 1 ")
        words = [longer.get(word, word) for word in re.findall(r"[a-z]+", row.lower())]
        if unit == "":
            assert words[:1] != ["cup"] and "tbsp" not in words, f"{name}: {weight}"
        else:
            parts = [MANY.get(word, word) for word in words]
            assert parts[: len(unit.split())] == unit.split(), f"{name}: {weight}"


def test_sizes_agree(pantry: dict[str, Entry]) -> None:
    """A small, medium or large one is cited from a row of that size."""
    for name, weight in weights(pantry):
        match = ROW.fullmatch(weight["source"])
        form = weight.get("form")
        if match is None or form not in SIZES:
            continue
        row = match.group(3).lower()
        named = [size for size in SIZES if re.search(rf"\b{size}\b", row)]
        # A row that gives no word for the size gives its diameter instead.
        assert named[:1] == [form] or ("dia" in row and not named), f"{name}: {weight}"


def test_everything_else_says_so(pantry: dict[str, Entry]) -> None:
    """A weight, a piece or a day count that isn't published says so in its source."""
    for name, entry in pantry.items():
        sources = [weight["source"] for weight in entry.get("weights", ())]
        sources += [piece["source"] for piece in entry.get("pieces", {}).values()]
        sources += [entry[key]["source"] for key in ("keeps", "opened") if key in entry]
        for source in sources:
            assert ROW.fullmatch(source) or source.startswith(UNPUBLISHED), f"{name}: {source}"


def test_pieces_are_copied(pantry: dict[str, Entry], published: Foods) -> None:
    """Juice of a fruit, and white and yolk of an egg, weigh what the published rows say."""
    checked = set()
    for name, entry in pantry.items():
        for piece, facts in entry.get("pieces", {}).items():
            if facts["source"].startswith("USDA"):
                _, rows = cited(facts["source"], published)
                assert facts["amount"] in {f"{row['grams']} g" for row in rows}, f"{name} {piece}"
                checked.add((name, piece))
    assert checked >= {
        ("lemon", "juice"),
        ("lime", "juice"),
        ("orange", "juice"),
        ("egg", "white"),
        ("egg", "yolk"),
    }


def test_edible_shares_are_the_refuse_column(pantry: dict[str, Entry], published: Foods) -> None:
    """An edible share is one less the published refuse, of the food that the entry cites."""
    checked = 0
    for name, entry in pantry.items():
        if "edible" not in entry:
            continue
        match = REFUSE.fullmatch(entry["edible"]["source"])
        assert match and match.group(1) == entry["usda"], name
        refuse = published[entry["usda"]][0]["refuse_percent"]
        assert match.group(2) == refuse, name
        assert Fraction(entry["edible"]["share"]) == 1 - Fraction(int(refuse), 100), name
        assert int(refuse) > 0, name
        checked += 1
    assert checked >= 80


def test_foods_cited_exist(pantry: dict[str, Entry], published: Foods) -> None:
    """Every NDB number stands in the published rows."""
    for name, entry in pantry.items():
        if "usda" in entry:
            assert entry["usda"] in published, name


def test_measures_are_known(pantry: dict[str, Entry]) -> None:
    """A measure is an amount and a known unit; its form is a known word; grams are a number."""
    for name, weight in weights(pantry):
        amount, unit = split(weight["measure"])
        assert Fraction(amount) > 0, f"{name}: {weight}"
        assert unit in UNITS, f"{name}: {weight}"
        assert weight.get("form") in {None, *FORMS}, f"{name}: {weight}"
        assert re.fullmatch(r"\d+(\.\d+)?", weight["grams"]), f"{name}: {weight}"
        assert Fraction(weight["grams"]) > 0, f"{name}: {weight}"
        assert set(weight) <= {"measure", "form", "grams", "source"}, f"{name}: {weight}"


def test_one_weight_for_each_measure_and_form(pantry: dict[str, Entry]) -> None:
    """No unit has two weights in one form: which of them is meant would be a guess."""
    for name, entry in pantry.items():
        seen = [(split(w["measure"])[1], w.get("form")) for w in entry.get("weights", ())]
        assert len(seen) == len(set(seen)), name


def test_ounces_weigh_an_ounce(pantry: dict[str, Entry]) -> None:
    """What is weighed by the ounce or the pound weighs that, within the table's rounding."""
    for name, weight in weights(pantry):
        amount, unit = split(weight["measure"])
        if unit in WEIGHT_OF:
            exact = Fraction(amount) * WEIGHT_OF[unit]
            assert abs(Fraction(weight["grams"]) / exact - 1) < Fraction(2, 100), f"{name}"


def test_spoons_and_cups_agree(pantry: dict[str, Entry]) -> None:
    """A cup of a food weighs between 12 and 21 of its tablespoons in the same form.

    The table rounds, and packs a spoon otherwise than a cup; a factor of 16 that is out by
    more than that is a slip of the pen.
    """
    spoonfuls = {"cup": Fraction(16), "tbsp": Fraction(1), "tsp": Fraction(1, 3)}
    for name, entry in pantry.items():
        by_form: dict[str | None, list[Fraction]] = {}
        for weight in entry.get("weights", ()):
            amount, unit = split(weight["measure"])
            if unit in spoonfuls:
                one = Fraction(weight["grams"]) / Fraction(amount) / spoonfuls[unit]
                by_form.setdefault(weight.get("form"), []).append(one)
        for form, ones in by_form.items():
            assert max(ones) / min(ones) < Fraction(4, 3), f"{name} {form}: {ones}"


def test_one_without_a_size(pantry: dict[str, Entry]) -> None:
    """One without a size weighs what the medium one of the same entry does; an egg, or a pita
    bread, what the large one does."""
    usual = re.compile(r"common practice: one without a size is (medium|large)")
    checked = 0
    for name, entry in pantry.items():
        sized = {(split(w["measure"]), w.get("form")): w["grams"] for w in entry.get("weights", ())}
        for weight in entry.get("weights", ()):
            match = usual.fullmatch(weight["source"])
            if match:
                assert "form" not in weight, f"{name}: {weight}"
                assert weight["grams"] == sized[split(weight["measure"]), match.group(1)], name
                assert (match.group(1) == "large") is bool(re.search("egg|pita", name)), name
                checked += 1
    assert checked >= 40
