"""The icons are one family, follow the ink, and each has its rule on paper."""

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from stylesheets import LAYOUTS, LOOK

ICONS = sorted((LAYOUTS / "icons").glob("*.svg"))
NEEDED = {
    "adult", "allergen", "clock", "hands", "heat", "knife", "oven", "people", "pot", "raw",
    "steam", "table", "thermometer",
}  # fmt: skip
SVG = "{http://www.w3.org/2000/svg}"


def test_needed() -> None:
    """There is a picture for every danger, place and tool that a step can name."""
    assert {path.stem for path in ICONS} >= NEEDED


def test_on_paper() -> None:
    """Each icon has one rule in the paper stylesheet, and no rule lacks its icon."""
    rules = re.findall(r"\.icon-([a-z]+) \{", (LOOK / "paper.css").read_text(encoding="utf-8"))
    assert sorted(rules) == [path.stem for path in ICONS]


@pytest.mark.parametrize("icon", ICONS, ids=lambda path: path.stem)
class TestEveryIcon:
    def test_family(self, icon: Path) -> None:
        """It is drawn on the same grid with the same pen, in the colour of the text."""
        drawing = ElementTree.parse(icon).getroot()
        assert drawing.tag == f"{SVG}svg"
        assert drawing.attrib == {
            "viewBox": "0 0 24 24",
            "width": "24",
            "height": "24",
            "fill": "none",
            "stroke": "currentColor",
            "stroke-width": "2",
            "stroke-linecap": "round",
            "stroke-linejoin": "round",
        }

    def test_plain_shapes(self, icon: Path) -> None:
        """It holds a few bare shapes: nothing that a strict content policy would refuse."""
        shapes = list(ElementTree.parse(icon).getroot())
        assert 1 <= len(shapes) <= 4
        assert {shape.tag for shape in shapes} <= {f"{SVG}path", f"{SVG}circle", f"{SVG}rect"}
        for shape in shapes:
            assert not shape.attrib.keys() & {"style", "class", "id", "fill", "stroke"}
