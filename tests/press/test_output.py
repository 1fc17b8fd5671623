"""The staged output folder: what is written and kept, and what comes of it."""

from __future__ import annotations

import errno
import os
import stat
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from output_trees import MODES, NAMES, build, content_of, names_in, read_tree, stage_of, tree_of

from spoonfold.press import swap
from spoonfold.press.output import commit, discard


class TestCommit:
    @MODES
    def test_first_build(self, output: Path, journal: bool) -> None:
        """A first build makes the folder, and nothing else stays beside it."""
        build(output, "plum", journal=journal)
        assert read_tree(output) == tree_of("plum")
        assert names_in(output.parent) == ["build"]

    @MODES
    def test_missing_folders_above(self, tmp_path: Path, journal: bool) -> None:
        """Folders missing above the output folder are made."""
        build(tmp_path / "a/b/build", "plum", journal=journal)
        assert read_tree(tmp_path / "a/b/build") == tree_of("plum")

    @MODES
    def test_empty_folder(self, output: Path, journal: bool) -> None:
        """An empty folder is replaced."""
        output.mkdir()
        build(output, "plum", journal=journal)
        assert read_tree(output) == tree_of("plum")
        assert names_in(output.parent) == ["build"]

    @MODES
    def test_gitkeep(self, output: Path, journal: bool) -> None:
        """A folder kept by git counts as empty, and its file is carried over at every build."""
        output.mkdir()
        (output / ".gitkeep").write_bytes(b"keep\n")
        for word in ("plum", "pear"):
            build(output, word, journal=journal)
            assert read_tree(output) == tree_of(word) | {".gitkeep": b"keep\n"}
        assert names_in(output.parent) == ["build"]

    @pytest.mark.skipif(sys.platform == "win32", reason="folders have no such permissions there")
    @MODES
    @pytest.mark.parametrize("mode", [0o700, 0o750, 0o755, 0o770, 0o2775])
    def test_permissions(self, output: Path, journal: bool, mode: int) -> None:
        """Whom the owner let into the folder, and into those inside, is let in after a build, and
        nobody else, also while it is made."""
        build(output, "plum", journal=journal)
        inside = next(each for each in sorted(output.iterdir()) if each.is_dir())
        output.chmod(mode)
        inside.chmod(0o700)
        stage = stage_of(output)
        assert stat.S_IMODE(stage.folder.stat().st_mode) == mode
        for name in NAMES:
            stage.write(name, content_of("pear", name))
        assert commit(stage, journal=journal) is None
        assert stat.S_IMODE(output.stat().st_mode) == mode
        assert stat.S_IMODE(inside.stat().st_mode) == 0o700

    @MODES
    def test_replaces_whole(self, output: Path, journal: bool) -> None:
        """A second build replaces the whole tree: what it didn't make is gone."""
        build(output, "plum", journal=journal)
        stage = stage_of(output)
        stage.write("only.html", b"only")
        assert read_tree(output) == tree_of("plum")
        assert commit(stage, journal=journal) is None
        assert read_tree(output) == {swap.MARKER: swap.MARKER_TEXT, "only.html": b"only"}
        assert names_in(output.parent) == ["build"]

    def test_exchange_is_one_step(self, tmp_path: Path) -> None:
        """Where two folders can be exchanged in one step, the output is there at every moment."""
        (tmp_path / "one").mkdir()
        (tmp_path / "two").mkdir()
        if not swap._exchange(tmp_path / "one", tmp_path / "two"):
            pytest.skip("this disk can't exchange two folders in one step")
        output = tmp_path / "build"
        build(output, "plum")
        done = threading.Event()
        missing, looks = [], 0

        def look() -> None:
            nonlocal looks
            while not done.is_set():
                looks += 1
                if not output.exists():
                    missing.append(looks)

        watcher = threading.Thread(target=look)
        watcher.start()
        for number in range(20):
            build(output, f"plum {number}")
        done.set()
        watcher.join()
        assert looks > 100
        assert missing == []

    def test_same_bytes(self, tmp_path: Path) -> None:
        """The same writes give the same bytes, marker included."""
        build(tmp_path / "one", "plum")
        build(tmp_path / "two", "plum")
        assert read_tree(tmp_path / "one") == read_tree(tmp_path / "two")

    @pytest.mark.skipif(os.name == "nt", reason="Windows has no umask to speak of")
    def test_umask(self, output: Path) -> None:
        """Files and folders get the rights that the account's umask leaves."""
        before = os.umask(0o027)
        try:
            build(output, "plum")
        finally:
            os.umask(before)
        modes = {(path.is_dir(), path.stat().st_mode & 0o777) for path in output.rglob("*")}
        assert modes | {(True, output.stat().st_mode & 0o777)} == {(True, 0o750), (False, 0o640)}

    def test_finished(self, output: Path) -> None:
        """A finished stage takes nothing more."""
        stage = stage_of(output)
        commit(stage)
        with pytest.raises(ValueError, match="finished"):
            stage.write("late.html", b"")
        with pytest.raises(ValueError, match="finished"):
            stage.keep("late.html")
        with pytest.raises(ValueError, match="finished"):
            commit(stage)
        discard(stage)
        assert read_tree(output) == {swap.MARKER: swap.MARKER_TEXT}


