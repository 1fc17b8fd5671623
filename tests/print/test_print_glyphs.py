"""A letter that no font has is an error that names it, never a box or another font."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner
from printed_sheets import ROOT, Press, Printed, printed

from small_class import write_small_class
from spoonfold.build import build
from spoonfold.cli import PROBLEMS, main
from spoonfold.press.glyphs import Faces, faces_of

FONTS = sorted((ROOT / "layouts" / "fonts").glob("*.ttf"))


def test_a_missing_letter_is_named_with_its_fonts(small: Callable[..., Press]) -> None:
    """The letter, the families that were asked and the file it comes from are told."""
    missing = small(title="Rice with 炒 carrot").print_booklet(2)
    assert isinstance(missing, tuple)
    dish = [each for each in missing if each.source == "content/recipes/rice.md"]
    assert {each.letter for each in dish} == {"炒"}
    assert dish[0].fonts[:2] == ("Literata", "Andika")
    assert "炒" in dish[0].text


def test_a_build_with_a_missing_letter_changes_nothing(built_class: Path) -> None:
    """The problem stands at the line that has the letter, and the old output stays."""
    output = built_class / "build"
    before = {path: path.read_bytes() for path in output.rglob("*") if path.is_file()}
    outcome = build(write_small_class(built_class, title="Rice with 炒 carrot"), output)
    problem = next(
        each for each in outcome.problems if each.place.path == "content/recipes/rice.md"
    )
    assert problem.code == "missing-glyph"
    assert (problem.place.line, problem.place.column) == (2, 18)
    assert "炒 (U+7092)" in problem.message and "Literata" in problem.message
    assert outcome.made == 0
    assert before == {path: path.read_bytes() for path in output.rglob("*") if path.is_file()}


def test_the_command_says_so_with_exit_code_1(tmp_path: Path) -> None:
    """A cook sees the letter, its place and what to do; nothing was made."""
    folder = write_small_class(tmp_path, title="Rice with 炒 carrot")
    result = CliRunner().invoke(main, ["build", "--only", "card", "--folder", str(folder)])
    assert result.exit_code == PROBLEMS
    assert "missing-glyph" in result.output and "炒" in result.output
    assert not (folder / "build" / "families").exists()


def test_letters_of_a_strip_are_asked_too(
    small: Callable[..., Press], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is engraved on a drawn scoop is printed in bold, so a bold face must have it."""
    press = small()
    assert isinstance(press.print_card("rice", 4), bytes)
    faces = press.printer._faces.letters
    bold = {(family, True, False) for family in ("Andika", "Vazirmatn")}
    poor = {key: letters - {"×"} if key in bold else letters for key, letters in faces.items()}
    monkeypatch.setattr(press.printer, "_faces", Faces(poor))
    missing = press.print_card("rice", 4)
    assert isinstance(missing, tuple)
    assert [(each.letter, each.text) for each in missing] == [("×", "2 × 1 cup")]


@pytest.mark.parametrize("title", ["Rice\u00ad with carrot", "Rice with crème brûlée", "Phở ⅓"])
def test_letters_that_are_there_or_never_drawn_pass(
    small: Callable[..., Press], title: str
) -> None:
    """Accents, fractions and invisible hyphens are no problem."""
    printed(small(title=title).print_card("rice", 2))


def test_faces_are_told_apart() -> None:
    """A letter must be in the face that is used; a family without it sends on to the next."""
    faces = faces_of(FONTS)
    assert {key[0] for key in faces.letters} == {"Andika", "Literata", "Vazirmatn"}
    narrow_space = "\u202f"
    assert narrow_space not in faces.offered(("Literata",), True, False)
    assert narrow_space in faces.offered(("Literata", "Andika"), True, False)
    assert faces.offered(("Nowhere",), False, False) == frozenset()


def test_no_other_font_slips_in(demo_booklet: Printed) -> None:
    """The booklet holds the fonts that ship, and none of the machine's own."""
    import io

    pikepdf = pytest.importorskip("pikepdf", reason="pikepdf isn't installed")
    with pikepdf.open(io.BytesIO(demo_booklet.pdf)) as pdf:
        names = {
            str(each.FontName).split("+")[-1]
            for each in pdf.objects
            if isinstance(each, pikepdf.Dictionary) and "/FontName" in each
        }
    assert names and all(name.startswith(("Andika", "Literata")) for name in names)
