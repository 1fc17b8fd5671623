"""Words are found where they first stand, in any form, and nowhere that a link can't be."""

from __future__ import annotations

from dataclasses import replace

import pytest

from spoonfold.model.prose import Emphasis, Explained, Heading, Inline, Link, Paragraph, Text, plain
from spoonfold.model.teaching import Word
from spoonfold.problem import Place
from spoonfold.teach.words import Marker, marks_in

_PLACE = Place("content/recipes/rice.md", 1, 1)


def _words(*forms: str) -> dict[str, Word]:
    """Each `term/form/form`, under its term."""
    made = {}
    for each in forms:
        term, *other = each.split("/")
        made[term] = Word(term, "a meaning", None, None, tuple(other), _PLACE)
    return made


def _text(text: str) -> Text:
    return Text(text, _PLACE)


def _marked(words: dict[str, Word], *steps: tuple[Inline, ...]) -> list[tuple[str, str]]:
    """The words found in the steps, as they stand, with the name of each."""
    marker = Marker(words)
    found: list[tuple[str, str]] = []

    def walk(children: tuple[Inline, ...]) -> None:
        for child in children:
            if isinstance(child, Explained):
                found.append((plain(child.children), child.term))
            elif isinstance(child, Emphasis | Link):
                walk(child.children)

    for step in steps:
        walk(marker.inlines(step))
    return found


def test_first_mention_only_and_in_any_form() -> None:
    """A second mention stays as it is, in whatever step and form."""
    assert _marked(
        _words("simmer/simmers/simmering"), (_text("Simmering is not"),), (_text("a simmer."),)
    ) == [("Simmering", "simmer")]


def test_a_link_to_elsewhere_stays_as_it_is() -> None:
    """No link stands inside a link; one to an ingredient is none on the page."""
    step = (
        _text("Fold it like "),
        Link((_text("a simmer"),), "https://example.org/", "", _PLACE),
        _text(" and "),
        Link((_text("simmer"),), "#rice", "", _PLACE),
    )
    marked = Marker(_words("simmer")).inlines(step)
    assert marked[:3] == step[:3]
    assert marked[3] == replace(step[3], children=(Explained((_text("simmer"),), "simmer"),))


def test_texts_are_read_in_the_order_in_which_they_come() -> None:
    """A heading isn't a place for a link; the paragraph below it is, and then no step."""
    marker = Marker(_words("stew"))
    heading = Heading((_text("Stew"),))
    assert marker.prose((heading, Paragraph((_text("A stew."),)))) == (
        heading,
        Paragraph((_text("A "), Explained((_text("stew"),), "stew"), _text("."))),
    )
    step = (_text("Stew it."),)
    assert marker.inlines(step) == step


def test_only_whole_words() -> None:
    """`ice` isn't found in `rice`."""
    assert _marked(_words("ice", "dice"), (_text("Slice rice, dice it, icecold."),)) == [
        ("dice", "dice")
    ]


def test_the_longer_word_wins() -> None:
    """`stir fry` isn't an explained `fry`."""
    assert _marked(_words("fry", "stir fry"), (_text("Stir fry, then fry."),)) == [
        ("Stir fry", "stir fry"),
        ("fry", "fry"),
    ]


def test_a_word_of_two_parts_may_stand_on_two_lines() -> None:
    """A line of the file that ends within a word doesn't hide it."""
    assert _marked(_words("claw grip"), (_text("In the claw"), _text("\n"), _text("grip."))) == [
        ("claw\ngrip", "claw grip")
    ]


def test_inside_an_ingredient_s_link_but_not_inside_a_link_that_leads_out() -> None:
    """A link inside a link can't be followed."""
    inner = (_text("the zest"),)
    assert _marked(_words("zest"), (Link(inner, "#lemon", "", _PLACE),)) == [("zest", "zest")]
    assert _marked(_words("zest"), (Link(inner, "https://example.org", "", _PLACE),)) == []


def test_signs_that_patterns_are_made_of() -> None:
    """A term is words, never a pattern."""
    assert _marked(_words("a.b (c)"), (_text("axb, then a.b (c)."),)) == [("a.b (c)", "a.b (c)")]


def test_no_words_at_all() -> None:
    """Without a list of words a text is as it was."""
    step = (_text("Boil it."),)
    assert Marker({}).inlines(step) == step
    assert list(Marker({}).mentions("Boil it.")) == []


def test_a_word_in_another_language_is_named_as_in_the_list() -> None:
    """The address of an explanation is the same in every language."""
    words = {"mince": Word("picar", "x", None, None, ("pica",), _PLACE)}
    assert _marked(words, (_text("Pica el ajo."),)) == [("Pica", "mince")]


def test_marks_are_found_again_wherever_they_stand() -> None:
    """Inside stress and inside an ingredient's link too, in reading order."""
    marker = Marker(_words("fold/folding", "zest"))
    text = marker.inlines(
        (
            Emphasis((_text("Folding"),)),
            _text(" and "),
            Link((_text("the zest"),), "#lemon", "", _PLACE),
        )
    )
    assert list(marks_in(text)) == ["fold", "zest"]


PUBLISHED = (
    # Shakespeare, Macbeth, act 4, scene 1 (1623).
    (
        "Fillet of a fenny snake, In the cauldron boil and bake; For a charm of powerful trouble, "
        "Like a hell-broth boil and bubble.",
        ("boil/boils", "bake/bakes", "bubble", "broth", "rub"),
        ["boil", "bake", "broth", "boil", "bubble"],
    ),
    # Dickens, A Christmas Carol, stave 3 (1843).
    (
        "Master Peter mashed the potatoes with incredible vigour; Miss Belinda sweetened up the "
        "apple-sauce; Martha dusted the hot plates;",
        (
            "mash/mashed/mashing",
            "sweeten/sweetened",
            "sauce",
            "dust/dusts",
            "plate/plates",
            "sweet",
        ),
        ["mash", "sweeten", "sauce", "plate"],
    ),
)


@pytest.mark.parametrize(("text", "words", "found"), PUBLISHED, ids=("Macbeth", "Carol"))
def test_every_mention_in_published_texts(
    text: str, words: tuple[str, ...], found: list[str]
) -> None:
    """Listed forms are found and others aren't; what a reader counts by hand is what is found."""
    assert list(Marker(_words(*words)).mentions(text)) == found
