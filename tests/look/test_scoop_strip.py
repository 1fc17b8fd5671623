"""The scoop strip is true to volume, counts right, says its words and fits its row."""

import re
from fractions import Fraction
from itertools import pairwise
from math import pi
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spoonfold.plan.amounts.scoop import ToolKind
from spoonfold.press.figures.scoops import ROW_WIDTH, TEASPOON, Bowl, bowl, filled, scoop_strip
from spoonfold.sheets.shared.amounts import ScoopMark

SVG = "{http://www.w3.org/2000/svg}"
CUP = ScoopMark("cup", "1 cup", Fraction(48), 1)
QUARTER = ScoopMark("cup", "¼ cup", Fraction(12), 1)
JUG = ScoopMark("jug", "2-cup jug", Fraction(96), 11)

tools = st.sampled_from(
    [
        ("jug", "4-cup jug", Fraction(192)),
        ("jug", "2-cup jug", Fraction(96)),
        ("cup", "1 cup", Fraction(48)),
        ("cup", "½ cup", Fraction(24)),
        ("cup", "⅓ cup", Fraction(16)),
        ("cup", "¼ cup", Fraction(12)),
        ("tbsp", "1 Tbsp", Fraction(3)),
        ("tsp", "1 tsp", Fraction(1)),
        ("tsp", "½ tsp", Fraction(1, 2)),
        ("tsp", "¼ tsp", Fraction(1, 4)),
        ("tsp", "⅛ tsp", Fraction(1, 8)),
    ]
)
amounts = st.lists(
    st.builds(lambda tool, count: ScoopMark(*tool, count), tools, st.integers(1, 13)),
    min_size=1,
    max_size=5,
)


def drawn(strip: str) -> ElementTree.Element:
    return ElementTree.fromstring(strip)


def levels(strip: str) -> list[str]:
    paths = drawn(strip).iter(f"{SVG}path")
    return [path.attrib["d"] for path in paths if path.attrib.get("class") == "level"]


def boxes(strip: str) -> list[tuple[float, float]]:
    return [
        (float(box.attrib["x"]), float(box.attrib["y"])) for box in drawn(strip).iter(f"{SVG}rect")
    ]


def labels(strip: str) -> list[str]:
    return [text.text or "" for text in drawn(strip).iter(f"{SVG}text")]


def volume(outline: str) -> float:
    """Volume, in cubic drawing units, of the drawn outline turned round its upright middle."""
    if "A" in outline:
        radius = float(outline.partition("A")[2].split()[0])
        left, right = float(outline[1:].split()[0]), float(outline.split()[-2])
        assert right - left == pytest.approx(2 * radius, abs=0.03)
        return 2 / 3 * pi * radius**3
    left, rim, start, floor, end, right, _ = map(float, re.findall(r"[\d.]+", outline))
    top, bottom = (right - left) / 2, (end - start) / 2
    return pi / 3 * (floor - rim) * (top * top + top * bottom + bottom * bottom)


class TestVolume:
    @pytest.mark.parametrize("kind", ["jug", "cup", "tbsp", "tsp"])
    @pytest.mark.parametrize(
        "tsp", [Fraction(1, 8), Fraction(1), Fraction(3), Fraction(16), Fraction(48), Fraction(192)]
    )
    def test_true(self, kind: ToolKind, tsp: Fraction) -> None:
        """What is drawn holds what the scoop holds, on one scale for all kinds of tool."""
        (outline,) = levels(scoop_strip([ScoopMark(kind, "x", tsp, 1)], "x", "a"))
        assert volume(outline) == pytest.approx(float(tsp) * TEASPOON**3, rel=0.02)

    def test_cups(self) -> None:
        """The rims of a whole and a quarter cup are as the cube roots of 4 and 1."""
        whole, quarter = levels(scoop_strip([CUP, QUARTER], "x", "a"))
        widths = [
            float(outline.split("L")[2].split()[0]) - float(outline[1:].split()[0])
            for outline in (whole, quarter)
        ]
        assert widths[0] / widths[1] == pytest.approx(4 ** (1 / 3), rel=0.002)


