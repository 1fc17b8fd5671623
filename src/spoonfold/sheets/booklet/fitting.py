"""How much room a dish takes on the pages of the booklet, worked out before it is laid out.

A dish is one opening, so what stands where must be known beforehand. A guess is off by a line at
most, and a line is kept in hand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from spoonfold.model.classroom import Paper
from spoonfold.model.prose import plain, plain_prose
from spoonfold.sheets.booklet.opening import (
    ALIKE,
    LONG_SIGN,
    Gathered,
    Opening,
    OpenStep,
    WatchLine,
)
from spoonfold.sheets.shared.amounts import ScoopMark
from spoonfold.sheets.shared.lettering import TITLE, length_of, lines_of, text_lines, width_of
from spoonfold.sheets.shared.recipe import RecipeSheet


@dataclass(frozen=True, slots=True)
class Room:
    """What a page of the booklet holds, in points."""

    wide: float
    high: float


# As `layouts/look/paper.css` has them.
_SIDES, _ENDS = (0.42 + 0.54) * 72, (0.36 + 0.46) * 72 + 15


def room_on(paper: Paper) -> Room:
    """A page is half a sheet; margins and the rim are taken off."""
    width, height = length_of(paper.width), length_of(paper.height)
    return Room(height / 2 - _SIDES, width - _ENDS)


# Sizes of type in points and what stands around it, as the stylesheet has them.
_STEP, _STEP_LINE, _STEP_GAP, _PLATE_NUMBER = 11.0, 14.0, 3.0, 23.0
_TIGHT_LINE, _TIGHT_GAP, _TIGHT_AROUND = 13.0, 2.4, 3.0
_SIGN, _SIGN_AROUND = 9.0, 16.5
_HEAD = 21.0
_WATCH, _WATCH_LINE, _WATCH_AROUND, _WATCH_INSET = 9.0, 11.4, 21.0, 29.0
_DONE_AROUND, _DONE_INSET = 17.0, 36.0
_TITLE, _TITLE_LINE = 19.0, 22.5
_LEDE, _LEDE_LINE = 10.5, 13.6
_FACT, _FACT_LINE = 10.0, 14.5
_RIBBON = 35.0
_LABEL, _LABEL_LINE, _LABEL_AROUND, _LABEL_INSET = 9.0, 11.6, 10.0, 14.0
_ROW, _ROW_LINE, _ROW_AROUND, _ROW_INSET = 10.0, 12.5, 5.2, 30.0
_WAY, _WAY_LINE = 9.0, 11.6
_BETWEEN = 12.0
_PLATES = (172.0, 140.0, 112.0, 84.0, 64.0)
"""How wide the drawing may be, the best first."""
_SAID = "nnnn nnn nnnnn "
"""About as wide as a few fixed words in any language."""
_GRAVEST = 3
"""Lines of dangers in a strip that has little room."""
_WRITABLE = 0.7
"""Of a page: where the steps take less, the rest is to write on."""
_SPARE = 9.0
"""A line that is kept in hand."""
_UNIT = 10.0 / 16
"""Points to a unit of the drawn scoops."""


@dataclass(frozen=True, slots=True)
class Spread:
    """Where the pieces of a dish stand."""

    opening: Opening
    plate: float = _PLATES[-1]
    """How wide the drawing is, in points."""
    columns: tuple[tuple[Gathered, ...], ...] = ()
    """The ingredients: in two columns, or in one where they are too many for a page."""
    watch: tuple[WatchLine, ...] = ()
    """The dangers that the strip has room for; all stand at their steps."""
    watch_first: bool = False
    """The strip stands at the foot of the left page."""
    ways_first: bool = True
    """Swaps stand on the left page, and not with the stories."""
    home_first: bool = False
    """What is told of cooking it at home stands there too."""
    is_tight: bool = False
    """The lines of the steps are nearer to each other."""
    is_long: bool = False
    """The cooking begins on a second opening."""
    flows_over: bool = False
    """The left page goes on to the right one."""
    has_notes: bool = False
    """There is room to write on, below the steps."""


def spread_of(opening: Opening, room: Room) -> Spread:
    """The best way to lay out a dish in which nothing is lost. Its sheet has no mark of a draft
    where the whole booklet has one."""
    high, wide = room.high - _SPARE, room.wide
    ways, home = _ways_high(opening.sheet, wide), _home_high(opening, wide)
    columns = {tight: _columns(opening, wide, tight) for tight in (False, True)}
    left = {
        (tight, plate): _left_high(opening, columns[tight], plate, wide, tight)
        for tight in (False, True)
        for plate in _PLATES
    }
    steps = {tight: _steps_high(opening, wide, tight) for tight in (False, True)}
    brief = tuple(replace(line, text=line.brief) for line in opening.watch[:_GRAVEST])
    fitting = (
        Spread(
            opening,
            plate,
            columns[is_tight],
            watch,
            is_first,
            has_ways,
            has_home,
            is_tight,
            has_notes=steps[is_tight] < _WRITABLE * high,
        )
        for has_ways, has_home in ((True, True), (True, False), (False, False))
        for watch in (opening.watch, brief)
        for is_tight in (False, True)
        for is_first in (False, True)
        for plate in _PLATES
        if steps[is_tight] + (0 if is_first else _watch_high(watch, wide)) <= high
        if left[is_tight, plate]
        + (_watch_high(watch, wide) if is_first else 0)
        + (ways if has_ways else 0)
        + (home if has_home else 0)
        <= high
    )
    best = min(fitting, key=_price, default=None)
    if best is not None:
        return best
    for plate in _PLATES:
        if left[False, plate] + ways <= high:
            has_home = left[False, plate] + ways + home <= high
            return Spread(
                opening,
                plate,
                columns[False],
                opening.watch,
                home_first=has_home,
                is_long=True,
                has_notes=True,
            )
    return Spread(
        opening,
        columns=(opening.gathered,),
        watch=opening.watch,
        is_long=True,
        flows_over=True,
        has_notes=True,
    )


def _price(spread: Spread) -> float:
    """What a layout gives up, by how much a family would miss it."""
    return (
        8 * (not spread.ways_first)
        + 6 * (spread.watch != spread.opening.watch)
        + 3 * spread.is_tight
        + 2 * spread.watch_first
        + 2 * (not spread.home_first)
        + _PLATES.index(spread.plate)
    )


def _steps_high(opening: Opening, wide: float, is_tight: bool) -> float:
    total = text_lines(opening.done, _STEP, wide - _DONE_INSET, True) * _STEP_LINE
    total += _DONE_AROUND if opening.done else 0
    line, gap = (_TIGHT_LINE, _TIGHT_GAP) if is_tight else (_STEP_LINE, _STEP_GAP)
    for group in opening.groups:
        total += (_HEAD - 2 if is_tight else _HEAD) + sum(
            _step_lines(step, wide) * line + gap for step in group.steps
        )
    return total


def _step_lines(step: OpenStep, wide: float) -> int:
    pieces = [width_of(word, _STEP) for word in plain(step.text).split()]
    for sign in step.signs:
        if len(sign.text) > LONG_SIGN:
            words = [width_of(word, _SIGN, sign.is_strong) for word in sign.text.split()]
            pieces += [words[0] + _SIGN_AROUND, *words[1:]]
        else:
            pieces.append(width_of(sign.text, _SIGN, sign.is_strong) + _SIGN_AROUND)
    return lines_of(pieces, width_of(" ", _STEP), wide - _PLATE_NUMBER)


def _watch_high(watch: Sequence[WatchLine], wide: float) -> float:
    if not watch:
        return 0.0
    lines = sum(
        text_lines(f"{each.title}, {each.steps}: {each.text}", _WATCH, wide - _WATCH_INSET)
        for each in watch
    )
    return lines * _WATCH_LINE + _WATCH_AROUND


def _left_high(
    opening: Opening,
    columns: Sequence[Sequence[Gathered]],
    plate: float,
    wide: float,
    is_tight: bool,
) -> float:
    sheet = opening.sheet
    beside = wide - plate - _BETWEEN
    words = (
        text_lines(sheet.title, _TITLE * TITLE, beside) * _TITLE_LINE
        + text_lines(sheet.origin, _FACT, beside - 16, True) * _FACT_LINE
        + (_FACT_LINE + 4 if opening.starts_before else 0)
        + text_lines(sheet.mark, _WAY, beside) * _FACT_LINE
        + text_lines(f"nnn {sheet.draft}", _WAY, beside, True) * (_WAY_LINE + 2) * bool(sheet.draft)
        + text_lines(opening.lede, _LEDE, beside) * _LEDE_LINE
        + text_lines(opening.people, _FACT, beside - 16, True) * _FACT_LINE
        + 8
    )
    drawn = plate if opening.plate else 0.0
    longest = max(width_of(word, _TITLE * TITLE) for word in f"{sheet.title} -".split())
    # A word that doesn't fit beside the drawing stands below it, and all that follows.
    top = drawn + words if longest > beside else max(drawn, words)
    across = wide if len(columns) == 1 else wide / 2 - 8
    rows = max(sum(_row_high(row, across, is_tight) for row in each) for each in columns)
    return top + _RIBBON + _labels_high(sheet, wide) + _HEAD + rows


def _row_high(row: Gathered, wide: float, is_tight: bool) -> float:
    around = _TIGHT_AROUND if is_tight else _ROW_AROUND
    scoops = [
        _scoop(mark)
        for mark in row.view.scoops
        for _ in range(mark.count if mark.count < ALIKE else 1)
    ]
    inset = _ROW_INSET + (sum(across for across, _ in scoops) if row.is_beside else 0)
    pieces = [
        *_widths(f"{row.view.text} {row.view.joint} {row.name}", _ROW, True),
        *_widths(f"{row.preparation} {'; '.join(row.notes)}", _LABEL),
    ]
    lines = lines_of(pieces, width_of(" ", _ROW), wide - inset) * _ROW_LINE
    if not scoops:
        return lines + around
    deep = max(high for _, high in scoops)
    if row.is_beside:
        return max(lines, deep) + around
    return lines + lines_of((across for across, _ in scoops), 0, wide - 20) * deep + around


def _scoop(mark: ScoopMark) -> tuple[float, float]:
    """About how wide and how deep a drawn scoop is with its box."""
    around = 34 if mark.kind == "jug" else 28
    radius = (
        4.6 * float(mark.tsp) ** (1 / 3)
        if mark.kind != "cup"
        else 5.55 * float(mark.tsp) ** (1 / 3)
    )
    if mark.count >= ALIKE:
        around += 15 * (mark.count - 1)
    return (2 * radius + around) * _UNIT, max(1.2 * radius, 11) * _UNIT + 4


def _widths(words: str, size: float, bold: bool = False) -> list[float]:
    return [width_of(word, size, bold) for word in words.split()]


def _labels_high(sheet: RecipeSheet, wide: float) -> float:
    labels = sheet.labels
    pieces = [16.0, *_widths(_SAID * 3, _LABEL)]
    for group in (labels.contains, labels.check):
        for each in group:
            pieces += _widths(each.allergen, _LABEL, True)
            pieces += _widths(f"({', '.join(each.ingredients)}),", _LABEL)
    pieces += _widths(" ".join(labels.unknown), _LABEL, True)
    is_plain = not labels.contains and not labels.unknown
    more = bool(labels.check) + bool(labels.unknown) + is_plain
    pieces += _widths(_SAID * 2 * more, _LABEL)
    lines = lines_of(pieces, width_of(" ", _LABEL), wide - _LABEL_INSET)
    return lines * _LABEL_LINE + _LABEL_AROUND


def _ways_high(sheet: RecipeSheet, wide: float) -> float:
    lines = sum(text_lines(note, _WAY, wide) for note in sheet.notes)
    for swap in sheet.swaps:
        words = (
            f"{'n' * 10} {swap.instead_of} ({swap.because}): {swap.sizes[0].text} {swap.names[0]}, "
            f"{swap.preparation} ({swap.label})"
        )
        lines += text_lines(words, _WAY, wide)
    return lines * (_WAY_LINE + 1.5) + (6 if lines else 0)


def _home_high(opening: Opening, wide: float) -> float:
    """None where there is nothing to tell."""
    blocks = opening.sheet.sections.get("at home", ())
    lines = sum(text_lines(f"{'n' * 10} {plain_prose((each,))}", _WAY, wide) for each in blocks)
    return lines * _WAY_LINE + 3 * len(blocks)


def _columns(opening: Opening, wide: float, is_tight: bool) -> tuple[tuple[Gathered, ...], ...]:
    """One column, or two as nearly as high as each other as can be."""
    rows = opening.gathered
    heights = [_row_high(row, wide / 2 - 8, is_tight) for row in rows]
    whole, at, first = sum(heights), 0, 0.0
    while at < len(rows) and first < whole / 2:
        first += heights[at]
        at += 1
    # Long names break in a narrow column: where two save nothing, one is easier to read.
    if sum(_row_high(row, wide, is_tight) for row in rows) <= max(first, whole - first):
        return (rows,)
    return rows[:at], rows[at:]
