"""Which words a session brings, and which earlier ones it brings back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from spoonfold.model.classroom import Session
from spoonfold.model.recipe import Recipe
from spoonfold.model.teaching import Word
from spoonfold.teach.words import Marker, prose_of

MOST_NEW = 5
"""New words in one session (common practice: three to five); see `session_words`."""

MOST_BACK = 4
"""Earlier words that one session brings back."""


@dataclass(frozen=True, slots=True)
class SessionWords:
    """The words of one session, by their names in the list of words."""

    session: int
    new: tuple[str, ...]
    """For the first time in the season, in the order of the recipes' headers."""
    again: tuple[str, ...]
    """Brought back: first what its dishes teach, then what they use, then what is due."""


@dataclass(slots=True)
class _Known:
    """A word that has been met."""

    due: int
    """The meeting, counted from 0, at which it should come back."""
    gap: int = 1
    """Meetings from the last time to the next; doubled each time."""


def session_words(
    sessions: Sequence[Session], recipes: Mapping[str, Recipe], words: Mapping[str, Word]
) -> tuple[SessionWords, ...]:
    """The new and the returning words of every session, in order.

    A session of more than `MOST_NEW` new words leaves to a later one those that the later one
    teaches too; those that no other dish teaches are never put off. A word comes back after
    one meeting, then after two, four and eight: practice at widening distances, after
    T. K. Landauer and R. A. Bjork, “Optimum rehearsal patterns and name learning” (1978); that
    the distances double is common practice. A word that its dishes teach again comes back
    whether it is due or not.
    """
    taught = [_taught(session, recipes, words) for session in sessions]
    known: dict[str, _Known] = {}
    made = []
    for index, session in enumerate(sessions):
        fresh = [term for term in taught[index] if term not in known]
        new = tuple(_kept(fresh, {term for later in taught[index + 1 :] for term in later}))
        again = tuple(_back(index, taught[index], _used(session, recipes, words), known))
        for term in new:
            known[term] = _Known(index + 1)
        for term in again:
            known[term].gap *= 2
            known[term].due = index + known[term].gap
        made.append(SessionWords(session.number, new, again))
    return tuple(made)


def _taught(
    session: Session, recipes: Mapping[str, Recipe], words: Mapping[str, Word]
) -> tuple[str, ...]:
    return tuple(
        dict.fromkeys(
            term.text
            for dish in session.dishes
            if dish.text in recipes
            for term in recipes[dish.text].words
            if term.text in words
        )
    )


def _used(
    session: Session, recipes: Mapping[str, Recipe], words: Mapping[str, Word]
) -> frozenset[str]:
    """The words that stand in what is read out: headnotes, steps and sections."""
    marker = Marker(words)
    return frozenset(
        key
        for dish in session.dishes
        if dish.text in recipes
        for text in prose_of(recipes[dish.text])
        for key in marker.mentions(text)
    )


def _kept(fresh: Sequence[str], later: set[str]) -> Iterator[str]:
    """The new words less those put off, from the end of the list."""
    over = len(fresh) - MOST_NEW
    put_off = set([term for term in reversed(fresh) if term in later][: max(0, over)])
    return (term for term in fresh if term not in put_off)


def _back(
    index: int, taught: Sequence[str], used: frozenset[str], known: Mapping[str, _Known]
) -> list[str]:
    due = sorted(
        (term for term, each in known.items() if each.due <= index),
        key=lambda term: known[term].due,
    )
    order = dict.fromkeys(
        (*(term for term in taught if term in known), *(term for term in due if term in used), *due)
    )
    return list(order)[:MOST_BACK]
