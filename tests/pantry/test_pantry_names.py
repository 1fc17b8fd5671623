"""An ingredient is found by any of its names, and each name means one ingredient."""

from __future__ import annotations

import re
from typing import Any

Entry = dict[str, Any]
Sections = dict[str, list[tuple[str, list[tuple[str, Any]]]]]

LANGUAGES = {"es", "vi", "ar"}
SCRIPTS = {"es": re.compile(r"[A-Za-zÁÉÍÓÚÜÑáéíóúüñ' -]+"), "ar": re.compile(r"[\u0600-\u06ff ]+")}


def folded(name: str) -> str:
    """A name as a cook may type it: capitals and hyphens don't count."""
    return " ".join(name.casefold().replace("-", " ").split())


def regular_plurals(name: str) -> set[str]:
    """The name with a regular plural ending: s, es, ies."""
    plurals = {name + "s"}
    if name.endswith(("s", "x", "z", "ch", "sh", "o")):
        plurals.add(name + "es")
    if re.search(r"[^aeiou]y$", name):
        plurals.add(name[:-1] + "ies")
    return plurals


def english(name: str, entry: Entry) -> set[str]:
    """Every English name of an entry, with the plurals that are understood."""
    written = {folded(each) for each in (name, *entry.get("also", ()))}
    understood = {plural for each in written for plural in regular_plurals(each)}
    return written | understood | ({folded(entry["plural"])} if "plural" in entry else set())


def test_english_names_are_unique(pantry: dict[str, Entry]) -> None:
    """No singular, plural or other name stands for two ingredients."""
    owners: dict[str, str] = {}
    for name, entry in pantry.items():
        for each in english(name, entry):
            assert owners.setdefault(each, name) == name, f"{each}: {owners[each]}, {name}"


def test_no_name_is_written_twice(sections: Sections) -> None:
    """A name stands in one file, once, and its other names differ in more than a hyphen."""
    names = [name for entries in sections.values() for name, _ in entries]
    assert len(names) == len(set(names))
    for entries in sections.values():
        for name, pairs in entries:
            entry = dict(pairs)
            others = [folded(each) for each in (name, *entry.get("also", ()))]
            assert len(others) == len(set(others)), name


def test_files_are_sorted(sections: Sections) -> None:
    """Entries of a file stand in the order of their names, so that a person finds them."""
    for file, entries in sections.items():
        names = [name for name, _ in entries]
        assert names == sorted(names), file


def test_names_are_plain(pantry: dict[str, Entry]) -> None:
    """English names are lower case, without stray spaces, and short enough for a list."""
    for name, entry in pantry.items():
        for each in (name, entry.get("plural", name), *entry.get("also", ())):
            assert each == each.lower() == " ".join(each.split()), each
            assert 2 <= len(each) <= 40, each


def test_everything_has_a_spanish_name(pantry: dict[str, Entry]) -> None:
    """Every ingredient has a Spanish name, and no two show the same one in a list."""
    shown: dict[str, str] = {}
    for name, entry in pantry.items():
        spanish = entry["names"]["es"][0]
        assert shown.setdefault(spanish.casefold(), name) == name, spanish


def test_foreign_names_are_unique(pantry: dict[str, Entry]) -> None:
    """In each language, no name stands for two ingredients: a translation is looked up by it."""
    owners: dict[tuple[str, str], str] = {}
    for name, entry in pantry.items():
        for language, listed in entry["names"].items():
            for each in listed:
                owner = owners.setdefault((language, each.casefold()), name)
                assert owner == name, f"{each}: {owner}, {name}"


def test_foreign_names_are_well_formed(pantry: dict[str, Entry]) -> None:
    """Names are in their own script; after singular and plural none is repeated."""
    for name, entry in pantry.items():
        assert set(entry["names"]) <= LANGUAGES, name
        for language, listed in entry["names"].items():
            assert listed, name
            # A mass noun with other names repeats itself where the plural stands.
            assert len(set(listed[1:])) == len(listed[1:]), f"{name}: {listed}"
            assert listed[0] not in listed[2:], f"{name}: {listed}"
            for each in listed:
                assert each == " ".join(each.split()) and each, name
                if language in SCRIPTS:
                    assert SCRIPTS[language].fullmatch(each), f"{name}: {each}"


def test_spanish_has_a_plural_for_what_is_counted(pantry: dict[str, Entry]) -> None:
    """What has an English plural shows a Spanish second name, which is its plural."""
    for name, entry in pantry.items():
        if "plural" in entry:
            assert len(entry["names"]["es"]) >= 2, name


def test_demo_class_is_covered(pantry: dict[str, Entry]) -> None:
    """What the demo class cooks with is found by the words that a cook would write."""
    written = (
        "rice paper, rice vermicelli, mint, cilantro, lime, lime juice, soy sauce, fish sauce,"
        "red lentils, corn tortillas, flour tortillas, black beans, frozen corn, canned corn,"
        "corn, cooked rice, eggs, green onions, scallions, peas, frozen peas, ginger, garlic,"
        "sesame oil, chickpeas, dried chickpeas, canned tomatoes, crushed tomatoes,"
        "tomato paste, couscous, ground cumin, cumin, paprika, ground turkey, cucumber,"
        "plain yogurt, parsley, green cabbage, cabbage, all-purpose flour, mayonnaise,"
        "vegetable broth, chicken broth, long-grain rice, pineapple, mango, bananas, oranges,"
        "papaya, honey, coriander leaves, coconut yogurt, rolled oats, tofu, water, salt"
    )
    known = {each for name, entry in pantry.items() for each in english(name, entry)}
    missing = {each for each in map(str.strip, written.split(",")) if folded(each) not in known}
    assert missing == set()
