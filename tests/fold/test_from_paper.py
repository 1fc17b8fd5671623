"""From paper to the screen: codes read back by an independent reader; sizes; names."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest
from folded_pages import failures, squeezed, texts

from demo_class import demo_folder
from spoonfold.model.classroom import Classroom
from spoonfold.press.figures.qr import QUIET, qr_figure
from spoonfold.sheets.shared.head import recipe_address, site_address

SITE = "https://example.org/tiny-table/"
ADDRESS = f"{SITE}recipes/rice.html"
DEMO = demo_folder()
assert DEMO.classroom is not None
CLASSROOM: Classroom = DEMO.classroom
MILLIMETRES = 25.4 / 72
DOTS = 150
"""To the inch: a poor copier's."""
LARGEST = 3_000_000
"""Bytes of a booklet that a school's mail lets through."""


def codes(pdf: bytes) -> list[tuple[str, float]]:
    """Every code of a PDF, read from grey pictures of its pages: its text and its width in
    millimetres."""
    reader = pytest.importorskip("zxingcpp", reason="needs zxing-cpp")
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        grey = page.render(scale=DOTS / 72).to_pil().convert("L")
        for code in reader.read_barcodes(grey):
            wide = code.position.top_right.x - code.position.top_left.x
            found.append((code.text, wide / DOTS * 25.4))
    return found


@pytest.mark.parametrize(
    ("name", "address"),
    [
        ("booklet-en-2.pdf", SITE),
        ("card-rice-en-2.pdf", ADDRESS),
        ("large-print-booklet-en-2.pdf", SITE),
        ("booklet-en-2-to-fold.pdf", SITE),
    ],
)
def test_a_camera_finds_the_way(families: Path, name: str, address: str) -> None:
    """A card's one code, wide enough, says its recipe's address, a booklet's that of all recipes;
    the same address is written beside it."""
    pdf = (families / name).read_bytes()
    assert [text for text, _ in codes(pdf)] == [address]
    assert all(wide >= 15 for _, wide in codes(pdf))
    assert squeezed(address.removeprefix("https://")) in "".join(texts(pdf))


def test_an_address_is_in_the_language_of_the_page() -> None:
    """The first language's pages lie at the top of the site, another's in its folder."""
    assert recipe_address(CLASSROOM, "en", "fruit-salad") == (
        "https://example.org/saturday-table/recipes/fruit-salad.html"
    )
    assert recipe_address(CLASSROOM, "es", "fruit-salad") == (
        "https://example.org/saturday-table/es/recipes/fruit-salad.html"
    )


def test_without_a_site_there_is_nothing_to_scan() -> None:
    """No address, and so no code."""
    bare = replace(CLASSROOM, site=None)
    assert recipe_address(bare, "en", "fruit-salad") == site_address(bare, "en") == ""


def test_odd_names_are_quoted() -> None:
    """What an address can't hold is written as its bytes."""
    bare = replace(CLASSROOM, site="https://example.org")
    assert recipe_address(bare, "en", "sopa ñ") == "https://example.org/recipes/sopa%20%C3%B1.html"


@pytest.mark.parametrize("length", [20, 80, 200])
def test_the_quiet_zone_is_kept(length: int) -> None:
    """No dark module within four of the edge, however long the address."""
    svg = qr_figure("https://example.org/" + "a" * length, "code", "x")
    size = int(svg.split('viewBox="0 0 ')[1].split()[0])
    for bar in svg.split(' d="')[2].split('"')[0].split("M")[1:]:
        x, rest = bar.split(" ", 1)
        y, run = rest.split("h", 1)
        assert int(x) >= QUIET and int(x) + int(run.split("v")[0]) <= size - QUIET
        assert QUIET <= int(y) < size - QUIET


def test_what_families_get_is_light_and_accessible(families: Path) -> None:
    """Every file goes through a school's mail and passes the strict checker."""
    files = sorted(families.glob("*.pdf"))
    assert {file.name for file in files} == {
        "booklet-en-2.pdf",
        "booklet-en-2-to-fold.pdf",
        "large-print-booklet-en-2.pdf",
        "mini-book-rice-en.pdf",
        "card-rice-en-2.pdf",
    }
    for file in files:
        assert file.stat().st_size < LARGEST, file.name
        assert failures(file.read_bytes()) == [], file.name
