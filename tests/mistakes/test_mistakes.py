"""What a cook is told of the mistakes that cooks make, word for word."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from written_mistakes import Mistake, all_mistakes, files_of

from spoonfold.cli import PROBLEMS, main
from tiny_class import write_class

MISTAKES = tuple(all_mistakes())
FOREIGN = re.compile(
    r"(?i:\b(?:token|pars(?:e|er|ed|ing)|dict|null|nil|scalar|mapping|node|string|integer|boolean|"
    r"syntax|regex|unicode|codepoint|byte|exception|traceback|invalid|argument|tuple|schema)s?\b)"
    r"|\bNone\b"
)
"""Words of programmers; nobody learns to cook by them."""

each = pytest.mark.parametrize(
    "mistake", MISTAKES, ids=lambda mistake: f"{mistake.where}: {mistake.title}"
)


@each
def test_the_answer(mistake: Mistake, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every word of what `spoonfold check` prints where nobody watches."""
    monkeypatch.chdir(write_class(tmp_path, files_of(mistake)))
    result = CliRunner().invoke(main, ["check"])
    assert result.output == mistake.answer
    assert result.exit_code == (PROBLEMS if ": error: " in mistake.answer else 0)


@each
def test_the_answer_is_in_a_cooks_words(mistake: Mistake) -> None:
    """Outside of her own lines, and within 80 columns."""
    said = [line for line in mistake.answer.split("\n") if not re.match(r" +\d* \| ", line)]
    assert not FOREIGN.findall("\n".join(said))
    assert all(len(line) <= 80 for line in said if "http" not in line)


def test_there_are_many_and_all_differ() -> None:
    """At least eighty mistakes, none told twice."""
    assert len({mistake.title for mistake in MISTAKES}) == len(MISTAKES) >= 80
