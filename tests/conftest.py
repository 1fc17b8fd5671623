"""A class folder to bend, for every room's tests."""

from __future__ import annotations

import os
from collections.abc import Callable, Generator, Mapping
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tiny_class import write_class

# How long an example takes is the machine's business, not the code's. The same values every time,
# so that a change is never held up by what it didn't touch; SPOONFOLD_NEW_VALUES=1 looks for more.
settings.register_profile(
    "steady",
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize=os.environ.get("SPOONFOLD_NEW_VALUES") != "1",
)
settings.load_profile("steady")

Changes = Mapping[str, "str | bytes | None"]
MakeClass = Callable[..., Path]


@pytest.fixture
def make_class(tmp_path: Path) -> MakeClass:
    """`make_class({"recipes/soup.md": text, ...})` writes the tiny class, changed, and gives its
    folder. None leaves a file of the tiny class out."""

    def make(changes: Changes | None = None) -> Path:
        return write_class(tmp_path / "class", changes)

    return make


# Where every outside tool must be there, a skipped test is a test that was lost. What the disk
# or the account can't do (tests/press, tests/read) may still be skipped.
ALL_TOOLS = os.environ.get("SPOONFOLD_ALL_TOOLS") == "1"
_MAY_SKIP = ("tests/press/", "tests/read/")


def _lost(report: pytest.TestReport | pytest.CollectReport) -> None:
    """Turns a skip into a failure where all tools are promised."""
    if ALL_TOOLS and report.skipped and not report.nodeid.startswith(_MAY_SKIP):
        report.outcome = "failed"
        report.longrepr = f"skipped although all tools were promised: {report.longrepr}"


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    report = yield
    _lost(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    report = yield
    _lost(report)
    return report
