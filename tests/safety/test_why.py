"""`spoonfold why`: every code is explained, an unknown one is guessed at."""

from __future__ import annotations

import re
import subprocess
import sys

import pytest
from click.testing import CliRunner

from spoonfold.cli import DONE, WRONG_USE, main
from spoonfold.knowledge.data import data
from spoonfold.knowledge.reasons import near_codes, reasons
from spoonfold.plan.safety import limits

REASONS = reasons()

SAFETY = ("heat-missing", "heat-too-low", "reheat-too-low", "marinade-not-sauce", "too-long-warm")


@pytest.mark.parametrize("code", sorted(REASONS))
def test_every_code_is_explained(code: str) -> None:
    """What is looked for, why, where that is published, and how to satisfy it: all four."""
    found = REASONS[code]
    for part in (found.looks_for, found.why, found.source, found.mend):
        assert part == part.strip() and "  " not in part and "\n" not in part
        assert part and "None" not in part
    assert found.looks_for[-1] == found.mend[-1] == "."


@pytest.mark.parametrize("code", SAFETY)
def test_safety_rules_name_their_source(code: str) -> None:
    """A published source with its year, and where it has sections, the section."""
    assert re.search(r"\b(19|20)[0-9]{2}\b", REASONS[code].source)


def test_the_food_code_has_its_section() -> None:
    """Cooling, cooking, holding: each where it stands."""
    for code, section in (
        ("heat-missing", "3-401.11"),
        ("reheat-too-low", "3-403.11"),
        ("too-long-warm", "3-501.19"),
    ):
        assert section in REASONS[code].source


@pytest.mark.parametrize(
    ("code", "source"),
    [("heat-too-low", limits.food_code("3-401.11")), ("too-long-warm", limits.GROUPS_SOURCE)],
    ids=str,
)
def test_a_reason_tells_of_the_edition_that_the_limits_are_from(
    code: str, source: limits.Source
) -> None:
    """The paragraphs and the numbers are of one year."""
    assert str(source) in REASONS[code].source


def test_each_safety_rule_says_how_to_satisfy_it() -> None:
    """More than that the check shows the line."""
    own = {row["code"] for row in data("reasons.json")["reasons"] if "mend" in row}
    assert set(SAFETY) - own <= {"marinade-not-sauce"}


def test_the_command_prints_the_four_parts() -> None:
    """In this order, in lines that fit on a terminal."""
    result = CliRunner().invoke(main, ["why", "heat-too-low"])
    assert result.exit_code == DONE
    heads = ["What is looked for", "Why", "Source", "How to satisfy it"]
    lines = result.output.split("\n")
    assert [line for line in lines if line in heads] == heads
    assert lines[0] == "heat-too-low"
    assert max(map(len, lines)) <= 80


@pytest.mark.parametrize("code", ["heat-too-low", "never-used", "tab"])
def test_the_reasons_are_there_where_docstrings_are_not(code: str) -> None:
    """Python leaves docstrings out where it is asked to."""
    run = [sys.executable, "-OO", "-m", "spoonfold", "why", code]
    printed = subprocess.run(run, capture_output=True, text=True, encoding="utf-8", check=True)
    assert printed.stdout == CliRunner().invoke(main, ["why", code]).output
    words = " ".join(printed.stdout.split())
    assert REASONS[code].looks_for in words and REASONS[code].why in words


def test_an_unknown_code_is_guessed_at() -> None:
    """The nearest is named, and the exit code says wrong use."""
    result = CliRunner().invoke(main, ["why", "haet-too-low"])
    assert result.exit_code == WRONG_USE
    assert "Did you mean heat-too-low" in result.output
    assert near_codes("HEAT-MISING")[0] == "heat-missing"


def test_a_code_like_no_other_says_where_codes_are() -> None:
    """No guess is better than a wild one."""
    result = CliRunner().invoke(main, ["why", "zzz"])
    assert result.exit_code == WRONG_USE
    assert "spoonfold check prints the code" in result.output
