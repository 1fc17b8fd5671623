"""The site in several languages: each page leads to itself in the others, and says its own."""

from __future__ import annotations

import re
from pathlib import Path

_CHOICE = re.compile(r'<li><a href="([^"]+)" hreflang="([\w-]+)" lang="([\w-]+)" dir="(\w+)"')
_FOREIGN = re.compile(r'lang="(\w+)" dir="(\w+)"')


def _pages(site: Path) -> dict[str, str]:
    return {
        path.relative_to(site).as_posix(): path.read_text("utf-8")
        for path in sorted(site.rglob("*.html"))
    }


def test_every_page_is_there_in_every_language(tongues_site: Path) -> None:
    """The first language lies at the top, each other one in its own folder, page for page."""
    names = set(_pages(tongues_site))
    own = {name for name in names if not name.startswith(("ar/", "vi/", "es/"))}
    assert len(own) >= 5
    for language in ("ar", "vi", "es"):
        assert {f"{language}/{name}" for name in own} <= names


def test_pages_lead_to_themselves(tongues_site: Path) -> None:
    """Every page links itself in each language, itself too, and nothing else; its head names no
    address, since class.yaml has none for the site."""
    for name, page in _pages(tongues_site).items():
        own = name.split("/", 1)[1] if name.startswith(("ar/", "vi/", "es/")) else name
        assert 'rel="alternate"' not in page
        choices = _CHOICE.findall(page)
        found = {each[1]: each[0] for each in choices}
        assert list(found) == ["en", "ar", "vi", "es"]
        for language, address in found.items():
            wanted = own if language == "en" else f"{language}/{own}"
            target = (tongues_site / name).parent / address
            assert target.resolve() == (tongues_site / wanted).resolve()
        assert [(each[1], each[2]) for each in choices] == [(one, one) for one in found]
        assert {each[3] for each in choices if each[1] == "ar"} == {"rtl"}


def test_one_language_has_no_choice(odd_sites: dict[str, Path]) -> None:
    """Where there is nothing to choose nothing is offered."""
    page = (odd_sites["bare"] / "index.html").read_text("utf-8")
    assert "hreflang" not in page


def test_what_is_not_translated_says_so(tongues_site: Path) -> None:
    """A dish that nobody has translated bears its own language and a mark in the reader's."""
    page = (tongues_site / "es/recipes/carrot-rice.html").read_text("utf-8")
    assert '<h1 lang="en" dir="ltr">Rice with carrot and yogurt</h1>' in page
    assert "(en inglés)" in page
    assert "aceite de oliva" in page


def test_fixed_texts_in_english_are_english(tongues_site: Path) -> None:
    """A screen reader must not read English letters as Arabic."""
    page = (tongues_site / "ar/recipes/carrot-rice.html").read_text("utf-8")
    assert '<html lang="ar" dir="rtl"' in page
    assert '<span lang="en" dir="ltr">Gather and measure</span>' in page
    assert set(_FOREIGN.findall(page)) <= {
        ("en", "ltr"),
        ("ar", "rtl"),
        ("vi", "ltr"),
        ("es", "ltr"),
    }


def test_a_draft_says_so(tongues_site: Path) -> None:
    """Until somebody who speaks the language has read it; then no more."""
    draft = "Draft: to be read by a fluent speaker."
    assert draft in (tongues_site / "ar/recipes/carrot-rice.html").read_text("utf-8")
    assert draft in (tongues_site / "ar/ingredients.html").read_text("utf-8")
    assert draft not in (tongues_site / "vi/recipes/carrot-rice.html").read_text("utf-8")


def test_a_page_of_drafts_says_so_once(tongues_site: Path) -> None:
    """On the first page and in the list of ingredients, above all dishes, and at none."""
    for name in ("index.html", "ingredients.html"):
        page = (tongues_site / "ar" / name).read_text("utf-8")
        assert page.count('class="draft"') == 1
        assert page.index('class="draft"') < page.index("</h1>") + 100
        assert 'class="draft"' not in (tongues_site / "vi" / name).read_text("utf-8")
