"""The scoop strip: an amount drawn as the actual scoops to count out.

Every bowl is the cross-section of a round vessel whose volume is the scoop's, so that all
strips share one scale: a one-cup bowl holds exactly what two drawn half-cup bowls hold, and a
tablespoon what three teaspoons do. Jugs and cups are frustums (cut-off cones), spoons are
half spheres, ladles too. A jug that isn't filled is drawn so far up as its part of the volume
reaches. The drawn width therefore grows with the cube root of the volume, as it does in
a set of real measures of one shape.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import cbrt, pi
from xml.sax.saxutils import escape, quoteattr

from spoonfold.plan.amounts.scoop import ToolKind
from spoonfold.press.figures.mark import LETTERS, number, tag
from spoonfold.sheets.shared.amounts import ScoopMark

EM = 16.0
"""Drawing units in one em of the text around the strip: strips grow with the type."""

TEASPOON = 8.0
"""Side, in drawing units, of a cube that holds one teaspoon: the scale of every strip."""

FIVE = 5
"""People see up to about five things without counting; longer rows are tallied in fives."""

ROW_WIDTH = 288.0
"""Default width in drawing units: a screen of 320 pixels (WCAG 2.2, SC 1.4.10) less margins."""

_SPOONS = ("tbsp", "tsp", "ladle", "disher")
_LABEL_SIZE = 13.0
_LABEL_LETTER = 0.6  # Mean advance of a letter in Andika Bold, in ems, rounded up.
_LABEL_WIDE = 1.0  # Fractions and East Asian characters, in ems.
_LABEL_DROP = 14.0
_TICK = 11.0
_TICK_GAP = 4.0
_TOOL_GAP = 5.0
_RUN_GAP = 14.0
_ROW_GAP = 10.0
_SINGLE_GAP = 6.0
_ALIKE = 3
"""So many scoops of one size in a line are drawn as one."""
_SHORT = 7.0
"""A handle on one line with its words."""
_EDGE = 1.5  # Keeps the round ends of the strokes inside the picture.
_OUTLINE = 1.4
_RIM = 2.6
_SPOON_RIM = 1.8
_LIP = 3.0
_LEVEL_TONE = "0.2"  # Light enough for the outline to lead, dark enough to survive a copier.


@dataclass(frozen=True, slots=True)
class Bowl:
    """The cross-section of one round vessel, in drawing units."""

    top: float
    """Radius at the rim."""
    bottom: float
    """Radius at the foot; 0 for a spoon, which is a half sphere."""
    depth: float
    """Height from the foot to the rim."""
    lip: float
    """How far a jug's lip reaches out on the left."""
    handle: float
    """How far the handle reaches out on the right."""

    @property
    def lead(self) -> float:
        """From the left edge of tool and tick box to their common middle."""
        return max(self.top + self.lip, _TICK / 2)

    @property
    def width(self) -> float:
        return self.lead + max(self.top + self.handle, _TICK / 2)


def bowl(kind: ToolKind, tsp: Fraction) -> Bowl:
    """The bowl that holds `tsp` teaspoons.

    A frustum of radii R and aR and depth dR has the volume pi/3 d (1 + a + a²) R³, a half
    sphere 2/3 pi R³; R is solved from the volume.
    """
    volume = float(tsp) * TEASPOON**3
    if kind in _SPOONS:
        radius = cbrt(volume / (2 / 3 * pi))
        handle = 3.8 if kind == "ladle" else 1.9
        return Bowl(radius, 0, radius, lip=0, handle=handle * TEASPOON)
    taper, depth, lip, handle = (0.82, 2.0, _LIP, 0.9) if kind == "jug" else (0.78, 1.2, 0, 1.3)
    radius = cbrt(volume / (pi / 3 * depth * (1 + taper + taper * taper)))
    return Bowl(radius, taper * radius, depth * radius, lip, handle * TEASPOON)


