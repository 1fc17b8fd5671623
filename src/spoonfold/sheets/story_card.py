"""The story card: where a dish is from, why it works, what to ask; to read aloud and hang up."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from spoonfold.language.marks import draft_mark, language_mark
from spoonfold.language.texts import Texts, direction_of
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Prose, plain_prose
from spoonfold.model.recipe import Recipe
from spoonfold.sheets.shared.head import Head, dishes_of, head_of
from spoonfold.sheets.shared.season_map import SeasonMap, dish_map, unnamed_countries
from spoonfold.sheets.shared.words import WordView, is_from_memory, word_view
from spoonfold.sheets.sheet import BuildContext, Layout, Moment, PackEntry, Part, SessionFile, Sheet
from spoonfold.teach.vocabulary import session_words

ONE_SIDE = 1670
"""Letters that a side was seen to hold at 13 points, below the title and the map; a longer dish
takes both sides."""


@dataclass(frozen=True, slots=True)
class StorySide:
    """What stands on one side; a prose is empty where it has no place here."""

    culture: Prose = ()
    science: Prose = ()
    talk: Prose = ()
    words: tuple[WordView, ...] = ()
    """Those that the session explains for the first time."""
    sources: tuple[str, ...] = ()

    @property
    def is_from_memory(self) -> bool:
        """Whether anything on it was told from memory."""
        return is_from_memory(self.culture, self.science, self.talk) or any(
            word.is_from_memory for word in self.words
        )

    @property
    def letters(self) -> int:
        """How much there is to read."""
        return (
            sum(len(plain_prose(prose)) for prose in (self.culture, self.science, self.talk))
            + sum(len(word.term + word.say + word.meaning + word.origin) for word in self.words)
            + sum(map(len, self.sources))
        )


@dataclass(frozen=True, slots=True)
class StoryDish:
    """One dish, on one side or on two."""

    key: str
    title: str
    language: str
    """Of the title and all prose."""
    direction: str
    mark: str
    """`in English`, where that isn't the reader's language; mostly empty."""
    draft: str
    """That no fluent speaker has read the translation; mostly empty."""
    place: str
    countries: tuple[str, ...]
    """Those that the place doesn't name already; mostly none."""
    map: SeasonMap | None
    """The world with this dish alone; None where nobody knows its place."""
    sides: tuple[StorySide, ...]


@dataclass(frozen=True, slots=True)
class StoryCard:
    """The dishes of one session that have something to tell."""

    head: Head
    dishes: tuple[StoryDish, ...]

    @property
    def sides(self) -> int:
        """How many printed sides there are."""
        return sum(len(dish.sides) for dish in self.dishes)


def story_card(
    folder: ClassFolder, classroom: Classroom, session: Session, texts: Texts
) -> StoryCard | None:
    """The card of a session; None where its dishes have neither sections nor new words."""
    brought = session_words(classroom.sessions, folder.recipes, folder.words)
    new = next(each.new for each in brought if each.session == session.number)
    recipes = dishes_of(folder, session)
    dishes = tuple(
        _dish(recipe, whole, texts)
        for recipe in recipes
        if (whole := _whole(recipe, folder, new)).letters
    )
    return StoryCard(head_of(folder, classroom, session, texts), dishes) if dishes else None


def _whole(recipe: Recipe, folder: ClassFolder, new: Collection[str]) -> StorySide:
    """All that a dish has to tell."""
    told = recipe.sections
    return StorySide(
        culture=told.get("culture", ()),
        science=told.get("science", ()),
        talk=told.get("talk", ()),
        words=tuple(
            word_view(term.text, folder.words[term.text])
            for term in recipe.words
            if term.text in new
        ),
        sources=recipe.sources,
    )


def _dish(recipe: Recipe, whole: StorySide, texts: Texts) -> StoryDish:
    return StoryDish(
        key=recipe.key,
        title=recipe.title,
        language=recipe.language or texts.language,
        direction=direction_of(recipe.language or texts.language),
        mark=language_mark(recipe.language, texts),
        draft=draft_mark(recipe.is_draft, texts),
        place=recipe.origin,
        countries=tuple(unnamed_countries(recipe, texts)),
        map=dish_map(recipe, texts),
        sides=_sides(whole),
    )


def _sides(whole: StorySide) -> tuple[StorySide, ...]:
    """The place and its words in front, what to think over behind, where one side is too small."""
    if whole.letters <= ONE_SIDE:
        return (whole,)
    front = StorySide(culture=whole.culture, words=whole.words)
    back = StorySide(science=whole.science, talk=whole.talk, sources=whole.sources)
    return tuple(side for side in (front, back) if side.letters)


def made(context: BuildContext) -> Iterator[Sheet]:
    """What is told of a session's dishes, to read aloud and hang up, in the languages of the
    table cards."""
    for edition in context.editions:
        language = edition.texts.language
        if language not in context.classroom.table_cards:
            continue
        for session in context.sessions:
            card = story_card(edition.folder, context.classroom, session, edition.texts)
            if card is not None:
                yield Sheet(
                    (FILE.path(session, language),),
                    f"Printing the story card of session {session.number} ({language})",
                    LAYOUT,
                    {"card": card},
                    language,
                    card.sides,
                )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    say = context.texts.say
    card = story_card(context.folder, context.classroom, session, context.texts)
    yield PackEntry(
        Moment.DAY,
        FILE.path(session, context.texts.language),
        say("Story card"),
        say("on the day: read aloud in the talk, then hang up"),
        0 if card is None else 1,
    )


FILE = SessionFile("story-card")

LAYOUT = Layout(
    "story.html",
    ("17pt", "16pt", "15.2pt", "14.4pt", "13.7pt", "13pt", "11.2pt"),
    holds=(1350, 1440, 1500, 1560, 1870, 2200),
)
"""All sizes but the last are 13 points and more, to be read from a step away."""

PART = Part(made, FILE.owns, in_pack)
