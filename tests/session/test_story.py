"""The story card: everything that a dish has to tell, large, on one side."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from session_sheets import Office, Printed, failures, squeezed

from in_full import IN_FULL
from spoonfold.build import build
from spoonfold.model.prose import plain_prose
from spoonfold.model.recipe import Position
from spoonfold.press.html import rendered
from spoonfold.press.render import letters_of, sizes_to_try
from spoonfold.sheets.shared.cautions import sentence
from spoonfold.sheets.story_card import LAYOUT, ONE_SIDE, StoryCard, story_card
from tiny_class import CLASS, RICE, write_class

SESSIONS = range(1, 9)
WORDS = "simmer:\n  meaning: to cook just below boiling\n"
TOLD = RICE.replace("serves: 4\n", "serves: 4\nwords: [simmer]\n") + (
    "\n## Culture\n\nRice came by ship.†\n\n## Talk\n\n- Who eats it?\n"
)


def card_of(office: Office, number: int) -> StoryCard:
    card = story_card(office.read, office.classroom, office.session(number), office.texts)
    assert card is not None
    return card


def printed(office: Office, card: StoryCard) -> Printed:
    """Of a class that isn't the demo's."""
    return office.printed("story.html", LAYOUT.sizes, card.sides, card=card)


def usual_points(pdf: bytes) -> float:
    """The size of type in which most letters of a PDF are set."""
    counted: Counter[float] = Counter()
    for page in pypdfium2.PdfDocument(pdf):
        read = page.get_textpage()
        for index in range(read.count_chars()):
            matrix = pdfium.FS_MATRIX()
            pdfium.FPDFText_GetMatrix(read, index, matrix)
            size = pdfium.FPDFText_GetFontSize(read, index) * abs(matrix.d)
            counted[round(size, 1)] += 1
    return counted.most_common(1)[0][0]


def tiny(folder: Path, recipe: str = TOLD) -> tuple[Office, StoryCard | None]:
    """The card of the tiny class with another recipe, and the office that made it."""
    office = Office(write_class(folder, {"recipes/rice.md": recipe, "words.yaml": WORDS}))
    return office, story_card(office.read, office.classroom, office.session(1), office.texts)


@pytest.mark.slow
class TestSheet:
    """As it is printed."""

    @pytest.mark.parametrize("number", SESSIONS)
    def test_a_dish_has_one_side_in_large_type(
        self, office: Office, built: Callable[[int, str], Printed], number: int
    ) -> None:
        """One page a dish, and the smallest of the sizes isn't needed."""
        card = card_of(office, number)
        made = built(number, "story-card-en.pdf")
        assert len(made.pages) == len(card.dishes) == len(office.session(number).dishes)
        assert usual_points(made.pdf) > float(LAYOUT.sizes[-1].removesuffix("pt"))

    @pytest.mark.parametrize("number", [1, 6, 8])
    def test_everything_stands_on_it(
        self, office: Office, built: Callable[[int, str], Printed], number: int
    ) -> None:
        """Title, place, all three sections whole, words with their origins, and sources."""
        card = card_of(office, number)
        for page, dish in zip(built(number, "story-card-en.pdf").pages, card.dishes, strict=True):
            recipe = office.read.recipes[dish.key]
            assert squeezed(recipe.title) in page and squeezed(recipe.origin) in page
            for key in ("culture", "talk", "science"):
                for line in plain_prose(recipe.sections[key]).split("\n"):
                    assert squeezed(line) in page
            for word in dish.sides[0].words:
                assert squeezed(sentence(word.meaning)) in page
                assert squeezed(word.origin) in page
            assert all(squeezed(source) in page for source in recipe.sources)

    @pytest.mark.parametrize("number", [6, 8])
    def test_the_strict_checker_finds_nothing(
        self, built: Callable[[int, str], Printed], number: int
    ) -> None:
        """PDF/UA-1, the map included."""
        assert failures(built(number, "story-card-en.pdf").pdf) == []

    def test_what_was_told_from_memory_says_so(self, tmp_path: Path) -> None:
        """The sign has its line where it stands, and there alone."""
        note = squeezed("Told from memory")
        office, card = tiny(tmp_path / "marked")
        assert card is not None and note in printed(office, card).pages[0]
        office, card = tiny(tmp_path / "plain", TOLD.replace("†", ""))
        assert card is not None and note not in printed(office, card).pages[0]

    def test_a_long_dish_takes_both_sides_and_no_more(self, tmp_path: Path) -> None:
        """The place in front, the questions behind; nothing is left out."""
        long = "Rice grows in water, and in some places it does not. " * 30
        office, card = tiny(
            tmp_path, TOLD.replace("Rice came by ship.†", long) + f"\n## Science\n\n{long}\n"
        )
        assert card is not None and card.sides == 2
        front, back = printed(office, card).pages
        assert squeezed(long) in front and squeezed(long) in back
        assert squeezed("Who eats it?") in back and squeezed("just below boiling") in front
        assert squeezed("Plain rice") in front and squeezed("Plain rice") in back

    @pytest.mark.parametrize("number", SESSIONS)
    def test_no_size_that_fits_is_left_out(self, office: Office, number: int) -> None:
        """Beginning with the size that its letters allow gives what trying all of them does."""
        card = card_of(office, number)
        html = rendered(office.environment, "story.html", size=LAYOUT.sizes[0], card=card)
        tried = sizes_to_try(LAYOUT, html)
        assert letters_of(html) > 0 and tried
        left_out = LAYOUT.sizes[: len(LAYOUT.sizes) - len(tried)]
        # What doesn't fit in one size fits in no larger one.
        for size in left_out if IN_FULL else left_out[-1:]:
            assert len(office.printed("story.html", [size], card.sides, card=card).pages) > (
                card.sides
            )


