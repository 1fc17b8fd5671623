"""What may not be replaced, and what the disk forbids."""

from __future__ import annotations

import errno
import os
import shutil
import subprocess
from pathlib import Path

import pytest
from output_trees import NEEDS_FORK, NOBODY, build, code_of, names_in, read_tree, stage_of, tree_of

from forked import in_fork
from spoonfold.press import swap
from spoonfold.press.output import Stage, _failure, commit, discard, open_stage, recover
from spoonfold.problem import Failure


class TestRefusals:
    def test_not_ours(self, output: Path) -> None:
        """A folder with anything of someone else's is not replaced, and is told so in full."""
        output.mkdir()
        (output / "letter.txt").write_text("Dear class")
        assert open_stage(output) == Failure(
            "not-ours",
            f"{output} holds things that Spoonfold did not make, so it is not replaced.",
            "Choose another output folder, or move those things out of this one.",
        )
        assert read_tree(output) == {"letter.txt": b"Dear class"}
        assert names_in(output.parent) == ["build"]

    @pytest.mark.parametrize("beside", ["letter.txt", ".hidden"])
    def test_gitkeep_beside_others(self, output: Path, beside: str) -> None:
        """The file that git keeps doesn't cover for other files."""
        output.mkdir()
        (output / ".gitkeep").touch()
        (output / beside).touch()
        assert code_of(open_stage(output)) == "not-ours"

    def test_marker_must_be_a_file(self, output: Path) -> None:
        """A folder or a link with the marker's name doesn't mark anything."""
        (output / swap.MARKER).mkdir(parents=True)
        assert code_of(open_stage(output)) == "not-ours"

    def test_became_someone_elses(self, output: Path) -> None:
        """A folder that was filled while the build ran is not replaced either."""
        stage = stage_of(output)
        stage.write("index.html", b"new")
        output.mkdir()
        (output / "letter.txt").write_text("Dear class")
        assert code_of(commit(stage)) == "not-ours"
        assert read_tree(output) == {"letter.txt": b"Dear class"}
        assert names_in(output.parent) == ["build"]

    def test_file(self, output: Path) -> None:
        """A file in the place of the output folder is not replaced."""
        output.write_text("a list")
        assert code_of(open_stage(output)) == "output-is-file"
        assert code_of(open_stage(output / "deeper/build")) == "output-is-file"
        assert output.read_text() == "a list"

    @pytest.mark.parametrize("target", ["elsewhere", "nowhere"])
    def test_link(self, tmp_path: Path, output: Path, target: str) -> None:
        """A link is not replaced, wherever it leads."""
        (tmp_path / "elsewhere").mkdir()
        try:
            output.symlink_to(tmp_path / target, target_is_directory=True)
        except OSError:
            pytest.skip("this account may not make links")
        assert code_of(open_stage(output)) == "output-is-link"
        assert output.is_symlink()

    @pytest.mark.parametrize(
        ("output", "content"),
        [("class", "class"), ("class/build", "class"), ("class", "class/content")],
    )
    def test_overlap(self, tmp_path: Path, output: str, content: str) -> None:
        """The folder that is read and the output folder lie apart."""
        (tmp_path / content).mkdir(parents=True)
        trouble = open_stage(tmp_path / output, content=tmp_path / content)
        assert code_of(trouble) == "inside-content"

    def test_siblings(self, tmp_path: Path) -> None:
        """Folders whose names merely begin alike don't overlap."""
        (tmp_path / "class").mkdir()
        stage = open_stage(tmp_path / "class-build", content=tmp_path / "class")
        assert isinstance(stage, Stage)
        discard(stage)

    @pytest.mark.skipif(os.name == "nt", reason="Windows has no single root")
    def test_root(self) -> None:
        """The root of the disk is refused like any folder that isn't Spoonfold's."""
        assert code_of(open_stage(Path("/"))) == "not-ours"

    @pytest.mark.parametrize(
        ("number", "swapping", "code"),
        [
            (errno.ENOSPC, False, "disk-full"),
            (errno.EDQUOT, False, "disk-full"),
            (errno.EROFS, False, "read-only"),
            (errno.EACCES, False, "read-only"),
            (errno.EPERM, True, "in-use" if os.name == "nt" else "read-only"),
            (errno.EBUSY, True, "in-use"),
            (errno.ENOLCK, False, "cannot-lock"),
        ],
    )
    def test_failures_of_the_disk(self, number: int, swapping: bool, code: str) -> None:
        """Each expected failure of the disk has its own code."""
        error = OSError(number, os.strerror(number))
        assert _failure(error, Path("build"), swapping=swapping).code == code

    def test_failing_disk(self) -> None:
        """A failing disk is not dressed up as an expected failure."""
        with pytest.raises(OSError, match=os.strerror(errno.EIO)):
            _failure(OSError(errno.EIO, os.strerror(errno.EIO)), Path("build"))


