"""`spoonfold why`: every code is explained, an unknown one is guessed at."""

from __future__ import annotations

import re

import pytest
from click.testing import CliRunner

from spoonfold.check import RULES
from spoonfold.check.reasons import REASONS
from spoonfold.check.reasons.explain import explain, near_codes
from spoonfold.cli import DONE, WRONG_USE, main

SAFETY = (
    "heat-missing",
    "heat-too-low",
    "reheat-too-low",
    "no-thermometer",
    "wash-missing",
    "wash-not-noted",
    "marinade-not-sauce",
    "too-long-warm",
    "caution-missing",
    "adult-missing",
)


@pytest.mark.parametrize("code", sorted(REASONS))
def test_every_code_is_explained(code: str) -> None:
    """What is looked for, why, where that is published, and how to satisfy it: all four."""
    found = explain(code)
    assert found is not None
    for part in (found.looks_for, found.why, found.source, found.mend):
        assert part == part.strip() and "  " not in part and "\n" not in part
        assert part and "None" not in part
    assert found.looks_for[-1] == found.mend[-1] == "."


@pytest.mark.parametrize("code", [code for code in SAFETY if code != "adult-missing"])
def test_safety_rules_name_their_source(code: str) -> None:
    """A published source with its year, and where it has sections, the section."""
    found = explain(code)
    assert found is not None
    assert re.search(r"\b(19|20)[0-9]{2}\b", found.source)


def test_the_food_code_has_its_section() -> None:
    """Cooling, cooking, holding: each where it stands."""
    sections = {
        code: explain(code)
        for code in ("heat-missing", "reheat-too-low", "too-long-warm", "caution-missing")
    }
    for code, section in (
        ("heat-missing", "3-401.11"),
        ("reheat-too-low", "3-403.11"),
        ("too-long-warm", "3-501.19"),
        ("caution-missing", "3-501.14"),
    ):
        found = sections[code]
        assert found is not None and section in found.source


def test_each_safety_rule_says_how_to_satisfy_it() -> None:
    """More than that the check shows the line."""
    rules = {rule.code: rule for rule in RULES}
    assert all(
        rules[code].mend or code in ("wash-not-noted", "marinade-not-sauce") for code in SAFETY
    )


def test_the_command_prints_the_four_parts() -> None:
    """In this order, in lines that fit on a terminal."""
    result = CliRunner().invoke(main, ["why", "heat-too-low"])
    assert result.exit_code == DONE
    heads = ["What is looked for", "Why", "Source", "How to satisfy it"]
    lines = result.output.split("\n")
    assert [line for line in lines if line in heads] == heads
    assert lines[0] == "heat-too-low"
    assert max(map(len, lines)) <= 80


def test_an_unknown_code_is_guessed_at() -> None:
    """The nearest is named, and the exit code says wrong use."""
    result = CliRunner().invoke(main, ["why", "haet-too-low"])
    assert result.exit_code == WRONG_USE
    assert "Did you mean heat-too-low" in result.output
    assert near_codes("CAUTION-MISING")[0] == "caution-missing"


def test_a_code_like_no_other_says_where_codes_are() -> None:
    """No guess is better than a wild one."""
    result = CliRunner().invoke(main, ["why", "zzz"])
    assert result.exit_code == WRONG_USE
    assert "spoonfold check prints the code" in result.output
