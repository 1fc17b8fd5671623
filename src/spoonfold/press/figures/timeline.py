"""The clock chart: who does which step when, drawn so that a grey copy still reads.

Work is a grey bar with its number, a wait is hatched, washing hands is dotted, and a bar with a
heavy outline has an adult beside it. Everything is
drawn in one ink; tones are shares of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape
from xml.sax.saxutils import quoteattr

from spoonfold.press.figures.mark import LETTERS, number, tag
from spoonfold.sheets.brief.chart import ChartBar, ChartView

WIDTH = 530.0
"""In drawing units, 1 to the point: the text of a letter or A4 page is a little wider."""

_LABEL = 58.0
_AXIS = 26.0
_BAR, _LANE, _GAP = 11.0, 12.8, 3.2
_SIZE, _SMALL = 8.8, 7.8
_DIGIT, _LETTER = 0.58, 0.72
"""Width of a bold figure and of a capital in ems of the type; of the widest, generously."""
_PAD = 2.5
_WORK, _FREE = 0.2, 0.07
_HATCH, _DOT = 4.0, 3.0
_LINE, _HEAVY = 0.7, 1.9
_TICK = 5
"""Minutes from one line to the next."""


@dataclass(frozen=True, slots=True)
class _Scale:
    """Seconds to drawing units."""

    unit: float
    begin: float = _LABEL
    """Behind the labels."""

    def x(self, seconds: float) -> float:
        return self.begin + seconds * self.unit


def timeline_chart(chart: ChartView, prefix: str, larger: float = 1) -> str:
    """An SVG element. `prefix` makes its ids unique in its page; no rows give an empty string.

    What is drawn so many times larger has as much less room, and no minutes beside its times.
    """
    if not chart.rows:
        return ""
    last = max((max(bar.end, bar.wash_end) for row in chart.rows for bar in row.bars), default=0)
    minutes = max(chart.length, -(-last // 60), 1)
    wide, begin = WIDTH / larger, _LABEL
    if larger > 1:
        begin = max(_text_width(row.label) for row in chart.rows) + 2 * _PAD
    scale = _Scale((wide - begin - 1) / (minutes * 60), begin)
    parts: list[str] = []
    top = _AXIS
    for row in chart.rows:
        lanes = _lanes(row.bars, scale)
        height = max(1, len(lanes)) * _LANE
        parts.append(_line(0, top, wide, top, _LINE))
        top += _GAP / 2
        parts.append(_text(0, top + _BAR - 2.6, row.label, _SIZE, bold=True))
        for index, lane in enumerate(lanes):
            for bar in lane:
                parts.extend(_bar(bar, top + index * _LANE, scale))
        top += height + _GAP / 2
    height = top + 1
    title = quoteattr(f"{prefix}-title")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="timeline" role="img"'
        f' aria-labelledby={title} width="{number(WIDTH)}pt" height="{number(height * larger)}pt"'
        f' viewBox="0 0 {number(wide)} {number(height)}" fill="none" stroke="currentColor">'
        f"<title id={title}>{escape(chart.words)}</title>"
        f"{''.join(_axis(chart, minutes, top, scale, larger == 1))}{''.join(parts)}"
        f"{_line(0, top, wide, top, _LINE)}</svg>"
    )


def _lanes(bars: Sequence[ChartBar], scale: _Scale) -> list[list[ChartBar]]:
    """Bars that overlap lie below each other; each goes into the first lane with room."""
    lanes: list[list[ChartBar]] = []
    ends: list[float] = []
    for bar in sorted(bars, key=lambda each: (each.start, -each.end)):
        left, right = scale.x(bar.start), _right(bar, scale)
        for index, end in enumerate(ends):
            if end <= left + 0.01:
                lanes[index].append(bar)
                ends[index] = right
                break
        else:
            lanes.append([bar])
            ends.append(right)
    return lanes


def _text_width(words: str) -> float:
    return sum(_LETTER if each.isalpha() else _DIGIT for each in words) * _SIZE


def _label_width(bar: ChartBar) -> float:
    return _text_width(bar.label) + 2 * _PAD


def _right(bar: ChartBar, scale: _Scale) -> float:
    """Where a bar and its label end."""
    end = scale.x(max(bar.end, bar.wash_end))
    return end if _fits(bar, scale) else end + _label_width(bar)


def _fits(bar: ChartBar, scale: _Scale) -> bool:
    """Whether the label stands inside, on the work or on the beginning of the wait."""
    return _label_width(bar) <= scale.x(max(bar.end, bar.wash_end)) - scale.x(bar.start)


def _bar(bar: ChartBar, top: float, scale: _Scale) -> Iterator[str]:
    left, worked = scale.x(bar.start), scale.x(bar.work_end)
    washed, right = scale.x(bar.wash_end), scale.x(max(bar.end, bar.wash_end))
    low = top + _BAR
    if worked > left:
        yield tag(
            "rect",
            x=left,
            y=top,
            width=worked - left,
            height=_BAR,
            fill="currentColor",
            fill_opacity=_WORK,
            stroke="none",
        )
    if right > worked:
        # A label that is longer than the work lies on bare paper.
        bare = left + _label_width(bar) if _fits(bar, scale) else worked
        yield tag("path", d=_hatched(max(washed, bare), top, right, low), stroke_width=0.5)
        yield tag(
            "path",
            d=_dotted(max(worked, bare), top, washed, low),
            stroke_width=1,
            stroke_linecap="round",
        )
    yield tag(
        "rect",
        x=left,
        y=top,
        width=max(0.5, right - left),
        height=_BAR,
        stroke_width=_HEAVY if bar.is_watched else _LINE,
    )
    if right > worked > left:
        yield _line(worked, top, worked, low, _LINE)
    at = (left if _fits(bar, scale) else right) + _PAD
    yield _text(at, low - 2.9, bar.label, _SIZE, bold=True)
    at += _text_width(bar.label) + 0.6


def _hatched(left: float, top: float, right: float, low: float) -> str:
    """Rising lines, cut at the edges of the box."""
    path = []
    height = low - top
    # A line through (x, low) rises to (x + height, top).
    step = int((left - height) // _HATCH)
    while (foot := step * _HATCH) < right:
        start, end = max(foot, left), min(foot + height, right)
        if end - start > 0.3:
            path.append(
                f"M{number(start)} {number(low - (start - foot))}"
                f"L{number(end)} {number(low - (end - foot))}"
            )
        step += 1
    return "".join(path)


def _dotted(left: float, top: float, right: float, low: float) -> str:
    path = []
    y = top + _DOT
    while y < low - 1:
        x = left + _DOT / 2
        while x < right - 0.8:
            path.append(f"M{number(x)} {number(y)}h0.01")
            x += _DOT
        y += _DOT
    return "".join(path)


def _axis(
    chart: ChartView, minutes: int, low: float, scale: _Scale, with_minutes: bool
) -> Iterator[str]:
    end = scale.x(chart.length * 60)
    kept = scale.x((chart.length - chart.buffer) * 60)
    yield tag(
        "rect",
        x=kept,
        y=_AXIS - 3,
        width=max(0.0, end - kept),
        height=low - _AXIS + 3,
        fill="currentColor",
        fill_opacity=_FREE,
        stroke="none",
    )
    for minute in range(0, minutes + 1, _TICK):
        x = scale.x(minute * 60)
        yield tag(
            "path",
            d=f"M{number(x)} {number(_AXIS - 3)}V{number(low)}",
            stroke_width=0.35,
            stroke_opacity=0.55,
        )
        if with_minutes and minute < minutes:
            yield _text(x, _AXIS - 5, str(minute), _SMALL, middle=True)
    for minute, time in chart.times:
        yield _text(scale.x(minute * 60), _AXIS - 15, time, _SIZE, bold=True, middle=True)
    yield _line(end, _AXIS - 13, end, low, _HEAVY)
    if minutes > chart.length:
        yield _text(end + 3, _AXIS - 15, chart.end_label, _SIZE, bold=True)
    else:
        yield _text(end, _AXIS - 15, chart.end_label, _SIZE, bold=True, anchor="end")


def _line(x: float, y: float, x2: float, y2: float, width: float) -> str:
    return tag("path", d=f"M{number(x)} {number(y)}L{number(x2)} {number(y2)}", stroke_width=width)


def _text(
    x: float,
    y: float,
    words: str,
    size: float,
    bold: bool = False,
    middle: bool = False,
    anchor: str = "start",
) -> str:
    weight = ' font-weight="700"' if bold else ""
    place = "middle" if middle else anchor
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-family="{LETTERS}"{weight}'
        f' font-size="{number(size)}" text-anchor="{place}" fill="currentColor"'
        f' stroke="none">{escape(words)}</text>'
    )