@dataclass(frozen=True, slots=True)
class _Run:
    """Up to five scoops of one size, side by side, with the label under them."""

    kind: ToolKind
    bowl: Bowl
    count: int
    label: str
    key: str
    """The id of the tool on a shelf."""
    part: float
    """So far it is filled."""

    @property
    def width(self) -> float:
        tools = self.count * self.bowl.width + (self.count - 1) * _TOOL_GAP
        return max(tools, _text_width(self.label))


def scoop_strip(
    scoops: Sequence[ScoopMark],
    words: str,
    prefix: str,
    row_width: float = ROW_WIDTH,
    shelf: dict[str, str] | None = None,
) -> str:
    """An SVG element that shows `scoops`, each with an empty box to tick with a pencil.

    `words` says the same amount in the reader's language; it becomes the text alternative.
    `prefix` makes the id of this strip unique in its page; two strips must not share one.
    `row_width` is in drawing units, 16 to the em; runs of scoops that don't fit go below, and
    only a single tool or label that is wider than a row makes the strip wider.
    With a `shelf`, every tool is drawn once there, under its id, and only pointed at from here,
    and how lines and letters look is left to the page's stylesheet (`.scoops`): a page with many
    strips stays light. The page must then hold `shelved(shelf)`.
    No scoops give an empty string.
    """
    fitting = row_width - 2 * _EDGE
    rows = list(_rows(list(_runs(scoops, fitting)), fitting))
    if not rows:
        return ""
    parts: list[str] = []
    top = _EDGE
    for row in rows:
        floor = top + max(run.bowl.depth for run in row)
        left = _EDGE
        for run in row:
            parts.extend(_draw_run(run, left, floor, shelf))
            left += run.width + _RUN_GAP
        top = floor + _TICK_GAP + _TICK + _LABEL_DROP + _ROW_GAP
    width = max(_row_width(row) for row in rows) + 2 * _EDGE
    height = top - _ROW_GAP + _TICK_GAP
    size = (
        f'width="{number(width / EM)}em" height="{number(height / EM)}em"'
        f' viewBox="0 0 {number(width)} {number(height)}"'
    )
    if shelf is not None:
        return (
            f'<svg class="scoops" role="img" aria-label={quoteattr(words)} {size}>'
            f"{''.join(parts)}</svg>"
        )
    title = quoteattr(f"{prefix}-title")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="scoops" role="img"'
        f" aria-labelledby={title} {size}"
        f' fill="none" stroke="currentColor" stroke-linejoin="round" stroke-linecap="round">'
        f"<title id={title}>{escape(words)}</title>{''.join(parts)}</svg>"
    )


def scoop_row(scoops: Sequence[ScoopMark], words: str, prefix: str, row_width: float) -> str:
    """An SVG element that shows `scoops` as low as a line, each with its box behind it, and
    without labels: for lists whose words say how much one scoop is. Of many alike one is drawn,
    with a box for each. What is more than a row goes below."""
    rows: list[list[_Single]] = [[]]
    at = 0.0
    for each in _singles(scoops):
        if rows[-1] and at + each.width > row_width:
            rows.append([])
            at = 0.0
        rows[-1].append(each)
        at += each.width
    parts: list[str] = []
    top = _EDGE
    for row in rows:
        floor = top + max(_TICK, *(each.bowl.depth for each in row))
        left = _EDGE
        for each in row:
            parts.extend(_draw_single(each, left, floor))
            left += each.width
        top = floor + _SINGLE_GAP
    width = max(sum(each.width for each in row) for row in rows)
    height = top - _SINGLE_GAP + _EDGE
    title = quoteattr(f"{prefix}-title")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="scoops" role="img"'
        f' aria-labelledby={title} width="{number(width / EM)}em" height="{number(height / EM)}em"'
        f' viewBox="0 0 {number(width)} {number(height)}"'
        f' fill="none" stroke="currentColor" stroke-linejoin="round" stroke-linecap="round">'
        f"<title id={title}>{escape(words)}</title>{''.join(parts)}</svg>"
    )


