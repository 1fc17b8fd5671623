"""The families' notice: every ingredient, no promise, and nothing of the class's own needs."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest

from demo_class import demo_folder
from made_once import handed_out
from spoonfold.build import build
from spoonfold.language.texts import Texts, load_texts
from spoonfold.language.translated import folder_in
from spoonfold.model.folder import ClassFolder
from spoonfold.press.html import environment_for, rendered
from spoonfold.press.layouts import layouts_for, shipped_layouts
from spoonfold.read.folder import read_folder
from spoonfold.sheets.notice import Notice, NoticeDish, notice_of
from tiny_class import CLASS, write_class

ROOT = Path(__file__).resolve().parents[3]
DISH = """\
---
title: Creamed rice
place: Lima, Peru
country: PE
serves: 4
ingredients:
  - 1 cup rice
  - 1 cup plain yogurt
  - 1 tsp sesame oil
  - moon dust, to taste
swaps:
  - {instead of: plain yogurt, use: "1 cup coconut yogurt", because: milk}
  - {instead of: sesame oil, use: "1 tsp sunflower oil", because: price}
---

Rice as it is eaten on Sundays.

## Steps

1. Stir the rice with plain yogurt, sesame oil and moon dust.
    - time: 3 min
"""
NEEDS = (
    "",
    "needs: [{table: 1, avoid: [milk, sesame]}]\n",
    "needs: [{table: 1, avoid: [milk]}, {avoid: [peanut], keep out of the room: yes}]\n",
)


def tiny(folder: Path, needs: str = "") -> Path:
    return write_class(
        folder,
        {
            "class.yaml": CLASS.replace("[rice]", "[dish]") + needs,
            "recipes/rice.md": None,
            "recipes/dish.md": DISH,
        },
    )


def demo() -> tuple[ClassFolder, Notice]:
    folder = demo_folder()
    assert folder.classroom is not None
    return folder, notice_of(folder, folder.classroom, Texts("en"))


@pytest.fixture(scope="module")
def pdf(demo_with: Callable[[str], Path]) -> bytes:
    """The demo's notice."""
    return (demo_with("notice") / "families" / "allergen-notice-en.pdf").read_bytes()


@pytest.fixture(scope="module")
def printed(pdf: bytes) -> str:
    """Its words, on one line."""
    document = pypdfium2.PdfDocument(pdf)
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    return " ".join(text.replace("\ufffe", "").split())


class TestTheValues:
    def test_every_ingredient_of_every_dish_is_there(self) -> None:
        """Each stands in one of three places: with something to know, with nothing known, or
        unknown; none is left out and none stands twice."""
        folder, notice = demo()
        assert {each.key for each in notice.dishes} == set(folder.recipes)
        for each in notice.dishes:
            listed = [label.name for label in (*each.flagged, *each.plain, *each.unknown)]
            wanted = {
                line.name + (" (optional)" if line.optional else "")
                for line in folder.recipes[each.key].ingredients
            }
            assert sorted(listed) == sorted(wanted)

    def test_contains_and_check_the_label_are_apart(self) -> None:
        """Tofu is soy; of rice paper only the packet tells; honey is asked for."""
        _, notice = demo()
        labels = {
            label.name: label for each in notice.dishes for label in (*each.flagged, *each.plain)
        }
        assert labels["firm tofu"].contains == ("soy",) and labels["firm tofu"].check == ()
        assert labels["rice papers"].contains == ()
        assert labels["rice papers"].check == ("gluten", "wheat")
        assert labels["honey"].kinds == ("honey",) and not labels["honey"].plain
        assert labels["ground turkey"].kinds == ("meat", "poultry")
        assert labels["soy sauce"].contains == ("gluten", "soy", "wheat")
        assert labels["carrots"].plain

    def test_an_unknown_food_stays_unknown(self, tmp_path: Path) -> None:
        """It is neither plain nor without anything."""
        folder = read_folder(tiny(tmp_path)).folder
        assert folder.classroom is not None
        (each,) = notice_of(folder, folder.classroom, Texts("en")).dishes
        assert [label.name for label in each.unknown] == ["moon dust"]
        assert "moon dust" not in [label.name for label in each.plain]
        # Whoever has the version without milk must still ask about it.
        (version,) = each.without
        assert version.what == "milk" and version.read == ("coconut yogurt", "moon dust")

    def test_only_a_whole_version_is_offered(self, tmp_path: Path) -> None:
        """With butter beside the yogurt, one swap doesn't make the dish without milk."""
        folder = tiny(tmp_path)
        path = folder / "content" / "recipes" / "dish.md"
        path.write_text(
            path.read_text("utf-8").replace("  - moon dust", "  - 1 tbsp butter\n  - moon dust"),
            encoding="utf-8",
        )
        read = read_folder(folder).folder
        assert read.classroom is not None
        (each,) = notice_of(read, read.classroom, Texts("en")).dishes
        assert each.without == ()

    def test_versions_say_what_they_bring(self) -> None:
        """The pancakes without wheat: both foods replaced, each with its own label."""
        _, notice = demo()
        (pancakes,) = (each for each in notice.dishes if each.key == "cabbage-pancakes")
        (version,) = pancakes.without
        assert [(each.instead_of, each.name) for each in version.replacements] == [
            ("all-purpose flour", "rice flour"),
            ("soy sauce", "tamari"),
        ]
        assert version.replacements[1].label.startswith("contains soy; check the label for ")
        assert "tamari" in version.read and "baking powder" in version.read

    def test_fixed_texts_say_their_language(self) -> None:
        """In a language that nobody has translated, the fixed words are English and say so."""
        folder, notice = demo()
        assert notice.fixed_language == "en" and folder.classroom is not None
        assert notice_of(folder, folder.classroom, Texts("ar")).fixed_language == "en"


