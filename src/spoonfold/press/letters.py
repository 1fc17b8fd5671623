"""Mending what a PDF says of its letters, so that text read aloud or copied is whole.

Where several glyphs draw one letter with its marks, as in Arabic, WeasyPrint 70 writes all the
text under the first glyph and nothing under the others. A strict reader refuses an empty entry
(ISO 32000-1, 9.10.3), so the others get a space of no width.
"""

from __future__ import annotations

import re
from typing import Any

_EMPTY = re.compile(rb"(<[0-9a-fA-F]+>) <>")
_NO_WIDTH = rb"\1 <200b>"


def mend_letters(pdf: Any) -> None:
    """Mends every font's table of letters in place; for a PDF that isn't written yet."""
    for found in pdf.objects:
        lines = getattr(found, "stream", None)
        # A page's stream is long and has no table: its beginning tells them apart.
        if isinstance(lines, list) and b"begincmap" in lines[:3]:
            found.stream = [_EMPTY.sub(_NO_WIDTH, line) for line in lines]
