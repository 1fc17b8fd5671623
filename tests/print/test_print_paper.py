"""Every sheet on every paper that a class may name besides the one that it has if it names none:
of that paper, and nothing cut off."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from spoonfold.build import build
from spoonfold.model.classroom import LETTER, PAPERS
from tiny_class import CLASS, write_class

POINTS = {"in": 72.0, "mm": 72 / 25.4}
NEAREST = 9.0
"""Points that a copier may leave white at an edge: an eighth of an inch (common practice)."""


def points(length: str) -> float:
    """A length of a stylesheet."""
    return float(length[:-2]) * POINTS[length[-2:]]


@pytest.mark.slow
@pytest.mark.parametrize("name", [each for each in PAPERS if each != LETTER.name])
def test_all_sheets_are_of_their_paper(name: str, tmp_path: Path) -> None:
    """Whole, turned, halved or in eight, to a hundredth of a point; what is folded is a whole
    sheet across, and so is what lies on a table, in the print pack too. No letter stands nearer to
    an edge than a copier prints."""
    # One household: others have the same sheets once more.
    settings = CLASS.replace("[2, 4]", "[2]").replace(
        "languages: [en]", f"languages: [en]\npaper: {name}"
    )
    write_class(tmp_path, {"class.yaml": settings})
    outcome = build(tmp_path, tmp_path / "build")
    assert outcome.write_failure is None and outcome.print_failure is None
    wide, high = points(PAPERS[name].width), points(PAPERS[name].height)
    shapes = {"whole": (wide, high), "turned": (high, wide), "half": (high / 2, wide)}
    found = set()
    paths = sorted((tmp_path / "build").rglob("*.pdf"))
    on_tables = {
        page.get_textpage().get_text_range()
        for path in paths
        if path.name.startswith("table-cards")
        for page in pypdfium2.PdfDocument(path.read_bytes())
    }
    assert any(on_tables)
    for path in paths:
        is_turned = False
        for number, page in enumerate(pypdfium2.PdfDocument(path.read_bytes()), start=1):
            size = pytest.approx(page.get_size(), abs=0.01)
            (shape,) = (each for each in shapes if shapes[each] == size)
            text = page.get_textpage()
            is_folded = "to-fold" in path.name or "mini-book" in path.name
            said = text.get_text_range()
            # A blank back is as its front.
            is_turned = is_folded or (said in on_tables if said else is_turned)
            assert is_turned == (shape == "turned"), (path.name, number)
            found.add(shape)
            for index in range(text.count_rects()):
                left, low, right, top = text.get_rect(index)
                edges = (left, low, page.get_width() - right, page.get_height() - top)
                assert min(edges) >= NEAREST, (path.name, number, index)
    assert found == set(shapes)
