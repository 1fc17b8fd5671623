"""What nobody knows is never “no listed ingredient is one of the allergens”."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping

import pytest

from spoonfold.build import build
from spoonfold.press.pdf import Printer
from tiny_class import CLASS, RICE, write_class

NONE = "No listed ingredient is itself one of the allergens"
UNKNOWN = "unknown: read its label"


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """The text of every page of a class that cooks one dish with a food that nobody knows, and
    one without."""
    folder = tmp_path_factory.mktemp("unknown")
    strange = RICE.replace("Plain rice", "Strange rice").replace("  - salt,", "  - moon dust,")
    write_class(folder, {"recipes/strange.md": strange.replace("with salt", "with moon dust")})
    outcome = build(folder, folder / "build", ["site"])
    assert not [each for each in outcome.problems if each.level.value == "error"]
    return {
        str(path.relative_to(folder / "build")): " ".join(path.read_text("utf-8").split())
        for path in (folder / "build").rglob("*.html")
    }


def test_the_dish_with_it_says_so_on_its_own_page(pages: dict[str, str]) -> None:
    """By its name, and that its label is to be read."""
    page = next(text for name, text in pages.items() if name.endswith("recipes/strange.html"))
    assert f"<strong>moon dust</strong> ({UNKNOWN})" in page
    assert NONE not in page


def test_the_dish_without_it_is_as_it_was(pages: dict[str, str]) -> None:
    """Salt, rice and water are known."""
    page = next(text for name, text in pages.items() if name.endswith("recipes/rice.html"))
    assert NONE in page
    assert UNKNOWN not in page


def test_the_list_of_dishes_says_it_of_the_one_alone(pages: dict[str, str]) -> None:
    """Two dishes, one of them with a food that nobody knows."""
    page = next(text for name, text in pages.items() if name.endswith("index.html"))
    assert page.count(NONE) == page.count(UNKNOWN) == 1


SAYS = (UNKNOWN, "The pantry doesn't know it: read its whole label.")


@pytest.fixture(scope="module")
def everything(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, str]:
    """The words of every sheet, label and page of a class that cooks a dish with such a food: of
    what is printed, the page that the printer is handed, by its title."""
    folder = tmp_path_factory.mktemp("everything")
    strange = RICE.replace("Plain rice", "Strange rice").replace("  - salt,", "  - moon dust,")
    recipes = {
        "recipes/strange.md": strange.replace("with salt", "with moon dust"),
        "class.yaml": CLASS.replace("dishes: [rice]", "dishes: [strange]"),
    }
    write_class(folder, recipes)
    pages: dict[str, str] = {}
    prints: Callable[..., object] = Printer.print
    blank: list[object] = []

    def kept(self: Printer, tries: Iterable[bytes], *rest: object) -> object:
        handed = [bytes(each) for each in tries]
        text = handed[0].decode()
        title = re.search(r"<title>(.*?)</title>", text, re.DOTALL)
        assert title is not None
        pages[f"{title[1]} ({len(pages)})"] = text
        # Nobody looks at what is printed: one sheet stands for all.
        if not blank:
            blank.append(prints(self, handed, *rest))
        return blank[0]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Printer, "print", kept)
        outcome = build(folder, folder / "build", (), workers=1)
    assert not [each for each in outcome.problems if each.level.value == "error"]
    for path in (folder / "build").rglob("*.html"):
        pages[str(path.relative_to(folder / "build"))] = path.read_text("utf-8")
    return pages


def _words(page: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", page).split()).replace("&#39;", "'")


def test_whatever_names_it_says_that_nobody_knows_it(everything: Mapping[str, str]) -> None:
    """Every sheet, label and page, to the children's cards and the labels that go home."""
    naming = {name for name, page in everything.items() if "moon dust" in _words(page)}
    assert len(naming) >= 12
    silent = {name for name in naming if not any(said in _words(everything[name]) for said in SAYS)}
    assert silent == set()


def test_none_that_is_of_this_dish_alone_says_that_nothing_is_in_it(
    everything: Mapping[str, str],
) -> None:
    """The words for a dish in which all is known."""
    naming = [page for page in everything.values() if "moon dust" in page and "Plain" not in page]
    assert naming
    assert not [page for page in naming if NONE in _words(page)]


def test_what_machines_read_says_it_too(everything: Mapping[str, str]) -> None:
    """The recipe's own data, and what the list of dishes chooses by."""
    (page,) = (text for name, text in everything.items() if name.endswith("recipes/strange.html"))
    data = re.search(r'<script type="application/ld\+json">(.*?)</script>', page, re.DOTALL)
    assert data is not None
    assert f"moon dust ({UNKNOWN}), to taste" in json.loads(data[1])["recipeIngredient"]
    (home,) = (text for name, text in everything.items() if name.endswith("index.html"))
    traits = [json.loads(each) for each in re.findall(r"data-dish='([^']*)'", home)]
    assert sorted(each["known"] for each in traits) == [False, True]
