"""The sheets that families get, in each language asked for."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.overflow import mini_book_overflows
from spoonfold.model.recipe import Recipe
from spoonfold.problem import Problem
from spoonfold.sheets.booklet import booklet_name, booklet_of
from spoonfold.sheets.card import SIDES as CARD_SIDES
from spoonfold.sheets.card import SIZES as CARD_SIZES
from spoonfold.sheets.card import card_name, card_of, card_size
from spoonfold.sheets.head import session_folder
from spoonfold.sheets.home import Household
from spoonfold.sheets.home_labels import ON_A_PAGE, clock_of, home_labels_name, home_labels_of
from spoonfold.sheets.large_print import SIZES as LARGE_SIZES
from spoonfold.sheets.large_print import large_print_name
from spoonfold.sheets.mini_book import MOST_LETTERS, mini_book_name, mini_book_of
from spoonfold.sheets.mini_book import PAGES as MINI_PAGES
from spoonfold.sheets.mini_book import SIZES as MINI_SIZES
from spoonfold.sheets.notice import notice_name, notice_of
from spoonfold.sheets.sheet import Joined, Sheet, Tongue, Work
from spoonfold.sheets.to_fold import to_fold


def booklets(work: Work) -> Iterator[Sheet | Joined]:
    """One for each language and household size, page by page and to fold."""
    for tongue in work.tongues:
        for people in work.households:
            book = booklet_of(tongue.folder, work.classroom, tongue.uses, people, tongue.texts)
            name = booklet_name(book.language, people)
            yield Sheet(
                (f"families/{name}", f"site/booklets/{name}"),
                f"Printing the booklet for {people} ({book.language})",
                "booklet.html",
                {"book": book},
                tongue.texts.language,
            )
            yield to_fold(book, tongue.texts)


def large_print(work: Work) -> Iterator[Sheet]:
    """One for each language, at the middle household size: large sheets are many."""
    people = card_size(work.households)
    for tongue in work.tongues:
        book = booklet_of(tongue.folder, work.classroom, tongue.uses, people, tongue.texts)
        yield Sheet(
            (f"families/{large_print_name(book.language, people)}",),
            f"Printing the booklet in large print ({book.language})",
            "booklet.html",
            {"book": book},
            tongue.texts.language,
            LARGE_SIZES,
        )


def cards(work: Work) -> Iterator[Sheet]:
    """One for each dish, at the middle household size."""
    people = card_size(work.classroom.households)
    for tongue in work.tongues:
        for key in tongue.folder.recipes:
            card = card_of(_household(work, tongue, people), key)
            yield Sheet(
                (f"families/{card_name(key, card.language, people)}",),
                f"Printing the card of {key} ({card.language})",
                "card.html",
                {"card": card},
                tongue.texts.language,
                CARD_SIZES,
                CARD_SIDES,
            )


def mini_books(work: Work) -> Iterator[Sheet | Problem]:
    """A book from one sheet for each dish that is short enough, at the size of the cards."""
    people = card_size(work.classroom.households)
    too_long: dict[str, Recipe] = {}
    for tongue in work.tongues:
        for key, recipe in tongue.folder.recipes.items():
            mini = mini_book_of(_household(work, tongue, people), key)
            language = tongue.texts.language
            if mini.letters > MOST_LETTERS:
                too_long.setdefault(key, recipe)
                continue
            yield Sheet(
                (f"families/{mini_book_name(key, language)}",),
                f"Printing the book from one sheet of {key} ({language})",
                "mini-book.html",
                {"mini": mini},
                language,
                MINI_SIZES,
                MINI_PAGES,
                mini_book_overflows([recipe]),
                is_mini_book=True,
            )
    if too_long:
        yield mini_book_overflows(tuple(too_long.values()))


def notices(work: Work) -> Iterator[Sheet]:
    """What is in every dish, for families to say what a child can't eat."""
    for tongue in work.tongues:
        notice = notice_of(tongue.folder, work.classroom, tongue.texts)
        yield Sheet(
            (f"families/{notice_name(notice.language)}",),
            f"Printing the notice of ingredients and allergens ({notice.language})",
            "notice.html",
            {"notice": notice},
            tongue.texts.language,
        )


def home_labels(work: Work) -> Iterator[Sheet]:
    """Labels for what is taken home, a file a session and language."""
    facts = work.examined.facts
    for tongue in work.tongues:
        for session in work.classroom.sessions:
            labels = home_labels_of(
                tongue.folder,
                work.classroom,
                session,
                tongue.uses,
                (facts.flows, clock_of(facts.clocks, session)),
                tongue.texts,
            )
            language = tongue.texts.language
            if labels.labels:
                yield Sheet(
                    (f"{session_folder(session)}/{home_labels_name(language)}",),
                    f"Printing the labels to take home of session {session.number} ({language})",
                    "home-labels.html",
                    {"sheet": labels},
                    language,
                    sizes=ON_A_PAGE,
                    sides=labels.fewest_pages,
                )


def _household(work: Work, tongue: Tongue, people: int) -> Household:
    return Household(tongue.folder, work.classroom, tongue.uses, people, tongue.texts)
