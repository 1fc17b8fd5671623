"""Signs that print words in another order than they are written in stand in no file."""

from __future__ import annotations

import sys
import unicodedata
from pathlib import Path

import pytest

from spoonfold.check import examine
from spoonfold.read.files import odd_sign
from tiny_class import CLASS, RICE, write_class

ARABIC = Path(__file__).parents[1] / "language/class/content/recipes/carrot-rice.ar.md"

EXPLICIT = frozenset({"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"})
"""Unicode Standard Annex 9, table 4: the types of the explicit formatting characters."""
TURNING = [
    sign
    for sign in map(chr, range(sys.maxunicode + 1))
    if unicodedata.bidirectional(sign) in EXPLICIT
]


def _found(folder: Path) -> list[tuple[str, int, int, str]]:
    return [
        (each.place.path, each.place.line, each.place.column, each.code)
        for each in examine(folder).problems
    ]


@pytest.mark.parametrize("sign", TURNING, ids=unicodedata.name)
def test_each_is_refused_where_it_stands(sign: str, tmp_path: Path) -> None:
    """In the header, in the prose, and in class.yaml."""
    recipe = "content/recipes/rice.md"
    for text, line, column in (
        (RICE.replace("2 cups", f"{sign}2 cups"), 8, 5),
        (RICE.replace("every day", f"every {sign}day"), 12, 27),
    ):
        folder = write_class(tmp_path / str(line), {"recipes/rice.md": text})
        assert _found(folder) == [(recipe, line, column, "turned-text")]
    folder = write_class(tmp_path / "class", {"class.yaml": CLASS.replace("Small", f"Sm{sign}all")})
    assert _found(folder) == [("content/class.yaml", 2, 14, "turned-text")]


@pytest.mark.parametrize(
    "spelt",
    [
        *(f"\\u{ord(each):04x}" for each in TURNING),
        *(f"\\U{ord(each):08X}" for each in TURNING),
        *(f"&#{ord(each)};" for each in TURNING),
        *(f"&#X{ord(each):06x};" for each in TURNING),
    ],
)
def test_spelling_one_out_is_no_way_round(spelt: str) -> None:
    """As YAML and Markdown spell signs that aren't typed; also behind a backslash that is itself
    behind one, but not where a backslash makes plain words of it."""
    for before, column in (("salt ", 6), ("salt \\\\", 8)):
        problem = odd_sign(f"---\n{before}{spelt}", "rice.md")
        assert problem is not None and problem.code == "turned-text"
        assert (problem.place.line, problem.place.column) == (2, column)
    assert odd_sign(f"salt \\{spelt}", "rice.md") is None


def test_what_is_read_without_it_is_shown() -> None:
    """The line as it is kept, for its author to compare; of a whole paragraph nothing."""
    problem = odd_sign("- \u202e21\u202c cups &#8238;water", "rice.md")
    assert problem is not None and problem.hint.endswith("reads:\n- 21 cups water")
    problem = odd_sign("\u2067" + "rice " * 50, "rice.md")
    assert problem is not None and problem.hint.endswith("without such a sign.")


@pytest.mark.parametrize(
    "mark",
    ["", "\u200e", "\u200f", "\u061c"],
    ids=["letters alone", "from the left", "from the right", "Arabic"],
)
def test_words_from_right_to_left_are_read(mark: str) -> None:
    """Arabic as it is typed, with figures, Latin addresses, and the marks of its keyboard."""
    text = ARABIC.read_text("utf-8")
    assert odd_sign(text.replace("الماء", f"الماء{mark}"), "carrot-rice.ar.md") is None
    assert odd_sign(f"שתי{mark} כוסות מים 250", "rice.he.md") is None
