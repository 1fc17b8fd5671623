"""The whole pipeline as one straight function: read, check, plan, page, press, swap."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from spoonfold.check import examine
from spoonfold.language.texts import load_texts
from spoonfold.model.classroom import Classroom
from spoonfold.pack import write_pack
from spoonfold.paper.booklet import Booklet, booklet_of
from spoonfold.paper.brief import SIZES as BRIEF_SIZES
from spoonfold.paper.brief import brief_name, brief_of
from spoonfold.paper.calendar import CALENDAR_NAME, calendar_of
from spoonfold.paper.card import SIDES, SIZES, Card, card_name, card_of, card_size
from spoonfold.paper.head import session_folder
from spoonfold.paper.jobs import SIZES as CHART_SIZES
from spoonfold.paper.jobs import job_chart, jobs_name
from spoonfold.paper.lesson_card import SIDES as LESSON_SIDES
from spoonfold.paper.lesson_card import SIZES as LESSON_SIZES
from spoonfold.paper.lesson_card import lesson_card_name, lesson_card_of
from spoonfold.paper.notice import IngredientsPage, Notice, notice_name, notice_of
from spoonfold.paper.our_season import our_season, our_season_name
from spoonfold.paper.prep import SIDES as PREP_SIDES
from spoonfold.paper.prep import SIZES as PREP_SIZES
from spoonfold.paper.prep import prep_name, prep_of
from spoonfold.paper.safety import SIDES as WALL_SIDES
from spoonfold.paper.safety import SafetySheet, safety_name, safety_sheet
from spoonfold.paper.season import SIZES as SEASON_SIZES
from spoonfold.paper.season import season_name, season_sheet
from spoonfold.paper.shopping import SIDES as LIST_SIDES
from spoonfold.paper.shopping import SIZES as LIST_SIZES
from spoonfold.paper.shopping import Shopping, shopping_name, shopping_of, shopping_table_name
from spoonfold.paper.shopping_table import shopping_table
from spoonfold.paper.site import Site, booklet_name, site_of
from spoonfold.paper.table_card import SIDES as TABLE_SIDES
from spoonfold.paper.table_card import SIZES as TABLE_SIZES
from spoonfold.paper.table_card import table_cards_name, table_cards_of
from spoonfold.plan.jobs import jobs_of
from spoonfold.plan.shop_left import trips_of
from spoonfold.press.calendar import calendar_bytes
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.press.html import Environment, environment_for, rendered
from spoonfold.press.layouts import Layouts, layouts_for, shipped_layouts
from spoonfold.press.output import Stage, Trouble, commit, discard, open_stage
from spoonfold.press.pdf import NoPdf, Printer, printer
from spoonfold.press.pictures import Gallery
from spoonfold.press.rows import spreadsheet_file
from spoonfold.problem import Level, Place, Problem, has_errors, in_order
from spoonfold.read.folder import Progress, Read

SITE, BOOKLET, CARD, NOTICE, SAFETY = "site", "booklet", "card", "notice", "safety"
SHOPPING, JOBS, PREP, SEASON = "shopping", "jobs", "prep", "season"
TABLE_CARDS, BRIEF, LESSON_CARD = "table-cards", "brief", "lesson-card"
PACK = "print-pack"
PARTS = (SITE, BOOKLET, CARD, NOTICE, SAFETY, SHOPPING, JOBS, PREP, SEASON, TABLE_CARDS, BRIEF,
         LESSON_CARD, PACK)
"""What `--only` may name."""

_SITE_FILES = ("look/tokens.css", "look/tokens-dark.css", "look/screen.css")
_BOOKLET_FOLDERS = ("site/booklets", "families")
_CARD_FOLDERS = ("families",)
_NOTICE_FOLDERS = ("families",)
_SAFETY_FOLDERS = ("class",)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a build."""

    problems: tuple[Problem, ...]
    read: Read
    made: int = 0
    """Files in the new output; 0 where nothing was swapped in."""
    trouble: Trouble | None = None
    """Why the output could not be written."""
    missing: NoPdf | None = None
    """Why something could not be made on this machine."""


