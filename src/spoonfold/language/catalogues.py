"""Whether a class's own catalogue of fixed texts can be used (GNU gettext, “The Format of PO
Files”)."""

from __future__ import annotations

import re
import string
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from io import BytesIO

_QUOTED_LINE = re.compile(r'\s*(?:msg\w+(?:\[\d+\])?\s*)?"|\s*msg')
_WHOLE_LINE = re.compile(r'\s*(?:msg\w+(?:\[\d+\])?\s+)?"(?:\\.|[^"\\])*"')
_MOST_COUNTED = 200
"""Whole numbers for which the rule of the plural is tried."""


@dataclass(frozen=True, slots=True)
class Misprint:
    """What is wrong in a catalogue, and on which line; 0: with all of it."""

    line: int
    message: str
    hint: str
    is_lost: bool = False
    """Whether what ships is used instead, so that nothing is printed wrong."""


def misprints(data: bytes, language: str, known: Collection[str]) -> Iterator[Misprint]:
    """What is wrong in a catalogue of a language. `known`: every text that there is to say."""
    from babel.core import Locale, UnknownLocaleError
    from babel.messages.pofile import PoFileError, read_po

    try:
        Locale.parse(language.replace("-", "_"))
    except (UnknownLocaleError, ValueError):
        yield Misprint(
            0,
            f"“{language}” is no code of a language, so this catalogue isn't read.",
            "Name it by the code that class.yaml lists, such as es.po.",
        )
        return
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = len(data[: error.start].split(b"\n"))
        yield Misprint(line, "This catalogue isn't saved as UTF-8 text.", "Save it as UTF-8.")
        return
    for line, each in enumerate(text.split("\n"), 1):
        if _QUOTED_LINE.match(each) and not _WHOLE_LINE.fullmatch(each.rstrip()):
            yield Misprint(
                line,
                "The quotation marks of this line don't match.",
                'A line begins and ends with ", and inside it \\" stands for one.',
            )
            return
    try:
        catalogue = read_po(
            BytesIO(text.encode()), locale=language.replace("-", "_"), abort_invalid=True
        )
    except PoFileError as error:
        yield Misprint(
            (error.lineno or 0) + 1 if error.lineno is not None else 0,
            f"This catalogue can't be read: {error}.",
            'Each text is two lines: msgid "the English", msgstr "your words".',
        )
        return
    except (ValueError, LookupError, TypeError, SyntaxError, RecursionError) as error:
        yield Misprint(
            0, f"This catalogue can't be read: {error}.", "Begin anew from the one that ships."
        )
        return
    wrong = _plural_wrong(data, language)
    if wrong:
        yield Misprint(
            next((n for n, each in enumerate(text.split("\n"), 1) if "Plural-Forms" in each), 0),
            f"The rule of the plural can't be used: {wrong}.",
            "Copy the line Plural-Forms from a catalogue of this language.",
        )
    forms = catalogue.num_plurals
    for message in catalogue:
        if not message.id:
            continue
        one, *many = message.id if isinstance(message.id, (list, tuple)) else (message.id,)
        said = message.string if isinstance(message.string, (list, tuple)) else (message.string,)
        line = message.lineno or 0
        if one not in known:
            yield Misprint(
                line,
                f"Nothing says “{_short(one)}”, so these words are never printed.",
                "Copy the English from spoonfold.pot, letter for letter.",
                is_lost=True,
            )
            continue
        if message.fuzzy:
            yield Misprint(
                line,
                f"“{_short(one)}” is marked fuzzy, so your words aren't printed.",
                "Look whether they are right, and remove the line “#, fuzzy”.",
                is_lost=True,
            )
            continue
        if many and any(said) and len([each for each in said if each]) != forms:
            yield Misprint(
                line,
                f"“{_short(one)}” needs {forms} forms, and some of them are missing.",
                f"Write msgstr[0] to msgstr[{forms - 1}].",
            )
        for form in filter(None, said):
            yield from _blanks_wrong(form, (one, *many), line)


def texts_of(template: bytes) -> frozenset[str]:
    """The English of every text in a catalogue or its template; of a plural, the singular."""
    from babel.messages.pofile import read_po

    return frozenset(
        each.id[0] if isinstance(each.id, (list, tuple)) else each.id
        for each in read_po(BytesIO(template))
        if each.id
    )


def _blanks_wrong(said: str, english: tuple[str, ...], line: int) -> Iterator[Misprint]:
    """Blanks that are missing, or that nothing fills."""
    each_asks = [_blanks(each) or set() for each in english]
    wanted = set().union(*each_asks)
    if not wanted:
        return
    found = _blanks(said)
    if found is None:
        yield Misprint(
            line,
            f"A brace of “{_short(said)}” isn't closed.",
            f"The blanks of this text are {_listed(wanted)}.",
        )
        return
    strange = found - wanted
    # One form of a plural may say as a word what another says as a number.
    missing = each_asks[0].intersection(*each_asks) - found
    if strange or missing:
        yield Misprint(
            line,
            f"“{_short(said)}” "
            + (
                f"has {_listed(strange)}, which nothing fills."
                if strange
                else f"leaves out {_listed(missing)}, so that it isn't printed."
            ),
            f"The blanks of this text are {_listed(wanted)}.",
        )


def _blanks(text: str) -> set[str] | None:
    """The blanks of a text, with all that stands in their braces; None where a brace is open."""
    try:
        return {
            f"{name}{'!' + turned if turned else ''}{':' + form if form else ''}"
            for _, name, form, turned in string.Formatter().parse(text)
            if name is not None
        }
    except ValueError:
        return None


def _plural_wrong(data: bytes, language: str) -> str:
    """Why the rule of the plural fails; empty where it doesn't."""
    from spoonfold.language.texts import translations

    try:
        compiled = translations(data, language)
        for number in range(_MOST_COUNTED):
            compiled.ngettext("", " ", number)
    except Exception as error:
        return str(error) or type(error).__name__
    return ""


def _listed(names: Collection[str]) -> str:
    return ", ".join(f"{{{each}}}" for each in sorted(names))


def _short(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:59]}…"
