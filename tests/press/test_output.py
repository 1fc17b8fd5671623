"""The staged output folder, through its public doors, on a real disk."""

from __future__ import annotations

import errno
import hashlib
import os
import random
import select
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
import traceback
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from spoonfold.press import lock, swap
from spoonfold.press.output import (
    Stage,
    Trouble,
    _trouble,
    commit,
    discard,
    open_stage,
    recover,
)

MODES = pytest.mark.parametrize("journal", [False, True], ids=["exchange", "journal"])
NEEDS_FORK = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system can't fork")
NOBODY = 65534
NAMES = ("index.html", "site/soup.html", "site/pictures/pan.svg", "families/list.pdf")


def stage_of(output: Path, wait_seconds: float = 0) -> Stage:
    stage = open_stage(output, wait_seconds)
    assert isinstance(stage, Stage), stage
    return stage


def build(output: Path, word: str, *, journal: bool = False) -> None:
    stage = stage_of(output)
    for name in NAMES:
        stage.write(name, content_of(word, name))
    assert commit(stage, journal=journal) is None


def content_of(word: str, name: str) -> bytes:
    return f"{word} in {name}\n".encode() * 50


def read_tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def tree_of(word: str) -> dict[str, bytes]:
    return {swap.MARKER: swap.MARKER_TEXT} | {name: content_of(word, name) for name in NAMES}


def hash_tree(tree: dict[str, bytes]) -> str:
    digest = hashlib.sha256()
    for name, data in sorted(tree.items()):
        digest.update(f"{name}\0{len(data)}\0".encode() + data)
    return digest.hexdigest()


def names_in(folder: Path) -> list[str]:
    """The names in a folder, without the lock file that Windows leaves there."""
    windows_lock = ".build-lock" if sys.platform == "win32" else None
    return sorted(entry.name for entry in folder.iterdir() if entry.name != windows_lock)


def run_in_fork(act: Callable[[], None]) -> int:
    """Run `act` in a child process; its exit code, or minus the signal that ended it."""
    child = os.fork()
    if child == 0:
        code = 1
        try:
            act()
            code = 0
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


@pytest.fixture
def output(tmp_path: Path) -> Path:
    return tmp_path / "build"


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that other accounts can reach too; pytest's own are closed to them."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        yield folder
        folder.chmod(0o755)


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