def build(
    folder: Path,
    output: Path,
    only: Sequence[str] = (),
    wait_seconds: float = 0,
    progress: Progress = lambda step: None,
) -> Outcome:
    """Builds the class folder into the output folder; on errors the old output stays."""
    examined = examine(folder, progress)
    read, facts, problems = examined.read, examined.facts, examined.problems
    classroom = read.folder.classroom
    if classroom is None or has_errors(problems):
        return Outcome(problems, read)
    layouts = layouts_for(folder)
    texts = load_texts(classroom.languages[0], shipped_layouts())
    wanted = frozenset(only) or frozenset(PARTS)
    fonts = [layouts.find(name) for name in layouts.names("fonts") if name.endswith(".ttf")]
    press = printer((*layouts.folders, folder), fonts) if wanted - {SITE} else None
    stage = open_stage(output, wait_seconds, content=folder / "content")
    if isinstance(stage, Trouble):
        return Outcome(problems, read, trouble=stage)
    try:
        gallery = Gallery(folder)
        environment = environment_for(layouts, texts, gallery.on_site)
        on_paper = environment_for(layouts, texts, gallery.on_paper)
        if SITE in wanted:
            progress("Making the site")
            _write_site(stage, layouts, environment, site_of(
                read.folder, classroom, facts.uses, texts,
                booklets=_booklets(classroom, output, wanted, press)),
                notice_of(read.folder, classroom, texts))
            for name, picture in gallery.files.items():
                stage.write(f"site/{name}", picture)
        else:
            stage.keep("site")
        missing: list[MissingGlyph] = []
        if BOOKLET not in wanted:
            _keep(stage, output, _BOOKLET_FOLDERS, BOOKLET)
        elif isinstance(press, Printer):
            for people in classroom.households:
                progress(f"Printing the booklet for {people}")
                missing += _write_booklet(stage, layouts, on_paper, press, booklet_of(
                    read.folder, classroom, facts.uses, people, texts))
        if CARD not in wanted:
            _keep(stage, output, _CARD_FOLDERS, CARD)
        elif isinstance(press, Printer):
            people = card_size(classroom.households)
            for key in read.folder.recipes:
                progress(f"Printing the card of {key}")
                missing += _write_card(stage, layouts, on_paper, press, card_of(
                    read.folder, classroom, facts.uses, key, people, texts))
        if NOTICE not in wanted:
            _keep(stage, output, _NOTICE_FOLDERS, "allergen-notice")
        elif isinstance(press, Printer):
            progress("Printing the notice of ingredients and allergens")
            missing += _write_notice(stage, layouts, environment, press, notice_of(
                read.folder, classroom, texts))
        if SAFETY not in wanted:
            _keep(stage, output, _SAFETY_FOLDERS, "safety-sheet")
        elif isinstance(press, Printer):
            progress("Printing the safety sheet")
            missing += _write_safety(
                stage, layouts, environment, press, safety_sheet(classroom, texts))
        if SHOPPING not in wanted:
            _keep_sessions(stage, output, SHOPPING)
        else:
            for trip in trips_of(
                    classroom.sessions, read.folder.recipes, facts.uses, read.folder.pantry):
                progress(f"Listing the shopping for session {trip.session.number}")
                missing += _write_shopping(stage, layouts, environment, press, shopping_of(
                    read.folder, classroom, trip, texts))
        if JOBS not in wanted:
            _keep_sessions(stage, output, JOBS)
        elif isinstance(press, Printer):
            season = jobs_of(classroom, read.folder.recipes)
            for session in classroom.sessions:
                progress(f"Charting the jobs of session {session.number}")
                missing += _write_sized(
                    stage, layouts, on_paper, press, "jobs.html", CHART_SIZES, 1,
                    f"{session_folder(session)}/{jobs_name(texts.language)}",
                    chart=job_chart(read.folder, classroom, session, season, texts))
        if PREP not in wanted:
            _keep_sessions(stage, output, PREP)
        elif isinstance(press, Printer):
            for session in classroom.sessions:
                progress(f"Listing what to do before session {session.number}")
                missing += _write_sized(
                    stage, layouts, on_paper, press, "prep.html", PREP_SIZES, PREP_SIDES,
                    f"{session_folder(session)}/{prep_name(texts.language)}",
                    prep=prep_of(read.folder, classroom, session, facts.uses, texts))
        if SEASON not in wanted:
            _keep(stage, output, ("class",), SEASON)
            _keep(stage, output, ("families",), "our-season")
            stage.keep(f"class/{CALENDAR_NAME}")
        else:
            progress("Laying out the season")
            calendar = calendar_of(read.folder, classroom, texts)
            stage.write(f"class/{CALENDAR_NAME}", calendar_bytes(calendar))
            done = our_season(read.folder, classroom, texts)
            if isinstance(press, Printer):
                missing += _write_sized(
                    stage, layouts, on_paper, press, "season-sheet.html", SEASON_SIZES, 1,
                    f"class/{season_name(texts.language)}",
                    season=season_sheet(read.folder, classroom, texts))
            if isinstance(press, Printer) and done is not None:
                missing += _write_sized(
                    stage, layouts, on_paper, press, "our-season.html", SEASON_SIZES, 1,
                    f"families/{our_season_name(texts.language)}", season=done)
        if TABLE_CARDS not in wanted:
            _keep_sessions(stage, output, TABLE_CARDS)
        elif isinstance(press, Printer):
            season = jobs_of(classroom, read.folder.recipes)
            for session in classroom.sessions:
                progress(f"Printing the table cards of session {session.number}")
                cards = table_cards_of(
                    read.folder, classroom, facts.uses, session, season, texts)
                missing += _write_sized(
                    stage, layouts, on_paper, press, "table-card.html", TABLE_SIZES,
                    TABLE_SIDES * len(cards.cards),
                    f"{session_folder(session)}/{table_cards_name(texts.language)}", cards=cards)
        if BRIEF not in wanted:
            _keep_sessions(stage, output, "helper-brief")
        elif isinstance(press, Printer):
            for session in classroom.sessions:
                progress(f"Printing the helper's brief for session {session.number}")
                brief = brief_of(read.folder, classroom, facts.uses, session, texts)
                missing += _write_sized(
                    stage, layouts, on_paper, press, "brief.html", BRIEF_SIZES, len(brief.sides),
                    f"{session_folder(session)}/{brief_name(texts.language)}", brief=brief)
        if LESSON_CARD not in wanted:
            _keep_sessions(stage, output, LESSON_CARD)
        elif isinstance(press, Printer):
            for each in facts.clocks:
                progress(f"Printing the lesson card of session {each.session.number}")
                lesson = lesson_card_of(
                    read.folder, classroom, each, facts.uses, examined.accepted, texts)
                missing += _write_sized(
                    stage, layouts, on_paper, press, "lesson-card.html", LESSON_SIZES,
                    LESSON_SIDES,
                    f"{session_folder(each.session)}/{lesson_card_name(texts.language)}",
                    card=lesson)
        if PACK not in wanted:
            _keep_sessions(stage, output, PACK)
        elif isinstance(press, Printer) and not missing:
            for session in classroom.sessions:
                progress(f"Joining the print pack of session {session.number}")
                missing += write_pack(stage, layouts, on_paper, press, read.folder, classroom,
                                      session, texts)
        if missing or gallery.problems:
            return Outcome(
                in_order([*problems, *gallery.problems, *_missing(missing, read)]), read)
        progress("Swapping in")
        made = sum(path.is_file() for path in stage.folder.rglob("*")) - 1
        trouble = commit(stage)
    finally:
        discard(stage)
    return Outcome(problems, read, 0 if trouble else made, trouble,
                   press if isinstance(press, NoPdf) else None)