class TestCounting:
    @given(amounts)
    def test_one_box_each(self, scoops: list[ScoopMark]) -> None:
        """There are as many filled scoops, and boxes to tick, as there are to count out."""
        strip = scoop_strip(scoops, "words", "a")
        total = sum(scoop.count for scoop in scoops)
        assert len(levels(strip)) == total
        assert len(boxes(strip)) == total

    def test_labels(self) -> None:
        """One scoop carries its size, several carry their number too."""
        thirds = ScoopMark("cup", "⅓ cup", Fraction(16), 2)
        assert labels(scoop_strip([CUP, thirds], "x", "a")) == ["1 cup", "2 × ⅓ cup"]

    def test_fives(self) -> None:
        """Eleven jugs stand in fives with a running tally, each five in a row of its own."""
        strip = scoop_strip([JUG], "x", "a")
        assert labels(strip) == ["5", "10", "11 × 2-cup jug"]
        heights = [y for _, y in boxes(strip)]
        assert [heights.count(y) for y in sorted(set(heights))] == [5, 5, 1]

    def test_fives_apart(self) -> None:
        """In a wide row the fives are parted by a wider space."""
        lefts = [x for x, _ in boxes(scoop_strip([JUG], "x", "a", row_width=1000))]
        steps = [round(right - left, 1) for left, right in pairwise(lefts)]
        near, apart = min(steps), max(steps)
        assert steps == [near] * 4 + [apart] + [near] * 4 + [apart]
        assert apart > near + 5


class TestRow:
    @given(amounts, st.sampled_from([ROW_WIDTH, 400.0, 520.0]))
    def test_fits(self, scoops: list[ScoopMark], row_width: float) -> None:
        """Nothing is wider than the row that was asked for, or lies outside the picture."""
        strip = scoop_strip(scoops, "x", "a", row_width)
        _, _, width, height = map(float, drawn(strip).attrib["viewBox"].split())
        assert width <= row_width + 0.01
        for x, y in boxes(strip):
            assert 0 < x < x + 11 < width
            assert 0 < y < y + 11 < height

    @given(amounts)
    def test_apart(self, scoops: list[ScoopMark]) -> None:
        """No box to tick touches another."""
        places = boxes(scoop_strip(scoops, "x", "a"))
        for at, (x, y) in enumerate(places):
            for other_x, other_y in places[at + 1 :]:
                assert abs(x - other_x) > 11 or abs(y - other_y) > 11

    def test_one_scale(self) -> None:
        """The size on the page is the drawing's own, 16 units to the em, whatever the amount."""
        for scoops in ([CUP], [JUG], [QUARTER, JUG]):
            picture = drawn(scoop_strip(scoops, "x", "a")).attrib
            width = float(picture["viewBox"].split()[2])
            assert float(picture["width"].removesuffix("em")) * 16 == pytest.approx(width, abs=0.1)


class TestText:
    def test_words(self) -> None:
        """The words are the picture's title, and the picture points to them by its own id."""
        words = "1 and a quarter cups: 1 one-cup scoop & 1 quarter-cup scoop"
        picture = drawn(scoop_strip([CUP, QUARTER], words, "soup-4-lentils"))
        title = picture[0]
        assert title.tag == f"{SVG}title"
        assert title.text == words
        assert picture.attrib["role"] == "img"
        assert picture.attrib["aria-labelledby"] == title.attrib["id"] == "soup-4-lentils-title"

    def test_escaped(self) -> None:
        """A label with signs of markup stays text."""
        odd = ScoopMark("cup", '<b> & "½"', Fraction(24), 1)
        assert labels(scoop_strip([odd], "x", "a")) == ['<b> & "½"']

    def test_follows_the_page(self) -> None:
        """The ink is the text's own, and nothing in it would be refused by a strict policy."""
        strip = scoop_strip([CUP, JUG], "x", "a")
        assert "style" not in strip
        assert "#" not in strip
        assert drawn(strip).attrib["stroke"] == "currentColor"

    def test_steady(self) -> None:
        """The same amount gives the same bytes, with two decimals at most."""
        strip = scoop_strip([CUP, JUG], "x", "a")
        assert strip == scoop_strip((CUP, JUG), "x", "a")
        assert re.search(r"\d\.\d{3}|\de[-+]?\d", strip) is None


class TestNothing:
    def test_no_scoops(self) -> None:
        """An amount that isn't scooped draws nothing."""
        assert scoop_strip([], "x", "a") == ""


@pytest.mark.parametrize("part", [Fraction(1, 4), Fraction(1, 2), Fraction(3, 4)])
def test_a_jug_that_is_not_full_is_drawn_by_its_volume(part: Fraction) -> None:
    """A frustum holds pi/3 h (R² + Rr + r²); below its level stands just so much of the jug."""

    def volume(shape: Bowl) -> float:
        return shape.depth * (shape.top**2 + shape.top * shape.bottom + shape.bottom**2)

    jug = bowl("jug", Fraction(96))
    assert volume(filled(jug, float(part))) == pytest.approx(float(part) * volume(jug))
