"""What nobody knows is never “no listed ingredient is one of the allergens”."""

from __future__ import annotations

import pytest

from spoonfold.build import build
from tiny_class import RICE, write_class

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
