"""Makes the map's data from the npm package `world-atlas` (Natural Earth, public domain).

    python tests/tools/map_data.py ATLAS CODES

ATLAS is the unpacked package; CODES is `supplemental/codeMappings.json` of the npm package
`cldr-core`, which says what two letters go with a country's number. Writes the land that is drawn,
the middle of every country, and the outlines that the tests ask.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from itertools import pairwise
from math import hypot
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
LAND = ROOT / "src" / "spoonfold" / "press" / "figures" / "land.txt"
CENTRES = ROOT / "src" / "spoonfold" / "teach" / "countries.txt"
OUTLINES = ROOT / "tests" / "teach" / "country-outlines.json"
SOURCE = "Natural Earth (naturalearthdata.com), public domain, by the npm package world-atlas 2.0.2"
TOLERANCE = 0.2
"""Degrees by which the drawn coast may be off: a fifth of a point at the width of a page."""
SMALLEST = 0.4
"""Square degrees; a smaller island would be a speck."""
ICE = -60
"""Degrees; south of it lies only Antarctica, which is left out."""
TESTED = ("CN", "GH", "JM", "JP", "LB", "MX", "TN", "TR", "VN")
"""Countries whose outlines the tests ask."""

Ring = list[tuple[float, float]]


def _rings(atlas: dict[str, Any], geometry: dict[str, Any]) -> Iterator[Ring]:
    """The outer outlines; holes (one lake) are left out."""
    scale, shift = atlas["transform"]["scale"], atlas["transform"]["translate"]
    for polygon in [geometry["arcs"]] if geometry["type"] == "Polygon" else geometry["arcs"]:
        ring: Ring = []
        for number in polygon[0]:
            x = y = 0
            arc: Ring = []
            for dx, dy in atlas["arcs"][number if number >= 0 else ~number]:
                x, y = x + dx, y + dy
                arc.append((x * scale[0] + shift[0], y * scale[1] + shift[1]))
            arc = arc if number >= 0 else arc[::-1]
            ring += arc[1:] if ring else arc
        yield ring


def _geometries(atlas: dict[str, Any], name: str) -> Iterator[dict[str, Any]]:
    thing = atlas["objects"][name]
    yield from thing.get("geometries", [thing])


def _simpler(line: Ring) -> Ring:
    """Fewer points, none of those left out further off than TOLERANCE (Douglas and Peucker)."""
    if len(line) < 3:
        return line
    (ax, ay), (bx, by) = line[0], line[-1]
    length = hypot(bx - ax, by - ay)
    off = [
        abs((bx - ax) * (ay - y) - (ax - x) * (by - ay)) / length
        if length
        else hypot(x - ax, y - ay)
        for x, y in line[1:-1]
    ]
    worst = max(range(len(off)), key=off.__getitem__)
    if off[worst] <= TOLERANCE:
        return [line[0], line[-1]]
    return _simpler(line[: worst + 2])[:-1] + _simpler(line[worst + 1 :])


def _area(ring: Ring) -> float:
    return (
        sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True))
        / 2
    )


def _middle(ring: Ring) -> tuple[float, float]:
    """The centre of gravity, or where that lies outside, the point furthest from the outline."""
    centre = _centre(ring)
    if _contains(ring, centre):
        return centre
    low, high = ((min(p[axis] for p in ring), max(p[axis] for p in ring)) for axis in (0, 1))
    grid = (
        (low[0] + (low[1] - low[0]) * i / 80, high[0] + (high[1] - high[0]) * j / 80)
        for i in range(81)
        for j in range(81)
    )
    return max(
        (point for point in grid if _contains(ring, point)),
        key=lambda point: min(hypot(point[0] - x, point[1] - y) for x, y in ring),
    )


def _contains(ring: Ring, point: tuple[float, float]) -> bool:
    (x, y), inside = point, False
    for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
        if (ay > y) != (by > y) and ax + (y - ay) / (by - ay) * (bx - ax) < x:
            inside = not inside
    return inside


def _centre(ring: Ring) -> tuple[float, float]:
    twice = x = y = 0.0
    for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
        cross = ax * by - bx * ay
        twice, x, y = twice + cross, x + (ax + bx) * cross, y + (ay + by) * cross
    return x / (3 * twice), y / (3 * twice)


def _cut(ring: Ring) -> Iterator[Ring]:
    """An outline that runs over the 180th meridian, as its pieces on both sides."""
    turned, shift = [ring[0]], 0.0
    for (before, _), (x, y) in pairwise(ring):
        shift += 360 if x - before < -180 else -360 if x - before > 180 else 0
        turned.append((x + shift, y))
    for turn in (-360, 0, 360):
        moved = [(x + turn, y) for x, y in turned]
        piece = _half(_half(moved, 180, 1), -180, -1)
        if piece:
            yield piece


def _half(ring: Ring, edge: float, sign: int) -> Ring:
    """The part of an outline west of a meridian, or east of it for a sign of -1."""
    kept: Ring = []
    for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
        inside, next_inside = sign * (edge - ax) >= 0, sign * (edge - bx) >= 0
        if inside:
            kept.append((ax, ay))
        if inside != next_inside:
            kept.append((edge, ay + (edge - ax) / (bx - ax) * (by - ay)))
    return kept


def _write_land(atlas: Path) -> None:
    data = json.loads((atlas / "land-110m.json").read_text(encoding="utf-8"))
    lines = [
        f"# Land without Antarctica at 1:110 million: {SOURCE}.",
        "# An outline a line: longitude,latitude in degrees. Made by tests/tools/map_data.py.",
    ]
    for geometry in _geometries(data, "land"):
        for whole in _rings(data, geometry):
            if max(y for _, y in whole) < ICE:
                continue
            for ring in _cut(whole):
                if abs(_area(ring)) >= SMALLEST:
                    lines.append(" ".join(f"{x:.1f},{y:.1f}" for x, y in _simpler(ring)))
    LAND.write_text("\n".join(lines) + "\n", encoding="utf-8")


def _write_countries(atlas: Path, codes: Path) -> None:
    mapping = json.loads(codes.read_text(encoding="utf-8"))["supplemental"]["codeMappings"]
    letters = {
        entry["_numeric"]: code
        for code, entry in mapping.items()
        if "_numeric" in entry and len(code) == 2
    }
    data = json.loads((atlas / "countries-50m.json").read_text(encoding="utf-8"))
    lines = [
        "# The middle of each country's largest piece of land, in degrees: two letters of",
        f"# ISO 3166-1, latitude, longitude. {SOURCE};",
        "# codes: Unicode CLDR 48. Made by tests/tools/map_data.py.",
    ]
    land: dict[str, list[Ring]] = {}
    for geometry in _geometries(data, "countries"):
        code = letters.get(str(geometry.get("id")))
        if code is not None:
            land.setdefault(code, []).extend(_rings(data, geometry))
    rows = []
    for code, rings in land.items():
        x, y = _middle(max(rings, key=lambda ring: abs(_area(ring))))
        rows.append(f"{code} {y:.2f} {x:.2f}")
    outlines = {
        code: [[(round(x, 2), round(y, 2)) for x, y in ring] for ring in land[code]]
        for code in TESTED
    }
    CENTRES.write_text("\n".join(lines + sorted(rows)) + "\n", encoding="utf-8")
    OUTLINES.parent.mkdir(exist_ok=True)
    OUTLINES.write_text(
        json.dumps({"source": SOURCE, "outlines": outlines}, sort_keys=True, separators=(",", ":"))
        + "\n",
        encoding="utf-8",
    )


if __name__ == "__main__":
    folder, mappings = map(Path, sys.argv[1:3])
    _write_land(folder)
    _write_countries(folder, mappings)