class TestMap:
    """Where in the world."""

    def test_it_speaks_and_has_one_dot(self, office: Office) -> None:
        """In words for who can't see it, with a dot and no number."""
        html = rendered(
            office.environment, "story.html", size=LAYOUT.sizes[0], card=card_of(office, 6)
        ).decode()
        [drawn] = re.findall(r"<svg.*?</svg>", html, re.DOTALL)
        assert (
            "A map of the world with a dot where Turkey kofta with cucumber yogurt is from: "
            "Zahlé, Lebanon."
        ) in drawn
        assert drawn.count("<circle") == 1 and "<text" not in drawn

    def test_it_stands_at_the_place(self, office: Office) -> None:
        """As the recipe says it."""
        [dish] = card_of(office, 6).dishes
        assert dish.map is not None
        [(_, place)] = dish.map.pins
        assert (float(place.latitude), float(place.longitude)) == (33.85, 35.9)
        assert isinstance(place, Position)

    def test_nobody_knows_the_place(self, tmp_path: Path) -> None:
        """Without a place there is no map, and the rest is told."""
        office, _ = tiny(tmp_path)
        rice = replace(office.read.recipes["rice"], at=None, countries=())
        card = story_card(
            replace(office.read, recipes={"rice": rice}),
            office.classroom,
            office.session(1),
            office.texts,
        )
        assert card is not None and card.dishes[0].map is None
        assert squeezed("Rice came by ship") in printed(office, card).pages[0]


class TestDishes:
    """Which, and what of them."""

    def test_words_are_the_new_ones(self, office: Office) -> None:
        """Each new word that the dish teaches, and none that was explained before."""
        known: set[str] = set()
        for number in SESSIONS:
            here = {
                word.term for dish in card_of(office, number).dishes for word in dish.sides[0].words
            }
            assert not here & known
            known |= here
        assert {"grate", "probe", "feast"} <= known

    def test_nothing_to_tell_is_no_card(self, tmp_path: Path) -> None:
        """A dish without sections and new words has none, and so has a session without a dish."""
        office, card = tiny(tmp_path, RICE)
        assert card is None
        empty = replace(office.session(1), dishes=())
        assert story_card(office.read, office.classroom, empty, office.texts) is None

    def test_one_side_is_kept_as_long_as_it_holds(self, office: Office) -> None:
        """No dish of the demo is longer than a side."""
        for number in SESSIONS:
            for dish in card_of(office, number).dishes:
                [side] = dish.sides
                assert 0 < side.letters <= ONE_SIDE


def test_it_is_made_in_the_languages_of_the_table_cards(tmp_path: Path) -> None:
    """One a language, in the folder of the session, for the adults alone."""
    text = CLASS.replace("languages: [en]", "languages: [en, es]")
    for number, (more, made) in enumerate(
        (
            ("", ["story-card-en.pdf"]),
            ("table cards: [es]\n", ["story-card-en.pdf", "story-card-es.pdf"]),
        )
    ):
        folder = write_class(
            tmp_path / str(number),
            {"class.yaml": text + more, "recipes/rice.md": TOLD, "words.yaml": WORDS},
        )
        outcome = build(folder, folder / "build", ["story-card"])
        assert outcome.write_failure is None and outcome.print_failure is None
        found = sorted(
            path.relative_to(folder / "build").as_posix()
            for path in (folder / "build").rglob("story*")
        )
        assert found == [f"class/session-01/{name}" for name in made]
