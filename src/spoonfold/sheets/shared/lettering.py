"""How much room words take on paper, worked out before anything is laid out.

Widths are those of Andika; a letter that isn't in the table is taken as a wide one. Lines are
filled as a printer fills them.
"""

from __future__ import annotations

from collections.abc import Iterable

_FIRST = " "
_ADVANCES = (
    269, 373, 500, 586, 586, 745, 597, 295, 388, 388, 502, 586, 317, 420, 312, 488, 586, 586, 586,
    586, 586, 586, 586, 586, 586, 586, 312, 317, 586, 586, 586, 513, 831, 681, 627, 662, 701, 566,
    562, 693, 720, 476, 471, 640, 527, 876, 732, 713, 583, 720, 637, 574, 618, 703, 667, 1016, 647,
    645, 601, 386, 488, 386, 415, 622, 283, 562, 564, 498, 581, 535, 366, 549, 574, 276, 291, 505,
    276, 823, 579, 557, 571, 552, 435, 471, 408, 579, 522, 757, 530, 518, 508, 488, 337, 488, 544,
)  # fmt: skip
"""Thousandths of an em: the letters of ASCII from the space on, in Andika Regular."""
_OTHER = 620
"""Any other letter."""
_BOLD = 1.06
"""How much wider Andika Bold is; Literata Bold is `TITLE` times as wide."""
TITLE = 1.17

_POINTS = {"in": 72.0, "mm": 72 / 25.4}


def length_of(text: str) -> float:
    """A length of a stylesheet in points."""
    return float(text[:-2]) * _POINTS[text[-2:]]


def width_of(words: str, size: float, bold: bool = False) -> float:
    """How wide words are in one line, in points."""
    first = ord(_FIRST)
    total = 0
    for letter in words:
        index = ord(letter) - first
        total += _ADVANCES[index] if 0 <= index < len(_ADVANCES) else _OTHER
    return total * size / 1000 * (_BOLD if bold else 1)


def lines_of(pieces: Iterable[float], space: float, wide: float) -> int:
    """How many lines pieces of these widths fill, which stay whole and have a space between."""
    lines, at = 1, 0.0
    for piece in pieces:
        if at and at + space + piece > wide:
            lines, at = lines + 1, piece
        else:
            at += piece + (space if at else 0)
    return lines


def text_lines(words: str, size: float, wide: float, bold: bool = False) -> int:
    """How many lines a text takes; none for no words."""
    if not words.strip():
        return 0
    pieces = [width_of(word, size, bold) for word in words.split()]
    return lines_of(pieces, width_of(" ", size), wide)