@dataclass(frozen=True, slots=True)
class _Single:
    """One drawn scoop and the boxes behind it."""

    kind: ToolKind
    bowl: Bowl
    part: float
    """So far it is filled."""
    boxes: int

    @property
    def tool(self) -> float:
        """How wide it is without its boxes."""
        return self.bowl.lip + 2 * self.bowl.top + self.bowl.handle

    @property
    def width(self) -> float:
        return self.tool + self.boxes * (_TICK_GAP + _TICK) + _SINGLE_GAP


def _singles(scoops: Sequence[ScoopMark]) -> Iterator[_Single]:
    for scoop in scoops:
        shape = bowl(scoop.kind, scoop.tsp)
        part = float(scoop.part)
        short = replace(shape, handle=min(shape.handle, _SHORT))
        if scoop.count < _ALIKE:
            yield from (_Single(scoop.kind, short, part, 1) for _ in range(scoop.count))
            continue
        for start in range(0, scoop.count, 2 * FIVE):
            yield _Single(scoop.kind, short, part, min(2 * FIVE, scoop.count - start))


def _draw_single(each: _Single, left: float, floor: float) -> Iterator[str]:
    middle = left + each.bowl.lip + each.bowl.top
    yield _draw_level(each.kind, each.bowl, each.part, middle, floor)
    yield _draw_rim(each.kind, each.bowl, middle, floor)
    box = left + each.tool + _TICK_GAP
    for _ in range(each.boxes):
        yield tag("rect", x=box, y=floor - _TICK, width=_TICK, height=_TICK, rx=1.5,
                  stroke_width=_OUTLINE)  # fmt: skip
        box += _TICK_GAP + _TICK


def shelved(shelf: dict[str, str]) -> str:
    """The hidden element that holds the tools of a page's strips."""
    tools = "".join(f"<g id={quoteattr(key)}>{drawn}</g>" for key, drawn in shelf.items())
    return f'<svg class="shelf" width="0" height="0" aria-hidden="true"><defs>{tools}</defs></svg>'


def _runs(scoops: Sequence[ScoopMark], row_width: float) -> Iterator[_Run]:
    for scoop in scoops:
        shape = bowl(scoop.kind, scoop.tsp)
        fitting = int((row_width + _TOOL_GAP) / (shape.width + _TOOL_GAP))
        length = max(1, min(FIVE, fitting))
        key = f"{scoop.kind}-{scoop.tsp.numerator}-{scoop.tsp.denominator}"
        if scoop.part != 1:
            key += f"-{scoop.part.numerator}-{scoop.part.denominator}"
        name = scoop.label if scoop.count == 1 else f"{scoop.count} × {scoop.label}"
        for start in range(0, scoop.count, length):
            tallied = min(start + length, scoop.count)
            # A long row carries a running tally, so that a lost place is found again.
            label = name if tallied == scoop.count else str(tallied)
            yield _Run(scoop.kind, shape, tallied - start, label, key, float(scoop.part))


def _rows(runs: Sequence[_Run], row_width: float) -> Iterator[list[_Run]]:
    row: list[_Run] = []
    for run in runs:
        if row and _row_width([*row, run]) > row_width:
            yield row
            row = []
        row.append(run)
    if row:
        yield row


def _row_width(row: Sequence[_Run]) -> float:
    return sum(run.width for run in row) + _RUN_GAP * (len(row) - 1)


def _draw_run(run: _Run, left: float, floor: float, shelf: dict[str, str] | None) -> Iterator[str]:
    middle = left + run.bowl.lead
    box = floor + _TICK_GAP
    for _ in range(run.count):
        if shelf is None:
            yield _draw_tool(run, middle, floor)
        else:
            if run.key not in shelf:
                shelf[run.key] = _draw_tool(run, 0, 0)
            yield tag("use", href=f"#{run.key}", x=middle, y=floor)
        middle += run.bowl.width + _TOOL_GAP
    look = (
        (
            f' font-family="{LETTERS}" font-weight="700" font-size="{number(_LABEL_SIZE)}"'
            ' fill="currentColor" stroke="none"'
        )
        if shelf is None
        else ""
    )
    yield (
        f'<text x="{number(left)}" y="{number(box + _TICK + _LABEL_DROP)}"{look}>'
        f"{escape(run.label)}</text>"
    )


