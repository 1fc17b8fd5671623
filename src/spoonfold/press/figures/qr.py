"""An address as a QR code (ISO/IEC 18004). The only file that knows segno.

Level M mends what a copier or a thumb spoils of 15 hundredths. Around the code stays the quiet
zone of four modules that the standard asks for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from xml.sax.saxutils import escape, quoteattr

import segno

from spoonfold.press.figures.mark import number

QUIET = 4
"""Modules of paper on each side."""

_MODULE = 0.5
"""Millimetres a module: a phone reads it at arm's length, also from a copy (common practice)."""

_LEAST = 18.0
"""Millimetres that the code itself is wide at least."""


def qr_figure(address: str, words: str, prefix: str) -> str:
    """An SVG element in millimetres, its quiet zone included; `words` say what it is, and
    `prefix` makes its ids unique in the page."""
    rows = [bytes(row) for row in segno.make_qr(address, error="m", boost_error=False).matrix]
    size = len(rows) + 2 * QUIET
    wide = number(size * max(_MODULE, _LEAST / len(rows)))
    title = quoteattr(f"{prefix}-title")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="qr" role="img" aria-labelledby={title}'
        f' width="{wide}mm" height="{wide}mm" viewBox="0 0 {size} {size}"'
        f' shape-rendering="crispEdges"><title id={title}>{escape(words)}</title>'
        f'<path fill="#fff" d="M0 0h{size}v{size}h-{size}z"/>'
        f'<path fill="#000" d="{"".join(_dark(rows))}"/></svg>'
    )


def _dark(rows: Sequence[bytes]) -> Iterator[str]:
    """Each run of dark modules of a row as one bar."""
    for y, row in enumerate(rows, start=QUIET):
        x = QUIET
        for is_dark, run in groupby(row):
            length = len(list(run))
            if is_dark:
                yield f"M{x} {y}h{length}v1h-{length}z"
            x += length
