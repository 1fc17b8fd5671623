"""Every code that can be given has a reason, and every reason a code."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from spoonfold.check import RULES
from spoonfold.knowledge.reasons import reasons

REASONS = reasons()

PACKAGE = Path(__file__).resolve().parents[2] / "src" / "spoonfold"
ROOMS = ("quantity", "read", "plan", "check", "sheets", "press")

# The functions that make a problem or a refusal out of a code.
MAKERS = frozenset(
    ("Problem", "Refusal", "add", "refuse", "_refuse", "problem", "error", "warning", "advice")
)


def _codes() -> Iterator[tuple[str, str]]:
    """Every code in the source, with where it stands."""
    for room in ROOMS:
        for path in sorted((PACKAGE / room).rglob("*.py")):
            for node in ast.walk(ast.parse(path.read_text("utf-8"))):
                if isinstance(node, ast.Call) and _name(node.func) in MAKERS:
                    for code in _code_of(node):
                        yield code, f"{path.relative_to(PACKAGE)}:{node.lineno}"


def _name(function: ast.expr) -> str:
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def _code_of(call: ast.Call) -> list[str]:
    """The first text among the first two arguments; both where the code is chosen of two."""
    for argument in call.args[:2]:
        choices = [argument]
        if isinstance(argument, ast.IfExp):
            choices = [argument.body, argument.orelse]
        texts = [
            each.value
            for each in choices
            if isinstance(each, ast.Constant) and isinstance(each.value, str)
        ]
        if texts:
            return texts
    return []


def test_every_code_has_a_reason() -> None:
    """Whatever is complained of can be explained."""
    assert {code: where for code, where in _codes() if code not in REASONS} == {}


def test_every_reason_has_a_code() -> None:
    """Nothing is explained that is never complained of."""
    known = {code for code, _ in _codes()} | {rule.code for rule in RULES}
    assert set(REASONS) <= known


def test_every_rule_complains_under_its_own_code() -> None:
    """A rule's code stands in the source, so that its reason is the right one."""
    assert {rule.code for rule in RULES} <= {code for code, _ in _codes()}


def test_no_code_stands_twice_in_the_table() -> None:
    """Each code has one rule."""
    codes = [rule.code for rule in RULES]
    assert len(codes) == len(set(codes))


@pytest.mark.parametrize("code", sorted(REASONS))
def test_reasons_are_paragraphs(code: str) -> None:
    """A reason is one paragraph of whole sentences."""
    why = REASONS[code].why
    assert why[0].isupper() or why.startswith("class.yaml") or why[0] in "“`0123456789"
    assert why.rstrip("”")[-1] in ".?!"
    assert "\n" not in why and "  " not in why
    assert 40 <= len(why) <= 600