class TestDiscard:
    def test_old_tree_stays(self, output: Path) -> None:
        """A discarded stage leaves the old tree, nothing beside it, and the lock free."""
        build(output, "plum")
        stage = stage_of(output)
        stage.write("index.html", b"half")
        discard(stage)
        discard(stage)
        assert read_tree(output) == tree_of("plum")
        assert names_in(output.parent) == ["build"]
        build(output, "pear")

    def test_no_old_tree(self, output: Path) -> None:
        """A discarded first stage leaves no output folder."""
        discard(stage_of(output))
        assert names_in(output.parent) == []


class TestWrite:
    @pytest.mark.parametrize(
        "relative",
        [
            *("", ".", "..", "../out", "site/../../out", "/out", "site//out", "site/", "./out"),
            *("site\\out", "..\\out", "C:/out", "out:stream", "out\0", swap.MARKER),
        ],
    )
    def test_climbs_out(self, output: Path, relative: str) -> None:
        """A path that isn't plainly inside the tree is a bug in the caller."""
        stage = stage_of(output)
        with pytest.raises(ValueError, match=r"output folder|marker"):
            stage.write(relative, b"")
        with pytest.raises(ValueError, match=r"output folder|marker"):
            stage.keep(relative)
        discard(stage)
        assert names_in(output.parent) == []

    def test_twice(self, output: Path) -> None:
        """The last of two writes to one path counts."""
        stage = stage_of(output)
        stage.write("site/a.html", b"a long first")
        stage.write("site/a.html", b"second")
        assert commit(stage) is None
        assert (output / "site/a.html").read_bytes() == b"second"


class TestKeep:
    @pytest.fixture(params=["links", "copies"])
    def old(self, output: Path, request: pytest.FixtureRequest) -> Iterator[Path]:
        """An output folder to carry from, on a disk with hard links and on one without."""
        build(output, "plum")
        with pytest.MonkeyPatch.context() as patch:
            if request.param == "copies":

                def refuse(*_: object) -> None:
                    raise OSError(errno.EPERM, "no hard links here")

                patch.setattr(Path, "hardlink_to", refuse)
            yield output

    @MODES
    def test_carries_over(self, old: Path, journal: bool) -> None:
        """Kept files and folders come out as they were, beside what was made."""
        stage = stage_of(old)
        stage.keep("site")
        stage.keep("index.html")
        stage.keep("never-made")
        stage.write("families/list.pdf", b"new")
        assert commit(stage, journal=journal) is None
        assert read_tree(old) == tree_of("plum") | {"families/list.pdf": b"new"}

    def test_made_wins(self, old: Path) -> None:
        """What a stage has made stays, whether it is made before or after the keeping."""
        stage = stage_of(old)
        stage.write("site/soup.html", b"made before")
        stage.keep("site")
        stage.keep("index.html")
        stage.write("index.html", b"made after")
        assert read_tree(old) == tree_of("plum")
        assert commit(stage) is None
        assert (old / "site/soup.html").read_bytes() == b"made before"
        assert (old / "index.html").read_bytes() == b"made after"
        assert (old / "site/pictures/pan.svg").read_bytes() == content_of("plum", NAMES[2])

    def test_discarded(self, old: Path) -> None:
        """Writing over a kept file never reaches the old tree."""
        stage = stage_of(old)
        stage.keep("index.html")
        stage.write("index.html", b"made after")
        discard(stage)
        assert read_tree(old) == tree_of("plum")

    def test_links_are_left(self, tmp_path: Path, output: Path) -> None:
        """A link that someone put into the output folder is not followed out of it."""
        build(output, "plum")
        (tmp_path / "diary").mkdir()
        (tmp_path / "diary/page.txt").write_text("private")
        try:
            (output / "diary").symlink_to(tmp_path / "diary", target_is_directory=True)
        except OSError:
            pytest.skip("this account may not make links")
        (output / "site/page.txt").symlink_to(tmp_path / "diary/page.txt")
        stage = stage_of(output)
        stage.keep("diary")
        stage.keep("diary/page.txt")
        stage.keep("site/page.txt")
        stage.keep("site/pictures")
        assert commit(stage) is None
        assert sorted(read_tree(output)) == [swap.MARKER, NAMES[2]]
        (output / "site/page.txt").symlink_to(tmp_path / "diary/page.txt")
        stage = stage_of(output)
        stage.keep("site")
        assert commit(stage) is None
        assert sorted(read_tree(output)) == [swap.MARKER, NAMES[2]]
        assert (tmp_path / "diary/page.txt").read_text() == "private"

    def test_first_build(self, output: Path) -> None:
        """With nothing to keep, keeping does nothing."""
        stage = stage_of(output)
        stage.keep("site")
        assert commit(stage) is None
        assert names_in(output) == [swap.MARKER]