def _booklets(
    classroom: Classroom, output: Path, wanted: Collection[str], press: Printer | NoPdf | None
) -> frozenset[str]:
    """The files of booklets that will lie beside the site."""
    if BOOKLET not in wanted:
        # What was made before is carried over, and nothing else.
        return frozenset(path.name for path in (output / "site/booklets").glob("*.pdf"))
    if not isinstance(press, Printer):
        return frozenset()
    return frozenset(
        booklet_name(classroom.languages[0], people) for people in classroom.households)


def _keep(stage: Stage, output: Path, folders: Sequence[str], part: str) -> None:
    """Carries over what one part made before; its files begin with its name."""
    for folder in folders:
        for path in sorted((output / folder).glob(f"{part}-*")):
            stage.keep(f"{folder}/{path.name}")


def _keep_sessions(stage: Stage, output: Path, part: str) -> None:
    """Carries over one part of every session's folder."""
    for path in sorted((output / "class").glob(f"session-*/{part}*")):
        stage.keep(path.relative_to(output).as_posix())


def _write_site(
    stage: Stage, layouts: Layouts, environment: Environment, site: Site, notice: Notice
) -> None:
    fonts = [name for name in layouts.names("fonts") if name.endswith((".woff2", ".txt"))]
    for name in (*_SITE_FILES, *(f"fonts/{name.removeprefix('fonts/')}" for name in fonts)):
        stage.write(f"site/{name}", layouts.find(name).read_bytes())
    pages = (
        ("index.html", "home.html", site.home),
        ("words.html", "words.html", site.words),
        ("season.html", "season.html", site.season),
        ("ingredients.html", "ingredients.html", IngredientsPage(site.season.frame, notice)),
        *((f"recipes/{page.sheet.key}.html", "recipe.html", page) for page in site.recipes),
    )
    for name, template, page in pages:
        stage.write(f"site/{name}", rendered(environment, template, page=page))


