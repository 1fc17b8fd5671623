"""The world with a number for every dish, drawn in one ink so that a grey copy still reads.

Land is from Natural Earth (public domain) and drawn by equal areas. A numbered disc stands at its
place, or, where several are near, beside it with a line to the dot.

The Equal Earth projection: equal areas on the earth are equal areas on the paper.

Formula and constants: Šavrič, Patterson and Jenny, “The Equal Earth map projection”, International
Journal of Geographical Information Science 33 (2019), for a sphere."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from importlib.resources import files
from math import asin, cos, hypot, pi, radians, sin, sqrt
from xml.sax.saxutils import quoteattr

from spoonfold.press.figures.mark import LETTERS, number, tag

_A1, _A2, _A3, _A4 = 1.340264, -0.081106, 0.000893, 0.003796
_M = sqrt(3) / 2


def on_plane(latitude: float, longitude: float) -> tuple[float, float]:
    """Degrees to the plane, in earth radii: x to the east of Greenwich, y to the north."""
    theta = asin(_M * sin(radians(latitude)))
    square = theta * theta
    sixth = square**3
    x = (
        radians(longitude)
        * cos(theta)
        / (_M * (_A1 + 3 * _A2 * square + sixth * (7 * _A3 + 9 * _A4 * square)))
    )
    return x, theta * (_A1 + _A2 * square + sixth * (_A3 + _A4 * square))


WIDTH = 530.0
"""In drawing units, 1 to the point: the text of a letter or A4 page is a little wider."""

NORTH, SOUTH = 84.0, -57.0
"""Degrees between which the earth is drawn: all land but the ice of the far south."""

_EDGE = 7.0
"""Room round the earth for its rim."""
_DISC, _DOT, _BARE = 8.2, 1.7, 4.6
_SIZE = 10.5
_APART = 1.2
"""Bare paper between two discs."""
_RINGS = (15.0, 22.0, 30.0, 39.0, 50.0, 62.0, 75.0)
"""How far off a disc may stand, the nearest first."""
_DIRECTIONS = 24
_LAND, _COAST, _NET = 0.2, 0.5, 0.3


@dataclass(frozen=True, slots=True)
class Pin:
    """A dish at its place."""

    label: str
    """Without one it is a dot."""
    latitude: float
    """In degrees, as `longitude`."""
    longitude: float


Point = tuple[float, float]


def world_map(pins: Sequence[Pin], words: str, prefix: str, width: float = WIDTH) -> str:
    """An SVG element `width` points wide that says `words` to who can't see it.

    However narrow it is, its numbers are printed in the same size. `prefix` makes its ids unique
    in its page; without a pin there is no map, but an empty string.
    """
    if not pins:
        return ""
    title = quoteattr(f"{prefix}-title")
    height = 2 * _EDGE + _down(NORTH, SOUTH)
    dots = [drawn_at(pin.latitude, pin.longitude) for pin in pins]
    grown = WIDTH / width
    discs = _discs(dots, height, grown)
    parts = [
        tag("path", d=_earth(), stroke_width=2.6 * grown, stroke_linejoin="round"),
        tag("path", d="".join(_net()), stroke_width=_NET, stroke_opacity=0.5),
        tag(
            "path",
            d=_land(),
            fill="currentColor",
            fill_opacity=_LAND,
            stroke_width=_COAST,
            stroke_opacity=0.75,
            stroke_linejoin="round",
        ),
        *(part for dot, disc in zip(dots, discs, strict=True) for part in _line(dot, disc, grown)),
        *(part for pin, disc in zip(pins, discs, strict=True) for part in _disc(pin, disc, grown)),
    ]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="map" role="img"'
        f' aria-labelledby={title} width="{number(width)}pt"'
        f' height="{number(height * width / WIDTH)}pt"'
        f' viewBox="0 0 {number(WIDTH)} {number(height)}" fill="none" stroke="currentColor">'
        f"<title id={title}>{escape(words)}</title>{''.join(parts)}</svg>"
    )


def drawn_at(latitude: float, longitude: float) -> Point:
    """Where a place stands on the drawing, in drawing units from its upper left corner."""
    x, y = on_plane(latitude, longitude)
    return WIDTH / 2 + x * _unit(), _EDGE + (on_plane(NORTH, 0)[1] - y) * _unit()


def _unit() -> float:
    """Drawing units to the earth's radius."""
    return (WIDTH / 2 - _EDGE) / on_plane(0, 180)[0]


def _down(north: float, south: float) -> float:
    return (on_plane(north, 0)[1] - on_plane(south, 0)[1]) * _unit()


