"""What is installed: its types, its version, and the libraries that it asks for."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from email import message_from_string
from email.message import Message
from pathlib import Path
from zipfile import ZipFile

import pytest
from packaging.requirements import Requirement
from packaging.version import Version

from spoonfold import __version__

ROOT = Path(__file__).resolve().parents[2]
DEPENDENCIES = [
    Requirement(each)
    for each in tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"][
        "dependencies"
    ]
]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> ZipFile:
    there = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(there)]
    done = subprocess.run([*command, str(ROOT)], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    (made,) = there.glob("*.whl")
    return ZipFile(made)


@pytest.fixture(scope="module")
def metadata(wheel: ZipFile) -> Message:
    (name,) = (each for each in wheel.namelist() if each.endswith(".dist-info/METADATA"))
    return message_from_string(wheel.read(name).decode("utf-8"))


def test_the_wheel_has_what_is_needed_besides_code(wheel: ZipFile) -> None:
    """The mark by which type checkers believe its types (PEP 561), the guide, what changed, the
    layouts, and every licence."""
    names = set(wheel.namelist())
    assert {
        "spoonfold/py.typed",
        "spoonfold/author/guide.md",
        "spoonfold/author/changes.md",
    } <= names
    for folder, below in (("layouts", "spoonfold/layouts"), ("src/spoonfold", "spoonfold")):
        there = [each for each in (ROOT / folder).rglob("*") if each.is_file()]
        shipped = {
            f"{below}/{each.relative_to(ROOT / folder).as_posix()}"
            for each in there
            if "__pycache__" not in each.parts
        }
        assert shipped and shipped <= names
    licences = {each.rpartition("/")[2] for each in names if ".dist-info/licenses/" in each}
    fonts = {each.name for each in (ROOT / "layouts" / "fonts").glob("OFL-*.txt")}
    assert licences == {"LICENSE", *fonts}


def test_the_version_is_said_once(metadata: Message) -> None:
    """In the package; the wheel has it from there, and it is one that sorts (PEP 440)."""
    assert metadata["Version"] == __version__ == str(Version(__version__))
    written = r'^(version|__version__) *= *"'
    said = [
        path
        for path in (ROOT / "pyproject.toml", *(ROOT / "src").rglob("*.py"))
        if re.search(written, path.read_text("utf-8"), re.MULTILINE)
    ]
    assert said == [ROOT / "src" / "spoonfold" / "__init__.py"]


def test_who_made_it_is_told(metadata: Message) -> None:
    """And for whom; the builder itself refuses classifiers that there aren't."""
    assert metadata["Author"] == "Spoonfold contributors"
    assert metadata["Keywords"] and "Typing :: Typed" in metadata.get_all("Classifier", [])


@pytest.mark.parametrize("needed", DEPENDENCIES, ids=lambda needed: needed.name)
def test_each_library_is_bounded_on_both_sides(needed: Requirement) -> None:
    """By the lowest version that was tried, and before the next that wasn't."""
    operators = sorted(each.operator for each in needed.specifier)
    assert operators in (["<", ">="], ["=="]), needed


def test_the_lowest_versions_are_those_of_the_bounds() -> None:
    """Each is within its own bounds, and none lower is."""
    done = subprocess.run(
        [sys.executable, str(ROOT / "tests" / "tools" / "lowest.py")],
        capture_output=True,
        text=True,
        check=True,
    )
    lowest = [Requirement(each) for each in done.stdout.split("\n")[:-1]]
    assert [each.name for each in lowest] == [each.name for each in DEPENDENCIES]
    for pinned, needed in zip(lowest, DEPENDENCIES, strict=True):
        (version,) = (each.version for each in pinned.specifier)
        if version.endswith(".*"):
            assert pinned.specifier == needed.specifier
        else:
            assert version in needed.specifier
            assert f"{version}.dev0" not in needed.specifier
