"""A disk that is full, folders that may not be read or written, files that vanish, and two
builds at once: the old output stays whole, and a person is told why."""

from __future__ import annotations

import errno
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PIL import Image
from test_killed import NEW, OLD, digest, evenly

from forked import in_fork
from in_full import sampled
from spoonfold.build import build
from spoonfold.check import examine
from spoonfold.press.output import recover
from tiny_class import FILES, write_class

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not hasattr(os, "fork"), reason="this system can't fork"),
]
NOBODY = 65534

Codes = list[str]


@pytest.fixture
def open_class() -> Iterator[Path]:
    """A class with an output, in a folder that other accounts can reach; pytest's own are closed
    to them."""
    with tempfile.TemporaryDirectory() as name:
        top = Path(name)
        top.chmod(0o777)
        folder = write_class(top / "class")
        assert build(folder, folder / "build", ["site"]).made
        for path in (folder, *folder.rglob("*")):
            path.chmod(0o777 if path.is_dir() else 0o666)
        yield folder
        for path in (folder, *folder.rglob("*")):
            path.chmod(0o777)


def as_nobody(act: Callable[[], None]) -> None:
    """Does something without the rights of the account that may do everything."""

    def without_rights() -> None:
        if os.getuid() == 0:
            os.setuid(NOBODY)
        act()

    assert in_fork(without_rights) == 0


def codes(folder: Path) -> Codes:
    return [each.code for each in examine(folder).problems]


def fill_disk_after(writes: int, folder: Path, counted: list[int]) -> None:
    """Lets so many new files and folders below `folder` be made; then there is no room left."""
    top = str(folder)

    def watch(event: str, arguments: tuple[object, ...]) -> None:
        makes = event in ("os.mkdir", "os.link") or (
            event == "open" and isinstance(arguments[1], str) and set(arguments[1]) & set("wxa")
        )
        if makes and str(arguments[0]).startswith(top):
            counted[0] += 1
            if counted[0] > writes:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    sys.addaudithook(watch)


def writes_of_a_build(folder: Path, beside: Path) -> int:
    """How many new files and folders a build of a copy of the class makes."""
    copy = shutil.copytree(folder, beside / "copy")
    told = beside / "count"

    def count() -> None:
        counted = [0]
        fill_disk_after(sys.maxsize, copy, counted)
        assert build(copy, copy / "build", ["site"]).made
        told.write_text(str(counted[0]))

    assert in_fork(count) == 0
    return int(told.read_text())


def test_full_at_any_write(tmp_path: Path) -> None:
    """Wherever the disk runs full, the old output stays and nothing is left over."""
    folder = write_class(tmp_path / "class", {"recipes/rice.md": OLD})
    output = folder / "build"
    assert build(folder, output, ["site"]).made
    old = digest(output)
    write_class(folder, {"recipes/rice.md": NEW})
    writes = writes_of_a_build(folder, tmp_path)
    assert writes > 20
    for last in evenly(writes, sampled(12, writes)):

        def try_it(room: int = last - 1) -> None:
            fill_disk_after(room, folder, [0])
            trouble = build(folder, output, ["site"]).write_failure
            assert trouble is not None and trouble.code == "disk-full", trouble

        assert in_fork(try_it) == 0, last
        assert digest(output) == old
        recover(output)
        assert {each.name for each in folder.iterdir()} == {"build", "content"}, last


class TestForbidden:
    def test_class_folder_read_only(self, open_class: Path) -> None:
        """A class folder that may not be written is told, and its output stands."""
        before = digest(open_class / "build")
        write_class(open_class, {"recipes/rice.md": NEW})
        open_class.chmod(0o555)

        def try_it() -> None:
            trouble = build(open_class, open_class / "build", ["site"]).write_failure
            assert trouble is not None and trouble.code == "read-only"

        as_nobody(try_it)
        assert digest(open_class / "build") == before

    @pytest.mark.parametrize("name", sorted(FILES))
    def test_file_that_may_not_be_read(self, open_class: Path, name: str) -> None:
        """It is told of by name."""
        (open_class / "content" / name).chmod(0)

        def try_it() -> None:
            found = examine(open_class).problems
            assert ("unreadable-file", f"content/{name}") in {
                (each.code, each.place.path) for each in found
            }

        as_nobody(try_it)

    @pytest.mark.parametrize("name", ["content", "content/recipes"])
    def test_folder_that_may_not_be_read(self, open_class: Path, name: str) -> None:
        """It is told of by name: what lies in it must not seem to have been deleted."""
        (open_class / name).chmod(0)

        def try_it() -> None:
            found = examine(open_class).problems
            assert ("unreadable-file", name) in {(each.code, each.place.path) for each in found}

        as_nobody(try_it)

    def test_closed_class_folder(self, open_class: Path) -> None:
        """A class folder that may not be entered has no content, and that is no crash."""
        open_class.chmod(0)

        def try_it() -> None:
            assert codes(open_class) == ["no-class-file"]

        as_nobody(try_it)


class TestVanishing:
    @pytest.mark.parametrize("name", sorted(FILES))
    def test_just_before_it_is_read(self, tmp_path: Path, name: str) -> None:
        """A file that was listed and is gone when it is to be read is told of."""
        folder = write_class(tmp_path)

        def vanish(step: str) -> None:
            if step == f"Reading content/{name}":
                (folder / "content" / name).unlink()

        found = examine(folder, vanish).problems
        assert [each.code for each in found if each.place.path == f"content/{name}"] == [
            "unreadable-file"
        ]

    @pytest.mark.parametrize("step", ["Checking", "Making the site"])
    def test_all_of_it_after_reading(self, tmp_path: Path, step: str) -> None:
        """What was read is enough; a picture that is gone stops the build with its name."""
        folder = write_class(
            tmp_path,
            {
                "recipes/rice.md": OLD.replace(
                    "Rice as", "![A bowl](../pictures/bowl.png)\n\nRice as"
                )
            },
        )
        picture = folder / "content/pictures/bowl.png"
        picture.parent.mkdir()
        Image.new("RGB", (30, 20)).save(picture)

        def vanish(now: str) -> None:
            if now == step:
                picture.unlink()
                (folder / "content/recipes/rice.md").unlink()

        outcome = build(folder, folder / "build", ["site"], progress=vanish)
        assert [each.code for each in outcome.problems] == ["picture-unfit"]
        assert not (folder / "build").exists()


def test_two_builds_at_once(tmp_path: Path) -> None:
    """Of several builds at once each waits for the others or says so; the output is whole."""
    folder = write_class(tmp_path / "class")
    command = [
        sys.executable,
        "-m",
        "spoonfold",
        "build",
        "--only",
        "site",
        "--folder",
        str(folder),
    ]
    running = [
        subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
        for _ in range(3)
    ]
    said = [each.communicate()[0].decode() for each in running]
    for each, text in zip(running, said, strict=True):
        assert each.returncode == 0 or "Another build is making" in text, text
    assert any(each.returncode == 0 for each in running)
    whole = digest(folder / "build")
    assert build(folder, tmp_path / "alone", ["site"]).made
    assert digest(tmp_path / "alone") == whole
    assert {each.name for each in folder.iterdir()} == {"build", "content"}
