"""Nothing is made twice, and nothing that was tampered with is believed."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path

import pytest

from spoonfold.build import Outcome, build
from spoonfold.press.memo import NAME, Memo, read_memo
from spoonfold.press.pdf import Printer
from tiny_class import write_class


@pytest.fixture
def folder(built_class: Path) -> Path:
    """A class of two dishes, built."""
    return built_class


@pytest.fixture
def printed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The titles of what is printed from now on."""
    titles: list[str] = []
    real = Printer.print

    def noted(
        self: Printer, tries: Iterable[bytes], sheet: Path, pages: int | None = None
    ) -> object:
        html = list(tries)
        titles.append(html[0].decode().partition("<title>")[2].partition("</title>")[0])
        return real(self, html, sheet, pages)

    monkeypatch.setattr(Printer, "print", noted)
    return titles


def again(folder: Path, *only: str) -> Outcome:
    outcome = build(folder, folder / "build", only)
    assert outcome.write_failure is None and outcome.print_failure is None
    assert all(problem.level.value == "hint" for problem in outcome.problems)
    return outcome


class TestNothingTwice:
    def test_with_nothing_changed_nothing_is_made(self, folder: Path, printed: list[str]) -> None:
        """Neither a page nor a sheet, and the output is the very same folder."""
        before = (folder / "build").stat().st_ino
        outcome = again(folder)
        assert outcome.made == 0 and outcome.files > 0 and printed == []
        assert (folder / "build").stat().st_ino == before

    def test_after_one_edit_only_what_shows_it_is_printed(
        self, folder: Path, printed: list[str]
    ) -> None:
        """A word in one dish prints that dish's card again and not the other's."""
        recipe = folder / "content/recipes/sweet.md"
        recipe.write_text(
            recipe.read_text("utf-8").replace("every day", "on some days"), encoding="utf-8"
        )
        untouched = folder / "build/families/card-rice-en-2.pdf"
        before = untouched.stat().st_ino, untouched.read_bytes()
        outcome = again(folder)
        assert any("Sweet rice" in title for title in printed)
        assert not any("Rice with carrot" in title for title in printed)
        assert 0 < outcome.made < outcome.files / 2
        assert untouched.read_bytes() == before[1]

    def test_another_layout_makes_everything_again(self, folder: Path, printed: list[str]) -> None:
        """Each part that is asked for, whether it has to do with that layout or not."""
        own = folder / "layouts/pages/notice.html"
        own.parent.mkdir(parents=True)
        shipped = Path(__file__).resolve().parents[1] / "layouts/pages/notice.html"
        own.write_text(shipped.read_text("utf-8") + "<!-- ours -->\n", "utf-8")
        before = len(read_memo(folder / "build").files)
        assert again(folder, "card", "notice", "jobs").files == before
        assert len(printed) == 4

    def test_a_part_built_alone_does_not_vouch_for_the_rest(
        self, folder: Path, printed: list[str]
    ) -> None:
        """After an edit and `--only site`, the next whole build still prints what changed."""
        recipe = folder / "content/recipes/sweet.md"
        recipe.write_text(
            recipe.read_text("utf-8").replace("every day", "on some days"), encoding="utf-8"
        )
        again(folder, "site")
        assert printed == []
        again(folder)
        assert any("Sweet rice" in title for title in printed)


class TestTampering:
    @pytest.mark.parametrize(
        "damage", [b"{", b'{"tools": 1, "whole": 2, "files": {"a": 3}}', b"\xff\xfe", b"[" * 9999]
    )
    def test_a_damaged_memo_is_none(self, tmp_path: Path, damage: bytes) -> None:
        """It is noticed, and nothing in it is believed."""
        (tmp_path / NAME).write_bytes(damage)
        assert read_memo(tmp_path) == Memo()

    def test_a_damaged_memo_is_made_again(self, tmp_path: Path) -> None:
        """All that is asked for is made as if for the first time."""
        folder = write_class(tmp_path)
        again(folder, "site", "card")
        memo = folder / "build" / NAME
        good = memo.read_bytes()
        memo.write_bytes(b"{")
        outcome = again(folder, "site", "card")
        assert outcome.made == outcome.files
        assert memo.read_bytes() == good

    def test_a_touched_file_is_made_again(self, folder: Path, printed: list[str]) -> None:
        """A sheet that someone changed or lost comes back, and it alone."""
        card, page = folder / "build/families/card-rice-en-2.pdf", folder / "build/site/index.html"
        good = card.read_bytes(), page.read_bytes()
        card.write_bytes(b"%PDF-1.7 scribbled")
        page.unlink()
        again(folder)
        assert (card.read_bytes(), page.read_bytes()) == good
        assert len(printed) == 1 and "Rice with carrot" in printed[0]

    def test_a_memo_that_lies_about_a_file_is_not_believed(self, folder: Path) -> None:
        memo = folder / "build" / NAME
        data = json.loads(memo.read_text("utf-8"))
        data["files"]["site/index.html"][1] = "0" * 64
        memo.write_text(json.dumps(data), "utf-8")
        page = (folder / "build/site/index.html").read_bytes()
        again(folder)
        assert (folder / "build/site/index.html").read_bytes() == page
        assert json.loads(memo.read_text("utf-8"))["files"]["site/index.html"][1] != "0" * 64
