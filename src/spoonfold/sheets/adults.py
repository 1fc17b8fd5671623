"""The sheets of the adults in the room, in the class's first language."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.overflow import lesson_card_overflows, table_card_overflows
from spoonfold.plan.shop.left import trips_of
from spoonfold.sheets.brief import SIZES as BRIEF_SIZES
from spoonfold.sheets.brief import brief_name, brief_of
from spoonfold.sheets.calendar import CALENDAR_NAME, calendar_of
from spoonfold.sheets.head import session_folder
from spoonfold.sheets.jobs import SIZES as CHART_SIZES
from spoonfold.sheets.jobs import job_chart, jobs_name
from spoonfold.sheets.lesson_card import SIDES as LESSON_SIDES
from spoonfold.sheets.lesson_card import SIZES as LESSON_SIZES
from spoonfold.sheets.lesson_card import lesson_card_name, lesson_card_of
from spoonfold.sheets.our_season import our_season, our_season_name
from spoonfold.sheets.prep import SIDES as PREP_SIDES
from spoonfold.sheets.prep import SIZES as PREP_SIZES
from spoonfold.sheets.prep import prep_name, prep_of
from spoonfold.sheets.safety import SIDES as WALL_SIDES
from spoonfold.sheets.safety import safety_name, safety_sheet
from spoonfold.sheets.season import SIDES as SEASON_SIDES
from spoonfold.sheets.season import SIZES as SEASON_SIZES
from spoonfold.sheets.season import season_name, season_sheet
from spoonfold.sheets.sheet import File, Made, Sheet, Work
from spoonfold.sheets.shopping import SIDES as LIST_SIDES
from spoonfold.sheets.shopping import SIZES as LIST_SIZES
from spoonfold.sheets.shopping import shopping_name, shopping_of, shopping_table_name
from spoonfold.sheets.shopping_table import shopping_table
from spoonfold.sheets.story import SIZES as STORY_SIZES
from spoonfold.sheets.story import story_card, story_name
from spoonfold.sheets.table_card import SIDES as TABLE_SIDES
from spoonfold.sheets.table_card import SIZES as TABLE_SIZES
from spoonfold.sheets.table_card import table_cards_name, table_cards_of
from spoonfold.sheets.word_cards import word_cards as cards_of_words
from spoonfold.sheets.word_cards import word_cards_name


def safety(work: Work) -> Iterator[Sheet]:
    """The sheet on the wall."""
    yield Sheet(
        (f"class/{safety_name(work.texts.language)}",),
        "Printing the safety sheet",
        "safety.html",
        {"sheet": safety_sheet(work.classroom, work.texts)},
        work.texts.language,
        sides=WALL_SIDES,
    )


def shopping(work: Work) -> Iterator[Made]:
    """A list a session, and the same as a table for a spreadsheet."""
    for trip in trips_of(work.classroom.sessions, work.recipes, work.uses, work.folder.pantry):
        sheet = shopping_of(work.folder, work.classroom, trip, work.texts)
        yield File(f"class/{shopping_table_name(sheet.number)}", shopping_table([sheet]))
        yield Sheet(
            (f"class/{shopping_name(sheet.number, sheet.language)}",),
            f"Listing the shopping for session {sheet.number}",
            "shopping.html",
            {"sheet": sheet},
            work.texts.language,
            LIST_SIZES,
            LIST_SIDES,
        )


def jobs(work: Work) -> Iterator[Sheet]:
    """A job chart a session."""
    for session in work.classroom.sessions:
        chart = job_chart(work.folder, work.classroom, session, work.season, work.texts)
        yield Sheet(
            (f"{session_folder(session)}/{jobs_name(work.texts.language)}",),
            f"Charting the jobs of session {session.number}",
            "jobs.html",
            {"chart": chart},
            work.texts.language,
            CHART_SIZES,
            1,
        )


def prep(work: Work) -> Iterator[Sheet]:
    """What to do before class and what to pack, a session."""
    for session in work.classroom.sessions:
        sheet = prep_of(work.folder, work.classroom, session, work.uses, work.texts)
        yield Sheet(
            (f"{session_folder(session)}/{prep_name(work.texts.language)}",),
            f"Listing what to do before session {session.number}",
            "prep.html",
            {"prep": sheet},
            work.texts.language,
            PREP_SIZES,
            PREP_SIDES,
        )


def season(work: Work) -> Iterator[Made]:
    """The season for the adults, its calendar, and what is told of it to families."""
    texts = work.texts
    yield File(f"class/{CALENDAR_NAME}", calendar_of(work.folder, work.classroom, texts))
    yield Sheet(
        (f"class/{season_name(texts.language)}",),
        "Laying out the season",
        "season-sheet.html",
        {"season": season_sheet(work.folder, work.classroom, texts)},
        texts.language,
        SEASON_SIZES,
        SEASON_SIDES,
    )
    done = our_season(work.folder, work.classroom, texts)
    if done is not None:
        yield Sheet(
            (f"families/{our_season_name(texts.language)}",),
            "Laying out our season",
            "our-season.html",
            {"season": done},
            texts.language,
            SEASON_SIZES,
            1,
        )


def table_cards(work: Work) -> Iterator[Sheet]:
    """A card for each table and dish, a file a session and language."""
    for tongue in work.tongues:
        if tongue.texts.language not in work.classroom.table_cards:
            continue
        for session in work.classroom.sessions:
            cards = table_cards_of(
                tongue.folder, work.classroom, tongue.uses, session, work.season, tongue.texts
            )
            language = tongue.texts.language
            yield Sheet(
                (f"{session_folder(session)}/{table_cards_name(language)}",),
                f"Printing the table cards of session {session.number} ({language})",
                "table-card.html",
                {"cards": cards},
                language,
                TABLE_SIZES,
                TABLE_SIDES * len(cards.cards),
                table_card_overflows(tongue.folder, session, language),
            )


def word_cards(work: Work) -> Iterator[Sheet]:
    """Cards of a session's new words, for the wall."""
    for session in work.classroom.sessions:
        cards = cards_of_words(work.folder, work.classroom, session, work.texts)
        if cards is not None:
            yield Sheet(
                (f"{session_folder(session)}/{word_cards_name(work.texts.language)}",),
                f"Printing the word cards of session {session.number}",
                "word-cards.html",
                {"cards": cards},
                work.texts.language,
            )


