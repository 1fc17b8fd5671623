"""What changed in each version, as it is told."""

from __future__ import annotations

import re

from click.testing import CliRunner
from packaging.version import Version

from spoonfold import __version__
from spoonfold.author.guide import changes_text, chapters_about
from spoonfold.cli import main

HEADINGS = re.findall(r"^## (.*)$", changes_text(), re.MULTILINE)


def test_the_newest_heading_is_of_this_version() -> None:
    """And says whether it is still in the works, as the version does."""
    version = Version(__version__)
    unfinished = ", not finished yet" if version.is_devrelease else ""
    assert HEADINGS[0] == f"Version {version.base_version}{unfinished}"


def test_every_other_is_a_finished_version_newest_first() -> None:
    """Each once."""
    versions = [Version(each.removeprefix("Version ")) for each in HEADINGS[1:]]
    assert versions and versions == sorted(set(versions), reverse=True)
    assert versions[0] < Version(Version(__version__).base_version)


def test_the_guide_shows_them() -> None:
    """All as one chapter, and each by its number."""
    shown = CliRunner().invoke(main, ["guide", "changes"])
    assert shown.exit_code == 0 and shown.output.startswith("Changes\n-------\n")
    for heading in HEADINGS:
        assert f"\n{heading}\n{'-' * len(heading)}\n" in shown.output
        (part,) = chapters_about(heading)
        assert part.title == heading and part.text
    assert "#" not in shown.output
