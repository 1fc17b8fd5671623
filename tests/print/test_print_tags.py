"""The PDF for a reader who can't see it: independent checkers, and what they don't ask."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from printed_sheets import Press, Printed, printed

STRICT = "page-validation isn't installed: pip install 'spoonfold[test]'"
SECOND = "pdfua isn't installed: pip install 'spoonfold[test]'"
PRINTED = 4
"""The annotation flag Print (ISO 32000-1, table 165)."""
OPENER = "pikepdf isn't installed: pip install 'spoonfold[test]'"


def failures(pdf: bytes) -> list[str]:
    """What PDF/UA-1 by page-validation finds wrong."""
    page = pytest.importorskip("page", reason=STRICT)
    report = page.validate_pdf_bytes(pdf, profile=page.ValidationProfile.PDF_UA_1)
    return [f"{each.rule_id}: {each.message}" for each in report.failures]


@pytest.fixture(scope="session")
def small_card(small: Callable[..., Press]) -> Printed:
    return printed(small().print_card("rice", 4))


def test_booklet_passes_the_strict_checker(demo_booklet: Printed) -> None:
    """A booklet of nine dishes, lists over several pages and a table is PDF/UA-1."""
    assert failures(demo_booklet.pdf) == []


def test_cards_pass_the_strict_checker(
    demo_card: Callable[[str], Printed], small_card: Printed
) -> None:
    """A card is PDF/UA-1, on one side or on two."""
    assert failures(small_card.pdf) == []
    assert failures(demo_card("turkey-kofta").pdf) == []


@pytest.mark.slow
def test_the_strict_checker_can_fail(demo: Press, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the mending of tags the same card is refused, so the mending is needed."""
    monkeypatch.setattr("spoonfold.press.pdf.mend_tags", lambda document, pdf: None)
    assert failures(printed(demo.print_card("turkey-kofta", 4)).pdf)


@pytest.mark.slow
@pytest.mark.parametrize("which", ["demo_booklet", "small_card"])
def test_a_second_checker_finds_nothing(
    which: str, request: pytest.FixtureRequest, tmp_path: Any
) -> None:
    """Another program, which asks about header cells and headings, has no finding either."""
    pdfua = pytest.importorskip("pdfua.cli", reason=SECOND)
    path = tmp_path / "sheet.pdf"
    path.write_bytes(request.getfixturevalue(which).pdf)
    assert pdfua.main(["check", str(path)]) == 0


@pytest.fixture(scope="session")
def opened(demo_booklet: Printed) -> Any:
    import io

    pikepdf = pytest.importorskip("pikepdf", reason=OPENER)
    with pikepdf.open(io.BytesIO(demo_booklet.pdf)) as pdf:
        yield pdf


def elements(node: Any) -> Iterator[Any]:
    """Every structure element below one, in reading order."""
    pikepdf = pytest.importorskip("pikepdf", reason=OPENER)
    kids = node.get("/K")
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield kid
            yield from elements(kid)


def test_language_and_title_are_said(opened: Any) -> None:
    """The document says its language, and shows its title instead of its file name."""
    assert str(opened.Root.Lang) == "en"
    assert bool(opened.Root.ViewerPreferences.DisplayDocTitle)
    assert "for 4 people" in str(opened.docinfo.Title).casefold()


def test_every_scoop_strip_says_its_amount(demo: Press, opened: Any) -> None:
    """A strip is a figure with the amount in words, framed where it stands on the page."""
    wanted = [
        said
        for spread in demo.booklet(4).spreads
        for said in (
            *([spread.opening.plate.words] if spread.opening.plate else []),
            *(row.view.words for row in spread.opening.gathered if row.view.scoops),
        )
    ]
    figures = [each for each in elements(opened.Root.StructTreeRoot) if each.S == "/Figure"]
    # No line ends between a number and its percent.
    alts = [str(each.Alt).replace("\u00a0", " ") for each in figures]
    said = [each for each in alts if not each.startswith("QR code: ")]
    # The first strip of all explains how to read them, below the map.
    assert said[2:] == wanted
    assert said[0].startswith("A map of the world")
    for figure in figures:
        left, bottom, right, top = map(float, figure.A.BBox)
        width, height = map(float, figure.Pg.MediaBox[2:])
        assert 0 < left < right < width and 0 < bottom < top < height


def test_header_cells_say_what_they_head(opened: Any) -> None:
    """Dishes and dates head their rows, the words above head the columns."""
    scopes = [str(each.A.Scope) for each in elements(opened.Root.StructTreeRoot) if each.S == "/TH"]
    assert scopes == [*["/Column"] * 3, *["/Row"] * 9, *["/Column"] * 2, *["/Row"] * 8]


def test_links_are_printed_and_say_where_they_lead(demo: Press, opened: Any) -> None:
    """A link's description is its own words, such as the title it leads to, not an address."""
    contents, *others = [
        [note for note in page.Annots if note.Subtype == "/Link"]
        for page in opened.pages
        if "/Annots" in page
    ]
    assert [str(link.Contents) for link in contents] == [
        *(sheet.title for sheet in demo.booklet(4).recipes),
        "Stories and questions",
        "Shopping, costs and what is left",
        "Words and dangers",
    ]
    for link in [*contents, *(link for page in others for link in page)]:
        assert int(link.F) & PRINTED
        assert str(link.Contents) and "word-" not in str(link.Contents)


def test_running_heads_are_no_part_of_the_text(opened: Any) -> None:
    """What stands in the margin of every page is an artifact: read once, it would be noise."""
    pikepdf = pytest.importorskip("pikepdf", reason=OPENER)
    for number, page in enumerate(opened.pages):
        depth: list[str] = []
        drawn = 0
        for operands, operator in pikepdf.parse_content_stream(page):
            if str(operator) in ("BDC", "BMC"):
                depth.append(str(operands[0]))
            elif str(operator) == "EMC":
                depth.pop()
            elif str(operator) == "TJ" and "/Artifact" in depth:
                drawn += 1
        # The page's number and its running head; the cover and the back have none.
        outside = number in (0, len(opened.pages) - 1)
        assert (drawn >= 2) != outside, number + 1


def test_nothing_empty_is_tagged(opened: Any) -> None:
    """Lines to write on are drawn, not said."""
    pikepdf = pytest.importorskip("pikepdf", reason=OPENER)
    for each in elements(opened.Root.StructTreeRoot):
        assert not isinstance(each.get("/K"), pikepdf.Array) or len(each.K) > 0, each.S


def test_bookmarks_name_every_dish(demo: Press, opened: Any) -> None:
    """Every dish can be reached from the bookmarks."""
    with opened.open_outline() as outline:
        titles = [item.title for item in outline.root]
    for sheet in demo.booklet(4).recipes:
        assert sheet.title in titles
