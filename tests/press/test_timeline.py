"""The clock chart: to scale, without colour, the same on every machine."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from spoonfold.press.figures.timeline import WIDTH, timeline_chart
from spoonfold.sheets.brief.chart import ChartBar as Bar
from spoonfold.sheets.brief.chart import ChartRow, ChartView

SVG = "{http://www.w3.org/2000/svg}"


def chart(*bars: Bar, length: int = 60, buffer: int = 5) -> ChartView:
    return ChartView(
        (ChartRow("Table 1", bars),), length, buffer, ((0, "10:20"),), "11:20", "In words."
    )


def drawn(timeline: ChartView) -> ElementTree.Element:
    return ElementTree.fromstring(timeline_chart(timeline, "t"))


def frames(root: ElementTree.Element) -> list[tuple[float, float, float]]:
    """Left, right and top of every bar's outline."""
    return [
        (
            float(rect.attrib["x"]),
            float(rect.attrib["x"]) + float(rect.attrib["width"]),
            float(rect.attrib["y"]),
        )
        for rect in root.iter(f"{SVG}rect")
        if "stroke-width" in rect.attrib
    ]


def heights(path: str) -> list[tuple[float, float, float, float]]:
    return [
        (float(x), float(y), float(x2), float(y2))
        for x, y, x2, y2 in re.findall(r"M(-?[\d.]+) (-?[\d.]+)L(-?[\d.]+) (-?[\d.]+)", path)
    ]


def test_bars_are_to_scale() -> None:
    """Twice the time is twice the length, and a bar begins where its time does."""
    root = drawn(chart(Bar("1", 0, 600, 600, 600), Bar("2", 600, 1800, 1800, 1800)))
    (left, right, _), (left2, right2, _) = frames(root)
    assert right2 - left2 == pytest.approx(2 * (right - left), abs=0.05)
    assert left2 == pytest.approx(right, abs=0.05)


def test_what_overlaps_lies_below() -> None:
    """Two steps at once have a lane each; the next one takes the first lane again."""
    root = drawn(
        chart(
            Bar("1", 0, 900, 900, 900),
            Bar("2", 300, 1200, 1200, 1200),
            Bar("3", 900, 1500, 1500, 1500),
        )
    )
    tops = [top for _, _, top in frames(root)]
    assert tops[0] == tops[1] < tops[2] and len(set(tops)) == 2


def test_a_label_never_lies_on_another_bar() -> None:
    """A bar too short for its label keeps the room beside it free."""
    root = drawn(chart(Bar("123456", 0, 30, 30, 30), Bar("13", 30, 900, 900, 900)))
    tops = [top for _, _, top in frames(root)]
    assert tops[0] != tops[1]


def test_a_wait_is_hatched_and_stays_in_its_frame() -> None:
    """Every stripe lies inside the bar's own outline."""
    root = drawn(chart(Bar("4", 0, 300, 300, 1500)))
    [(left, right, top)] = frames(root)
    stripes = [
        line
        for path in root.iter(f"{SVG}path")
        if path.attrib.get("stroke-width") == "0.5"
        for line in heights(path.attrib["d"])
    ]
    assert len(stripes) > 10
    for x, y, x2, y2 in stripes:
        assert left <= x < x2 <= right + 0.01
        assert top - 0.01 <= y2 < y


def test_no_colour_is_named() -> None:
    """One ink and its tones: nothing is lost on a copier."""
    svg = timeline_chart(chart(Bar("1", 0, 300, 340, 900, True)), "t")
    assert "#" not in svg and "rgb" not in svg
    assert set(re.findall(r'(?:fill|stroke)="([^"]+)"', svg)) == {"none", "currentColor"}


def test_an_adult_is_a_heavier_frame() -> None:
    """Who looks only at the frames sees where an adult stands by."""

    def width(is_watched: bool) -> float:
        root = drawn(chart(Bar("1", 0, 600, 600, 600, is_watched=is_watched)))
        return max(
            float(rect.attrib["stroke-width"])
            for rect in root.iter(f"{SVG}rect")
            if "stroke-width" in rect.attrib
        )

    assert width(True) > 2 * width(False)


def test_a_session_that_is_too_long_is_shown_whole() -> None:
    """The chart goes on past the end of the time there is."""
    root = drawn(chart(Bar("1", 0, 4800, 4800, 4800), length=60))
    assert max(right for _, right, _ in frames(root)) <= WIDTH
    assert "80" not in {each.text for each in root.iter(f"{SVG}text")}
    assert {"60", "65", "75"} <= {each.text for each in root.iter(f"{SVG}text")}


def test_the_words_are_its_title() -> None:
    """The text alternative is the element's own title, and safe to put into a page."""
    timeline = ChartView((ChartRow("T", ()),), 30, 5, (), "", "a < b & c")
    root = drawn(timeline)
    title = root.find(f"{SVG}title")
    assert title is not None and title.text == "a < b & c"
    assert root.attrib["aria-labelledby"] == title.attrib["id"]


def test_the_same_chart_is_the_same_text() -> None:
    """No number depends on the machine, and none is longer than two decimals."""
    bars = (Bar("1", 0, 333, 377, 1234), Bar("2", 777, 1999, 1999, 1999))
    svg = timeline_chart(chart(*bars), "t")
    assert svg == timeline_chart(chart(*bars), "t")
    assert not re.search(r"\d\.\d{3}", svg)


def test_nothing_to_show() -> None:
    """Without rows there is no figure."""
    assert timeline_chart(ChartView((), 30, 5, (), "", ""), "t") == ""