class TestRefusals:
    def test_not_ours(self, output: Path) -> None:
        """A folder with anything of someone else's is not replaced, and is told so in full."""
        output.mkdir()
        (output / "letter.txt").write_text("Dear class")
        assert open_stage(output) == Trouble(
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
        assert _trouble(error, Path("build"), swapping=swapping).code == code

    def test_failing_disk(self) -> None:
        """A failing disk is not dressed up as an expected failure."""
        with pytest.raises(OSError, match=os.strerror(errno.EIO)):
            _trouble(OSError(errno.EIO, os.strerror(errno.EIO)), Path("build"))


def code_of(result: Stage | Trouble | None) -> str | None:
    return result.code if isinstance(result, Trouble) else None


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


class TestTwoBuilds:
    def test_second_is_refused(self, output: Path) -> None:
        """While one build runs, a second is refused, and doesn't disturb it."""
        build(output, "plum")
        first = stage_of(output)
        first.write("index.html", b"first")
        assert open_stage(output) == Trouble(
            "locked",
            f"Another build is making {output} at this moment.",
            "Wait until it has finished, then try again.",
        )
        recover(output)
        assert commit(first) is None
        assert (output / "index.html").read_bytes() == b"first"

    def test_waits_no_longer_than_told(self, output: Path) -> None:
        """A second build gives up after the wait that its caller allows."""
        first = stage_of(output)
        began = time.monotonic()
        assert code_of(open_stage(output, 0.2)) == "locked"
        assert 0.15 < time.monotonic() - began < 5
        discard(first)

    def test_second_waits(self, output: Path) -> None:
        """A second build that waits starts from what the first one made."""
        script = (
            "import sys; from pathlib import Path\n"
            "from spoonfold.press.output import open_stage, commit\n"
            "stage = open_stage(Path(sys.argv[1])); stage.write('index.html', b'first')\n"
            "print('open', flush=True); sys.stdin.readline(); assert commit(stage) is None\n"
        )
        first = subprocess.Popen(
            [sys.executable, "-c", script, str(output)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert first.stdout is not None and first.stdin is not None
        assert first.stdout.readline() == "open\n"
        assert code_of(open_stage(output)) == "locked"
        threading.Timer(0.2, lambda: first.communicate("go\n")).start()
        second = stage_of(output, wait_seconds=20)
        assert (output / "index.html").read_bytes() == b"first"
        second.keep("index.html")
        assert commit(second) is None
        assert first.wait() == 0
        assert (output / "index.html").read_bytes() == b"first"
        assert names_in(output.parent) == ["build"]

    @NEEDS_FORK
    def test_crowd(self, output: Path) -> None:
        """Of many builds started together, each gets its turn and no two mix."""
        children = []
        for child in range(4):
            if (pid := os.fork()) == 0:
                code = 1
                try:
                    for turn in range(5):
                        stage = stage_of(output, wait_seconds=20)
                        kept = len(list((output / "turns").glob("*")))
                        stage.keep("turns")
                        stage.write(f"turns/{child}-{turn}", str(kept).encode())
                        assert commit(stage) is None
                    code = 0
                finally:
                    os._exit(code)
            children.append(pid)
        assert [os.waitpid(pid, 0)[1] for pid in children] == [0] * 4
        counts = sorted(int(path.read_text()) for path in (output / "turns").iterdir())
        assert counts == list(range(20))
        assert names_in(output.parent) == ["build"]

    @pytest.mark.skipif(os.name == "nt", reason="Windows leaves the lock file where it is")
    def test_lock_file_removed_while_opening(
        self, output: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """A build never holds a lock file that the build before it has already removed."""
        locking = lock._try_to_lock
        removals = [output.with_name(".build-lock")]

        def lock_late(descriptor: int) -> bool:
            while removals:
                removals.pop().unlink()
            return locking(descriptor)

        monkeypatch.setattr(lock, "_try_to_lock", lock_late)
        first = stage_of(output)
        assert code_of(open_stage(output)) == "locked"
        assert commit(first) is None

    @pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO])
    def test_lock_of_a_failed_opening(
        self, output: Path, monkeypatch: pytest.MonkeyPatch, number: int
    ) -> None:
        """An opening that fails halfway, expectedly or not, lets go of the lock."""

        def fail(*_: object) -> None:
            raise OSError(number, os.strerror(number))

        with monkeypatch.context() as patch:
            patch.setattr(swap, "write_file", fail)
            if number == errno.EIO:
                with pytest.raises(OSError, match=os.strerror(number)):
                    open_stage(output)
            else:
                assert code_of(open_stage(output)) == "disk-full"
        assert names_in(output.parent) == []
        build(output, "plum")

    @NEEDS_FORK
    def test_lock_of_the_dead(self, output: Path) -> None:
        """A killed build doesn't keep the next one out."""

        def die() -> None:
            stage_of(output).write("index.html", b"half")
            os.kill(os.getpid(), signal.SIGKILL)

        assert run_in_fork(die) == -signal.SIGKILL
        assert names_in(output.parent) == [".build-lock", ".build-staging-0001"]
        build(output, "plum")
        assert names_in(output.parent) == ["build"]


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

            code = run_in_fork(die_at_step)
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

            code = run_in_fork(die_at_step)
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
            assert open_stage(output) == Trouble(
                "read-only",
                f"Spoonfold is not allowed to write {output}.",
                "Choose another output folder, or make this one and the folder around it writable.",
            )
            recover(output)

        assert run_in_fork(try_it) == 0
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
            assert code_of(stage.trouble) == "read-only"
            stage.write("site/soup.html", b"pear")
            assert code_of(commit(stage)) == "read-only"
            assert read_tree(output) == tree_of("plum")

        assert run_in_fork(try_it) == 0

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
                assert code_of(stage.trouble) == "disk-full"
                stage.keep("site")
                assert commit(stage, journal=journal) == Trouble(
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
