"""A session brings a few new words, and earlier ones come back at widening distances."""

from __future__ import annotations

import datetime
from dataclasses import replace

import pytest

from demo_class import demo_folder
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Paragraph, Text
from spoonfold.model.recipe import Recipe, Term
from spoonfold.model.teaching import Word
from spoonfold.problem import Place
from spoonfold.teach.vocabulary import MOST_BACK, MOST_NEW, SessionWords, session_words

PLACE = Place("content/recipes/rice.md", 1, 1)


@pytest.fixture(scope="module")
def season() -> ClassFolder:
    return demo_folder()


def _season(folder: ClassFolder, *dishes: str) -> tuple[SessionWords, ...]:
    """One session a dish; a dish is the words that it teaches, and after a bar those it says."""
    assert folder.classroom is not None
    base, session = next(iter(folder.recipes.values())), folder.classroom.sessions[0]
    recipes: dict[str, Recipe] = {}
    sessions = []
    words: dict[str, Word] = {}
    for number, dish in enumerate(dishes, 1):
        taught, _, said = dish.partition("|")
        key = f"dish-{number}"
        recipes[key] = replace(
            base,
            key=key,
            words=tuple(Term(each, PLACE) for each in taught.split()),
            steps=(),
            headnote=(Paragraph((Text(said, PLACE),)),),
            sections={},
        )
        sessions.append(replace(session, number=number, dishes=(Term(key, PLACE),)))
        words.update((each, Word(each, "x", None, None, (), PLACE)) for each in taught.split())
    return session_words(sessions, recipes, words)


def test_a_word_is_new_once(season: ClassFolder) -> None:
    """A later dish that teaches it again brings it back instead."""
    first, second = _season(season, "boil dice", "dice fold")
    assert first.new == ("boil", "dice") and first.again == ()
    assert second.new == ("fold",) and second.again[0] == "dice"


def test_words_come_back_after_one_two_and_four_meetings(season: ClassFolder) -> None:
    """The distance doubles each time, where nothing brings the word back sooner."""
    brought = _season(season, "boil", *[""] * 8)
    assert [each.session for each in brought if "boil" in each.again] == [2, 4, 8]


def test_too_many_new_words_wait_for_the_dish_that_teaches_them_too(season: ClassFolder) -> None:
    """Those of no other dish are never put off, however many they are."""
    first, second = _season(season, "a b c d e f", "f g")
    assert first.new == ("a", "b", "c", "d", "e")
    assert second.new == ("f", "g")
    alone, _ = _season(season, "a b c d e f g", "h")
    assert len(alone.new) == 7


def test_what_the_dish_says_comes_before_what_is_only_due(season: ClassFolder) -> None:
    """A word is practised best where it is needed."""
    _, second = _season(season, "a b c d e", "z|e a")
    assert second.again == ("a", "e", "b", "c")


def test_what_found_no_room_comes_next_time(season: ClassFolder) -> None:
    """A due word is never forgotten."""
    _, second, third = _season(season, "a b c d e", "", "")
    assert second.again == ("a", "b", "c", "d")
    assert third.again[0] == "e"


def test_the_season_of_the_invented_class(season: ClassFolder) -> None:
    """Three to five new words each time, every taught word once, and some back each time."""
    assert season.classroom is not None
    brought = session_words(season.classroom.sessions, season.recipes, season.words)
    new = [term for each in brought for term in each.new]
    assert len(new) == len(set(new))
    assert set(new) == {term.text for recipe in season.recipes.values() for term in recipe.words}
    assert all(3 <= len(each.new) <= MOST_NEW for each in brought)
    assert all(1 <= len(each.again) <= MOST_BACK for each in brought[1:])
    met: set[str] = set()
    for each in brought:
        assert set(each.again) <= met
        met.update(each.new)


def test_dates_do_not_matter(season: ClassFolder) -> None:
    """The same sessions a year later bring the same words."""
    assert season.classroom is not None
    moved = [
        replace(each, date=each.date + datetime.timedelta(days=365))
        for each in season.classroom.sessions
    ]
    assert session_words(moved, season.recipes, season.words) == session_words(
        season.classroom.sessions, season.recipes, season.words
    )
