"""Where lines end: a word that is marked in a text ends no line before it is full."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from spoonfold.press.pdf import _unbroken

weasyprint = pytest.importorskip("weasyprint")

pytestmark = pytest.mark.slow
WIDTHS = range(90, 330, 3)
_TEXT = "Bake the kofta on two sheets until a thermometer says {} in the middle of a thick one."


def _lines(html: str) -> Iterator[tuple[str, list[str]]]:
    """The lines of a text as WeasyPrint sets them, at each width in points."""
    style = "@page { size: 400pt 20000pt; margin: 0 } body { font: 12pt Andika }"
    texts = "".join(f'<p style="width: {width}pt">{html}</p>' for width in WIDTHS)
    document = weasyprint.HTML(string=f"<style>{style}</style><body>{texts}").render()
    for block in document.pages[0]._page_box.descendants():
        if block.element_tag == "p" and type(block).__name__ == "BlockBox":
            lines = [
                "".join(each.text for each in box.descendants() if hasattr(each, "text")).strip()
                for box in block.descendants()
                if type(box).__name__ == "LineBox"
            ]
            yield block.element.get("style"), lines


@pytest.fixture(scope="module")
def bare() -> list[tuple[str, list[str]]]:
    """The lines of the text without a mark."""
    return list(_lines(_TEXT.format("so much")))


@pytest.mark.parametrize(
    "mark", ['a href="#x"', "b style='font-weight: 400'", "span", "em style='font-style: normal'"]
)
def test_lines_end_where_they_are_full(mark: str, bare: list[tuple[str, list[str]]]) -> None:
    """With a mark round a word the lines are those of the same text without it, at any width."""
    name = mark.split()[0]
    marked = _unbroken(_TEXT.format(f"<{mark}>so much</{name}>"))
    assert list(_lines(marked)) == bare
    assert len(bare) == len(WIDTHS) and len({len(lines) for _, lines in bare}) > 3
