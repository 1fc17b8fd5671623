"""The word cards on paper, and words explained below the steps of the booklet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from printed_sheets import Press, Printed, printed, squeezed

from spoonfold.model.classroom import PAPERS, Classroom, Paper
from spoonfold.press.html import rendered
from spoonfold.sheets.shared.cautions import sentence
from spoonfold.sheets.word_cards import WordCards, word_cards

STRICT = "page-validation isn't installed: pip install 'spoonfold[test]'"


def _printed(press: Press, cards: WordCards) -> Printed:
    html = rendered(press.environment, "word-cards.html", cards=cards, size="")
    return printed(press.printer.print([html], press.layouts.find("look/paper.css")))


def _built(demo_with: Callable[[str], Path], number: int) -> Printed:
    """The cards of the demo's session, which are on letter paper."""
    folder = demo_with("word-cards") / f"class/session-{number:02}"
    return printed((folder / "word-cards-en.pdf").read_bytes())


def _cards(press: Press, classroom: Classroom, number: int) -> WordCards:
    session = next(each for each in classroom.sessions if each.number == number)
    cards = word_cards(press.read, classroom, session, press.texts)
    assert cards is not None
    return cards


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)
def test_a_page_of_cards_stays_one_page(
    demo: Press, demo_with: Callable[[str], Path], paper: Paper
) -> None:
    """The longest explanations of the season fit on every kind of paper, and nothing is lost."""
    classroom = replace(demo.classroom, paper=paper)
    for number in (2, 6):
        cards = _cards(demo, classroom, number)
        made = _built(demo_with, number) if paper == "letter" else _printed(demo, cards)
        assert len(made.pages) == len(cards.pages) == 1
        for card in cards.pages[0]:
            if card.word:
                assert squeezed(sentence(card.word.meaning)) in made.pages[0]
                assert squeezed(card.word.say) in made.pages[0]
                assert squeezed(card.word.origin) in squeezed(made.pages[0])


def test_the_cards_pass_the_strict_checker(demo_with: Callable[[str], Path]) -> None:
    """PDF/UA-1 by an independent checker."""
    page = pytest.importorskip("page", reason=STRICT)
    made = _built(demo_with, 6)
    report = page.validate_pdf_bytes(made.pdf, profile=page.ValidationProfile.PDF_UA_1)
    assert [f"{each.rule_id}: {each.message}" for each in report.failures] == []


def test_the_booklet_explains_every_word_once(demo: Press, demo_booklet: Printed) -> None:
    """In the list at its end, which the words of the steps lead to."""
    for word in demo.booklet(4).words:
        # Its first letter is a capital there.
        meaning = squeezed(word.meaning)[1:]
        assert sum(text.count(meaning) for text in demo_booklet.pages) == 1, word.term
