"""Taught words are found where they first stand, in any form, and nowhere that a link can't be."""

from __future__ import annotations

from spoonfold.model.prose import Emphasis, Explained, Heading, Inline, Link, Paragraph, Text
from spoonfold.model.teaching import Word
from spoonfold.problem import Place
from spoonfold.teach.words import explained

_PLACE = Place("content/recipes/rice.md", 1, 1)


def _word(term: str, *forms: str) -> Word:
    return Word(term, "a meaning", None, None, forms, _PLACE)


def _text(text: str) -> Text:
    return Text(text, _PLACE)


def _marked(words: list[Word], *steps: tuple[Inline, ...]) -> list[tuple[str, str]]:
    """The words found in the steps, as they stand, with the term of each."""
    found: list[tuple[str, str]] = []

    def walk(children: tuple[Inline, ...]) -> None:
        for child in children:
            if isinstance(child, Explained):
                (inner,) = child.children
                assert isinstance(inner, Text)
                found.append((inner.text, child.term))
            elif isinstance(child, Emphasis | Link):
                walk(child.children)

    for step in explained(words, (), steps)[1]:
        walk(step)
    return found


def test_first_mention_only_and_in_any_form() -> None:
    words = [_word("simmer", "simmers", "simmering")]
    assert _marked(words, (_text("Simmering is not"),), (_text("a simmer."),)) == [
        ("Simmering", "simmer")]


def test_headnote_is_read_before_the_steps() -> None:
    """A heading isn't a place for a link; the paragraph below it is."""
    headnote = (Heading((_text("Stew"),)), Paragraph((_text("A stew."),)))
    prose, (step,) = explained([_word("stew")], headnote, [(_text("Stew it."),)])
    assert prose[0] == headnote[0]
    assert prose[1] == Paragraph(
        (_text("A "), Explained((_text("stew"),), "stew"), _text(".")))
    assert step == (_text("Stew it."),)


def test_only_whole_words() -> None:
    assert _marked([_word("ice"), _word("dice")], (_text("Slice rice, dice it, icecold."),)) == [
        ("dice", "dice")]


def test_the_longer_word_wins() -> None:
    assert _marked([_word("fry"), _word("stir fry")], (_text("Stir fry, then fry."),)) == [
        ("Stir fry", "stir fry"), ("fry", "fry")]


def test_a_word_of_two_parts_may_stand_on_two_lines() -> None:
    assert _marked([_word("claw grip")], (_text("In the claw"), _text("\n"), _text("grip."))) == [
        ("claw\ngrip", "claw grip")]


def test_inside_an_ingredient_s_link_but_not_inside_a_link_that_leads_out() -> None:
    inner = (_text("the zest"),)
    words = [_word("zest")]
    assert _marked(words, (Link(inner, "#lemon", "", _PLACE),)) == [("zest", "zest")]
    assert _marked(words, (Link(inner, "https://example.org", "", _PLACE),)) == []


def test_signs_that_patterns_are_made_of() -> None:
    assert _marked([_word("a.b (c)")], (_text("axb, then a.b (c)."),)) == [("a.b (c)", "a.b (c)")]


def test_no_words_at_all() -> None:
    step = (_text("Boil it."),)
    assert explained([], (), [step]) == ((), (step,))
