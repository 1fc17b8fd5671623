"""When it builds again, and what it does with what it finds."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from spoonfold.build import Outcome
from spoonfold.press.memo import Memo, Record
from spoonfold.preview.board import Board, Entry, Group, State, groups_of, revisions_of, told_of
from spoonfold.preview.follow import Follower, Round, settled, snapshot
from spoonfold.read.folder import read_folder
from tiny_class import RICE

MakeClass = Callable[..., Path]


class EnoughError(Exception):
    """The last round that a test waits for is over."""


def follower(folder: Path, said: Callable[[str], None] = lambda step: None) -> Follower:
    board = Board(State("class"), "begun")
    return Follower(
        folder, folder / "build", board, lambda: "10:00:00", said, pause=lambda seconds: None
    )


class TestWatch:
    def test_each_way_of_saving_is_seen(self, make_class: MakeClass) -> None:
        """Written in place, moved into place with the old time and size, taken away, added."""
        folder = make_class()
        rice = folder / "content/recipes/rice.md"
        seen = [snapshot(folder)]
        rice.write_text(RICE + "\n")
        seen.append(snapshot(folder))
        beside = folder / "beside"
        shutil.copy2(rice, beside)
        beside.replace(rice)
        seen.append(snapshot(folder))
        rice.unlink()
        seen.append(snapshot(folder))
        (folder / "layouts/pages").mkdir(parents=True)
        (folder / "layouts/pages/home.html").write_text("")
        seen.append(snapshot(folder))
        assert len(set(seen)) == len(seen)

    def test_files_that_an_editor_keeps_beside_are_not(self, make_class: MakeClass) -> None:
        """A swap file or a copy of the old text is no save."""
        folder = make_class()
        seen = snapshot(folder)
        for name in (".rice.md.swp", "rice.md~", "#rice.md#", ".#rice.md", "rice.md.tmp"):
            (folder / "content/recipes" / name).write_text("")
        assert snapshot(folder) == seen

    def test_waits_until_a_save_is_whole(self, make_class: MakeClass) -> None:
        """What is still being written is looked at again."""
        folder = make_class()
        rice = folder / "content/recipes/rice.md"
        steps = iter(
            [
                rice.unlink,
                lambda: rice.write_text("---"),
                lambda: rice.write_text(RICE + "\n"),
                lambda: None,
            ]
        )
        seen = settled(folder, lambda seconds: next(steps)() and None)
        assert rice.read_text() == RICE + "\n" and seen == snapshot(folder)
        assert next(steps, None) is None

    def test_folder_that_is_gone_is_empty(self, tmp_path: Path) -> None:
        """Taking everything away is a save like any other."""
        assert snapshot(tmp_path / "nowhere") == frozenset()


class TestRounds:
    def test_site_comes_first_and_a_save_comes_before_the_sheets(
        self, make_class: MakeClass
    ) -> None:
        """A save while sheets are printed ends the round; the next makes the new site."""
        folder = make_class()
        rice, site = folder / "content/recipes/rice.md", folder / "build/site/recipes/rice.html"
        rounds: list[Round] = []

        def said(step: str) -> None:
            if step.startswith("Printing") and not rounds:
                # The site is there to be looked at while sheets are still being printed.
                assert "Plain rice" in site.read_text()
                rice.write_text(RICE.replace("Plain rice", "Evening rice"))

        def told(done: Round) -> None:
            rounds.append(done)
            if len(rounds) == 1:
                assert not list((folder / "build").rglob("*.pdf"))
                # Refused now, so that nothing has to be printed.
                rice.write_text(RICE.replace("2 cups water", "2 cups wine"))
            else:
                raise EnoughError

        following = follower(folder, said)
        with pytest.raises(EnoughError):
            following.follow(told)
        assert [each.is_overtaken for each in rounds] == [True, False]
        assert not list(folder.glob(".build*"))

    @pytest.mark.parametrize(
        ("looked_at", "order"),
        [
            ("", [(["site"], ())]),
            ("site/recipes/rice.html", [(["site"], ())]),
            ("families/booklet-2-en.pdf", [(["site"], ())]),
            ("class/session-01/shopping-list-en.pdf", [(["shopping"], (1,)), (["site"], ())]),
        ],
    )
    def test_the_sheet_that_is_looked_at_comes_first(
        self,
        make_class: MakeClass,
        monkeypatch: pytest.MonkeyPatch,
        looked_at: str,
        order: list[tuple[list[str], tuple[int, ...]]],
    ) -> None:
        """It alone, of its session; then the site; then everything."""
        folder = make_class()
        read = read_folder(folder)
        asked: list[tuple[object, tuple[int, ...]]] = []

        def built(
            folder: Path, output: Path, only: list[str], *_: object, **rest: object
        ) -> Outcome:
            asked.append((only, rest["sessions"]))
            return Outcome([], read, 1, 1)

        monkeypatch.setattr("spoonfold.preview.follow.build", built)
        following = follower(folder)
        following.board.looked_at = looked_at
        done = following.round(snapshot(folder))
        assert asked == [*order, ([], ())]
        assert done.made == len(asked) and not done.is_overtaken

    @pytest.mark.parametrize(
        "change",
        [
            {"recipes/rice.md": "no recipe"},
            {"class.yaml": None},
            {"class.yaml": "a: [b"},
            {"recipes/rice.md": b"\xff\xfe\x00"},
            {"recipes/rice.md": None},
            {"class.yaml": ""},
        ],
    )
    def test_broken_class_is_told_and_nothing_ends(
        self, make_class: MakeClass, change: dict[str, str | bytes | None]
    ) -> None:
        """Whatever is broken or gone is a problem on the page; what was made stays."""
        folder = make_class(change)
        (folder / "build/site").mkdir(parents=True)
        (folder / "build/.made-by-spoonfold").write_text("format 1\n")
        (folder / "build/site/index.html").write_text("good")
        following = follower(folder)
        done = following.round(snapshot(folder))
        assert done.is_refused and following.board.state.told
        assert (folder / "build/site/index.html").read_text() == "good"

    def test_folder_that_vanishes_is_told(self, make_class: MakeClass) -> None:
        """Also where all of content/ is moved away for a while."""
        folder = make_class()
        shutil.rmtree(folder / "content")
        following = follower(folder)
        assert following.round(snapshot(folder)).is_refused
        assert following.board.state.told

    def test_output_that_is_not_ours_is_told(self, make_class: MakeClass) -> None:
        """Somebody's own things in build/ are left alone, and the page says so."""
        folder = make_class()
        (folder / "build").mkdir()
        (folder / "build/mine.txt").write_text("mine")
        following = follower(folder)
        done = following.round(snapshot(folder))
        assert done.outcome.write_failure is not None
        assert following.board.state.trouble == (
            done.outcome.write_failure.message,
            done.outcome.write_failure.hint,
        )
        assert (folder / "build/mine.txt").read_text() == "mine"

    def test_waits_for_a_save_or_for_another_build(self, make_class: MakeClass) -> None:
        """Somebody else's build of the folder is shown too."""
        folder = make_class()
        looks: list[float] = []

        def pause(seconds: float) -> None:
            looks.append(seconds)
            if len(looks) == 3:
                (folder / "build").mkdir()
                (folder / "build/.made-of.json").write_text("{}")

        following = follower(folder)
        following.pause = pause
        following.wait(snapshot(folder), None)
        assert len(looks) == 3


