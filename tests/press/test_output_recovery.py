"""Builds that are killed or fail halfway: the tree found is the old or the new one, whole."""

from __future__ import annotations

import errno
import os
import random
import select
import shutil
import signal
import sys
import time
from pathlib import Path

import pytest
from output_trees import (
    MODES,
    NAMES,
    NEEDS_FORK,
    build,
    code_of,
    content_of,
    hash_tree,
    names_in,
    read_tree,
    stage_of,
    tree_of,
)

from forked import in_fork
from spoonfold.press import swap
from spoonfold.press.output import commit, open_stage, recover


def kill_before_step(step: int) -> None:
    """Have this process killed before the `step`-th time that it touches the disk from now on."""
    left = step

    def count(event: str, _: object) -> None:
        nonlocal left
        if event in ("open", "os.rename", "os.remove", "os.rmdir", "os.mkdir", "os.link"):
            left -= 1
            if left == 0:
                os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(count)


class TestRecovery:
    @NEEDS_FORK
    @MODES
    def test_killed_at_every_step(self, output: Path, journal: bool) -> None:
        """Killed before any one step on the disk, the tree is the old or the new one, whole."""
        seen = set()
        for step in range(1, 1000):
            shutil.rmtree(output, ignore_errors=True)
            build(output, "plum")

            def die_at_step(step: int = step) -> None:
                kill_before_step(step)
                build(output, "pear", journal=journal)

            code = in_fork(die_at_step)
            if not journal:
                # No recovery is needed for the tree to be whole.
                assert read_tree(output) in (tree_of("plum"), tree_of("pear"))
            elif not output.exists():
                seen.add("between")
            recover(output)
            tree = read_tree(output)
            assert tree in (tree_of("plum"), tree_of("pear")), step
            assert names_in(output.parent) == ["build"], step
            seen.add("old" if tree == tree_of("plum") else "new")
            if code == 0:
                break
            assert code == -signal.SIGKILL, step
        assert code == 0
        assert step > 15
        assert seen == {"old", "new"} | ({"between"} if journal else set())

    @NEEDS_FORK
    def test_killed_in_recovery(self, output: Path) -> None:
        """A recovery that is itself killed, at any step, is finished by the next one."""
        for step in range(1, 1000):
            shutil.rmtree(output, ignore_errors=True)
            build(output, "pear")
            # As a kill between the two renames leaves things.
            places = swap.make_staging(output)
            places.staging.rmdir()
            output.rename(places.staging)
            build(places.old, "plum")
            places.journal.touch()

            def die_at_step(step: int = step) -> None:
                kill_before_step(step)
                recover(output)

            code = in_fork(die_at_step)
            recover(output)
            assert read_tree(output) == tree_of("pear"), step
            assert names_in(output.parent) == ["build"], step
            if code == 0:
                break
        assert code == 0
        assert step > 8

    @NEEDS_FORK
    @MODES
    def test_killed_at_random(self, output: Path, journal: bool) -> None:
        """Killed at forty random moments of a run of builds, what is found is always whole."""
        chance = random.Random(20)
        word = -1
        for _ in range(40):
            reader, writer = os.pipe()
            child = os.fork()
            if child == 0:
                try:
                    for next_word in range(word + 1, word + 10_000):
                        build(output, str(next_word), journal=journal)
                        os.write(writer, f"{next_word}\n".encode())
                finally:
                    os._exit(1)
            os.close(writer)
            select.select([reader], [], [], 20)
            time.sleep(chance.uniform(0, 0.03))
            os.kill(child, signal.SIGKILL)
            assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL
            with os.fdopen(reader, "rb") as told:
                last = int(told.read().split()[-1])
            recover(output)
            found = hash_tree(read_tree(output))
            whole = {hash_tree(tree_of(str(n))): n for n in (last, last + 1)}
            assert found in whole
            word = whole[found]
            assert names_in(output.parent) == ["build"]

    def test_opening_recovers(self, output: Path) -> None:
        """Opening a stage recovers first: what is kept comes from the finished swap."""
        build(output, "pear")
        places = swap.make_staging(output)
        places.staging.rmdir()
        output.rename(places.staging)
        build(places.old, "plum")
        places.journal.touch()
        stage = stage_of(output)
        stage.keep("site")
        assert commit(stage) is None
        assert read_tree(output / "site") == {
            "soup.html": content_of("pear", NAMES[1]),
            "pictures/pan.svg": content_of("pear", NAMES[2]),
        }
        assert names_in(output.parent) == ["build"]

    def test_old_tree_comes_back(self, output: Path) -> None:
        """If the new tree is gone too, the old one gets its name back."""
        build(output, "plum")
        places = swap.make_staging(output)
        places.staging.rmdir()
        output.rename(places.old)
        places.journal.touch()
        recover(output)
        assert read_tree(output) == tree_of("plum")
        assert names_in(output.parent) == ["build"]

    def test_failed_second_rename(self, output: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """When the new tree can't get its place, the old one gets it back at once."""
        build(output, "plum")
        stage = stage_of(output)
        rename = Path.rename

        def refuse(one: Path, other: Path) -> Path:
            if "staging" in one.name:
                raise OSError(errno.EBUSY, "busy")
            return rename(one, other)

        monkeypatch.setattr(Path, "rename", refuse)
        assert code_of(commit(stage, journal=True)) == "in-use"
        assert read_tree(output) == tree_of("plum")
        assert names_in(output.parent) == ["build"]

    def test_no_rename_at_all(self, output: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """When neither tree can get the place, both stay whole for the next build."""
        build(output, "plum")
        stage = stage_of(output)
        stage.write("index.html", b"pear")
        rename = Path.rename

        def refuse(one: Path, other: Path) -> Path:
            if other == output:
                raise OSError(errno.EBUSY, "busy")
            return rename(one, other)

        with monkeypatch.context() as patch:
            patch.setattr(Path, "rename", refuse)
            assert code_of(commit(stage, journal=True)) == "in-use"
            assert code_of(open_stage(output)) == "in-use"
        assert not output.exists()
        recover(output)
        assert read_tree(output) == {swap.MARKER: swap.MARKER_TEXT, "index.html": b"pear"}
        assert names_in(output.parent) == ["build"]

    def test_leaves_strangers(self, output: Path) -> None:
        """What only looks like a leftover, or belongs to another output, is left alone."""
        names = [".build-staging-0001", ".build-staging-new", ".build2-staging-0001"]
        for name in names:
            (output.parent / name).mkdir()
            (output.parent / name / "letter.txt").touch()
        build(output, "plum")
        build(output, "pear", journal=True)
        assert names_in(output.parent) == sorted([*names, "build"])

    def test_nothing_there(self, tmp_path: Path) -> None:
        """Recovery where nothing was ever built makes nothing."""
        recover(tmp_path / "build")
        recover(tmp_path / "missing/build")
        assert names_in(tmp_path) == []
