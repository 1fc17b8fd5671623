"""Where lines end: a word that is marked in a text ends no line before it is full."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from spoonfold.press.pdf import _unbroken

weasyprint = pytest.importorskip("weasyprint")

_TEXT = "Bake the kofta on two sheets until a thermometer says {} in the middle of a thick one."


def _lines(html: str, width: int) -> Iterator[str]:
    """The lines of a text as WeasyPrint sets them."""
    page = f"@page {{ size: {width}pt 600pt; margin: 0 }} body {{ font: 12pt Andika }}"
    document = weasyprint.HTML(string=f"<style>{page}</style><body><p>{html}</p>").render()
    for box in document.pages[0]._page_box.descendants():
        if type(box).__name__ == "LineBox":
            yield "".join(each.text for each in box.descendants() if hasattr(each, "text")).strip()


@pytest.mark.parametrize(
    "mark", ['a href="#x"', "b style='font-weight: 400'", "span", "em style='font-style: normal'"]
)
def test_lines_end_where_they_are_full(mark: str) -> None:
    """With a mark round a word the lines are those of the same text without it, at any width."""
    name = mark.split()[0]
    marked = _unbroken(_TEXT.format(f"<{mark}>so much</{name}>"))
    for width in range(90, 330, 3):
        assert list(_lines(marked, width)) == list(_lines(_TEXT.format("so much"), width)), width
