"""The pages of the class site."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from spoonfold.knowledge.cautions import ADULT
from spoonfold.language.amounts import number_text
from spoonfold.language.calendar import date_text, day_text, plate_text, time_text
from spoonfold.language.marks import draft_mark, language_mark
from spoonfold.language.texts import Texts, direction_of
from spoonfold.model.classroom import Classroom, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Picture, Text, inlines, leaves
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.at_home import home_time
from spoonfold.sheets.colours import dish_colours, plate_of, season_plate
from spoonfold.sheets.notice import notice_of
from spoonfold.sheets.season.calendar import CALENDAR_NAME, public_calendar, said_to_families
from spoonfold.sheets.shared.cautions import CautionView, cautions_of
from spoonfold.sheets.shared.head import site_folder
from spoonfold.sheets.shared.labels import labels_of
from spoonfold.sheets.shared.lines import DishAmounts, dish_amounts
from spoonfold.sheets.shared.recipe import opening, recipe_sheet, reminded, taught_words, time_texts
from spoonfold.sheets.shared.season_map import season_map
from spoonfold.sheets.shared.steps import Fact, StepView
from spoonfold.sheets.shared.words import word_view, word_views
from spoonfold.sheets.sheet import BuildContext, Edition, File, Page, Part
from spoonfold.sheets.site.filters import filters_of, traits_of
from spoonfold.sheets.site.pages import (
    Dish,
    HomePage,
    IngredientsPage,
    RecipePage,
    SeasonPage,
    SessionRow,
    Site,
    WordsPage,
    frame_of,
    published_data,
    recipe_data,
)
from spoonfold.teach.vocabulary import session_words

SIZES = tuple(range(1, 13))
"""How many a page's amounts are worked out for: a household has at most 12."""


def site_of(
    folder: ClassFolder,
    classroom: Classroom,
    uses: Mapping[str, Uses],
    texts: Texts,
    booklets: Collection[str] = (),
) -> Site:
    """The site but for the pages of its dishes; `booklets` names the files of booklets that
    there are."""
    frame = frame_of(folder, classroom, texts, "", booklets)
    dishes = {
        key: _dish(recipe, folder, classroom, uses[key], texts)
        for key, recipe in folder.recipes.items()
    }
    sessions = _sessions(folder, classroom, dishes, texts)
    others = tuple(dish for dish in dishes.values() if not dish.sessions)
    facts = _facts(classroom, texts)
    description = ". ".join((classroom.name, *(fact.text for fact in facts)))
    views = word_views(folder.words)
    return Site(
        home=HomePage(
            frame,
            facts,
            description,
            sessions,
            others,
            filters_of([dish.traits for dish in dishes.values()], texts),
        ),
        below=frame_of(folder, classroom, texts, "../", booklets),
        words=WordsPage(
            frame,
            views,
            {
                view.anchor: tuple(
                    dish
                    for dish in dishes.values()
                    if any(word.anchor == view.anchor for word in dish.words)
                )
                for view in views
            },
        ),
        season=SeasonPage(
            frame,
            facts,
            sessions,
            season_map(folder, classroom, texts),
            season_plate(folder, classroom, uses, texts),
        ),
    )


def recipe_page(
    key: str,
    site: Site,
    folder: ClassFolder,
    classroom: Classroom,
    uses: Uses,
    amounts: DishAmounts,
    texts: Texts,
) -> RecipePage:
    """The page of one dish: of a thousand dishes they are too large to be held together."""
    recipe = folder.recipes[key]
    setting = _setting_of(key, classroom)
    sheet = recipe_sheet(recipe, amounts, folder.pantry, folder.words, SIZES, setting, texts)
    sheet = replace(sheet, steps=reminded(_at_home(recipe, sheet.steps, texts), texts))
    return RecipePage(
        site.below,
        sheet,
        sessions=tuple(
            each for each in site.season.sessions if any(dish.key == key for dish in each.dishes)
        ),
        data=published_data(
            recipe_data(recipe, folder.pantry, texts, sheet.description, sheet.countries),
            sheet.labels,
            classroom.name,
            texts,
        ),
        plate=plate_of(recipe, uses, folder.pantry, setting, texts),
        numbers=tuple(number_text(Fraction(size), texts) for size in SIZES),
        usual=SIZES.index(_usual(recipe, classroom)),
        households=tuple(SIZES.index(size) for size in classroom.households),
    )


def _at_home(recipe: Recipe, steps: tuple[StepView, ...], texts: Texts) -> tuple[StepView, ...]:
    """The steps in the words for a kitchen at home where the author wrote any. Those say what the
    adult does there; the note for the class says it of the class."""
    return tuple(
        replace(view, text=(Text(step.home, step.place),), cautions=_cautions_at_home(step, texts))
        if step.home
        else view
        for step, view in zip(recipe.steps, steps, strict=True)
    )


def _cautions_at_home(step: Step, texts: Texts) -> tuple[CautionView, ...]:
    stays = texts.say("stays with this step")
    jobs = {
        text: replace(term, text=text)
        for term in step.adult
        for text in (term.text if term.text.casefold() in ADULT else stays,)
    }
    return cautions_of(replace(step, adult=tuple(jobs.values())), texts)


def _setting_of(key: str, classroom: Classroom) -> Setting:
    """Where a dish is cooked first; the usual place, where no session cooks it."""
    return next(
        (
            each.setting
            for each in classroom.sessions
            if any(dish.text == key for dish in each.dishes)
        ),
        classroom.setting,
    )


