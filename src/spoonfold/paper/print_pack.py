"""The print pack: every sheet of a session, in the number of copies that the day needs."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.paper.brief import brief_name
from spoonfold.paper.card import card_name, card_size
from spoonfold.paper.head import Head, head_of, session_folder
from spoonfold.paper.home_labels import home_labels_name
from spoonfold.paper.jobs import jobs_name
from spoonfold.paper.lesson_card import lesson_card_name
from spoonfold.paper.prep import prep_name
from spoonfold.paper.safety import safety_name
from spoonfold.paper.shopping import shopping_name
from spoonfold.paper.table_card import table_cards_name
from spoonfold.paper.word_cards import word_cards, word_cards_name


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
    rows = [
        Wanted(f"{own}/{brief_name(language)}", say("Helper's brief"),
               say("a week before: one for each helper"), setting.helpers),
        Wanted(f"class/{shopping_name(session.number, language)}", say("Shopping"),
               say("for whoever shops"), 1),
        Wanted(f"{own}/{prep_name(language)}", say("Before class and packing"),
               say("the day before, lead cook"), 1),
        Wanted(f"{own}/{lesson_card_name(language)}", say("Lesson card"),
               say("on the day, lead cook"), 1),
        Wanted(f"{own}/{jobs_name(language)}", say("Jobs"),
               say("on the day, for the adults"), 1),
        Wanted(f"{own}/{table_cards_name(language)}", say("Table cards"),
               say("on the day: one is for each table and dish"), 1),
        Wanted(f"{own}/{word_cards_name(language)}", say("Word cards"),
               say("on the day: cut out, fold and hang up"),
               0 if word_cards(folder, classroom, session, texts) is None else 1),
        Wanted(f"{own}/{home_labels_name(language)}", say("Labels to take home"),
               say("on the day: cut them out, one for each box"), 1),
        Wanted(f"class/{safety_name(language)}", say("Safe in the kitchen"),
               say("on the wall, unless it still hangs there"), 1),
    ]
    people = card_size(classroom.households)
    for dish in session.dishes:
        if dish.text in folder.recipes:
            rows.append(Wanted(
                f"families/{card_name(dish.text, language, people)}",
                say("To take home: {dish}", dish=folder.recipes[dish.text].title),
                say("at the door: one for each child"), children))
    return tuple(row for row in rows if row.copies)


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


def _rows(
    wanted: tuple[Wanted, ...], pages: Callable[[Wanted], int | None]
) -> Iterator[SlipRow]:
    for each in wanted:
        count = pages(each)
        if count is not None:
            yield SlipRow(each.title, each.use, each.copies, each.copies * -(-count // 2))


def print_pack_name(language: str) -> str:
    """The file of a session's pack."""
    return f"print-pack-{language}.pdf"