def _draw_tool(run: _Run, middle: float, floor: float) -> str:
    """One scoop with its box to tick."""
    box = tag("rect", x=middle - _TICK / 2, y=floor + _TICK_GAP, width=_TICK, height=_TICK,
              rx=1.5, stroke_width=_OUTLINE)  # fmt: skip
    level = _draw_level(run.kind, run.bowl, run.part, middle, floor)
    return level + _draw_rim(run.kind, run.bowl, middle, floor) + box


def _draw_level(kind: ToolKind, shape: Bowl, part: float, middle: float, floor: float) -> str:
    """The bowl, filled level with its rim, or so far."""
    if part < 1:
        side = tag("path", d=_side(shape, shape, middle, floor), stroke_width=_OUTLINE)
        return side + _filled(_side(shape, filled(shape, part), middle, floor))
    if kind in _SPOONS:
        rim, radius = number(floor - shape.depth), number(shape.top)
        left, right = number(middle - shape.top), number(middle + shape.top)
        return _filled(f"M{left} {rim}A{radius} {radius} 0 0 0 {right} {rim}Z")
    return _filled(_side(shape, shape, middle, floor))


def _filled(outline: str) -> str:
    return tag("path", class_="level", d=outline, fill="currentColor", fill_opacity=_LEVEL_TONE,
               stroke_width=_OUTLINE)  # fmt: skip


def _side(shape: Bowl, level: Bowl, middle: float, floor: float) -> str:
    """A cut-off cone from the side, up to a level."""
    rim = number(floor - level.depth)
    left, right = number(middle - level.top), number(middle + level.top)
    start, end = number(middle - shape.bottom), number(middle + shape.bottom)
    return f"M{left} {rim}L{start} {number(floor)}H{end}L{right} {rim}Z"


def filled(shape: Bowl, part: float) -> Bowl:
    """The cut-off cone that holds such a part of another with the same foot and slope.

    Of two cones with one tip the volumes are as the cubes of the radii, so r³ is as far between
    the foot's and the rim's as the part says.
    """
    radius = cbrt(shape.bottom**3 + part * (shape.top**3 - shape.bottom**3))
    depth = shape.depth * (radius - shape.bottom) / (shape.top - shape.bottom)
    return Bowl(radius, shape.bottom, depth, shape.lip, shape.handle)


def _draw_rim(kind: ToolKind, shape: Bowl, middle: float, floor: float) -> str:
    """The rim and what the hand holds, drawn heavier, as the rim of enamelware is."""
    rim = floor - shape.depth
    across = f"M{number(middle - shape.top)} {number(rim)}H{number(middle + shape.top)}"
    width = _SPOON_RIM if kind in _SPOONS else _RIM
    if kind != "jug":
        return tag("path", d=f"{across}h{number(shape.handle - width / 2)}", stroke_width=width)
    # A jug is told from a cup by its lip and its grip.
    lip = f"M{number(middle - shape.top)} {number(rim)}h{number(-shape.lip)}l{number(shape.lip)} 5"
    reach = (shape.handle - width / 2) * 1.3
    grip = shape.depth * 0.6
    back = (shape.bottom - shape.top) * 0.7
    curve = (
        f"m0 {number(shape.depth * 0.1)}c{number(reach)} 0 {number(reach)} {number(grip)}"
        f" {number(back)} {number(grip)}"
    )
    return tag("path", d=across + curve + lip, stroke_width=width)


def _text_width(text: str) -> float:
    ems = sum(_LABEL_LETTER if character.isascii() else _LABEL_WIDE for character in text)
    return ems * _LABEL_SIZE
