"""Reading PDFs to fold with independent readers."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pikepdf
import pypdfium2
import pytest

Box = tuple[float, float, float, float]


def squeezed(text: str) -> str:
    """Text without spaces, so that line ends don't matter."""
    return re.sub(r"[\s\ufffe\u00ad]+", "", text)


def failures(pdf: bytes) -> list[str]:
    """What PDF/UA-1 by page-validation finds wrong."""
    page = pytest.importorskip("page", reason="needs page-validation")
    report = page.validate_pdf_bytes(pdf, profile=page.ValidationProfile.PDF_UA_1)
    return [f"{each.rule_id}: {each.message}" for each in report.failures]


def texts(pdf: bytes) -> list[str]:
    """The text of each page, squeezed."""
    return [squeezed(page.get_textpage().get_text_range()) for page in pypdfium2.PdfDocument(pdf)]


def halves(pdf: bytes) -> list[tuple[str, str]]:
    """The text of the left and of the right half of each page, squeezed."""
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        width, height = page.get_size()
        read = page.get_textpage()
        left = read.get_text_bounded(0, 0, width / 2, height)
        right = read.get_text_bounded(width / 2, 0, width, height)
        found.append((squeezed(left), squeezed(right)))
    return found


def first_letter(pdf: bytes, page: int, left: float = 0.0) -> Box:
    """The frame of the first letter of a page's text that isn't left of a line."""
    read = pypdfium2.PdfDocument(pdf)[page].get_textpage()
    for index in range(read.count_chars()):
        box: Box = read.get_charbox(index)
        if box[0] >= left and box[2] > box[0]:
            return box
    raise AssertionError(f"page {page} has no text")


@dataclass(frozen=True, slots=True)
class Read:
    """What a screen reader finds."""

    title: str
    language: str
    headings: tuple[str, ...]
    """The outline, flat."""
    pieces: int
    """Of content, in reading order, each found again from its page."""
    named: dict[str, tuple[int, float, float]]
    """Where links lead: page, and point on it."""
    links: int
    duplex: str


def read(pdf: bytes) -> Read:
    """Walks the tags, the outline and the links; fails where the ways back don't fit."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        numbers = list(opened.Root.StructTreeRoot.ParentTree.Nums)
        parents = dict(zip(map(int, numbers[::2]), numbers[1::2], strict=True))
        own = {
            page.obj.objgen: int(page.obj.StructParents)
            for page in opened.pages
            if "/StructParents" in page.obj
        }
        index = {page.obj.objgen: number for number, page in enumerate(opened.pages)}
        pieces = 0
        for element in _elements(opened.Root.StructTreeRoot):
            for kid in _kids(element):
                if isinstance(kid, int):
                    pieces += 1
                    assert parents[own[element.Pg.objgen]][kid].objgen == element.objgen
                elif isinstance(kid, pikepdf.Dictionary) and "/Obj" in kid:
                    assert parents[int(kid.Obj.StructParent)].objgen == element.objgen
                    assert kid.Obj.objgen in {
                        each.objgen for each in opened.pages[index[kid.Pg.objgen]].obj.Annots
                    }
        names = list(opened.Root.Names.Dests.Names) if "/Names" in opened.Root else []
        with opened.open_metadata() as metadata, opened.open_outline() as outline:
            headings = tuple(_titles(outline.root))
            title = str(metadata.get("dc:title"))
        return Read(
            title,
            str(opened.Root.Lang),
            headings,
            pieces,
            {
                str(name): (index[at[0].objgen], float(at[2]), float(at[3]))
                for name, at in zip(names[::2], names[1::2], strict=True)
            },
            sum(len(page.obj.get("/Annots", ())) for page in opened.pages),
            str(opened.Root.ViewerPreferences.get("/Duplex", "")),
        )


def _titles(items: Any) -> Iterator[str]:
    for item in items:
        yield item.title
        yield from _titles(item.children)


def _kids(element: Any) -> list[Any]:
    found = element.get("/K", [])
    return list(found) if isinstance(found, pikepdf.Array) else [found]


def _elements(node: Any) -> Iterator[Any]:
    for kid in _kids(node):
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield kid
            yield from _elements(kid)