class TestADraft:
    """No fluent speaker has read it: that is never left out, and no more often said than helps."""

    @staticmethod
    def shown(dishes: Callable[[tuple[NoticeDish, ...]], tuple[NoticeDish, ...]]) -> str:
        """The page of the demo's Spanish notice, with other dishes."""
        texts = load_texts("es", shipped_layouts())
        folder = folder_in(demo_folder(), "es")
        assert folder.classroom is not None
        notice = notice_of(folder, folder.classroom, texts)
        assert len(notice.dishes) > 2 and all(each.draft for each in notice.dishes)
        environment = environment_for(layouts_for(ROOT), texts)
        return rendered(
            environment,
            "notice.html",
            size="",
            notice=replace(notice, dishes=dishes(notice.dishes)),
        ).decode()

    def test_where_every_dish_is_one_the_sheet_says_so_once(self) -> None:
        """Above all else that is to be read."""
        page = self.shown(lambda dishes: dishes)
        assert page.count('class="draft"') == 1
        assert page.index('class="draft"') < page.index('class="lede"')

    def test_a_dish_that_was_read_is_told_apart(self) -> None:
        """Then each of the others bears the mark, and the sheet as a whole doesn't."""
        page = self.shown(lambda dishes: (replace(dishes[0], draft=""), *dishes[1:]))
        first, *others = page.split('<section class="dish">')[1:]
        assert 'class="draft"' not in first
        assert all(each.count('class="draft"') == 1 for each in others)
        assert page.count('class="draft"') == len(others)

    def test_where_all_were_read_nothing_is_said(self) -> None:
        """The mark goes with the last draft."""
        assert 'class="draft"' not in self.shown(
            lambda dishes: tuple(replace(each, draft="") for each in dishes)
        )


class TestThePaper:
    def test_it_says_what_decides(self, printed: str) -> None:
        """The label each time, the family's word, local rules; and there is room to answer."""
        for words in (
            "Read the label, every time.",
            "Your word decides.",
            "Local rules and trained people decide",
            "Check the label for",
            "tear off this sheet",
            "Medicine: where it is",
        ):
            assert words in printed

    def test_every_ingredient_is_printed(self, printed: str) -> None:
        """Whatever a dish is made of can be read."""
        folder, _ = demo()
        for recipe in folder.recipes.values():
            assert recipe.title in printed
            for each in recipe.ingredients:
                assert each.name.casefold() in printed.casefold(), each.name

    def test_nothing_is_promised(self, printed: str) -> None:
        """The words that only a label or a certificate may say stand in the sentence that says
        so, and nowhere else."""
        for word in ("free from", "halal", "kosher"):
            assert printed.casefold().count(word) == 1, word
        assert "-free" not in printed and "safe" not in printed.casefold()

    def test_it_is_tagged_for_who_can_t_see_it(self, pdf: bytes) -> None:
        """A strict checker finds nothing against PDF/UA-1."""
        page = pytest.importorskip(
            "page", reason="page-validation isn't installed: pip install 'spoonfold[test]'"
        )
        report = page.validate_pdf_bytes(pdf, profile=page.ValidationProfile.PDF_UA_1)
        assert [each.message for each in report.failures] == []

    def test_the_reply_takes_no_list_with_it(self, pdf: bytes) -> None:
        """Its sheet holds nothing that the family should keep, on either side."""
        pages = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]
        (reply,) = (number for number, text in enumerate(pages) if "tear off this sheet" in text)
        assert reply % 2 == 0 and reply == len(pages) - 1
        assert "Check the label for" not in pages[reply]


def tree(output: Path, *tops: str) -> dict[str, str]:
    return {
        path.relative_to(output).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for top in tops
        for path in sorted((output / top).rglob("*"))
        if path.is_file()
    }


@pytest.mark.slow
def test_needs_reach_neither_families_nor_the_world(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With other needs, or none, every byte of site/ and families/ is the same."""
    trees = []
    for number, needs in enumerate(NEEDS):
        folder = tiny(tmp_path / str(number), needs)
        # One household: others have the same sheets once more.
        path = folder / "content/class.yaml"
        path.write_text(path.read_text("utf-8").replace("[2, 4]", "[2]"), encoding="utf-8")
        # A need that no swap meets would stop the build, and here only what is printed counts.
        monkeypatch.setattr("spoonfold.build.has_errors", lambda problems: False)
        monkeypatch.setattr("spoonfold.build.stopping", lambda *given: False)
        outcome = build(folder, folder / "build", handed_out())
        if outcome.print_failure is not None:
            pytest.skip(outcome.print_failure.message)
        assert outcome.made
        trees.append(tree(folder / "build", "site", "families"))
    assert trees[0] == trees[1] == trees[2]
    assert "families/allergen-notice-en.pdf" in trees[0] and "site/ingredients.html" in trees[0]


@pytest.mark.slow
def test_only_the_notice(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`--only notice` makes it and leaves the rest; another part leaves the notice."""
    monkeypatch.setattr("spoonfold.build.has_errors", lambda problems: False)
    monkeypatch.setattr("spoonfold.build.stopping", lambda *given: False)
    folder = tiny(tmp_path)
    outcome = build(folder, folder / "build", ["notice"])
    if outcome.print_failure is not None:
        pytest.skip(outcome.print_failure.message)
    first = tree(folder / "build", "families")
    assert set(first) == {"families/allergen-notice-en.pdf"}
    assert not (folder / "build" / "site").exists()
    assert build(folder, folder / "build", ["site"]).made
    assert tree(folder / "build", "families") == first
