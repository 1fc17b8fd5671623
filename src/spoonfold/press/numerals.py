"""Fractions as they are written by hand: one number over the other, large enough to read."""

from __future__ import annotations

import re
from xml.sax.saxutils import escape

from spoonfold.quantity.show import GLYPHS

_BY_SIGN = {sign: value for value, sign in GLYPHS.items()}
_FRACTION = re.compile(rf"([\d?]+)/(\d+)|([{''.join(_BY_SIGN)}])")


def numerals(text: str) -> str:
    """HTML of a text in which every fraction is set the same way, be it `⅔`, `2/3` or `?/3`.

    A copied text reads `2⁄3`, with the fraction slash (U+2044), and a mixed number `1 2⁄3`.
    """
    parts = []
    end = 0
    for found in _FRACTION.finditer(text):
        before = text[end : found.start()]
        parts.append(escape(before))
        if before[-1:].isdigit():
            parts.append('<span class="thin"> </span>')
        value = _BY_SIGN.get(found[3])
        top, below = (found[1], found[2]) if value is None else value.as_integer_ratio()
        parts.append(f'<span class="frac"><sup>{top}</sup>⁄<sub>{below}</sub></span>')
        end = found.end()
    return "".join((*parts, escape(text[end:])))