class TestPage:
    def test_problem_carries_its_line_parted_at_the_spot(self, make_class: MakeClass) -> None:
        """The page shows the source line with the word that is wrong."""
        folder = make_class({"recipes/rice.md": RICE.replace("serves: 4", "serves: many")})
        done = follower(folder).round(snapshot(folder))
        told = next(
            each
            for each in told_of(done.outcome.problems, done.outcome.read)
            if each.problem.place.line == 5
        )
        assert told.line is not None
        assert (told.line.before, told.line.spot, told.line.after) == ("serves: ", "many", "")

    def test_sheets_are_listed_by_who_they_are_for(self) -> None:
        """Families' sheets, the season's, then each session's in order; what is for adults is
        marked."""
        files = [
            "class/session-10/jobs-en.pdf",
            "class/session-02/shopping.csv",
            "class/session-02/helper-brief-en.pdf",
            "families/booklet-en-10.pdf",
            "families/booklet-en-2.pdf",
            "class/season.ics",
            "site/index.html",
        ]
        memo = Memo(files={path: Record("", "0") for path in files})
        assert groups_of(memo, ("en",)) == (
            Group(
                "For families",
                False,
                (
                    Entry("Booklet 2", "families/booklet-en-2.pdf"),
                    Entry("Booklet 10", "families/booklet-en-10.pdf"),
                ),
            ),
            Group("The whole season", True, (Entry("Season (ics)", "class/season.ics"),)),
            Group(
                "Session 2",
                True,
                (
                    Entry("Helper brief", "class/session-02/helper-brief-en.pdf"),
                    Entry("Shopping (csv)", "class/session-02/shopping.csv"),
                ),
            ),
            Group("Session 10", True, (Entry("Jobs", "class/session-10/jobs-en.pdf"),)),
        )
        assert groups_of(memo, ("en", "es"))[0].entries[0].name == "Booklet 2 (en)"

    def test_a_sheet_that_changed_is_known_by_its_mark(self) -> None:
        """All pages share one mark; a booklet beside them has its own."""

        def marks(**digests: str) -> dict[str, str]:
            return dict(
                revisions_of(
                    Memo(
                        files={
                            path: Record("", digests.get(path.split(".")[0].split("/")[-1], "0"))
                            for path in (
                                "site/index.html",
                                "site/booklets/b.pdf",
                                "families/card.pdf",
                            )
                        }
                    )
                )
            )

        assert marks(card="1")["families/card.pdf"] != marks()["families/card.pdf"]
        assert marks(card="1")["site"] == marks(b="1")["site"] == marks()["site"]
        assert marks(index="1")["site"] != marks()["site"]
        assert marks(b="1")["site/booklets/b.pdf"] != marks()["site/booklets/b.pdf"]
