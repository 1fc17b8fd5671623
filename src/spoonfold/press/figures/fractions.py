"""Fraction bars, cup measures and number lines, all to scale.

Every picture is at most `WIDTH` drawing units wide, 16 to the em of the text around it, so that it
grows with the type. Shading is a tone that a copier keeps apart from white, inside heavy outlines.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from xml.sax.saxutils import escape, quoteattr

from spoonfold.press.figures.mark import LETTERS, number, tag
from spoonfold.press.figures.scoops import EM, Bowl, bowl
from spoonfold.sheets.worksheet.figures import Bar, Bars, Cups, Figure, Line, Mark

WIDTH = 500.0
"""Drawing units: a little less than the line of a worksheet."""

_EDGE = 1.5
_OUTLINE = 1.6
_FINE = 1.0
_SHADE = "0.28"
_LETTER = 14.0
_LETTER_WIDE = 0.58  # Mean advance of a letter in Andika, in ems, rounded up.
_BAR_HIGH = 32.0
_BAR_GAP = 10.0
_BAR_WIDE = 400.0
_TWO_WIDE = 180.0
_LABEL_GAP = 8.0
_COLUMN_GAP = 18.0
_BOX = (44.0, 30.0)
_CUP_GAP = 34.0
_CUP_SCALE = 1.7
"""How much larger cups are drawn than on a scoop strip: all of them alike."""
_TICK, _LONG_TICK = 5.0, 9.0
_DOT = 4.2


def drawn(figure: Figure, prefix: str) -> str:
    """An SVG element; `prefix` makes its ids unique in the page."""
    match figure:
        case Bars():
            return bars_figure(figure, prefix)
        case Cups():
            return cups_figure(figure, prefix)
        case Line():
            return line_figure(figure, prefix)


def bars_figure(figure: Bars, prefix: str) -> str:
    """Bars of one length, in two columns where there are more than two."""
    bars = figure.bars
    columns = 1 if len(bars) <= 2 else 2
    label = max(_width(bar.label) for bar in bars)
    room = WIDTH / columns - label - _LABEL_GAP - _COLUMN_GAP
    wide = min(_BAR_WIDE if columns == 1 else _TWO_WIDE, room)
    column = wide + _LABEL_GAP + label + _COLUMN_GAP
    parts: list[str] = []
    for place, bar in enumerate(bars):
        left = _EDGE + place % columns * column
        top = _EDGE + place // columns * (_BAR_HIGH + _BAR_GAP)
        parts += _bar(bar, left, top, wide)
    rows = -(-len(bars) // columns)
    return _svg(
        parts,
        columns * column,
        rows * (_BAR_HIGH + _BAR_GAP) - _BAR_GAP + 2 * _EDGE,
        figure.words,
        prefix,
    )


def _bar(bar: Bar, left: float, top: float, wide: float) -> Iterator[str]:
    if bar.shaded:
        yield tag(
            "rect",
            x=left,
            y=top,
            width=wide * float(bar.shaded),
            height=_BAR_HIGH,
            fill="currentColor",
            fill_opacity=_SHADE,
            stroke="none",
        )
    for part in range(1, bar.parts):
        at = number(left + wide * part / bar.parts)
        yield tag("path", d=f"M{at} {number(top)}v{number(_BAR_HIGH)}", stroke_width=_FINE)
    if 0 < bar.shaded < 1:
        # The edge of the shading, where no part ends.
        at = number(left + wide * float(bar.shaded))
        yield tag("path", d=f"M{at} {number(top)}v{number(_BAR_HIGH)}", stroke_width=_OUTLINE)
    yield tag("rect", x=left, y=top, width=wide, height=_BAR_HIGH, stroke_width=_OUTLINE)
    yield _text(bar.label, left + wide + _LABEL_GAP, top + _BAR_HIGH / 2 + _LETTER * 0.36, "start")


def cups_figure(figure: Cups, prefix: str) -> str:
    """Cups and spoons on one floor, each of its true volume; a box under each to write in."""
    cups, has_boxes = figure.cups, figure.has_boxes
    shapes = [_enlarged(bowl("cup" if cup.tsp > 3 else "tsp", cup.tsp)) for cup in cups]
    floor = _EDGE + 2 + max(shape.depth for shape in shapes)
    left = _EDGE
    parts: list[str] = []
    for cup, shape in zip(cups, shapes, strict=True):
        wide = max(shape.width, _width(cup.label), _BOX[0] if has_boxes else 0)
        middle = left + wide / 2
        rim = floor - shape.depth
        across = f"M{number(middle - shape.top)} {number(rim)}"
        if shape.bottom:
            body = (
                f"{across}L{number(middle - shape.bottom)} {number(floor)}"
                f"H{number(middle + shape.bottom)}L{number(middle + shape.top)} {number(rim)}Z"
            )
        else:
            radius = number(shape.top)
            body = f"{across}A{radius} {radius} 0 0 0 {number(middle + shape.top)} {number(rim)}Z"
        handle = f"{across}H{number(middle + shape.top + shape.handle)}"
        if cup.is_lost:
            parts.append(tag("path", d=body, stroke_width=_OUTLINE, stroke_dasharray="4 4"))
            parts.append(tag("path", d=handle, stroke_width=_OUTLINE, stroke_dasharray="4 4"))
        else:
            parts.append(
                tag("path", d=body, stroke_width=_OUTLINE, fill="currentColor", fill_opacity=_SHADE)
            )
            parts.append(tag("path", d=handle, stroke_width=2.4))
        parts.append(_text(cup.label, middle, floor + _LETTER + 4, "middle"))
        if has_boxes:
            parts.append(
                tag(
                    "rect",
                    x=middle - _BOX[0] / 2,
                    y=floor + _LETTER + 12,
                    rx=3,
                    width=_BOX[0],
                    height=_BOX[1],
                    stroke_width=_OUTLINE,
                )
            )
        left += wide + _CUP_GAP
    height = floor + _LETTER + (14 + _BOX[1] if has_boxes else 9)
    return _svg(parts, left - _CUP_GAP + _EDGE + 8, height, figure.words, prefix)


def _enlarged(shape: Bowl) -> Bowl:
    return Bowl(
        *(
            _CUP_SCALE * length
            for length in (shape.top, shape.bottom, shape.depth, shape.lip, shape.handle)
        )
    )


def line_figure(line: Line, prefix: str) -> str:
    """A line with ticks, numbers above, and below a second row of numbers or words at its dots."""
    low, high, above, below, points = line.low, line.high, line.above, line.below, line.points
    ends = [
        _width(mark.label) / 2 for mark in (*above, *below, *points) if mark.at in (low, high)
    ] or [0.0]
    margin = max(*ends, _DOT + 2) + _EDGE
    wide = WIDTH - 2 * margin
    level = _LETTER + 6 + _LONG_TICK

    def across(at: Fraction) -> float:
        return margin + wide * float((at - low) / (high - low))

    parts = [tag("path", d=f"M{number(margin)} {number(level)}h{number(wide)}", stroke_width=2.0)]
    count = int((high - low) / line.step)
    labelled = {mark.at for mark in above}
    for tick in range(count + 1):
        at = low + tick * line.step
        reach = _LONG_TICK if at in labelled else _TICK
        parts.append(
            tag(
                "path",
                d=f"M{number(across(at))} {number(level - reach)}v{number(2 * reach)}",
                stroke_width=_OUTLINE if at in labelled else _FINE,
            )
        )
    parts += [
        _text(mark.label, across(mark.at), level - _LONG_TICK - 5, "middle") for mark in above
    ]
    under = level + _LONG_TICK + _LETTER + 2
    parts += [_text(mark.label, across(mark.at), under, "middle") for mark in below]
    for mark in points:
        parts.append(tag("circle", cx=across(mark.at), cy=level, r=_DOT, fill="currentColor"))
    apart = _apart(points, [across(mark.at) for mark in points])
    parts += [
        _text(mark.label, place, under, "middle", bold=True)
        for mark, place in zip(points, apart, strict=True)
    ]
    height = under + 5 if below or points else level + _LONG_TICK + 2
    return _svg(parts, WIDTH, height, line.words, prefix)


def _apart(points: Sequence[Mark], places: Sequence[float]) -> list[float]:
    """Words of near dots are pushed apart, and those near an end back into the picture."""
    order = sorted(range(len(places)), key=lambda index: places[index])
    moved = list(places)
    for one, two in pairwise(order):
        room = (_width(points[one].label) + _width(points[two].label)) / 2 + 6
        missing = room - (moved[two] - moved[one])
        if missing > 0:
            moved[one] -= missing / 2
            moved[two] += missing / 2
    half = [_width(mark.label) / 2 + _EDGE for mark in points]
    return [min(max(at, room), WIDTH - room) for at, room in zip(moved, half, strict=True)]


def _text(text: str, x: float, y: float, anchor: str, bold: bool = False) -> str:
    weight = ' font-weight="700"' if bold else ""
    return (
        f'<text x="{number(x)}" y="{number(y)}" text-anchor="{anchor}"'
        f' font-family="{LETTERS}" font-size="{number(_LETTER)}"{weight}'
        f' fill="currentColor" stroke="none">{escape(text)}</text>'
    )


def _width(text: str) -> float:
    return len(text) * _LETTER * _LETTER_WIDE


def _svg(parts: Sequence[str], width: float, height: float, words: str, prefix: str) -> str:
    title = quoteattr(f"{prefix}-title")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="figure" role="img"'
        f' aria-labelledby={title} width="{number(width / EM)}em" height="{number(height / EM)}em"'
        f' viewBox="0 0 {number(width)} {number(height)}" fill="none" stroke="currentColor"'
        f' stroke-linejoin="round" stroke-linecap="butt">'
        f"<title id={title}>{escape(words)}</title>{''.join(parts)}</svg>"
    )
