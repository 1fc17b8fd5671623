"""The table card on paper: one side in large type, nothing that keeps a child safe left out."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pypdfium2
import pytest
from generated_dishes import DISHES
from printed_sheets import squeezed

from drawn_letters import letters
from small_class import CLASS
from spoonfold.build import build
from spoonfold.check import Examined, examine
from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.language.amounts import temperature_text
from spoonfold.language.texts import Texts, load_texts
from spoonfold.language.translated import folder_in, uses_in
from spoonfold.model.prose import plain
from spoonfold.model.recipe import Step
from spoonfold.plan.people.jobs import jobs_of
from spoonfold.plan.safety.dish import dishes_at
from spoonfold.press.layouts import shipped_layouts
from spoonfold.sheets.table_cards import TableCard, table_cards_of
from spoonfold.sheets.table_cards.front import FrontStep

pytestmark = pytest.mark.slow

SMALLEST = 14.0
"""Points: what a child reads at arm's length."""
ROUNDING = 0.1
QUARTER_INCH = 18
STRICT = "page-validation isn't installed: pip install 'spoonfold[test]'"

_STEPS = (
    ("Dice the onion.", "needs: knife, board", "hands: 2", "after: none"),
    ("Slice the carrots into rounds.", "needs: knife, board", "after: none"),
    ("Rinse the red lentils.", "needs: mixing bowl", "after: none"),
    ("Chop the parsley.", "needs: knife, board", "after: none"),
    ("Grate the ginger.", "needs: grater, board", "after: none"),
    ("Squeeze the lemon.", "needs: knife, board, mixing bowl", "after: none"),
    ("Mince the garlic.", "needs: knife, board", "after: none"),
    ("Warm the olive oil in the pot.", "needs: burner, pot", "adult: stays at the burner"),
    ("Add the onion, carrots, garlic and ginger and stir.", "needs: burner, pot"),
    (
        "Add the lentils, water and salt. Simmer until the lentils are soft.",
        "wait: 20 min",
        "needs: burner, pot",
        "card: Add lentils, water, salt. Simmer until soft.",
    ),
    ("Stir in the lemon juice.", "needs: wooden spoon"),
    ("Stir in the parsley.", "needs: wooden spoon"),
    ("Taste it.", "needs: wooden spoon"),
    ("Carry the bowls to the table.", "needs: table"),
    ("Wipe the table.", "needs: table"),
    ("Ladle it into bowls.", "needs: ladle", "adult: ladles the soup"),
)
"""As many as a dish may have here; fewer are its first ones."""
_FOODS = (
    "1 large onion, diced",
    "2 medium carrots, sliced",
    "3/4 cup red lentils, rinsed",
    "1/2 cup parsley, chopped",
    "1 tbsp ginger, grated",
    "1 lemon, juiced",
    "2 cloves garlic, minced",
    "2 tbsp olive oil",
    "2 cups water",
    "1 tsp salt",
)
_NEEDED_FROM = (1, 2, 3, 4, 5, 6, 7, 8, 10, 10)
"""The step that takes each food."""


def _dish(steps: int) -> str:
    foods = [
        food for food, first in zip(_FOODS, _NEEDED_FROM, strict=True) if first <= min(steps, 16)
    ]
    lines = ["---", "title: Lentils of the day", "serves: 4", "ingredients:"]
    lines += [*(f"  - {food}" for food in foods), "---", "", "## Steps", ""]
    for number, (words, *notes) in enumerate(_STEPS[:steps], 1):
        lines += [f"{number}. {words}", "    - time: 2 min", *(f"    - {note}" for note in notes)]
    return "\n".join([*lines, ""])


_EQUIPMENT = (
    "{burner: 2, pot: 2, knife: 8, board: 8, mixing bowl: 6, grater: 2, wooden spoon: 3, "
    "ladle: 1, thermometer: 1, table: 2, sink: 1, skillet: 2, oven shelf: 1, baking pan: 2}"
)


def _write(folder: Path, tables: str, dishes: dict[str, str], minutes: int = 100) -> Path:
    sessions = f"  - {{dishes: [{', '.join(dishes)}]}}\n"
    text = CLASS.replace("PAPER", "letter").replace("tables: [4]", f"tables: {tables}")
    text = text.replace("minutes: 60", f"minutes: {minutes}")
    text = re.sub(r"equipment: .*", f"equipment: {_EQUIPMENT}", text)
    text = text.replace("  - {dishes: [rice]}\n", sessions)
    files = {"class.yaml": text, **{f"recipes/{key}.md": recipe for key, recipe in dishes.items()}}
    for name, content in files.items():
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content, encoding="utf-8")
    return folder


