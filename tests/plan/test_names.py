"""Where a text says a child's name, and where it only says a word."""

from __future__ import annotations

import pytest

from spoonfold.plan.people.names import NameSearch
from spoonfold.read.pantry import shipped_names

CHILDREN = (
    *("Aldo", "Zoë", "René", "O'Neil", "Mary Ann", "Dunya M.", "Jürgen", "Søren", "Işıl"),
    *(
        "Basil",
        "Pepper",
        "Rose",
        "Will",
        "Grace",
        "May",
        "Jordan",
        "Jack",
        "Al",
        "AB",
        "李明",
        "민준",
    ),
)
SEARCH = NameSearch(CHILDREN, shipped_names())


def found(text: str, listed: tuple[str, ...] = (), language: str = "") -> list[tuple[str, bool]]:
    """From each mention to the end of its word, and whether it is sure."""
    return [
        (text[each.start :].split(" ")[0], each.is_sure)
        for each in SEARCH.mentions(text, listed, language)
    ]


@pytest.mark.parametrize(
    "said",
    [
        *("Aldo", "aldo", "ALDO", "aLdO", "Aldo's", "Aldo’s", "Aldos", "Aldo2", "aldo-bowl"),
        *("Zoë", "Zoe", "ZOE", "ZOE\u0308", "Zo\u00e9", "zoë’s", "Zo\u00adë", "Zo\u200dë"),
        *("Ren&eacute;", "Ren&#233;", "Ren\\xe9", "Ren\\u00e9", "Rene\u0301", "RENÉ", "René"),
        *("O'Neil", "O’Neil", "ONeil", "O-Neil", "oneil's", "O\u02bcNeil"),
        *("Mary\u00a0Ann", "Mary-Ann", "Mary‑Ann", "Maryann", "Mary_Ann", "mary", "MARY"),
        *(
            "Dunya",
            "Dunya\u00a0M.",
            "dunyas",
            "Juergen",
            "jurgen",
            "Soren",
            "Soeren",
            "ISIL",
            "ışıl",
        ),
        *("Ｚｏë", "𝐀𝐥𝐝𝐨", "李明做饭", "민준이"),
    ],
)
def test_a_name_is_found_however_it_is_spelt(said: str) -> None:
    """In any case, with and without marks, in any form, possessive and plural."""
    assert found(f"Then {said} stirred.") == [(said, True)]


@pytest.mark.parametrize("space", ["  ", "\u00a0", "\u202f", "\u2003", "\n", "\n    ", " - "])
def test_a_name_of_two_parts_is_found_over_any_space(space: str) -> None:
    """Two spaces, unbreakable ones and a line's end are all the same."""
    assert [each.is_sure for each in SEARCH.mentions(f"so mary{space}ann said")] == [True]


@pytest.mark.parametrize(
    "text",
    [
        "1 tbsp basil, and a rose, and pepper.",
        "all the bread rose, and it will rise by the grace of yeast",
        "Rosemary, primrose and aldosterone, also al dente",
        "Use Monterey Jack cheese and Thai Basil and bell Pepper.",
        "On 5 May, in May 2027",
        "el 5 de May, the 21st   of May",
        "add a B and an ab",
    ],
)
def test_a_word_is_no_name(text: str) -> None:
    """In small letters, in a food's own name, in a date, or as a part of a word."""
    assert found(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "Pepper the eggs.",
        "Stir. Basil goes in last.",
        "- Rose water",
        "# Basil",
        "title: Basil and lemon",
        "Salt and Pepper Soup with Lime",
        "ADD PEPPER NOW",
        "“Will it rise?”",
        "We met in May.",
        "a dish from Jordan",
        "AB stirred",
        "https://example.org/aldo",
        "sources: Aldo, On bread",
    ],
)
def test_what_cannot_be_told_is_not_sure(text: str) -> None:
    """At the beginning of a sentence, in a title, for places and months, authors, initials."""
    assert [sure for _, sure in found(text)] in ([], [False]), found(text)
    assert found(text) or "Rose water" in text


@pytest.mark.parametrize(
    "text",
    ["Then Basil stirred.", "We saw Rose, and Jack too.", "so\nPepper sang", "for Grace’s cup"],
)
def test_a_capital_inside_a_sentence_is_a_name(text: str) -> None:
    """A food or a common word has a capital there only as a name."""
    assert all(sure for _, sure in found(text)) and found(text)


def test_a_food_that_the_dish_has_is_likelier_meant() -> None:
    """Its capital at the beginning of a sentence says nothing, and inside one not enough."""
    assert found("Basil goes in last.", ("basil",)) == []
    assert found("Add the Basil now.", ("basil",)) == [("Basil", False)]
    assert found("Then Rose stirred.", ("basil",)) == [("Rose", True)]
    assert found("Salt and Pepper Soup with Lime", ("pepper",)) == []


def test_german_writes_every_noun_with_a_capital() -> None:
    """So a capital there can't tell a child from a flower."""
    assert found("Dann eine Rose dazu.", (), "de") == [("Rose", False)]


def test_a_single_letter_names_nobody() -> None:
    """An initial alone stands in any text; an empty list finds nothing."""
    assert list(NameSearch(["A", "B."]).mentions("A child, B. too")) == []
    assert list(NameSearch([]).mentions("anything")) == []
