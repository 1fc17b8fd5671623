"""A dish from above, in the shares of its foods, so that a grey copy still reads.

Every food is one path of many small pieces in the shape of its cut, with a dark edge: on a copier
the shapes and edges tell apart what the colours did. Nothing is left to chance: the pieces stand
on a lattice and are moved a little by a number that belongs to the dish.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from html import escape
from itertools import count
from math import atan2, cos, hypot, pi, sin, sqrt
from xml.sax.saxutils import quoteattr
from zlib import crc32

from spoonfold.press.figures.mark import number, tag
from spoonfold.sheets.booklet.plate import Food, PlateView

_SIZE = 200.0
_RIM, _WELL = 94.0, 78.0
TONES = {
    "red": ("#cf4a33", "#701c10"),
    "yellow-orange": ("#f0a73c", "#8a5208"),
    "green": ("#8cbf5a", "#35591c"),
    "blue-purple": ("#7b4f9a", "#341a48"),
    "white-brown": ("#f4ead2", "#8d7750"),
    "pale": ("#fbf5e6", "#9a8a66"),
    "brown": ("#b98452", "#5c3a1b"),
    "meat": ("#b98452", "#5c3a1b"),
    "dark": ("#4a3f46", "#15101a"),
}
"""Fill and edge."""
_GROUND = 0.35
"""How much of a food's own tone lies under its pieces."""

_Point = tuple[float, float]
_Chance = Callable[[], float]


def plate_figure(view: PlateView, prefix: str, width: float) -> str:
    """An SVG element so many points wide; `prefix` makes its ids unique in its page."""
    title = quoteattr(f"{prefix}-title")
    chance = chance_of(view.seed)
    inner = _WELL * sqrt(view.middle_share) if view.around else _WELL
    parts = [
        tag("circle", cx=0, cy=0, r=_RIM, fill="#fff", stroke="#1c4272", stroke_width=7),
        tag("circle", cx=0, cy=0, r=_WELL + 5, fill="none", stroke="#1c4272", stroke_width=1),
        *_around(view.around, inner if view.middle else 0, chance),
    ]
    if view.middle:
        parts += _middle(view.middle, inner, chance)
    half = number(_SIZE / 2)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="dish" role="img" aria-labelledby={title}'
        f' width="{number(width)}pt" height="{number(width)}pt"'
        f' viewBox="-{half} -{half} {number(_SIZE)} {number(_SIZE)}" stroke-linejoin="round"'
        f' stroke-linecap="round"><title id={title}>{escape(view.words)}</title>'
        f"{''.join(parts)}</svg>"
    )


def chance_of(seed: str) -> _Chance:
    """Numbers between 0 and 1 that are the same for the same seed (a linear congruential
    generator with the constants of Numerical Recipes)."""
    state = [crc32(seed.encode())]

    def following() -> float:
        state[0] = (state[0] * 1664525 + 1013904223) % 2**32
        return state[0] / 2**32

    return following


def _around(foods: Sequence[Food], inner: float, chance: _Chance) -> Iterator[str]:
    """A ring in sectors, each as wide as its food's share, from above round by the sun."""
    begin = -pi / 2
    for food in foods:
        end = begin + 2 * pi * food.share
        ground = _sector(inner, begin, end) if len(foods) > 1 else _disc(0, 0, _WELL)
        yield _ground(food, ground)

        def inside(point: _Point, begin: float = begin, end: float = end) -> bool:
            return _is_in_sector(point, inner, begin, end)

        yield _pieces(food, inside, chance)
        begin = end


def _middle(foods: Sequence[Food], radius: float, chance: _Chance) -> list[str]:
    """All of it mixed: each piece is of one food or another, as often as its share."""
    where: list[list[_Point]] = [[] for _ in foods]
    step = 8.5
    for point in lattice(step, chance):
        if hypot(*point) > radius - 3:
            continue
        at, chosen = 0, chance()
        while at < len(foods) - 1 and chosen > foods[at].share:
            chosen -= foods[at].share
            at += 1
        where[at].append(point)
    parts = [_ground(foods[0], _disc(0, 0, radius))]
    for food, points in zip(foods, where, strict=True):
        if points:
            parts.append(drawn_pieces(food, points, chance))
    return parts


def _ground(food: Food, path: str) -> str:
    fill, edge = TONES[food.colour]
    opacity = 1.0 if food.cut == "pool" else _GROUND
    return tag("path", d=path, fill=fill, fill_opacity=opacity, stroke=edge, stroke_width=0.8)


def _pieces(food: Food, inside: Callable[[_Point], bool], chance: _Chance) -> str:
    if food.cut == "pool":
        return ""
    points = [each for each in lattice(STEPS.get(food.cut, 8.0), chance) if inside(each)]
    return drawn_pieces(food, points, chance) if points else ""


