"""The work of a step as a small drawing: where its food lies, and the pieces of it.

Every food is one path of pieces in the shape of its cut, with a dark edge, so that a grey copy
tells them apart. On a board and a pan of the oven foods lie beside each other, elsewhere they are
mixed. A board for raw food is hatched and has a heavy edge. Fewer than a dozen shapes each.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import hypot

from spoonfold.press.figures.mark import number, tag
from spoonfold.press.figures.plate import STEPS, TONES, chance_of, drawn_pieces, lattice
from spoonfold.sheets.booklet.plate import Food
from spoonfold.sheets.table_cards.drawing import JobView

WIDE, HIGH = 90.0, 66.0
"""In units of the plate: in a small drawing a piece is larger than there, so that it is seen."""
_INK, _RIM = "#14181d", "#1c4272"
_FLAT = ("board", "raw board", "tray")
_ROUND = 29.0
_HATCH = 10

_Inside = Callable[[float, float], bool]


def job_figure(view: JobView) -> str:
    """A whole SVG file; what it says stands in the text beside it."""
    ground, inside = _flat(view) if view.vessel in _FLAT else _round(view)
    chance = chance_of("".join(f"{each.colour} {each.cut} " for each in view.foods))
    parts = [*ground, *_contents(view, inside, chance)]
    half_wide, half_high = number(WIDE / 2), number(HIGH / 2)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(WIDE)}" height="{number(HIGH)}"'
        f' viewBox="-{half_wide} -{half_high} {number(WIDE)} {number(HIGH)}"'
        f' stroke-linejoin="round" stroke-linecap="round">{"".join(parts)}</svg>'
    )


def _flat(view: JobView) -> tuple[list[str], _Inside]:
    wide, high = WIDE / 2 - 4, HIGH / 2 - 4
    is_raw = view.vessel == "raw board"
    parts = [
        tag("rect", x=-wide, y=-high, width=2 * wide, height=2 * high, rx=9,
            fill="#c9d2d8" if view.vessel == "tray" else "#fff", stroke=_INK,
            stroke_width=4.5 if is_raw else 2.2)
    ]  # fmt: skip
    if is_raw:
        lines = "".join(
            f"M{at} {number(high)}l{number(high)} {number(-2 * high)}"
            for at in range(int(-wide), int(wide - high), _HATCH)
        )
        parts.append(tag("path", d=lines, stroke="#76828d", stroke_width=1.5, fill="none"))
    if view.vessel == "tray":
        parts.append(tag("rect", x=-wide + 4.5, y=-high + 4.5, width=2 * wide - 9,
                         height=2 * high - 9, rx=5, fill="none", stroke="#76828d",
                         stroke_width=1.5))  # fmt: skip
    else:
        parts.append(tag("circle", cx=wide - 6.5, cy=-high + 6.5, r=2.5, fill="none", stroke=_INK,
                         stroke_width=1.5))  # fmt: skip

    def inside(x: float, y: float) -> bool:
        near_hole = x > wide - 15 and y < -high + 15
        return abs(x) < wide - 9 and abs(y) < high - 8 and not near_hole

    return parts, inside


def _round(view: JobView) -> tuple[list[str], _Inside]:
    middle = -9.0 if view.vessel == "pan" else 0.0
    parts = []
    if view.vessel == "pan":
        parts.append(tag("path", d=f"M{number(middle + _ROUND)} 0H{number(WIDE / 2 - 4)}",
                         stroke=_INK, stroke_width=6.5, fill="none"))  # fmt: skip
    if view.vessel == "pot":
        for side in (-1, 1):
            at = middle + side * _ROUND
            parts.append(tag("rect", x=at - 6, y=-7, width=12, height=14, rx=4, fill="#76828d",
                             stroke=_INK, stroke_width=1.5))  # fmt: skip
    is_metal = view.vessel in ("pan", "pot")
    parts.append(
        tag("circle", cx=middle, cy=0, r=_ROUND, fill="#c9d2d8" if is_metal else "#fff",
            stroke=_INK if is_metal else _RIM, stroke_width=3.6)
    )  # fmt: skip
    if view.vessel == "plate":
        parts.append(tag("circle", cx=middle, cy=0, r=_ROUND - 5, fill="none", stroke=_RIM,
                         stroke_width=1.2))  # fmt: skip
    pool = next((food for food in view.foods if food.cut == "pool"), None)
    if pool is not None:
        fill, edge = TONES[pool.colour]
        parts.append(tag("circle", cx=middle, cy=0, r=_ROUND - 4, fill=fill, stroke=edge,
                         stroke_width=1))  # fmt: skip
    return parts, lambda x, y: hypot(x - middle, y) < _ROUND - 8


def _contents(view: JobView, inside: _Inside, chance: Callable[[], float]) -> Iterator[str]:
    solid = [food for food in view.foods if food.cut != "pool"]
    if view.vessel in _FLAT:
        yield from _beside(view.foods, inside, chance)
        return
    if not solid:
        return
    step = max(STEPS.get(food.cut, 8.0) for food in solid) * 1.2
    heaps: list[list[tuple[float, float]]] = [[] for _ in solid]
    whole = sum(food.share for food in solid)
    for x, y in lattice(step, chance):
        if not inside(x, y):
            continue
        at, chosen = 0, chance() * whole
        while at < len(solid) - 1 and chosen > solid[at].share:
            chosen -= solid[at].share
            at += 1
        heaps[at].append((x, y))
    for food, points in zip(solid, heaps, strict=True):
        if points:
            yield drawn_pieces(food, points, chance)


def _beside(foods: Sequence[Food], inside: _Inside, chance: Callable[[], float]) -> Iterator[str]:
    """Each food in a strip as wide as its share."""
    left = -WIDE / 2 + 10
    for food in foods:
        right = left + (WIDE - 20) * food.share
        drawn = food if food.cut != "pool" else Food(food.colour, "curds", food.share)
        points = [
            (x, y)
            for x, y in lattice(STEPS.get(drawn.cut, 8.0) * 1.2, chance)
            if left + 2 <= x <= right - 2 and inside(x, y)
        ]
        if points:
            yield drawn_pieces(drawn, points, chance)
        left = right
