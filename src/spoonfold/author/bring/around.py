"""What stands around a recipe as people keep it: the heads and feet of a letter, quotation marks of
replies, the stamps of a chat, emphasis, capital letters."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field

from spoonfold.knowledge.brought import any_of

MOST = 4_000
"""Lines; a recipe has fewer, with all that a page has around it."""
LONGEST = 8_000
"""Characters of a line; a paragraph has fewer."""
_HEAD = re.compile(rf"{any_of('letter heads')}\s*:\s*(?P<said>\S.*)")
_SUBJECT = re.compile(rf"{any_of('subject')}\s*:\s*(?P<said>\S.*)")
_REPLY = re.compile(r"^(?:(?:re|fwd?|aw|wg|tr|rv)\s*:\s*)+", re.IGNORECASE)
_QUOTED = re.compile(r"\s*>[\s>]*")
_GREETING = re.compile(rf"{any_of('greetings')}(?:\s+[^\s,]+){{0,3}}\s*[,!]?")
_CLOSING = re.compile(rf"{any_of('closings')}(?:\s+[^\s,]+){{0,2}}\s*[,.!]*")
_SENT_FROM = re.compile(rf"{any_of('sent from')}\b.*")
_STAMP = re.compile(
    r"\[?\d{1,4}[./-]\d{1,2}(?:[./-]\d{2,4})?,?\s+\d{1,2}:\d{2}(?::\d{2})?(?:\s?[ap]m)?\]?"
    r"\s*(?:-\s*)?(?P<who>[^:]{1,30}):\s*",
    re.IGNORECASE,
)
_STRONG = re.compile(r"(\*\*|__)(?=\S)([^*_]{1,300}?)(?<=\S)\1")
_EMPHASIS = re.compile(r"(?<![\w*])([*_])(?=\S)([^*_]{1,300}?)(?<=\S)\1(?![\w*])")
_CODE = re.compile(r"`([^`]{1,300})`")
_RULE = re.compile(r"\s*(?:[-=_*~]\s*){3,}|\s*\|?[-:|\s]*-{3}[-:|\s]*")
_HEADING = re.compile(r"\s*={2,6}\s*([^=\s](?:[^=]*[^=\s])?)\s*={2,6}\s*")
_NUMBER_SIGN = re.compile(r"^\s*#+\s+")
_VALUES = re.compile(r"[^,\s][^,]*(?:,[^,\s][^,]*){1,4}")
_LEAST_ROWS = 3
_TABLE_ROW = re.compile(r"\s*\|[^|]*\|.*\|\s*")
_MOSTLY = 0.7
"""Share of the letters of a text that is written in capitals."""
_LEAST_LETTERS = 40
_LAST_LINES = 8
"""Of a letter: its closing words, and behind them names and the like."""
_MOST_IN_NAME = 4
"""Words."""
_SENTENCE_START = re.compile(r"(?:^|(?<=[.!?]\s))([^\W\d_])")
# A letter that is a measure or a scale means another thing when it is small.
_KEPT = re.compile(r"(?<=[0-9°º])\s*[FCTG]\b|(?<=[0-9]\s)[FCTG]\b")


@dataclass(slots=True)
class Unpacked:
    """The lines of a recipe, and what stood around them."""

    lines: list[str]
    """As they were, with the spaces within."""
    subject: str = ""
    """Of a letter; without Re: and Fwd:."""
    left_out: list[str] = field(default_factory=list)
    guesses: list[str] = field(default_factory=list)
    is_talk: bool = False
    """It is a chat, where talk stands before the recipe."""


def unpacked(text: str, is_recipe: Callable[[str], bool]) -> Unpacked:
    """`is_recipe` says of a line whether it surely belongs to a recipe."""
    lines = text.split("\n")
    found = Unpacked([line[:LONGEST].rstrip() for line in lines[:MOST]])
    if len(lines) > MOST or any(len(line) > LONGEST for line in lines):
        found.guesses.append(
            f"only the first {MOST} lines and {LONGEST} characters of each are here"
        )
    _talk(found)
    _letter(found, is_recipe)
    _marked_up(found)
    found.lines = [_plain(line) for line in found.lines]
    letters = [each for line in found.lines for each in line if each.isalpha()]
    capitals = sum(map(str.isupper, letters))
    if len(letters) >= _LEAST_LETTERS and capitals > _MOSTLY * len(letters):
        found.lines = [in_small_letters(line) for line in found.lines]
        found.guesses.append("it was all in capitals, and is in small letters here")
    return found


def _marked_up(found: Unpacked) -> None:
    """Takes headings between equals signs, and a table of values between commas, as what they
    are."""
    if any(map(_HEADING.fullmatch, found.lines)):
        found.lines = [
            _NUMBER_SIGN.sub("- ", _HEADING.sub(r"\1", line).replace("'''", ""))
            for line in found.lines
        ]
    rows = [line for line in found.lines if _VALUES.fullmatch(line)]
    if len(rows) >= _LEAST_ROWS and len({line.count(",") for line in rows}) == 1:
        found.lines = [
            line.replace(",", "\t") if _VALUES.fullmatch(line) else line for line in found.lines
        ]


def _talk(found: Unpacked) -> None:
    """Takes the recipe out of a chat: what the one says who says most of it."""
    stamps = [_STAMP.match(line) for line in found.lines]
    if sum(each is not None for each in stamps) < 2:
        return
    said: Counter[str] = Counter()
    speaker = ""
    whose = []
    for line, stamp in zip(found.lines, stamps, strict=True):
        speaker = stamp["who"].strip() if stamp else speaker
        said[speaker] += len(line) - (stamp.end() if stamp else 0)
        whose.append(speaker)
    cook = said.most_common(1)[0][0]
    lines = []
    for line, stamp, who in zip(found.lines, stamps, whose, strict=True):
        if who != cook:
            found.left_out.append(line)
        else:
            # Each message is a paragraph.
            lines += ["", line[stamp.end() :]] if stamp else [line]
    found.lines, found.is_talk = lines, True


def _letter(found: Unpacked, is_recipe: Callable[[str], bool]) -> None:
    lines = found.lines
    first = next((n for n, line in enumerate(lines) if line.strip()), 0)
    head = first
    while head < len(lines) and _HEAD.fullmatch(lines[head].strip()):
        head += 1
    if head - first >= 2:
        for line in lines[first:head]:
            subject = _SUBJECT.fullmatch(line.strip())
            if subject is not None:
                found.subject = _REPLY.sub("", subject["said"]).strip()
        found.left_out += lines[first:head]
        lines = lines[head:]
    own = [line for line in lines if not _QUOTED.match(line)]
    quoted = [line for line in lines if _QUOTED.match(line)]
    if quoted and any(map(is_recipe, map(str.strip, own))):
        found.left_out += quoted
        lines = own
    else:
        lines = [_QUOTED.sub("", line, count=1) if _QUOTED.match(line) else line for line in lines]
    found.lines = list(_without_manners(lines, found.left_out))


def _without_manners(lines: list[str], left_out: list[str]) -> list[str]:
    kept: list[str] = []
    said = [number for number, line in enumerate(lines) if line.strip()]
    # Where a letter can close: what follows are its last lines.
    closing = set(said[-_LAST_LINES:])
    below = dict(zip(said, [*said[1:], -1], strict=True)) if said else {}
    for number, line in enumerate(lines):
        words = line.strip()
        if kept and (words == "--" or (number in closing and _closes(words, lines, below[number]))):
            left_out += lines[number:]
            break
        if _SENT_FROM.fullmatch(words) or _GREETING.fullmatch(words):
            left_out.append(line)
            kept.append("")
        else:
            kept.append(line)
    return kept


def _closes(words: str, lines: list[str], below: int) -> bool:
    """Whether a line takes its leave, with nothing but a name below."""
    if _CLOSING.fullmatch(words) is None:
        return False
    return below < 0 or len(lines[below].split()) <= _MOST_IN_NAME


def _plain(line: str) -> str:
    """A line without the marks of emphasis; a rule is an empty line, and the cells of a table have
    tabs between them."""
    if _RULE.fullmatch(line):
        return ""
    if _TABLE_ROW.fullmatch(line):
        line = "\t".join(map(str.strip, line.strip().strip("|").split("|")))
    return _CODE.sub(r"\1", _EMPHASIS.sub(r"\2", _STRONG.sub(r"\2", line)))


def in_small_letters(line: str) -> str:
    """A line of capitals as a sentence is written; letters that are measures are kept."""
    kept = [found[0] for found in _KEPT.finditer(line)] + [""]
    small = "".join(
        f"{each.lower()}{letter}" for each, letter in zip(_KEPT.split(line), kept, strict=True)
    )
    return _SENTENCE_START.sub(lambda found: found[1].upper(), small)