def lattice(step: float, chance: _Chance) -> Iterator[_Point]:
    """Points of a lattice of triangles over the well, each moved a little."""
    for row in count():
        y = -_WELL + row * step * 0.87
        if y > _WELL:
            return
        x = -_WELL + (step / 2 if row % 2 else 0)
        while x <= _WELL:
            yield x + (chance() - 0.5) * step * 0.5, y + (chance() - 0.5) * step * 0.5
            x += step


def drawn_pieces(food: Food, points: Sequence[_Point], chance: _Chance) -> str:
    """A piece of a food at each point, turned anyhow, as one element."""
    fill, edge = TONES[food.colour]
    shape = _SHAPES[food.cut]
    path = "".join(shape(x, y, 2 * pi * chance()) for x, y in points)
    is_line = food.cut == "noodles"
    return tag(
        "path",
        d=path,
        fill="none" if is_line else fill,
        stroke=edge,
        stroke_width=1.1 if is_line else 0.5,
    )


def _is_in_sector(point: _Point, inner: float, begin: float, end: float) -> bool:
    """Whether a piece there stays in its sector."""
    radius = hypot(*point)
    if not inner + 3 <= radius <= _WELL - 3:
        return False
    turned = (atan2(point[1], point[0]) - begin) % (2 * pi)
    room = 3 / radius
    whole = end - begin
    return whole > 2 * pi - 0.01 or room <= turned <= whole - room


def _sector(inner: float, begin: float, end: float) -> str:
    large = 1 if end - begin > pi else 0
    points = [
        (radius * cos(angle), radius * sin(angle))
        for radius, angle in ((_WELL, begin), (_WELL, end), (inner, end), (inner, begin))
    ]
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = points
    return (
        f"M{number(ax)} {number(ay)}A{number(_WELL)} {number(_WELL)} 0 {large} 1"
        f" {number(bx)} {number(by)}L{number(cx)} {number(cy)}"
        f"A{number(inner)} {number(inner)} 0 {large} 0 {number(dx)} {number(dy)}Z"
    )


def _disc(x: float, y: float, radius: float) -> str:
    across, r = number(2 * radius), number(radius)
    return f"M{number(x - radius)} {number(y)}a{r} {r} 0 1 0 {across} 0a{r} {r} 0 1 0 -{across} 0Z"


def _turned(points: Sequence[_Point], x: float, y: float, angle: float) -> str:
    """A shape with straight sides, turned and moved."""
    c, s = cos(angle), sin(angle)
    written = "L".join(f"{x + px * c - py * s:.1f} {y + px * s + py * c:.1f}" for px, py in points)
    return f"M{written}Z"


def _box(wide: float, high: float) -> Sequence[_Point]:
    return ((-wide, -high), (wide, -high), (wide, high), (-wide, high))


def _oval(wide: float, high: float) -> Callable[[float, float, float], str]:
    """An ellipse as an octagon: a piece is a few millimetres."""
    points = [(wide * cos(pi * k / 4), high * sin(pi * k / 4)) for k in range(8)]
    return lambda x, y, angle: _turned(points, x, y, angle)


def _noodle(x: float, y: float, angle: float) -> str:
    dx, dy = 7 * cos(angle), 7 * sin(angle)
    return f"M{x - dx:.1f} {y - dy:.1f}q{dx + dy:.1f} {dy - dx:.1f} {2 * dx:.1f} {2 * dy:.1f}"


def _round(x: float, y: float, angle: float) -> str:
    return _disc(x, y, 5.2) + _disc(x, y, 2.6)


_LEAF = ((-8.0, 0.0), (-4.0, -4.5), (2.0, -4.0), (8.0, 0.0), (2.0, 4.0), (-4.0, 4.5))

_SHAPES: dict[str, Callable[[float, float, float], str]] = {
    "dice": lambda x, y, angle: _turned(_box(3.4, 3.4), x, y, angle),
    "sticks": lambda x, y, angle: _turned(_box(8, 1.9), x, y, angle),
    "shreds": lambda x, y, angle: _turned(_box(6.5, 1.1), x, y, angle),
    "rounds": _round,
    "chop": lambda x, y, angle: _turned(((-2.4, 1.6), (2.4, 1.6), (0, -2.6)), x, y, angle),
    "grains": _oval(3.0, 1.5),
    "beans": _oval(4.2, 2.8),
    "leaf": lambda x, y, angle: _turned(_LEAF, x, y, angle),
    "noodles": _noodle,
    "sheets": _oval(11, 11),
    "patties": _oval(14, 9),
    "curds": _oval(5.5, 4.0),
    "pool": lambda x, y, angle: "",
}
STEPS = {
    "sticks": 8.5,
    "shreds": 6.0,
    "rounds": 9.5,
    "chop": 5.5,
    "grains": 5.0,
    "leaf": 10.0,
    "sheets": 16.0,
    "patties": 24.0,
}
"""How far apart pieces lie, where that isn't 8 units."""
