"""Pictures of the worksheet: to scale, in words, and fractions set to be read and copied."""

from __future__ import annotations

import re
from fractions import Fraction as F
from itertools import pairwise
from math import isclose
from xml.etree import ElementTree

import pytest
from worksheet_cases import GRADES, SESSIONS, all_sheets

from spoonfold.press.figures.fractions import drawn
from spoonfold.press.numerals import numerals
from spoonfold.sheets.worksheet.figures import Bar, Bars, Cup, Cups, Line, Mark

SVG = "{http://www.w3.org/2000/svg}"


def shapes(figure: Bars | Cups | Line, name: str) -> list[dict[str, str]]:
    root = ElementTree.fromstring(drawn(figure, "q"))
    return [each.attrib for each in root.iter(f"{SVG}{name}")]


@pytest.mark.parametrize("shaded", [F(1, 2), F(2, 3), F(7, 8), F(1)])
def test_shading_covers_its_share_of_the_bar(shaded: F) -> None:
    """Two thirds of a bar are shaded over two thirds of its length, to a hundredth of a unit."""
    shade, whole = shapes(Bars((Bar(3, shaded, "1 cup"),), "a bar"), "rect")
    assert isclose(float(shade["width"]), float(whole["width"]) * float(shaded), abs_tol=0.01)
    assert shade["x"] == whole["x"]


def test_a_bar_is_cut_in_equal_parts() -> None:
    """The lines inside a bar of eighths stand an eighth apart."""
    bars = Bars((Bar(8, F(0), "1 cup"),), "a bar")
    (whole,) = shapes(bars, "rect")
    lefts = [float(re.match(r"M([\d.]+)", each["d"])[1]) for each in shapes(bars, "path")]
    assert len(lefts) == 7
    for place, left in enumerate(lefts, start=1):
        wanted = float(whole["x"]) + float(whole["width"]) * place / 8
        assert isclose(left, wanted, abs_tol=0.01)


def test_cups_are_drawn_by_their_volume() -> None:
    """A one-cup measure is as much larger than a quarter-cup one as a round vessel of one shape
    is that holds four times as much."""
    cups = Cups((Cup(F(48), "1 cup"), Cup(F(12), "¼ cup")), False, "two cups")
    bodies = [each["d"] for each in shapes(cups, "path") if each["d"].endswith("Z")]
    widths = []
    for body in bodies:
        xs = [float(x) for x in re.findall(r"(?:M|L|H)(-?[\d.]+)", body)]
        widths.append(max(xs) - min(xs))
    assert isclose(widths[0] / widths[1], 4 ** (1 / 3), rel_tol=0.01)


def test_a_lost_cup_is_dashed() -> None:
    """What isn't there has a dashed outline, and no shading."""
    cups = Cups((Cup(F(16), "⅓ cup", True), Cup(F(3), "1 tbsp")), False, "a lost cup")
    dashed = [each for each in shapes(cups, "path") if "stroke-dasharray" in each]
    assert len(dashed) == 2
    assert all("fill" not in each for each in dashed)


def test_places_on_a_line_are_proportional() -> None:
    """A dot at 1⅓ stands a third of the way between 1 and 2."""
    line = Line(
        F(0),
        F(2),
        F(1, 3),
        tuple(Mark(F(n), str(n)) for n in range(3)),
        (),
        (Mark(F(4, 3), "A"),),
        "a line",
    )
    (dot,) = shapes(line, "circle")
    root = ElementTree.fromstring(drawn(line, "q"))
    at = {each.text: float(each.get("x")) for each in root.iter(f"{SVG}text")}
    assert isclose(float(dot["cx"]), at["1"] + (at["2"] - at["1"]) / 3, abs_tol=0.02)


@pytest.mark.parametrize("grade", GRADES)
@pytest.mark.parametrize("session", SESSIONS)
def test_every_picture_has_words_and_stays_in_its_frame(grade: int, session: int) -> None:
    """A title for who can't see it; nothing is drawn outside; labels don't run into each other."""
    for made in all_sheets(grade, session):
        for view in made.questions:
            if view.figure is None:
                continue
            root = ElementTree.fromstring(drawn(view.figure, "q"))
            title = root.find(f"{SVG}title")
            assert title is not None and title.text == view.figure.words != ""
            _, _, width, height = map(float, root.get("viewBox").split())
            assert width <= 501, view.asked.text
            rows: dict[str, list[tuple[float, float, str]]] = {}
            for text in root.iter(f"{SVG}text"):
                wide = len(text.text) * 14 * 0.5
                x, anchor = float(text.get("x")), text.get("text-anchor")
                left = x - wide / 2 if anchor == "middle" else x
                rows.setdefault(text.get("y"), []).append((left, left + wide, text.text))
                assert left >= -1 and left + wide <= width + 1, text.text
                assert float(text.get("y")) <= height
            for row in rows.values():
                row.sort()
                for one, two in pairwise(row):
                    assert one[1] <= two[0] + 1, (one, two, view.asked.text)


@pytest.mark.parametrize(
    ("text", "copied"),
    [
        ("1½ cups", "1 1⁄2 cups"),
        ("3/8 + ⅔", "3⁄8 + 2⁄3"),
        ("1 11/12", "1 11⁄12"),
        ("1/2 = ?/6", "1⁄2 = ?⁄6"),
        ("1020/4 < 300", "1020⁄4 &lt; 300"),
        ("12 cups", "12 cups"),
    ],
)
def test_fractions_read_as_fractions(text: str, copied: str) -> None:
    """Who hears or copies a fraction gets its two numbers with the fraction slash between."""
    assert re.sub(r"<[^>]+>", "", numerals(text)) == copied
