"""A class that writes in Spanish, in plain words: what follows from them, and what is printed."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from pathlib import Path

import pytest

from spanish_class import write_spanish_class
from spoonfold.build import build
from spoonfold.check import examine
from spoonfold.press.pdf import Printer
from spoonfold.problem import Level

ENGLISH = frozenset({"the", "cut", "chicken", "knife", "add", "onion", "cheese", "board", "and",
                     "boil", "until", "wash", "reaches", "bowl", "burner", "rice", "oil", "with",
                     "salt", "lemon", "heat", "water", "pot", "skillet", "hands", "rinse",
                     "serve", "squeeze"})  # fmt: skip
"""Words of what the rules read; whoever wrote Spanish never wrote them."""


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """The words of every sheet."""
    folder = write_spanish_class(tmp_path_factory.mktemp("spanish"))
    found: list[str] = []
    prints: Callable[..., object] = Printer.print
    blank: list[object] = []

    def kept(self: Printer, tries: Iterable[bytes], *rest: object) -> object:
        handed = [bytes(each) for each in tries]
        found.append(handed[0].decode())
        if not blank:
            blank.append(prints(self, handed, *rest))
        return blank[0]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Printer, "print", kept)
        outcome = build(folder, folder / "build", (), workers=1)
    assert not [each for each in outcome.problems if each.level is Level.ERROR]
    found += [path.read_text("utf-8") for path in (folder / "build").rglob("*.html")]
    return [_words(page) for page in found]


def _words(page: str) -> str:
    page = re.sub(r"<(style|script|svg|head).*?</\1>", " ", page, flags=re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", page).split())


def test_what_follows_from_the_words_is_worked_out(tmp_path: Path) -> None:
    """Tools by the class's own names, cautions, washing, the heat, whoever stays at it."""
    recipes = examine(write_spanish_class(tmp_path)).read.folder.recipes
    cut, fry, *_ = recipes["tacos"].steps
    assert {each.name for each in cut.needs} >= {"cuchillo", "tabla"}
    assert {each.name for each in fry.needs} >= {"hornilla", "sartén", "termómetro"}
    assert {each.text for each in cut.watch} >= {"sharp edge", "raw poultry"}
    assert {each.text for each in cut.wash} == {"hands", "table", "board", "knife"}
    assert {each.text for each in fry.watch} >= {"hot oil"}
    assert fry.heat is not None
    assert fry.heat.whole_fahrenheit == 165
    assert [each.text for each in fry.adult] == ["stays at the burner"]
    boil = recipes["arroz"].steps[1]
    assert {each.text for each in boil.watch} >= {"boiling water", "hot handle"}


def test_nothing_that_only_rules_read_is_printed(pages: list[str]) -> None:
    """Every sheet for her, the children and families is in her words."""
    for page in pages:
        words = set(re.findall(r"[a-z]+", page.casefold()))
        # Its source is named as it is called: When and How to Wash Your Hands.
        assert words & ENGLISH <= ({"wash", "hands", "and"} if "CDC" in page else set()), page[:90]


def test_amounts_foods_and_swaps_are_hers(pages: list[str]) -> None:
    """On cards, lists and labels."""
    everything = " ".join(pages)
    for said in (
        "Corta el pollo en tiras sobre la tabla",
        "pechuga de pollo",
        "tortillas de maíz",
        "aguacate",
        "la mitad del queso",
    ):
        assert said in everything
    assert "avocado" not in everything
