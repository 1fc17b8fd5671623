"""Worksheets on fractions, from the numbers of a session's own dishes: one module a kind of
question in `kinds/`, what they share beside it, and the sheet itself."""

from __future__ import annotations

from spoonfold.sheets.worksheet.sheet import PART as PART