@lru_cache(maxsize=1)
def outlines() -> tuple[tuple[Point, ...], ...]:
    """Every outline of land as longitudes and latitudes, in degrees."""
    text = files("spoonfold.press.figures").joinpath("land.txt").read_text(encoding="utf-8")
    rings = []
    for line in text.splitlines():
        if not line.startswith("#"):
            pairs = (pair.split(",") for pair in line.split())
            rings.append(tuple((float(x), float(y)) for x, y in pairs))
    return tuple(rings)


@lru_cache(maxsize=1)
def _land() -> str:
    """All land as one path."""
    return "".join(
        _path([drawn_at(latitude, longitude) for longitude, latitude in ring], close=True)
        for ring in outlines()
    )


def _path(points: Sequence[Point], close: bool = False) -> str:
    written = "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    return f"M{written}{'Z' if close else ''}"


def _earth() -> str:
    """The rim, a little outside what is drawn."""
    steps = 40
    rise = [SOUTH + (NORTH - SOUTH) * step / steps for step in range(steps + 1)]
    middle = _EDGE + _down(NORTH, SOUTH) / 2
    wide, high = 1 + 2 * (_EDGE - 2) / WIDTH, 1 + (_EDGE - 2) / (middle - _EDGE)
    east = [
        (WIDTH / 2 + (x - WIDTH / 2) * wide, middle + (y - middle) * high)
        for x, y in (drawn_at(latitude, 180) for latitude in rise)
    ]
    return _path([*east, *((WIDTH - x, y) for x, y in reversed(east))], close=True)


def _net() -> Iterator[str]:
    """The equator, and a line every 30 degrees."""
    for latitude in range(-30, 90, 30):
        yield _path([drawn_at(latitude, -180), drawn_at(latitude, 180)])
    for longitude in range(-150, 180, 30):
        yield _path(
            [drawn_at(SOUTH + (NORTH - SOUTH) * step / 20, longitude) for step in range(21)]
        )


def _discs(dots: Sequence[Point], height: float, grown: float) -> list[Point]:
    """Where each disc stands: on its dot, or as near as there is room.

    Discs keep clear of each other and of the dots of others, and where it can be, of the lines to
    other dots. One that finds no room anywhere stands at its dot.
    """
    disc, apart = _DISC * grown, _APART * grown
    placed: list[Point] = []
    crowded = [
        any(other is not dot and _far(dot, other) < 2 * disc + apart for other in dots)
        for dot in dots
    ]
    for index, dot in enumerate(dots):
        others = [*dots[:index], *dots[index + 1 :]]
        # A lone dish's disc covers its dot; the first free direction is up, then round by the sun.
        spots = (
            [dot]
            if not crowded[index]
            else [
                (
                    dot[0] + ring * grown * sin(2 * pi * step / _DIRECTIONS),
                    dot[1] - ring * grown * cos(2 * pi * step / _DIRECTIONS),
                )
                for ring in _RINGS
                for step in range(_DIRECTIONS)
            ]
        )
        free = [
            spot
            for spot in spots
            if disc <= spot[0] <= WIDTH - disc
            and disc <= spot[1] <= height - disc
            and all(_far(spot, other) >= 2 * disc + apart for other in placed)
            and all(_far(spot, other) >= disc + _DOT * grown + apart for other in others)
        ]
        clear = (
            spot
            for spot in free
            if all(_from_line(dot, spot, other) >= disc + apart for other in placed)
        )
        placed.append(next(clear, free[0] if free else dot))
    return placed


def _far(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def _from_line(start: Point, end: Point, point: Point) -> float:
    """How far a point is from the line between two others."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = dx * dx + dy * dy
    along = (
        0.0
        if not length
        else max(0.0, min(1.0, ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / length))
    )
    return _far((start[0] + along * dx, start[1] + along * dy), point)


def _line(dot: Point, disc: Point, grown: float) -> Iterator[str]:
    if disc != dot:
        yield tag("path", d=_path([dot, disc]), stroke_width=grown)
        yield tag(
            "circle", cx=dot[0], cy=dot[1], r=_DOT * grown, fill="currentColor", stroke="none"
        )


def _disc(pin: Pin, disc: Point, grown: float) -> Iterator[str]:
    if not pin.label:
        # White round the dot keeps it apart from a coast beside it.
        yield tag(
            "circle",
            cx=disc[0],
            cy=disc[1],
            r=_BARE * grown,
            fill="currentColor",
            stroke="white",
            stroke_width=1.6 * grown,
        )
        return
    size = _SIZE * grown
    yield tag(
        "circle",
        cx=disc[0],
        cy=disc[1],
        r=_DISC * grown,
        class_="disc",
        fill="white",
        stroke_width=1.3 * grown,
    )
    yield (
        f'<text x="{number(disc[0])}" y="{number(disc[1] + 0.36 * size)}"'
        f' font-family="{LETTERS}" font-weight="700" font-size="{number(size)}"'
        f' text-anchor="middle" fill="currentColor" stroke="none">{escape(pin.label)}</text>'
    )