def story_cards(work: Work) -> Iterator[Sheet]:
    """What is told of a session's dishes, to read aloud and hang up, in the languages of the
    table cards."""
    for tongue in work.tongues:
        language = tongue.texts.language
        if language not in work.classroom.table_cards:
            continue
        for session in work.classroom.sessions:
            card = story_card(tongue.folder, work.classroom, session, tongue.texts)
            if card is not None:
                yield Sheet(
                    (f"{session_folder(session)}/{story_name(language)}",),
                    f"Printing the story card of session {session.number} ({language})",
                    "story.html",
                    {"card": card},
                    language,
                    STORY_SIZES,
                    card.sides,
                )


def briefs(work: Work) -> Iterator[Sheet]:
    """What a helper reads and practises at home, a session and language."""
    for tongue in work.tongues:
        for session in work.classroom.sessions:
            brief = brief_of(tongue.folder, work.classroom, tongue.uses, session, tongue.texts)
            language = tongue.texts.language
            yield Sheet(
                (f"{session_folder(session)}/{brief_name(language)}",),
                f"Printing the helper's brief for session {session.number} ({language})",
                "brief.html",
                {"brief": brief},
                language,
                BRIEF_SIZES,
                len(brief.sides),
            )


def lesson_cards(work: Work) -> Iterator[Sheet]:
    """The card from which the lead cook teaches, a session."""
    for each in work.examined.facts.clocks:
        card = lesson_card_of(
            work.folder, work.classroom, each, work.uses, work.examined.accepted, work.texts
        )
        yield Sheet(
            (f"{session_folder(each.session)}/{lesson_card_name(work.texts.language)}",),
            f"Printing the lesson card of session {each.session.number}",
            "lesson-card.html",
            {"card": card},
            work.texts.language,
            LESSON_SIZES,
            LESSON_SIDES,
            lesson_card_overflows(work.folder, each.session),
        )