class Deck:
    """The printed cards of one session, and what they were made of."""

    def __init__(self, examined: Examined, pdf: bytes, session: int, language: str) -> None:
        folder = folder_in(examined.facts.folder, language)
        assert folder.classroom is not None
        self.texts: Texts = load_texts(language, shipped_layouts())
        self.session = folder.classroom.sessions[session - 1]
        self.folder = folder
        self.uses = uses_in(examined.facts.uses, folder.recipes)
        clocks = {each.session.number: each for each in examined.facts.clocks}
        self.cards = table_cards_of(
            folder,
            folder.classroom,
            self.uses,
            self.session,
            jobs_of(folder.classroom, folder.recipes, clocks.values()),
            self.texts,
            clocks.get(session),
        ).cards
        self.pdf = pdf
        self.document = pypdfium2.PdfDocument(pdf)
        self.pages = [
            squeezed(page.get_textpage().get_text_range()).replace("-", "")
            for page in self.document
        ]

    def own(self) -> Iterator[tuple[TableCard, list[str]]]:
        """Each card with the text of its sides: every card has a sheet of its own."""
        at = 0
        for card in self.cards:
            sides = len(card.fitted.sides)
            yield card, self.pages[at : at + sides]
            at += sides + sides % 2

    def dish_steps(self, card: TableCard) -> dict[int, Step]:
        """What the card's table really cooks."""
        recipe = self.folder.recipes[card.dish]
        if card.table is None:
            return {step.number: step for step in recipe.steps}
        dishes = dishes_at(
            recipe,
            self.uses[card.dish],
            self.folder.pantry,
            self.session.setting,
            self.texts.language,
        )
        return {step.number: step for step in dishes[card.table - 1].recipe.steps}


def _steps(card: TableCard, side: int) -> Iterator[FrontStep]:
    for band in card.fitted.sides[side].bands:
        for stack in band:
            yield from (each for each in stack.places if isinstance(each, FrontStep))


@pytest.fixture(scope="module")
def demo_deck(demo_with: Callable[[str], Path]) -> Callable[[int], Deck]:
    """The cards of a session of the demo class."""
    from demo_class import demo_examined

    folder = demo_with("table-cards")

    @cache
    def deck(number: int) -> Deck:
        pdf = (folder / f"class/session-{number:02}/table-cards-en.pdf").read_bytes()
        return Deck(demo_examined(), pdf, number, "en")

    return deck


def _made(folder: Path) -> Deck:
    outcome = build(folder, folder / "build", ["table-cards"])
    assert outcome.print_failure is None, outcome.print_failure
    (path,) = (folder / "build").rglob("table-cards-en.pdf")
    return Deck(examine(folder), path.read_bytes(), 1, "en")


_CLASSES: dict[str, tuple[str, dict[str, str], int]] = {
    "one child, three steps": ("[1]", {"lentils": _dish(3)}, 100),
    "three children, ten steps": ("[3]", {"lentils": _dish(10)}, 100),
    "four children, ten steps": ("[4]", {"lentils": _dish(10)}, 100),
    "five children, ten steps": ("[5]", {"lentils": _dish(10)}, 100),
    "six children, sixteen steps": ("[6]", {"lentils": _dish(16)}, 100),
    "two dishes, and too little time": (
        "[4]",
        {"lentils": _dish(16), "two-parts": DISHES["two-parts"]},
        45,
    ),
    "long words": (
        "[4]",
        {"long-words": DISHES["long-words"].replace(", look after each other, and say so", "")},
        100,
    ),
}
_ONE_SIDE = [name for name in _CLASSES if "ten steps" in name or "three steps" in name]


@pytest.fixture(scope="module")
def generated(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Deck]:
    """The cards of a class by what is special about it."""
    made: dict[str, Deck] = {}

    def deck(name: str) -> Deck:
        if name not in made:
            tables, dishes, minutes = _CLASSES[name]
            folder = tmp_path_factory.mktemp("deck")
            made[name] = _made(_write(folder, tables, dishes, minutes))
        return made[name]

    return deck


@pytest.fixture(params=[*range(1, 9), *_CLASSES])
def deck(
    request: pytest.FixtureRequest,
    demo_deck: Callable[[int], Deck],
    generated: Callable[[str], Deck],
) -> Deck:
    """Every session of the demo, and every generated class."""
    wanted = request.param
    return demo_deck(wanted) if isinstance(wanted, int) else generated(wanted)


@pytest.mark.parametrize("session", range(1, 9))
def test_a_card_of_the_demo_is_one_side(session: int, demo_deck: Callable[[int], Deck]) -> None:
    """Up to four children and ten steps that are done at the table."""
    deck = demo_deck(session)
    assert [len(card.fitted.sides) for card in deck.cards] == [1] * len(deck.cards)
    assert len(deck.pages) == 2 * len(deck.cards) - 1


@pytest.mark.parametrize("name", _ONE_SIDE)
def test_ten_steps_are_one_side(name: str, generated: Callable[[str], Deck]) -> None:
    """Whoever sits at the table."""
    deck = generated(name)
    assert len(deck.pages) == 1


def test_more_than_a_side_holds_goes_on_two(generated: Callable[[str], Deck]) -> None:
    """In the same type, with the number of the side, and no step on both."""
    deck = generated("long words")
    (card,) = deck.cards
    assert len(card.fitted.sides) == 2 == len(deck.pages)
    numbers = [[step.number for step in _steps(card, side)] for side in (0, 1)]
    assert not set(numbers[0]) & set(numbers[1])
    assert "·1/2" in deck.pages[0] and "·2/2" in deck.pages[1]