def _write_booklet(
    stage: Stage, layouts: Layouts, environment: Environment, press: Printer, booklet: Booklet
) -> tuple[MissingGlyph, ...]:
    html = rendered(environment, "booklet.html", book=booklet)
    name = booklet_name(booklet.language, booklet.people)
    pdf = press.print([html], layouts.find("look/paper.css"))
    return _write(stage, pdf, _BOOKLET_FOLDERS, name)


def _write_card(
    stage: Stage, layouts: Layouts, environment: Environment, press: Printer, card: Card
) -> tuple[MissingGlyph, ...]:
    tries = (rendered(environment, "card.html", card=card, size=size) for size in SIZES)
    name = card_name(card.sheet.key, card.language, card.people)
    pdf = press.print(tries, layouts.find("look/paper.css"), pages=SIDES)
    return _write(stage, pdf, _CARD_FOLDERS, name)


def _write_notice(
    stage: Stage, layouts: Layouts, environment: Environment, press: Printer, notice: Notice
) -> tuple[MissingGlyph, ...]:
    html = rendered(environment, "notice.html", notice=notice)
    pdf = press.print([html], layouts.find("look/paper.css"))
    return _write(stage, pdf, _NOTICE_FOLDERS, notice_name(notice.language))


def _write_safety(
    stage: Stage, layouts: Layouts, environment: Environment, press: Printer, sheet: SafetySheet
) -> tuple[MissingGlyph, ...]:
    html = rendered(environment, "safety.html", sheet=sheet)
    pdf = press.print([html], layouts.find("look/paper.css"), pages=WALL_SIDES)
    return _write(stage, pdf, _SAFETY_FOLDERS, safety_name(sheet.language))


def _write_shopping(
    stage: Stage,
    layouts: Layouts,
    environment: Environment,
    press: Printer | NoPdf | None,
    sheet: Shopping,
) -> tuple[MissingGlyph, ...]:
    name = shopping_table_name(sheet.number)
    stage.write(f"class/{name}", spreadsheet_file(shopping_table([sheet])))
    if not isinstance(press, Printer):
        return ()
    tries = (rendered(environment, "shopping.html", sheet=sheet, size=size)
             for size in LIST_SIZES)
    pdf = press.print(tries, layouts.find("look/paper.css"), pages=LIST_SIDES)
    return _write(stage, pdf, ("class",), shopping_name(sheet.number, sheet.language))


def _write_sized(
    stage: Stage,
    layouts: Layouts,
    environment: Environment,
    press: Printer,
    template: str,
    sizes: Sequence[str],
    pages: int,
    path: str,
    **values: object,
) -> tuple[MissingGlyph, ...]:
    """A sheet in the largest type at which it takes no more than so many pages."""
    tries = (rendered(environment, template, size=size, **values) for size in sizes)
    pdf = press.print(tries, layouts.find("look/paper.css"), pages=pages)
    folder, _, name = path.rpartition("/")
    return _write(stage, pdf, (folder,), name)


def _write(
    stage: Stage, pdf: bytes | tuple[MissingGlyph, ...], folders: Sequence[str], name: str
) -> tuple[MissingGlyph, ...]:
    if not isinstance(pdf, bytes):
        return pdf
    for folder in folders:
        stage.write(f"{folder}/{name}", pdf)
    return ()


def _missing(found: Iterable[MissingGlyph], read: Read) -> Iterator[Problem]:
    """Each letter that can't be printed, where it is written first."""
    for each in found:
        fonts = " or ".join(each.fonts)
        yield Problem(
            "missing-glyph", Level.ERROR, _place(each, read),
            f"The letter {each.letter} (U+{ord(each.letter):04X}) isn't in {fonts}, the letters "
            f"that the sheets are printed with: “{each.text}” would have a hole.",
            "Write it another way, or add a font that has it to layouts/.")


def _place(missing: MissingGlyph, read: Read) -> Place:
    source = read.sources.get(missing.source)
    if source is None:
        return Place(missing.source or "content/class.yaml")
    for number, line in enumerate(source.text.splitlines(), start=1):
        if missing.letter in line:
            return Place(missing.source, number, line.index(missing.letter) + 1)
    return Place(missing.source)
