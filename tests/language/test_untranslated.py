"""What isn't translated is told: once a file, and never for what is there."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from spoonfold.check import examine
from spoonfold.problem import Level, Problem

TONGUES = Path(__file__).with_name("class")
ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the class to bend."""
    return Path(shutil.copytree(TONGUES, tmp_path / "class"))


def _bend(folder: Path, name: str, old: str, new: str) -> None:
    path = folder / "content" / name
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def _told(folder: Path, code: str = "untranslated") -> list[Problem]:
    return [each for each in examine(folder).problems if each.code == code]


def test_one_hint_a_file_and_language(folder: Path) -> None:
    """Spanish lacks the dish and the word; Arabic and Vietnamese lack nothing."""
    told = _told(folder)
    assert [(each.place.path, each.level) for each in told] == [
        ("content/recipes/carrot-rice.md", Level.HINT),
        ("content/words.yaml", Level.HINT),
    ]
    assert all("“es”" in each.message for each in told)


def test_the_demo_lacks_nothing() -> None:
    """Every dish, part, word and skill of the demo class is there in Spanish."""
    assert _told(ROOT) == []


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("portion: وعاء واحد\n", "", "the portion"),
        ("جزر, مبشور", "جزر", "“grated” after carrots"),
        ("  - part: للتقديم\n", "", "the heading “To finish”"),
        ("swaps: [زبادي جوز الهند]\n", "", "the swap coconut yogurt"),
    ],
)
def test_a_missing_part_is_named(folder: Path, old: str, new: str, said: str) -> None:
    """A translation that leaves something out says what it is, in one line."""
    _bend(folder, "recipes/carrot-rice.ar.md", old, new)
    (told,) = [each for each in _told(folder) if each.place.path.endswith(".ar.md")]
    assert said in told.message


def test_swaps_are_as_many_as_the_original_s(folder: Path) -> None:
    """A swap too many would put a name beside another food."""
    _bend(folder, "recipes/carrot-rice.ar.md", "[زبادي جوز الهند]", "[زبادي جوز الهند, زيت]")
    assert [each.level for each in _told(folder, "translation-swaps")] == [Level.ERROR]


def test_table_cards_are_in_the_class_s_languages(folder: Path) -> None:
    """A language that the class doesn't have isn't quietly left out."""
    _bend(folder, "class.yaml", "table cards: [ar]", "table cards: [ar, fr]")
    (told,) = _told(folder, "table-cards-language")
    assert told.level is Level.ERROR and "“fr”" in told.message


def test_a_language_s_keys_are_checked(folder: Path) -> None:
    """A key mistyped inside a translation is told as anywhere else."""
    _bend(folder, "words.yaml", "ar: {term:", "ar: {trem:")
    assert [each.level for each in _told(folder, "unknown-key")] == [Level.ERROR]