def test_every_side_has_its_page(deck: Deck) -> None:
    """What was worked out to fit a side fits it: nothing goes over to another."""
    wanted = sum(2 * -(-len(card.fitted.sides) // 2) for card in deck.cards)
    last = len(deck.cards[-1].fitted.sides) % 2
    assert len(deck.pages) == wanted - last


def test_no_letter_is_too_small(deck: Deck) -> None:
    """Nothing below 14 points, of whatever size the dish is."""
    sizes = [size for _, size, _, _ in letters(deck.document)]
    assert min(sizes) >= SMALLEST - ROUNDING


def test_nothing_is_near_the_edge(deck: Deck) -> None:
    """A quarter of an inch on every side, drawings too."""
    for page in deck.document:
        picture = page.render(scale=1, grayscale=True).to_pil()
        wide, high = picture.size
        for frame in (
            (0, 0, QUARTER_INCH, high),
            (wide - QUARTER_INCH, 0, wide, high),
            (0, 0, wide, QUARTER_INCH),
            (0, high - QUARTER_INCH, wide, high),
        ):
            assert picture.crop(frame).getextrema() == (255, 255)


def test_a_step_is_read_in_order(deck: Deck) -> None:
    """Its number, who, when and its words, without anything between them, then its amounts."""
    read = 0
    for card, pages in deck.own():
        for side, text in enumerate(pages):
            for step in _steps(card, side):
                words = squeezed(f"{step.verb}{plain(step.words)}").replace("-", "")
                who = rf"(?:everyone|[A-Z]*)(?:\d+:\d\d)?(?:RAW|READY)?{re.escape(words)}"
                begins = re.search(rf"{step.number}{who}", text)
                assert begins, (card.where, step.number)
                after = text[begins.end() :]
                for use in step.uses:
                    said = squeezed(f"{use.amount.text}{use.amount.joint}{use.name}")
                    assert said.replace("-", "") in after, (card.where, step.number, use.name)
                    read += 1
    assert read


def test_nothing_that_keeps_safe_is_left_out(deck: Deck) -> None:
    """Every caution, temperature, washing, wait and adult's part of what the table cooks stands
    at its step as a sign with its word; what to do about each danger stands once."""
    say = deck.texts.say
    for card, pages in deck.own():
        dish = deck.dish_steps(card)
        for side, text in enumerate(pages):
            met: set[str] = set()
            signs: Counter[str] = Counter()
            for step in _steps(card, side):
                noted = dish[step.number]
                wanted = [say(CAUTIONS[name].name) for name in step.dangers]
                met.update(step.dangers)
                assert {term.text.casefold() for term in noted.watch} & CAUTIONS.keys() == set(
                    step.dangers
                )
                wanted += [term.text for term in noted.wash if say(term.text) == term.text]
                if noted.heat is not None:
                    wanted.append(temperature_text(noted.heat, deck.texts))
                if noted.adult:
                    assert any(sign.icon == "adult" for sign in step.signs)
                wanted += [sign.text for sign in step.signs]
                after = text.split(squeezed(f"{step.verb}{plain(step.words)}").replace("-", ""), 1)
                for said in wanted:
                    assert squeezed(said).replace("-", "") in after[1], (card.where, step.number)
                signs.update(squeezed(sign.text) for sign in step.signs)
            for name in met - ({"allergen swap"} if card.swaps else set()):
                told = [each for each in card.fitted.sides[side].dangers if name in _named(each)]
                assert len(told) == 1, name
                said = squeezed(f"{told[0].name}:{told[0].few}").replace("-", "")
                assert text.count(said) == 1
            if card.swaps:
                assert squeezed("Allergen swap: own bowl, pan, spoon, cloth.") in text


def _named(danger: object) -> list[str]:
    return [each.casefold() for each in str(getattr(danger, "name", "")).split(", ")]


def test_a_child_is_told_when(demo_deck: Callable[[int], Deck]) -> None:
    """Every step of a timed class says when it begins, and none begins before its lane's last."""
    for number in range(1, 9):
        deck = demo_deck(number)
        for card in deck.cards:
            own = [step for side, _ in enumerate(card.fitted.sides) for step in _steps(card, side)]
            assert own and all(re.fullmatch(r"1[01]:\d\d", step.time) for step in own)


def test_a_label_that_decides_has_two_boxes(demo_deck: Callable[[int], Deck]) -> None:
    """Of the yogurt and what may stand for it, the helper ticks one."""
    deck = demo_deck(6)
    both = [use.name for step in _steps(deck.cards[2], 0) for use in step.uses if use.is_either]
    assert both == ["plain yogurt", "coconut yogurt"]
    page = next(pages[0] for card, pages in deck.own() if card.table == 3)
    assert "yourhelperticksone" in page


def test_it_passes_the_strict_checker(deck: Deck) -> None:
    """PDF/UA-1 by page-validation."""
    page = pytest.importorskip("page", reason=STRICT)
    report = page.validate_pdf_bytes(deck.pdf, profile=page.ValidationProfile.PDF_UA_1)
    assert not [f"{each.rule_id}: {each.message}" for each in report.failures]
