"""The booklet on paper: a dish is one opening, nothing that keeps a child safe is left out of it,
and it can be read, copied and written on."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pypdfium2
import pytest
from generated_dishes import DISHES, write_dishes
from printed_sheets import Press, Printed, printed
from printed_sheets import squeezed as without_spaces

from drawn_letters import letters
from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.language.amounts import temperature_text
from spoonfold.language.texts import Texts, load_texts
from spoonfold.language.translated import folder_in, uses_in
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import plain
from spoonfold.press.layouts import shipped_layouts
from spoonfold.sheets.booklet import Booklet, booklet_of

pytestmark = pytest.mark.slow

MOST_PAGES = 32
"""Of nine dishes: eight sheets of paper."""
THREE_MEGABYTES = 3_000_000
FOOT = 34.0
"""Points: below it stand a page's number and running head."""
HEAD = 46.0
"""Points that the margin and the rim take above."""
QUARTER_INCH = 18.0
SMALLEST = 8.5
STEPS = 11.0
ROUNDING = 0.1
LEAST_FULL = 0.4
STRICT = "page-validation isn't installed: pip install 'spoonfold[test]'"


def squeezed(text: str) -> str:
    """Without spaces and hyphens: a hyphen at the end of a line is read as a sign of its own."""
    return without_spaces(text).replace("-", "")


class Book:
    """A printed booklet and what it was made of."""

    def __init__(self, folder: ClassFolder, values: Booklet, texts: Texts, made: Printed) -> None:
        self.folder, self.values, self.texts, self.made = folder, values, texts, made
        self.pages = [squeezed(text) for text in made.pages]
        self.document = pypdfium2.PdfDocument(made.pdf)

    def start(self, key: str) -> int:
        """The number of the page on which a dish begins: where its origin follows its title."""
        sheet = next(each for each in self.values.recipes if each.key == key)
        words = squeezed(sheet.title + sheet.origin)
        found = [number for number, text in enumerate(self.pages, 1) if words in text]
        assert len(found) == 1, key
        return found[0]

    def opening(self, key: str) -> str:
        """The text of the two pages that are seen together."""
        start = self.start(key)
        return self.pages[start - 1] + self.pages[start]

    def words(self, key: str) -> list[str]:
        """The words of each step, as a family reads them, squeezed."""
        views = next(each for each in self.values.recipes if each.key == key).steps
        steps = self.folder.recipes[key].steps
        return [
            squeezed(step.home or plain(view.text)) for step, view in zip(steps, views, strict=True)
        ]


def _demo(press: Press, demo_with: Callable[[str], Path], language: str) -> Book:
    texts = load_texts(language, shipped_layouts())
    folder, uses = press.read, press.uses
    if language != "en":
        folder = folder_in(folder, language)
        uses = uses_in(uses, folder.recipes)
    values = booklet_of(folder, press.classroom, uses, 4, texts)
    pdf = (demo_with("booklet") / f"families/booklet-{language}-4.pdf").read_bytes()
    return Book(folder, values, texts, printed(pdf))


@pytest.fixture(scope="module")
def english(demo: Press, demo_with: Callable[[str], Path]) -> Book:
    return _demo(demo, demo_with, "en")


@pytest.fixture(scope="module")
def spanish(demo: Press, demo_with: Callable[[str], Path]) -> Book:
    return _demo(demo, demo_with, "es")


@pytest.fixture(scope="module")
def generated(tmp_path_factory: pytest.TempPathFactory) -> Book:
    press = Press(write_dishes(tmp_path_factory.mktemp("dishes"), "a4"))
    return Book(press.read, press.booklet(5), press.texts, printed(press.print_booklet(5)))


@pytest.fixture(params=["english", "spanish", "generated"])
def book(request: pytest.FixtureRequest) -> Book:
    """Each of them."""
    made = request.getfixturevalue(request.param)
    assert isinstance(made, Book)
    return made


@pytest.mark.parametrize("language", ["english", "spanish"])
def test_nine_dishes_take_eight_sheets(language: str, request: pytest.FixtureRequest) -> None:
    """At most 32 pages, and at least eight of the nine dishes on one opening."""
    book = request.getfixturevalue(language)
    assert len(book.pages) <= MOST_PAGES
    assert sum(_is_one_opening(book, key) for key in book.folder.recipes) >= 8


