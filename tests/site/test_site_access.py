"""The site in a real browser: for eyes, for ears, for the keyboard, and on the smallest screen.

Held to WCAG 2.2, levels A and AA, by axe-core; what axe can't see is measured beside it.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from site_checkers import audited, pages

from in_full import IN_FULL


@pytest.fixture(scope="module")
def report(all_sites: dict[str, Path]) -> list[dict[str, Any]]:
    """Every page of every site, in light at 1280 pixels and in dark at 320; of the demo's dishes,
    where not everything is done, the one with the longest page and the one with the shortest in
    each language."""
    files = [path for site in all_sites.values() for path in pages(site)]
    if not IN_FULL:
        for folder in all_sites["demo"].rglob("recipes"):
            dishes = sorted(folder.glob("*.html"), key=lambda path: path.stat().st_size)
            files = [path for path in files if path not in dishes[1:-1]]
    return audited(files)


def _found(report: list[dict[str, Any]], kind: str) -> list[object]:
    return [(each["file"], each[kind]) for each in report if each[kind]]


def test_axe_finds_nothing(report: list[dict[str, Any]]) -> None:
    """No violation of WCAG 2.2 A and AA and none of axe's best practices, and rules did run."""
    assert _found(report, "violations") == []
    assert all(each["axe"] > 40 for each in report)


def test_nothing_is_wider_than_the_screen(report: list[dict[str, Any]]) -> None:
    """At 320 pixels, which is 400 % of a small window, nobody scrolls sideways."""
    assert _found(report, "sideways") == []


def test_targets_are_large(report: list[dict[str, Any]]) -> None:
    """What is pressed by itself is at least 44 pixels high."""
    assert _found(report, "small") == []


def test_nothing_fails_to_load(report: list[dict[str, Any]]) -> None:
    """No message in the browser's console: nothing missing, nothing blocked by the policy."""
    assert _found(report, "broken") == []


def test_nothing_is_fetched(report: list[dict[str, Any]]) -> None:
    """The pages ask the network for nothing."""
    assert _found(report, "foreign") == []


def test_keyboard_reaches_everything(report: list[dict[str, Any]]) -> None:
    """Tab alone reaches every link and field, and the focus is always to be seen."""
    for each in report:
        keys = each["keyboard"]
        assert keys["wanted"] >= 3 and keys["reached"] == keys["wanted"], each["file"]
        assert keys["unseen"] == [], each["file"]


def test_household_switch(report: list[dict[str, Any]]) -> None:
    """Every recipe has twelve sizes; arrow keys go through all of them, and each shows its own
    amounts and no other's."""
    switches = {Path(each["file"]).name: each["switch"] for each in report if each["switch"]}
    assert "rice.html" in switches
    for name, switch in switches.items():
        assert {each["chosen"] for each in switch} == {str(n) for n in range(1, 13)}, name
        for each in switch:
            assert each["all"] > 0, name
            assert all(each["chosen"] in shown.split() for shown in each["shown"]), name
    # Twelve households, twelve lists of amounts.
    assert len({each["text"] for each in switches["busy.html"]}) == 12
