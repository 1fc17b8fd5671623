"""The print pack: every sheet of a session, in the number of copies that the day needs."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.sheets.brief import brief_name
from spoonfold.sheets.card import card_name, card_size
from spoonfold.sheets.head import Head, head_of, session_folder
from spoonfold.sheets.home_labels import home_labels_name
from spoonfold.sheets.jobs import jobs_name
from spoonfold.sheets.lesson_card import lesson_card_name
from spoonfold.sheets.packet import packet_key_name, packet_name
from spoonfold.sheets.prep import prep_name
from spoonfold.sheets.safety import safety_name
from spoonfold.sheets.shopping import shopping_name
from spoonfold.sheets.story import story_card, story_name
from spoonfold.sheets.table_card import table_cards_name
from spoonfold.sheets.word_cards import word_cards, word_cards_name
from spoonfold.sheets.worksheet.numbers import has_numbers
from spoonfold.sheets.worksheet.sheet import grade_for, worksheet_key_name, worksheet_name

SIZES = ("large", "middle", "small")
"""Sizes of type to try, in this order, until the slip fits on one side."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A sheet and how often it is needed."""

    path: str
    """Of the finished file, from the top of the output."""
    title: str
    use: str
    """For whom, and when."""
    copies: int


@dataclass(frozen=True, slots=True)
class _ToWorkOn:
    """A sheet that each child fills in, and its key."""

    sheet: Wanted
    key: Wanted
    """Lies with the lead cook's sheets, so that it isn't handed out with the others."""


@dataclass(frozen=True, slots=True)
class SlipRow:
    """A line of the contents slip."""

    title: str
    use: str
    copies: int
    sheets: int
    """Of paper, for all copies, printed on both sides."""


@dataclass(frozen=True, slots=True)
class Slip:
    """The first page of the pack."""

    head: Head
    rows: tuple[SlipRow, ...]
    missing: tuple[str, ...]
    """Sheets that this pack lacks since they weren't made."""
    sheets: int
    """With the slip itself."""


def wanted_for(
    folder: ClassFolder, classroom: Classroom, session: Session, texts: Texts
) -> tuple[Wanted, ...]:
    """The sheets of a session in the order in which they are needed."""
    say, language = texts.say, texts.language
    setting, own = session.setting, session_folder(session)
    children = sum(setting.tables)
    to_work_on = tuple(_to_work_on(folder, session, texts))
    rows = [
        Wanted(
            f"{own}/{brief_name(language)}",
            say("Helper's brief"),
            say("a week before: one for each helper"),
            setting.helpers,
        ),
        Wanted(
            f"class/{shopping_name(session.number, language)}",
            say("Shopping"),
            say("for whoever shops"),
            1,
        ),
        Wanted(
            f"{own}/{prep_name(language)}",
            say("Before class and packing"),
            say("the day before, lead cook"),
            1,
        ),
        Wanted(
            f"{own}/{lesson_card_name(language)}",
            say("Lesson card"),
            say("on the day, lead cook"),
            1,
        ),
        *(each.key for each in to_work_on),
        Wanted(f"{own}/{jobs_name(language)}", say("Jobs"), say("on the day, for the adults"), 1),
        Wanted(
            f"{own}/{table_cards_name(language)}",
            say("Table cards"),
            say("on the day: one is for each table and dish"),
            1,
        ),
        Wanted(
            f"{own}/{story_name(language)}",
            say("Story card"),
            say("on the day: read aloud in the talk, then hang up"),
            0 if story_card(folder, classroom, session, texts) is None else 1,
        ),
        Wanted(
            f"{own}/{word_cards_name(language)}",
            say("Word cards"),
            say("on the day: cut out, fold and hang up"),
            0 if word_cards(folder, classroom, session, texts) is None else 1,
        ),
        *(each.sheet for each in to_work_on),
        Wanted(
            f"{own}/{home_labels_name(language)}",
            say("Labels to take home"),
            say("on the day: cut them out, one for each box"),
            1,
        ),
        Wanted(
            f"class/{safety_name(language)}",
            say("Safe in the kitchen"),
            say("on the wall, unless it still hangs there"),
            1,
        ),
    ]
    people = card_size(classroom.households)
    for dish in session.dishes:
        if dish.text in folder.recipes:
            rows.append(
                Wanted(
                    f"families/{card_name(dish.text, language, people)}",
                    say("To take home: {dish}", dish=folder.recipes[dish.text].title),
                    say("at the door: one for each child"),
                    children,
                )
            )
    return tuple(row for row in rows if row.copies)


def _to_work_on(folder: ClassFolder, session: Session, texts: Texts) -> Iterator[_ToWorkOn]:
    """What each child fills in while the pot simmers, with the answers for the lead cook."""
    say, language = texts.say, texts.language
    own, children = session_folder(session), sum(session.setting.tables)
    grade = grade_for(session.setting)
    recipes = [folder.recipes[dish.text] for dish in session.dishes if dish.text in folder.recipes]
    for title, key_title, name, key_name, is_made in (
        (
            say("Kitchen fractions"),
            say("Key to the worksheet"),
            worksheet_name(language, grade),
            worksheet_key_name(language, grade),
            has_numbers(folder, session),
        ),
        (
            say("What is in the packet?"),
            say("What is in the packet? The key"),
            packet_name(language),
            packet_key_name(language),
            any(recipe.packaged_cousin is not None for recipe in recipes),
        ),
    ):
        if is_made:
            yield _ToWorkOn(
                Wanted(f"{own}/{name}", title, say("on the day: one for each child"), children),
                Wanted(f"{own}/{key_name}", key_title, say("on the day, lead cook"), 1),
            )


def slip_of(
    folder: ClassFolder,
    classroom: Classroom,
    session: Session,
    wanted: tuple[Wanted, ...],
    pages: Callable[[Wanted], int | None],
    texts: Texts,
) -> Slip:
    """The slip; `pages` says how many pages a sheet has, None for one that isn't there."""
    rows = tuple(_rows(wanted, pages))
    return Slip(
        head=head_of(folder, classroom, session, texts),
        rows=rows,
        missing=tuple(each.title for each in wanted if pages(each) is None),
        sheets=1 + sum(row.sheets for row in rows),
    )


def _rows(wanted: tuple[Wanted, ...], pages: Callable[[Wanted], int | None]) -> Iterator[SlipRow]:
    for each in wanted:
        count = pages(each)
        if count is not None:
            yield SlipRow(each.title, each.use, each.copies, each.copies * -(-count // 2))


def print_pack_name(language: str) -> str:
    """The file of a session's pack."""
    return f"print-pack-{language}.pdf"
