"""The table for a spreadsheet: what the author wrote stays text, and amounts stay amounts."""

from __future__ import annotations

import csv
import io

import pytest

from spoonfold.press.rows import comma_separated, spreadsheet_file


def _cells(text: str) -> list[str]:
    return next(csv.reader(io.StringIO(text, newline="")))


class TestFormulas:
    """Cells that a spreadsheet would calculate (OWASP, "CSV Injection")."""

    @pytest.mark.parametrize(
        "cell",
        [
            '=HYPERLINK("https://example.org")',
            "=1+1",
            "+SUM(A1)",
            "-2+3",
            "- 3 spare",
            "@SUM(A1)",
            "\t=1+1",
            "\r=1+1",
            "\n=1+1",
            " =1+1",
            "\u00a0=1+1",
            "＝1+1",
            "＋1+1",
            "－1+1",
            "＠SUM(A1)",
            "+1,cups",
            "-oats",
        ],
    )
    def test_stay_text(self, cell: str) -> None:
        """An apostrophe before them, and nothing else, in whatever column they stand."""
        assert _cells(comma_separated([("1", cell, cell)])) == ["1", f"'{cell}", f"'{cell}"]

    @pytest.mark.parametrize(
        "cell",
        [
            "",
            "-",
            "+",
            "-1",
            "+1.50",
            "-0.60",
            "30 + 3 spare",
            "1 × 2 lb + 1 medium",
            "½ cup",
            "2027-10-02",
            "all-purpose flour",
            "salt & pepper",
            "'=1+1",
            "eggs @ 12",
            "a\n=b",
        ],
    )
    def test_the_rest_is_as_written(self, cell: str) -> None:
        """Amounts, dates, a sign alone and numbers below zero aren't touched."""
        assert _cells(comma_separated([("1", cell)])) == ["1", cell]

    def test_in_the_file(self) -> None:
        """The file has the same, behind its mark."""
        assert spreadsheet_file([("item",), ("=1+1",)]) == b"\xef\xbb\xbfitem\r\n'=1+1\r\n"