def _usual(recipe: Recipe, classroom: Classroom) -> int:
    """As the recipe was written, or else for the first household."""
    return next((size for size in SIZES if size == recipe.serves), classroom.households[0])


def _dish(
    recipe: Recipe, folder: ClassFolder, classroom: Classroom, uses: Uses, texts: Texts
) -> Dish:
    labels = labels_of(recipe, folder.pantry, texts)
    said_in = recipe.language or texts.language
    return Dish(
        key=recipe.key,
        title=recipe.title,
        language=said_in,
        direction=direction_of(said_in),
        mark=language_mark(recipe.language, texts),
        draft=draft_mark(recipe.is_draft, texts),
        origin=recipe.origin,
        # As it was written: the words of a dish are explained on its own page.
        lede=opening(recipe.headnote)[0],
        photo=next(
            (each for each in leaves(tuple(inlines(recipe.headnote))) if isinstance(each, Picture)),
            None,
        ),
        sessions=tuple(
            session.number
            for session in classroom.sessions
            if any(dish.text == recipe.key for dish in session.dishes)
        ),
        contains=tuple(label.allergen for label in labels.contains),
        check=tuple(label.allergen for label in labels.check),
        unknown=labels.unknown,
        words=taught_words(recipe, folder.words),
        times=time_texts(home_time(recipe, recipe.serves), texts),
        traits=traits_of(
            recipe,
            folder.pantry,
            folder.skills,
            dish_colours(recipe, uses, folder.pantry, texts),
            texts,
        ),
    )


def _sessions(
    folder: ClassFolder, classroom: Classroom, dishes: Mapping[str, Dish], texts: Texts
) -> tuple[SessionRow, ...]:
    rows = []
    brought = session_words(classroom.sessions, folder.recipes, folder.words)
    for session, words in zip(classroom.sessions, brought, strict=True):
        cooked = tuple(dishes[dish.text] for dish in session.dishes if dish.text in dishes)
        lesson = folder.lessons.get(session.lesson.text) if session.lesson else None
        rows.append(
            SessionRow(
                number=session.number,
                date=date_text(session.date, texts.language),
                machine_date=session.date.isoformat(),
                plate=plate_text(session.date, texts.language),
                dishes=cooked,
                lesson=lesson.title if lesson else "",
                words=tuple(word_view(key, folder.words[key]) for key in words.new),
                again=tuple(word_view(key, folder.words[key]) for key in words.again),
                hours=_hours(session.date, session.setting, texts),
                said=said_to_families(session, texts),
                calendar=_calendar_name(session),
            )
        )
    return tuple(rows)


def _facts(classroom: Classroom, texts: Texts) -> tuple[Fact, ...]:
    """Where and when the class meets."""
    facts = [Fact("place", classroom.location)]
    dates = [each.date for each in classroom.sessions]
    if dates:
        first, last = (day_text(date, texts.language) for date in (dates[0], dates[-1]))
        facts += [
            Fact(
                "table",
                texts.count(
                    "1 meeting, {first}",
                    "{number} meetings, {first} to {last}",
                    len(dates),
                    first=first,
                    last=last,
                ),
            ),
            Fact("clock", _hours(dates[0], classroom.setting, texts)),
        ]
    return tuple(facts)


def _hours(date: datetime.date, setting: Setting, texts: Texts) -> str:
    starts = datetime.datetime.combine(date, setting.starts)
    ends = starts + datetime.timedelta(minutes=setting.minutes)
    return texts.say(
        "{starts} to {ends}",
        starts=time_text(starts.time(), texts.language),
        ends=time_text(ends.time(), texts.language),
    )


def _calendar_name(session: Session) -> str:
    return f"meetings/{session.date.isoformat()}-{session.number}.ics"


def _calendars(top: str, edition: Edition, classroom: Classroom) -> Iterator[File]:
    """The season as a calendar, and each meeting as one of its own."""
    folder, sessions = edition.folder, classroom.sessions
    named = [(_calendar_name(each), [each]) for each in sessions]
    for name, some in [(CALENDAR_NAME, sessions), *named] if sessions else ():
        yield File(f"{top}{name}", public_calendar(folder, classroom, some, edition.texts))


def made(context: BuildContext) -> Iterator[Page | File]:
    """The pages of the site in each language, and its calendars."""
    classroom = context.classroom
    sites = [
        (
            f"site/{site_folder(edition.texts.language, classroom)}",
            edition,
            site_of(edition.folder, classroom, edition.uses, edition.texts, context.booklets),
        )
        for edition in context.editions
    ]
    for top, edition, site in sites:
        notice = notice_of(edition.folder, classroom, edition.texts)
        ingredients = IngredientsPage(site.season.frame, notice)
        yield Page(f"{top}index.html", "home.html", site.home, edition)
        yield Page(f"{top}words.html", "words.html", site.words, edition)
        yield Page(f"{top}season.html", "season.html", site.season, edition)
        yield Page(f"{top}ingredients.html", "ingredients.html", ingredients, edition)
        yield from _calendars(top, edition, classroom)
    # One dish in every language before the next: its amounts are the same in all of them.
    for key, recipe in context.recipes.items():
        amounts = dish_amounts(
            recipe, context.uses[key], context.folder.pantry, SIZES, _setting_of(key, classroom)
        )
        for top, edition, site in sites:
            page = recipe_page(
                key, site, edition.folder, classroom, edition.uses[key], amounts, edition.texts
            )
            yield Page(f"{top}recipes/{key}.html", "recipe.html", page, edition)


PART = Part(made, ("site/*",))
