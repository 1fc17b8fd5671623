"""A whole in its parts, as one bar to scale: each part has its own pattern, so that a grey copy
still reads, and children can colour over it.

Drawn in one ink, without fills that a pencil couldn't cover.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from fractions import Fraction
from html import escape
from xml.sax.saxutils import quoteattr

from spoonfold.press.figures.mark import LETTERS, number, tag
from spoonfold.sheets.colours import Bar, Segment

_FRAME = 1.2
_FINE = 0.6
_HATCH = 4.2
_DOT = 4.6
_SIZE = 10.0
_PLATE = 30.0
"""Width of the white plate on which a part's number stands, in drawing units."""
_PLATE_HEIGHT = 12.5

_Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


def share_bar(bar: Bar, prefix: str, width: float, height: float) -> str:
    """An SVG element, 1 drawing unit to the point; `prefix` makes its id unique. Nothing where
    there are no parts."""
    shown = [each for each in bar.segments if each.share]
    if not shown:
        return ""
    inside = width - 2 * _FRAME
    parts: list[str] = []
    left = Fraction(0)
    for each in shown:
        right = left + each.share
        box = (
            _FRAME + float(left) * inside,
            _FRAME,
            _FRAME + float(right) * inside,
            height - _FRAME,
        )
        parts.extend(_segment(each, box))
        left = right
    title = quoteattr(f"{prefix}-title")
    frame = tag(
        "rect",
        x=_FRAME / 2,
        y=_FRAME / 2,
        width=width - _FRAME,
        height=height - _FRAME,
        stroke_width=_FRAME,
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="shares" role="img"'
        f' aria-labelledby={title} width="{number(width)}pt" height="{number(height)}pt"'
        f' viewBox="0 0 {number(width)} {number(height)}" fill="none" stroke="currentColor">'
        f"<title id={title}>{escape(bar.words)}</title>{''.join(parts)}{frame}</svg>"
    )


def swatch(pattern: str, size: float = 11.0) -> str:
    """A pattern alone, for the key of a bar: it stands beside its name and says nothing itself."""
    box = (0.5, 0.5, 1.6 * size - 0.5, size - 0.5)
    frame = tag("rect", x=0.5, y=0.5, width=1.6 * size - 1, height=size - 1, stroke_width=1)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="pattern" aria-hidden="true"'
        f' width="{number(1.6 * size)}pt" height="{number(size)}pt"'
        f' viewBox="0 0 {number(1.6 * size)} {number(size)}" fill="none" stroke="currentColor">'
        f"{''.join(PATTERNS[pattern](box))}{frame}</svg>"
    )


def _segment(segment: Segment, box: _Box) -> Iterator[str]:
    left, top, right, low = box
    draw = PATTERNS[segment.pattern]
    has_label = right - left >= _PLATE + 2
    for each in _around(box) if has_label else (box,):
        yield from draw(each)
    yield tag("path", d=f"M{number(right)} {number(top)}V{number(low)}", stroke_width=_FRAME)
    if has_label:
        middle, centre = (left + right) / 2, (top + low) / 2
        yield (
            f'<text x="{number(middle)}" y="{number(centre + _SIZE * 0.36)}"'
            f' font-family="{LETTERS}" font-weight="700" font-size="{number(_SIZE)}"'
            f' text-anchor="middle" fill="currentColor" stroke="none">'
            f"{escape(segment.percent)}</text>"
        )


def _around(box: _Box) -> tuple[_Box, ...]:
    """A box without its middle, which stays bare for the number: bare in any colour of paper."""
    left, top, right, low = box
    middle, centre = (left + right) / 2, (top + low) / 2
    first, last = middle - _PLATE / 2, middle + _PLATE / 2
    above, below = centre - _PLATE_HEIGHT / 2, centre + _PLATE_HEIGHT / 2
    return (
        (left, top, first, low),
        (last, top, right, low),
        (first, top, last, max(top, above)),
        (first, min(low, below), last, low),
    )


# Every pattern hangs on one grid, so that boxes beside each other make one.


def _blank(box: _Box) -> Iterator[str]:
    return iter(())


def _level(box: _Box) -> Iterator[str]:
    left, top, right, low = box
    yield _path(
        "".join(f"M{number(left)} {number(y)}H{number(right)}" for y in _grid(top, low, _HATCH))
    )


def _rising(box: _Box) -> Iterator[str]:
    yield _path(_slant(box, rises=True))


def _crossed(box: _Box) -> Iterator[str]:
    yield _path(_slant(box, rises=True) + _slant(box, rises=False))


def _dotted(box: _Box) -> Iterator[str]:
    left, top, right, low = box
    dots = []
    for y in _grid(top + 0.7, low - 0.7, _DOT * 0.8):
        # Every other row is moved on by half a step.
        shift = _DOT / 2 if round(y / (_DOT * 0.8)) % 2 else 0.0
        dots += [
            f"M{number(x + shift)} {number(y)}h0.01"
            for x in _grid(left + 0.8 - shift, right - 0.8 - shift, _DOT)
        ]
    yield tag("path", d="".join(dots), stroke_width=1.3, stroke_linecap="round")


PATTERNS: dict[str, Callable[[_Box], Iterator[str]]] = {
    "blank": _blank,
    "dotted": _dotted,
    "level": _level,
    "rising": _rising,
    "crossed": _crossed,
}
"""The patterns by name, from light to dark."""


def _grid(start: float, end: float, step: float) -> Iterator[float]:
    """The multiples of a step strictly between two places."""
    at = math.floor(start / step) + 1
    while at * step < end:
        yield at * step
        at += 1


def _path(lines: str) -> str:
    return tag("path", d=lines, stroke_width=_FINE)


def _slant(box: _Box, rises: bool) -> str:
    """Lines at 45 degrees, cut at the edges of the box."""
    left, top, right, low = box
    height = low - top
    path = []
    # A line that rises keeps x + y, one that falls keeps x - y.
    first = left + top if rises else left - low
    for kept in _grid(first, first + (right - left) + height, _HATCH):
        foot = kept - low if rises else kept + top
        start, end = max(foot, left), min(foot + height, right)
        if end - start > 0.3:
            ys = (kept - start, kept - end) if rises else (start - kept, end - kept)
            path.append(f"M{number(start)} {number(ys[0])}L{number(end)} {number(ys[1])}")
    return "".join(path)
