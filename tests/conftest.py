"""A class folder to bend, for every room's tests."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Generator, Mapping
from pathlib import Path

import pytest

from in_full import load_profile
from made_once import made_once, parts_with
from small_class import write_small_class
from spoonfold.build import build
from spoonfold.problem import Level
from tiny_class import RICE, write_class

ROOT = Path(__file__).resolve().parents[1]
load_profile()

Changes = Mapping[str, "str | bytes | None"]
MakeClass = Callable[..., Path]


@pytest.fixture
def make_class(tmp_path: Path) -> MakeClass:
    """`make_class({"recipes/soup.md": text, ...})` writes the tiny class, changed, and gives its
    folder. None leaves a file of the tiny class out."""

    def make(changes: Changes | None = None) -> Path:
        return write_class(tmp_path / "class", changes)

    return make


@pytest.fixture(scope="session", autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> None:
    """What commands keep in the account's cache is kept apart, also by those in a process of their
    own."""
    os.environ["XDG_CACHE_HOME"] = str(tmp_path_factory.mktemp("cache"))


@pytest.fixture(scope="session")
def whole_class(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the small class with a second dish that no session cooks, built whole, to
    look at."""

    def make(folder: Path) -> None:
        write_small_class(folder)
        sweet = folder / "content/recipes/sweet.md"
        sweet.write_text(RICE.replace("Plain rice", "Sweet rice"), encoding="utf-8")
        outcome = build(folder, folder / "build")
        if outcome.print_failure is not None:
            pytest.skip(outcome.print_failure.message)
        assert outcome.made and outcome.problems == () and outcome.write_failure is None

    return made_once(tmp_path_factory, "small", make)


@pytest.fixture
def built_class(whole_class: Path, tmp_path: Path) -> Path:
    """A copy of it, to bend."""
    return Path(shutil.copytree(whole_class, tmp_path / "built"))


@pytest.fixture(scope="session")
def demo_with(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """`demo_with("card")` is the output of a build of the demo class without a single problem, to
    look at, in which at least this part is. A whole one that is there already may be named by
    `SPOONFOLD_DEMO_BUILD`."""

    def output(part: str) -> Path:
        if there := os.environ.get("SPOONFOLD_DEMO_BUILD"):
            return Path(there)
        parts = parts_with(part)

        def make(folder: Path) -> None:
            outcome = build(ROOT, folder / "build", parts)
            if outcome.print_failure is not None:
                pytest.skip(outcome.print_failure.message)
            # That a long dish has no book of one sheet is said, and nothing is wrong.
            wrong = [each for each in outcome.problems if each.level is not Level.HINT]
            assert outcome.made and wrong == [] and outcome.write_failure is None

        return made_once(tmp_path_factory, f"demo-{parts[0]}", make) / "build"

    return output


# Much of a build of the demo class is printing, which takes longer than all tests that don't.
_SLOW = frozenset(
    {
        *("demo_with", "whole_class", "outcome", "sheets", "small", "tiny_pack"),
        *("all_sites", "odd_sites", "tongues_site", "browser", "running"),
    }
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What needs a slow fixture is slow. Files with slow tests come first: whichever process is
    given the longest should not begin with it when the others have nothing left to do."""
    for item in items:
        if isinstance(item, pytest.Function) and not _SLOW.isdisjoint(item.fixturenames):
            item.add_marker("slow")
    slow_files = {item.path for item in items if item.get_closest_marker("slow")}
    items.sort(key=lambda item: item.path not in slow_files)


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