class TestForbiddenDisk:
    @NEEDS_FORK
    def test_read_only_parent(self, open_folder: Path) -> None:
        """Where the account may not write, that is told, and the old tree stays."""
        output = open_folder / "build"
        build(output, "plum")
        open_folder.chmod(0o555)

        def try_it() -> None:
            if os.getuid() == 0:
                os.setuid(NOBODY)
            assert open_stage(output) == Failure(
                "read-only",
                f"Spoonfold is not allowed to write {output}.",
                "Choose another output folder, or make this one and the folder around it writable.",
            )
            recover(output)

        assert in_fork(try_it) == 0
        assert read_tree(output) == tree_of("plum")

    @NEEDS_FORK
    def test_becomes_read_only(self, open_folder: Path) -> None:
        """Where the right to write is lost in the middle, commit tells it and swaps nothing."""
        open_folder.chmod(0o777)

        def try_it() -> None:
            if os.getuid() == 0:
                os.setuid(NOBODY)
            output = open_folder / "build"
            build(output, "plum")
            stage = stage_of(output)
            stage.write("index.html", b"pear")
            stage.folder.chmod(0o555)
            stage.write("soup.html", b"pear")
            assert code_of(stage.failure) == "read-only"
            stage.write("site/soup.html", b"pear")
            assert code_of(commit(stage)) == "read-only"
            assert read_tree(output) == tree_of("plum")

        assert in_fork(try_it) == 0

    def test_disk_full(self, tmp_path: Path) -> None:
        """On a full disk, commit tells it, the old tree stays, and the room is given back."""
        disk = tmp_path / "disk"
        disk.mkdir()
        mount = ["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", str(disk)]
        if shutil.which("mount") is None or subprocess.run(mount, capture_output=True).returncode:
            pytest.skip("only an account that may mount can make a small disk to fill")
        try:
            output = disk / "build"
            build(output, "plum")
            for journal in (False, True):
                stage = stage_of(output)
                for number in range(5):
                    stage.write(f"sheet-{number}.pdf", bytes(100_000))
                assert code_of(stage.failure) == "disk-full"
                stage.keep("site")
                assert commit(stage, journal=journal) == Failure(
                    "disk-full",
                    f"There is no room left on the disk for {output}.",
                    "Free some space, then build again. The old folder is unchanged.",
                )
                assert read_tree(output) == tree_of("plum")
                assert names_in(disk) == ["build"]
            build(output, "pear")
            assert read_tree(output) == tree_of("pear")
        finally:
            subprocess.run(["umount", str(disk)], check=True)

    def test_mounted_output(self, tmp_path: Path) -> None:
        """An output folder that is a disk of its own can't be swapped, and that is told."""
        output = tmp_path / "build"
        output.mkdir()
        mount = ["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", str(output)]
        if shutil.which("mount") is None or subprocess.run(mount, capture_output=True).returncode:
            pytest.skip("only an account that may mount can mount a disk on the output folder")
        try:
            stage = stage_of(output)
            stage.write("index.html", b"plum")
            assert code_of(commit(stage)) == "in-use"
            assert names_in(tmp_path) == ["build"]
        finally:
            subprocess.run(["umount", str(output)], check=True)
