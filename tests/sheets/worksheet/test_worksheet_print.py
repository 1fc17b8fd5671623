"""The printed worksheet and its key, and the command that makes them."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner
from worksheet_cases import SESSIONS, demo, sheet

from demo_class import ROOT
from spoonfold.cli import main
from spoonfold.language.texts import Texts
from spoonfold.press.render import RenderContext, render_context_for
from spoonfold.sheets.worksheet.sheet import Worksheet, worksheet_pair

pytestmark = pytest.mark.slow
SHORT_SIDES, LONG_SIDES = 1, 3


@pytest.fixture(scope="module")
def context() -> RenderContext:
    return render_context_for(ROOT)


def pair(context: RenderContext, session: int, grade: int, is_long: bool) -> tuple[bytes, bytes]:
    """The children's sheet and the key."""
    folder, classroom = demo()
    found = [
        context.printed(each, context.largest(each))
        for each in worksheet_pair(
            folder, classroom, classroom.sessions[session], grade, 1, is_long, Texts("en")
        )
    ]
    assert all(isinstance(each, bytes) for each in found)
    return found[0], found[1]


def text_of(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    return "\n".join(page.get_textpage().get_text_range() for page in document)


@pytest.mark.parametrize(
    ("grade", "is_long", "sides"),
    [
        (3, True, LONG_SIDES),
        (4, False, SHORT_SIDES),
        (5, False, SHORT_SIDES),
        (6, True, LONG_SIDES),
    ],
)
def test_three_questions_fill_a_side(
    context: RenderContext, grade: int, is_long: bool, sides: int
) -> None:
    """The short form is one side and the long one three, also where the dishes are two."""
    pdf, _ = pair(context, 7, grade, is_long)
    assert len(pypdfium2.PdfDocument(pdf)) == sides


def test_sheet_and_key_are_accessible(context: RenderContext) -> None:
    """Both are PDF/UA-1 by an independent checker."""
    page = pytest.importorskip(
        "page", reason="page-validation isn't installed: pip install 'spoonfold[test]'"
    )
    for pdf in pair(context, 7, 5, True):
        report = page.validate_pdf_bytes(pdf, profile=page.ValidationProfile.PDF_UA_1)
        assert [each.rule_id for each in report.failures] == []


def test_the_childrens_sheet_gives_nothing_away(context: RenderContext) -> None:
    """Answers and worked steps stand in the key alone."""
    pdf, key = pair(context, 4, 5, True)
    assert "Answer" not in text_of(pdf)
    assert text_of(key).count("Answer:") == 9


def test_both_lie_with_the_adults(context: RenderContext) -> None:
    """Neither leaves the class's own folder."""
    folder, classroom = demo()
    for session in classroom.sessions:
        for each in worksheet_pair(folder, classroom, session, 5, 1, False, Texts("en")):
            assert all(path.startswith("class/") for path in each.paths)


@pytest.mark.parametrize("session", SESSIONS)
def test_every_form_is_three_a_side(session: int) -> None:
    """A side never has more than three questions."""
    made: Worksheet = sheet(session, 5, 1, True)
    assert len(made.questions) == LONG_SIDES * 3


class TestCommand:
    """`spoonfold worksheet`."""

    def run(self, *words: str) -> tuple[int, str]:
        result = CliRunner().invoke(main, ["worksheet", *words, "--folder", str(ROOT)])
        return result.exit_code, result.output

    def test_two_files(self, tmp_path: Path) -> None:
        """The sheet and its key, named by session and grade, the same for the same seed."""
        out = tmp_path / "out"
        code, said = self.run("5", "--grade", "4", "--seed", "3", "--out", str(out))
        assert code == 0
        names = ["session-05-worksheet-grade-4-en.pdf", "session-05-worksheet-grade-4-key-en.pdf"]
        assert sorted(path.name for path in out.iterdir()) == names
        assert said == "".join(f"Made {out / name}\n" for name in names)
        before = [(out / name).read_bytes() for name in names]
        self.run("5", "--grade", "4", "--seed", "3", "--out", str(out))
        assert [(out / name).read_bytes() for name in names] == before
        self.run("5", "--grade", "4", "--seed", "4", "--out", str(out))
        assert [(out / name).read_bytes() for name in names] != before

    def test_no_such_session(self) -> None:
        """Says which sessions there are."""
        assert self.run("9") == (2, "There is no session 9.\nThe sessions are 1 to 8.\n")

    @pytest.mark.parametrize("grade", ["2", "7"])
    def test_no_such_grade(self, grade: str) -> None:
        """Grades 3 to 6 alone."""
        assert self.run("1", "--grade", grade)[0] == 2
