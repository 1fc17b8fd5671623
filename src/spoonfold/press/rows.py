"""Tables as comma-separated values (RFC 4180)."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence

_FORMULA = re.compile(r"[\t\r\n]|\s*[=+\-@＝＋－＠]")
"""How a cell begins that spreadsheets calculate instead of showing it (OWASP, "CSV Injection").
Space before the sign hinders few of them."""
_SIGN_OR_NUMBER = re.compile(r"[+-]?[\d.,]*")
"""What may begin with a sign all the same: there is nothing in it to calculate."""


def comma_separated(rows: Iterable[Sequence[str]]) -> str:
    """Rows of texts, the headings first; lines end as the standard asks.

    The names of foods are the author's text, which may come from elsewhere: a cell that would be
    a formula begins with an apostrophe, by which spreadsheets leave it a text.
    """
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerows(map(_as_text, row) for row in rows)
    return text.getvalue()


def spreadsheet_file(rows: Iterable[Sequence[str]]) -> bytes:
    """The same as a file, with the mark by which spreadsheets know that it is UTF-8."""
    return comma_separated(rows).encode("utf-8-sig")


def _as_text(cell: str) -> str:
    is_formula = _FORMULA.match(cell) and not _SIGN_OR_NUMBER.fullmatch(cell)
    return f"'{cell}" if is_formula else cell
