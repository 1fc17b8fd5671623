"""Small pictures of paper: turned over, folded, stapled, cut.

A broken line is a fold, a heavy one a cut. Drawn in the colour of the text around.
"""

from __future__ import annotations

from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from spoonfold.plan.folding import mini_panels
from spoonfold.press.figures.mark import number, tag

_WIDTH, _HEIGHT = 220.0, 150.0
_FINE, _OUTLINE, _HEAVY = 1.2, 2.0, 4.0
_DASH = "7 5"
_TONE = "0.14"


def folding_figure(name: str, words: str, prefix: str) -> str:
    """One of the pictures (`flip`, `fold`, `staple`, `panels`, `cut`, `push`) as an SVG element;
    `prefix` makes its ids unique in the page."""
    title = quoteattr(f"{prefix}-title")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="figure" role="img"'
        f' aria-labelledby={title} viewBox="0 0 {number(_WIDTH)} {number(_HEIGHT)}" fill="none"'
        f' stroke="currentColor" stroke-width="{number(_OUTLINE)}" stroke-linejoin="round">'
        f"<title id={title}>{escape(words)}</title>{''.join(_DRAWN[name]())}</svg>"
    )


def _line(path: str, width: float = _OUTLINE, dash: str = "none") -> str:
    return tag("path", d=path, stroke_width=width, stroke_dasharray=dash)


def _arrow(path: str, tip: tuple[float, float], back: str) -> Iterator[str]:
    """A line and the head at its end; `back` draws the head from one wing over the tip."""
    yield _line(path)
    yield _line(f"M{number(tip[0])} {number(tip[1])}{back}")


def _sheet(x: float, y: float, wide: float, high: float) -> str:
    return tag("rect", x=x, y=y, width=wide, height=high, fill="#fff")


def _flip() -> Iterator[str]:
    """A wide sheet on its way over its short right edge."""
    yield _sheet(20, 50, 110, 80)
    yield tag("path", d="M130 50L182 34V114L130 130Z", fill="currentColor", fill_opacity=_TONE)
    yield _line("M130 42V138", _HEAVY)
    yield from _arrow("M60 38C85 6 140 2 168 20", (160, 8), "L170 21L153 25")


def _fold() -> Iterator[str]:
    """A pile, its right half on the way to the left one."""
    for back in (8.0, 4.0, 0.0):
        yield _sheet(30 + back, 54 + back, 150, 84)
    yield _line("M105 46V146", _FINE, _DASH)
    yield from _arrow("M168 42C150 8 82 4 50 30", (66, 32), "L49 31L56 15")


def _staple() -> Iterator[str]:
    """The outside of a folded booklet, open, with two staples in the fold."""
    yield tag("path", d="M20 34L110 46L200 34V126L110 138L20 126Z", fill="#fff")
    yield _line("M110 46V138", _FINE, _DASH)
    for top in (60.0, 102.0):
        yield _line(f"M110 {number(top)}v22", _HEAVY + 1)


def _grid() -> Iterator[str]:
    """A sheet in eight, its folds broken."""
    yield _sheet(20, 20, 180, 110)
    yield _line("M20 75H65M155 75H200M65 20V130M110 20V130M155 20V130", _FINE, _DASH)


def _panels() -> Iterator[str]:
    """The sheet with its pages' numbers, those of the upper row upside down."""
    yield from _grid()
    yield _line("M65 75H155", _FINE, _DASH)
    for panel in mini_panels():
        x, y = 20 + 45 * panel.column + 22.5, 75 - 55 * panel.row + 27.5
        turned = f' transform="rotate(180 {number(x)} {number(y)})"' if panel.is_turned else ""
        yield (
            f'<text x="{number(x)}" y="{number(y + 7)}" font-size="20" text-anchor="middle"'
            f' fill="currentColor" stroke="none" font-family="Andika"{turned}>{panel.page}'
            "</text>"
        )


def _cut() -> Iterator[str]:
    """The sheet with the cut between its middle columns."""
    yield from _grid()
    yield _line("M65 75H155", _HEAVY + 1)


def _push() -> Iterator[str]:
    """From above: the cut opens where both ends are pushed together."""
    yield _line("M30 75H74L110 40L146 75H190M74 75L110 110L146 75", _OUTLINE)
    yield from _arrow("M8 54H52", (42, 46), "L53 54L42 62")
    yield from _arrow("M212 54H168", (178, 46), "L167 54L178 62")


_DRAWN = {
    "flip": _flip,
    "fold": _fold,
    "staple": _staple,
    "panels": _panels,
    "cut": _cut,
    "push": _push,
}
