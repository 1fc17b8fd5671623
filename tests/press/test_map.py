"""The map: equal areas, every dish at its place, no number on another, the same everywhere."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import combinations
from math import hypot, pi, radians, sin
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spoonfold.press.figures.map import (
    NORTH,
    SOUTH,
    WIDTH,
    Pin,
    drawn_at,
    on_plane,
    outlines,
    world_map,
)

SVG = "{http://www.w3.org/2000/svg}"
RADIUS = 6371.0
"""Kilometres; the mean radius of the earth (IUGG)."""

places = st.tuples(st.floats(SOUTH + 3, NORTH - 3), st.floats(-175, 175))


def drawn(places: Sequence[tuple[float, float]]) -> ElementTree.Element:
    return ElementTree.fromstring(
        world_map(
            [Pin(str(number), *place) for number, place in enumerate(places, 1)], "In words.", "m"
        )
    )


def discs(root: ElementTree.Element) -> list[tuple[float, float]]:
    return [
        (float(each.attrib["cx"]), float(each.attrib["cy"]))
        for each in root.iter(f"{SVG}circle")
        if each.attrib.get("class") == "disc"
    ]


def on_sphere(ring: Sequence[tuple[float, float]]) -> float:
    """Square kilometres within an outline of longitudes and latitudes."""
    return (
        abs(
            sum(
                radians(bx - ax) * (2 + sin(radians(ay)) + sin(radians(by)))
                for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True)
            )
        )
        / 2
        * RADIUS**2
    )


def on_paper(points: Sequence[tuple[float, float]]) -> float:
    return (
        abs(
            sum(
                ax * by - bx * ay
                for (ax, ay), (bx, by) in zip(points, (*points[1:], points[0]), strict=True)
            )
        )
        / 2
    )


def test_the_land_is_as_large_as_published() -> None:
    """148.94 million square kilometres of land (CIA World Factbook, “World”), less the 14.2
    million of Antarctica, which isn't drawn; to a hundredth."""
    assert sum(map(on_sphere, outlines())) / 1e6 == pytest.approx(148.94 - 14.2, rel=0.01)


def test_the_projection_is_as_published() -> None:
    """The paper says that the equator is 2.05458 times as long as the middle meridian, and a pole
    0.59247 times as long as the equator (Šavrič, Patterson and Jenny 2019; from memory)."""
    equator, pole = on_plane(0, 180)[0], on_plane(90, 180)
    assert equator / pole[1] == pytest.approx(2.05458, abs=1e-4)
    assert pole[0] / equator == pytest.approx(0.59247, abs=1e-3)


@given(st.floats(-80, 79), st.floats(-175, 174))
def test_equal_areas_are_equal(latitude: float, longitude: float) -> None:
    """A small field of the earth has the same area on the plane, wherever it lies."""
    step = 0.5
    corners = [
        (latitude, longitude),
        (latitude, longitude + step),
        (latitude + step, longitude + step),
        (latitude + step, longitude),
    ]
    true = radians(step) * (sin(radians(latitude + step)) - sin(radians(latitude)))
    assert on_paper([on_plane(*corner) for corner in corners]) == pytest.approx(true, rel=1e-3)


def test_the_land_keeps_its_share_on_paper() -> None:
    """What the drawing shows of a continent is its share of the earth."""
    whole = (on_plane(0, 180)[0] * 2 / (WIDTH - 14)) ** 2
    drawn_land = sum(on_paper([drawn_at(y, x) for x, y in ring]) for ring in outlines())
    true = sum(map(on_sphere, outlines())) / RADIUS**2
    assert drawn_land * whole == pytest.approx(true, rel=0.005)


def test_north_is_up_and_east_is_right() -> None:
    """Oslo is above Rome, and Tokyo right of Lima; Greenwich is in the middle."""
    assert drawn_at(59.9, 10.7)[1] < drawn_at(41.9, 12.5)[1]
    assert drawn_at(35.7, 139.7)[0] > drawn_at(-12, -77)[0]
    assert drawn_at(51.5, 0)[0] == pytest.approx(WIDTH / 2)


def test_known_cities_lie_on_land_and_known_seas_do_not() -> None:
    """Positions by ISO 6709 of inland cities and of the middle of oceans (from memory)."""

    def is_land(y: float, x: float) -> bool:
        inside = False
        for ring in outlines():
            for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
                if (ay > y) != (by > y) and ax + (y - ay) / (by - ay) * (bx - ax) < x:
                    inside = not inside
        return inside

    cities = [
        (19.43, -99.13),
        (55.75, 37.62),
        (-15.79, -47.88),
        (39.9, 116.4),
        (28.61, 77.21),
        (-1.29, 36.82),
        (39.93, 32.86),
        (-23.7, 133.88),
        (66.9, -150),
        (67, 175),
    ]
    seas = [(0, -30), (30, -45), (-30, 80), (20, -160), (35, 18), (25, -90), (40, 150)]
    assert [is_land(*each) for each in cities] == [True] * len(cities)
    assert [is_land(*each) for each in seas] == [False] * len(seas)


@settings(max_examples=60, deadline=None)
@given(st.lists(places, min_size=1, max_size=12))
def test_numbers_never_leave_the_drawing(found: list[tuple[float, float]]) -> None:
    """Every disc stands whole on the paper, and there is one for each dish."""
    root = drawn(found)
    height = float(root.attrib["viewBox"].split()[3])
    assert len(discs(root)) == len(found)
    assert all(8 < x < WIDTH - 8 and 8 < y < height - 8 for x, y in discs(root))


def test_near_places_have_their_numbers_apart() -> None:
    """Nine towns within a day's walk: no disc lies on another, and each has a line to its dot."""
    near = [(37.0 + i * 0.2, 37.0 + j * 0.2) for i in range(3) for j in range(3)]
    root = drawn(near)
    assert all(hypot(a[0] - b[0], a[1] - b[1]) > 16.4 for a, b in combinations(discs(root), 2))
    dots = [each for each in root.iter(f"{SVG}circle") if each.attrib.get("class") != "disc"]
    assert len(dots) == len(near)


def test_a_lone_place_has_its_number_on_it() -> None:
    """Far from others the disc is the dot."""
    assert discs(drawn([(6.69, -1.62)])) == [pytest.approx(drawn_at(6.69, -1.62), abs=0.006)]


def test_it_says_what_it_shows_and_has_no_colour_of_its_own() -> None:
    """A reader who hears the page is told; all tones are shares of the text's own ink."""
    svg = world_map([Pin("1", 0, 10)], "A map: 1 <Libreville> & more", "m")
    assert 'role="img" aria-labelledby="m-title"' in svg
    assert '<title id="m-title">A map: 1 &lt;Libreville&gt; &amp; more</title>' in svg
    assert set(re.findall(r'(?:fill|stroke)="(.*?)"', svg)) == {"none", "currentColor", "white"}
    assert world_map([], "Nothing", "m") == ""


def test_the_whole_earth_is_its_surface() -> None:
    """The projection of all of it has the area of the unit sphere, 4π."""
    rise = [-90 + step / 4 for step in range(721)]
    outline = [*(on_plane(y, 180) for y in rise), *(on_plane(y, -180) for y in reversed(rise))]
    assert on_paper(outline) == pytest.approx(4 * pi, rel=1e-4)
