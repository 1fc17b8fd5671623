"""A new recipe, session or word, begun where it belongs."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from spoonfold.author.grow import Grown, with_entry, with_session
from spoonfold.author.words import file_name
from spoonfold.author.written import Refused, Written, write_new, write_over
from spoonfold.problem import Problem
from spoonfold.read.classroom import read_classroom
from spoonfold.read.files import Source, read_source
from spoonfold.read.folder import CLASS_FILE, WORDS_FILE
from spoonfold.read.yaml_text import clean, yaml_text

# Nothing stands where the cook's own facts belong: an example amount that she forgets to
# change would be printed, and cooked.
_RECIPE = """\
---
# What stands behind a # is a note for you. Fill in what is missing, save, and type:
# spoonfold check
title: {title}
serves:          # how many it feeds at home: 4
ingredients:     # one on a line: 1 1/2 cups red lentils, rinsed
  -{space}
# If it is from somewhere, take the # away here and write where; the map shows it:
# place: Gaziantep, Türkiye
# country: TR
---

## Steps

1.{space}
"""


@dataclass(frozen=True, slots=True)
class NewSession:
    """A session that was added."""

    written: Written
    number: int
    date: datetime.date


def new_recipe(folder: Path, title: str, name: str | None = None) -> Written | Refused:
    """Begins `content/recipes/NAME.md`; the name comes from the title."""
    if not clean(title):
        return Refused("A recipe needs a title.", 'spoonfold new recipe "Red lentil soup"')
    key = file_name(name or title)
    text = _RECIPE.format(title=yaml_text(title), space=" ")
    made = write_new(folder, f"content/recipes/{key}.md", text)
    if isinstance(made, Refused) and not made.instead:
        return Refused(made.why, f"Give the new file another name: --name {key}-2")
    return made


def new_session(
    folder: Path, dishes: Iterable[str], lesson: str | None = None
) -> NewSession | Refused:
    """Adds a session at the end of class.yaml; every other byte stays."""
    source = read_source(folder, CLASS_FILE)
    if isinstance(source, Problem):
        return Refused(source.message, source.hint)
    before = read_classroom(source, [])
    if before is None:
        return Refused("class.yaml can't be read yet.", "Mend it first: spoonfold check")
    entry = f"dishes: [{', '.join(map(yaml_text, dishes))}]"
    if lesson is not None:
        entry += f", lesson: {yaml_text(lesson)}"
    grown = _grown(folder, CLASS_FILE, lambda text: with_session(text, CLASS_FILE, entry))
    if isinstance(grown, Refused):
        return grown
    after = read_classroom(Source(CLASS_FILE, grown.plain), [])
    if after is None or len(after.sessions) != len(before.sessions) + 1:
        return Refused(
            "The sessions in class.yaml can't be followed.",
            f"Add this line by hand under sessions:   - {{{entry}}}",
        )
    refused = write_over(folder, CLASS_FILE, grown.text)
    if refused is not None:
        return refused
    last = after.sessions[-1]
    return NewSession(Written(CLASS_FILE, grown.line), last.number, last.date)


def new_word(folder: Path, term: str, meaning: str = "") -> Written | Refused:
    """Adds a word to words.yaml, which is begun where it isn't there."""
    words = clean(term)
    if not words:
        return Refused("A word is missing.", "spoonfold new word simmer")
    lines = [
        f"{yaml_text(words)}:",
        f"  meaning: {yaml_text(meaning)}"
        if clean(meaning)
        else "  meaning:     # what it means, in words that a child knows",
    ]
    if not (folder / WORDS_FILE).exists():
        made = write_new(folder, WORDS_FILE, "\n".join([*lines, ""]))
        return made if isinstance(made, Refused) else Written(WORDS_FILE, 1)
    grown = _grown(folder, WORDS_FILE, lambda text: with_entry(text, WORDS_FILE, words, lines))
    if isinstance(grown, Refused):
        return grown
    return write_over(folder, WORDS_FILE, grown.text) or Written(WORDS_FILE, grown.line)


def _grown(folder: Path, path: str, grow: Callable[[str], Grown | Refused]) -> Grown | Refused:
    """A file of the folder with what `grow` adds to its text."""
    source = read_source(folder, path)
    if isinstance(source, Problem):
        return Refused(source.message, source.hint)
    try:
        # Read again with its own line ends, which `read` has made all alike.
        text = (folder / path).read_bytes().decode("utf-8")
    except (OSError, UnicodeDecodeError):
        return Refused(f"{path} can't be read.")
    return grow(text)
