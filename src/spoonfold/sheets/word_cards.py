"""Word cards for the wall: the word outside, its meaning inside, folded from one printed side."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.sheets.shared.head import Head, head_of
from spoonfold.sheets.shared.words import WordView, word_view
from spoonfold.sheets.sheet import BuildContext, Layout, Moment, PackEntry, Part, SessionFile, Sheet
from spoonfold.teach.vocabulary import session_words

PER_PAGE = 6
"""Cards on a sheet: two beside each other, three below each other."""

_LONG, _LONGEST = 9, 13
"""Letters that a word may have at the largest size of type, and at the middle one."""

_MUCH = 120
"""Letters inside that still leave a line free at the usual size of type."""


@dataclass(frozen=True, slots=True)
class WordCard:
    """One card; without a word, one that a child fills in."""

    word: WordView | None
    size: str
    """`huge`, `big` or `plain`, so that the word fits on one line."""

    @property
    def is_long(self) -> bool:
        """Whether what stands inside needs smaller type."""
        return self.word is not None and len(self.word.meaning) + len(self.word.origin) > _MUCH


@dataclass(frozen=True, slots=True)
class WordCards:
    """The cards of one session's new words, page by page."""

    head: Head
    pages: tuple[tuple[WordCard, ...], ...]
    is_from_memory: bool
    """Whether anything on them was told from memory."""


def word_cards(
    folder: ClassFolder, classroom: Classroom, session: Session, texts: Texts
) -> WordCards | None:
    """The cards of a session; None where it brings no new word."""
    brought = session_words(classroom.sessions, folder.recipes, folder.words)
    new = next(each.new for each in brought if each.session == session.number)
    if not new:
        return None
    words = [word_view(key, folder.words[key]) for key in new]
    cards = [WordCard(word, _size(word.term)) for word in words]
    cards += [WordCard(None, "")] * (-len(cards) % PER_PAGE)
    return WordCards(
        head=head_of(folder, classroom, session, texts),
        pages=tuple(tuple(cards[at : at + PER_PAGE]) for at in range(0, len(cards), PER_PAGE)),
        is_from_memory=any(word.is_from_memory for word in words),
    )


def _size(term: str) -> str:
    if len(term) <= _LONG:
        return "huge"
    return "big" if len(term) <= _LONGEST else "plain"


def made(context: BuildContext) -> Iterator[Sheet]:
    """Cards of a session's new words, for the wall."""
    for session in context.sessions:
        cards = word_cards(context.folder, context.classroom, session, context.texts)
        if cards is not None:
            yield Sheet(
                (FILE.path(session, context.texts.language),),
                f"Printing the word cards of session {session.number}",
                LAYOUT,
                {"cards": cards},
                context.texts.language,
            )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    say = context.texts.say
    cards = word_cards(context.folder, context.classroom, session, context.texts)
    yield PackEntry(
        Moment.DAY,
        FILE.path(session, context.texts.language),
        say("Word cards"),
        say("on the day: cut out, fold and hang up"),
        0 if cards is None else 1,
    )


FILE = SessionFile("word-cards")

LAYOUT = Layout("word-cards.html")

PART = Part(made, FILE.owns, in_pack)
