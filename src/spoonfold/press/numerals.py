"""Fractions as they are written by hand: one number over the other, large enough to read."""

from __future__ import annotations

import re
from xml.sax.saxutils import escape

from spoonfold.quantity.show import GLYPHS

_BY_SIGN = {sign: value for value, sign in GLYPHS.items()}
_FRACTION = re.compile(rf"(?:(\d+) ?)?(?:(?<!\d)([\d?]+)/(\d+)|([{''.join(_BY_SIGN)}]))")


def numerals(text: str) -> str:
    """HTML of a text in which every fraction is set the same way, be it `⅔`, `2/3` or `?/3`.

    A copied text reads `2⁄3`, with the fraction slash (U+2044), and a mixed number `1 2⁄3`.
    """
    parts: list[str] = []
    end = 0
    for found in _FRACTION.finditer(text):
        whole, top, below, sign = found.groups()
        if sign:
            top, below = map(str, _BY_SIGN[sign].as_integer_ratio())
        before = f'{whole}<span class="thin"> </span>' if whole else ""
        parts += (
            escape(text[end : found.start()]),
            f'<span class="mixed">{before}'
            f'<span class="frac"><span class="top">{top}</span><span class="slash">⁄</span>'
            f'<span class="below">{below}</span></span></span>',
        )
        end = found.end()
    return "".join((*parts, escape(text[end:])))
