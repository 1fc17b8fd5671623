"""Tables as comma-separated values (RFC 4180)."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence


def comma_separated(rows: Iterable[Sequence[str]]) -> str:
    """Rows of texts, the headings first; lines end as the standard asks."""
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerows(rows)
    return text.getvalue()


def spreadsheet_file(rows: Iterable[Sequence[str]]) -> bytes:
    """The same as a file, with the mark by which spreadsheets know that it is UTF-8."""
    return comma_separated(rows).encode("utf-8-sig")