def test_a_full_dish_is_one_opening(generated: Book) -> None:
    """Twelve steps and sixteen ingredients; and what is short, and what has parts."""
    recipe = generated.folder.recipes["full"]
    assert (len(recipe.steps), len(recipe.ingredients)) == (12, 16)
    assert {key for key in DISHES if not _is_one_opening(generated, key)} == {"long-words"}


def _is_one_opening(book: Book, key: str) -> bool:
    text = book.opening(key)
    return all(words in text for words in book.words(key))


def test_every_dish_begins_on_a_left_page(book: Book) -> None:
    """An even one; and where it needs a second opening, no page is turned while it is cooked."""
    for spread in book.values.spreads:
        key = spread.opening.sheet.key
        start = book.start(key)
        assert start % 2 == 0, key
        if _is_one_opening(book, key):
            continue
        numbers = [step.number for group in spread.opening.cooking for step in group.steps]
        pages = {
            at
            for number in numbers
            for at, text in enumerate(book.pages[start - 1 :], start)
            if book.words(key)[number - 1] in text
        }
        assert len({at // 2 for at in pages}) == 1, key


def test_nothing_that_keeps_safe_is_left_out(book: Book) -> None:
    """Each caution of a step, its temperature, what is washed and the adult's part stand behind
    its words and before those of the next step."""
    say = book.texts.say
    for key, recipe in book.folder.recipes.items():
        text = "".join(book.pages[book.start(key) - 1 :])
        at = 0
        words = book.words(key)
        for step, own, following in zip(recipe.steps, words, [*words[1:], ""], strict=True):
            begin = text.index(own, at) + len(own)
            end = text.index(following, begin) if following else begin + 300
            signs, at = text[begin:end], begin
            wanted = [say(term.text) for term in step.watch]
            wanted += [say(term.text) for term in step.wash]
            if step.heat:
                wanted.append(temperature_text(step.heat, book.texts))
            if step.adult or step.when:
                assert re.search("adult", signs, re.IGNORECASE), (key, step.number)
            for said in wanted:
                assert squeezed(said) in signs, (key, step.number, said)


def test_no_caution_is_told_twice_on_an_opening(book: Book) -> None:
    """What to do about a danger stands once, in the strip; in full it is at the end alone."""
    told = 0
    for key in book.folder.recipes:
        text = book.opening(key)
        for caution in CAUTIONS.values():
            short, full = (
                squeezed(book.texts.say(words))[1:] for words in (caution.short, caution.text)
            )
            assert text.count(short) <= 1 and full not in text, (key, caution.name)
            told += text.count(short)
    assert told >= len(book.folder.recipes) - 1


def test_every_danger_is_in_full_at_the_end(book: Book) -> None:
    """Each named caution of any dish, with its whole text, behind all dishes."""
    end = "".join(book.pages[max(map(book.start, book.folder.recipes)) + 1 :])
    for recipe in book.folder.recipes.values():
        for term in (term for step in recipe.steps for term in step.watch):
            if term.text in CAUTIONS:
                assert squeezed(book.texts.say(CAUTIONS[term.text].text)) in end, term.text


def test_amounts_are_those_of_the_household(book: Book) -> None:
    """What every step takes stands on its dish's pages, whole, or all of it together."""
    for sheet in book.values.recipes:
        text = "".join(book.pages[book.start(sheet.key) - 1 :])
        for line in sheet.lines:
            joint = line.sizes[0].joint
            assert squeezed(line.sizes[0].text + joint + line.names[0]) in text or (
                squeezed(book.texts.say("{amount} in all", amount=line.sizes[0].text)) in text
            ), (sheet.key, line.name)


def test_no_letter_is_too_small(book: Book) -> None:
    """Nothing below the size of the ring's numbers, and the steps in their own."""
    sizes = [size for _, size, _, _ in letters(book.document)]
    assert min(sizes) >= SMALLEST - ROUNDING
    start = book.start(next(iter(book.folder.recipes)))
    steps = [size for _, size, _, _ in letters([book.document[start]])]
    assert max(set(steps), key=steps.count) == pytest.approx(STEPS, abs=ROUNDING)


def test_nothing_is_near_the_edge(book: Book) -> None:
    """A quarter of an inch on every side, drawings too."""
    for page in book.document:
        picture = page.render(scale=1, grayscale=True).to_pil()
        wide, high = picture.size
        margin = int(QUARTER_INCH)
        for frame in (
            (0, 0, margin, high),
            (wide - margin, 0, wide, high),
            (0, 0, wide, margin),
            (0, high - margin, wide, high),
        ):
            assert picture.crop(frame).getextrema() == (255, 255)


def test_no_page_is_nearly_empty(book: Book) -> None:
    """Two fifths of a page are filled, but of covers, and of what is there to write on."""
    notes = squeezed(book.texts.say("Our own notes"))
    for number, page in enumerate(book.document, 1):
        marks = [frame for _, _, _, frame in letters([page]) if frame[1] > FOOT]
        if number in (1, len(book.document)) or not marks or notes in book.pages[number - 1]:
            continue
        room = page.get_height() - FOOT - HEAD
        filled = page.get_height() - HEAD - min(frame[1] for frame in marks)
        assert filled >= LEAST_FULL * room, (number, book.pages[number - 1][:60])


def test_no_heading_is_parted_from_what_it_heads(book: Book) -> None:
    """The last letters of a page are never those of a title, but where lines to write on follow."""
    notes = squeezed(book.texts.say("Our own notes"))
    for number, page in enumerate(book.document, 1):
        marks = [each for each in letters([page]) if each[3][1] > FOOT]
        if number in (1, len(book.document)) or not marks or notes in book.pages[number - 1]:
            continue
        low = min(frame[1] for _, _, _, frame in marks)
        names = {name for _, _, name, frame in marks if frame[1] < low + 6}
        assert not all("Literata" in name for name in names), number


def test_contents_name_the_page_of_every_dish(book: Book) -> None:
    """Every dish stands in the contents with the number of the page on which it begins."""
    contents = book.pages[1]
    starts = [book.start(sheet.key) for sheet in book.values.recipes]
    # Numbers stand at the right edge, so they come in a row of their own in the page's text.
    assert "".join(map(str, starts)) in contents
    for sheet in book.values.recipes:
        assert squeezed(sheet.title) in contents


def test_labels_and_safety_words_are_there(english: Book) -> None:
    """The page beside the contents says who decides about labels, heat, knives and local rules."""
    for said in (
        "Read every label, every time.",
        "An adult is there",
        "Local rules and trained people decide",
    ):
        assert squeezed(said) in english.pages[2]


def test_a_family_is_asked_to_check_nothing(book: Book) -> None:
    """What was told from memory has its sign, and is for the lead cook to look up."""
    whole = "".join(book.pages)
    assert squeezed(book.texts.say("Told from memory: please check.")) not in whole


def test_no_line_ends_inside_a_temperature(english: Book) -> None:
    """A number never stands at the end of a line with its degrees on the next."""
    seen = 0
    for page in english.document:
        text = page.get_textpage().get_text_range()
        assert not re.search(r"\d\s*\r?\n\s*°", text)
        seen += text.count("°")
    assert seen > len(english.document) / 2


def test_it_passes_the_strict_checker(book: Book) -> None:
    """PDF/UA-1 by an independent checker."""
    page = pytest.importorskip("page", reason=STRICT)
    report = page.validate_pdf_bytes(book.made.pdf, profile=page.ValidationProfile.PDF_UA_1)
    assert [f"{each.rule_id}: {each.message}" for each in report.failures] == []
    assert len(book.made.pdf) < THREE_MEGABYTES


@pytest.mark.parametrize(
    ("paper", "booklet", "card"),
    [("letter", (396, 612), (612, 792)), ("a4", (420.94, 595.28), (595.28, 841.89))],
)
def test_paper_is_that_of_the_class(
    small: Callable[..., Press], paper: str, booklet: tuple[float, float], card: tuple[float, float]
) -> None:
    """Half of letter or of A4 for the booklet, all of it for the card (A4 by ISO 216: 210 mm by
    297 mm; a half is not rounded down to A5, so that two are the sheet that is folded)."""
    press = small(paper)
    for sizes, wanted in (
        (printed(press.print_booklet(2)).sizes, booklet),
        (printed(press.print_card("rice", 2)).sizes, card),
    ):
        assert set(sizes) == {sizes[0]}
        assert sizes[0] == pytest.approx(wanted, abs=0.01)
