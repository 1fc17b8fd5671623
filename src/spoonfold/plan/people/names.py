"""Where a text says a child's name, however it is spelt.

Text and names are compared without case, marks and invisible signs (Unicode Standard Annex 15,
NFKD; Unicode 3.13, default caseless matching), with apostrophes, hyphens and spaces of every
kind alike. A name that is a word as well, of the kitchen or of any language, can be told from
the word by its capital alone, and not everywhere by that.
"""

from __future__ import annotations

import html
import re
import unicodedata
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from spoonfold.knowledge.first_names import dishes, places_and_months, words
from spoonfold.model.folder import ClassFolder
from spoonfold.read.pantry import shipped_names

_SHORT = 2
"""Names of so many letters are words in some language; a single letter stands in any text."""
_APOSTROPHES = "'’‘ʼʹ′´＇"
_WITHOUT_MARKS = {"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"}
_SPELT_OUT = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "ø": "oe"})
_SIGN = re.compile(
    r"&(?:#\d{1,7}|#[xX][0-9a-fA-F]{1,6}|[A-Za-z]{2,31});"
    r"|\\(?:x[0-9a-fA-F]{2}|u[0-9a-fA-F]{4}|U000[0-9a-fA-F]{5})"
)
"""A letter as Markdown (CommonMark 0.31, 6.2) or YAML (1.2.2, 5.7) may spell it."""
_NOTHING = "\u00ad"
"""A sign that folding drops, to keep every letter where it stands."""
_LETTER = r"[^\W\d_]"
_ENDING = r"(?:'s?|(?<=\w\w\w)(?:es|s)'?)?"
"""Possessive and plural; behind two letters an s makes other words."""
_MOST_INITIALS = 4
_BETWEEN = r"[\s'_\-]{0,9}"
_UNPARTED = re.compile(r"[\u0e00-\u0eff\u1000-\u109f\u1100-\u11ff\u3040-\u30ff\u3400-\u9fff]")
"""Scripts that put no space between words, or hang endings on a name (Korean, as its letters)."""
_SENTENCE_ENDS = ".!?:;…|。！？"
_OPENING = " \t*_\"“„«‘'([{<>#"
_SMALL_IN_TITLES = frozenset(
    [
        "and",
        "for",
        "the",
        "with",
        "from",
        "over",
        "into",
        "con",
        "del",
        "las",
        "los",
        "para",
        "aux",
        "avec",
        "des",
        "les",
        "pour",
        "dans",
    ]
)
_LIST_MARK = re.compile(r"\s*(?:[-*+•]|\d{1,3}[.)])?\s*")


class _Folding(dict[int, str]):
    """What each sign becomes, worked out when it is first met."""

    def __missing__(self, code: int) -> str:
        sign = chr(code)
        category = unicodedata.category(sign)
        if sign in _APOSTROPHES:
            folded = "'"
        elif category == "Pd" or sign == "−":
            folded = "-"
        elif category == "Zs":
            folded = " "
        elif category in ("Cf", "Me"):
            folded = ""
        else:
            parts = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", sign).casefold())
            folded = "".join(
                _WITHOUT_MARKS.get(each, each) for each in parts if not unicodedata.combining(each)
            )
        self[code] = folded
        return folded


_FOLDING = _Folding()
_BEYOND_ASCII = re.compile(r"[^\x00-\x7f]+")


def _folded(text: str) -> str:
    if text.isascii():
        return text.lower()
    return _BEYOND_ASCII.sub(lambda match: match[0].translate(_FOLDING), text).lower()


def _unspelt(text: str) -> str:
    """The text with letters for what spells them, each where its spelling begins."""
    if "&" not in text and "\\" not in text:
        return text

    def letter(match: re.Match[str]) -> str:
        spelt = match[0]
        code = spelt[2:] if spelt[0] == "\\" else ""
        said = chr(int(code, 16)) if code else html.unescape(spelt)
        return said + _NOTHING * (len(spelt) - len(said)) if len(said) <= len(spelt) else spelt

    return _SIGN.sub(letter, text)


@dataclass(frozen=True, slots=True)
class Mention:
    """A place that says a name."""

    start: int
    """The first of its letters, counted from 0."""
    is_sure: bool
    """Otherwise it may as well be a word, a place or a month."""


@dataclass(frozen=True, slots=True)
class _Name:
    is_word: bool = False
    is_place: bool = False
    is_initials: bool = False


class NameSearch:
    """Looks for the names of one list in any text."""

    def __init__(self, names: Iterable[str], foods: Iterable[str] = ()) -> None:
        """`foods` are the names that foods go by."""
        called = [_plain(each) for each in foods]
        self._ordinary = words() | {each for each in called if " " not in each}
        self._phrases = (*dishes(), *(each for each in called if " " in each))
        self._known: dict[str, _Name] = {}
        spelt: dict[str, str] = {}
        for name in names:
            spelt.update(self._spellings(unicodedata.normalize("NFC", name)))
        keys = sorted(spelt, key=lambda each: (-len(each), each))
        unparted = [spelt[each] for each in keys if _UNPARTED.search(each)]
        parted = [spelt[each] for each in keys if not _UNPARTED.search(each)]
        # What never matches, where there is none of a kind.
        never = ["(?!)"]
        self._pattern = re.compile(
            f"(?<!{_LETTER})(?P<parted>{'|'.join(parted or never)}){_ENDING}(?!{_LETTER})"
            f"|(?P<unparted>{'|'.join(unparted or never)})"
        )
        self._begins = tuple({re.split(r"[^\w]", each, maxsplit=1)[0] for each in spelt.values()})

    def _spellings(self, name: str) -> Iterator[tuple[str, str]]:
        """Every way in which a name of the list is searched for, by its letters alone."""
        letters = "".join(filter(str.isalpha, name))
        if len(letters) < _SHORT:
            return
        is_short = len(letters) == _SHORT or "." in name.strip(".")
        if letters.isupper() and is_short and len(letters) <= _MOST_INITIALS:
            key = _folded(letters)
            self._known[key] = _Name(is_initials=True)
            # A letter in front that the quick look finds.
            yield key, f"{key[0]}\\.?[ ]?" + r"\.?[ ]?".join(key[1:]) + r"\.?"
            return
        for each in dict.fromkeys((name, name.lower().translate(_SPELT_OUT))):
            parts = [part for part in re.split(r"[\s\-.,]+", _folded(each)) if len(part) > 1]
            whole = [parts] if len(parts) > 1 else []
            alone = [[part] for part in parts if len(part) > _SHORT or len(parts) == 1]
            for together in (*whole, *alone):
                key = re.sub(r"\W", "", "".join(together))
                self._known.setdefault(key, self._kind(key, is_one=len(together) == 1))
                yield (
                    key,
                    _BETWEEN.join(
                        r"['\s\-]?".join(map(re.escape, part.split("'"))) for part in together
                    ),
                )

    def _kind(self, key: str, *, is_one: bool) -> _Name:
        if not is_one or _UNPARTED.search(key):
            return _Name()
        is_word = len(key) <= _SHORT or key in self._ordinary or f"{key}s" in self._ordinary
        is_place = key in places_and_months()
        return _Name(is_word=is_word or is_place, is_place=is_place)

    def mentions(
        self, text: str, listed: Collection[str] = (), language: str = ""
    ) -> Iterator[Mention]:
        """Where a text says a name, in order.

        `listed` are words of the foods that are at hand there, folded: they are likelier meant
        than a child. Of a `language` that writes every noun with a capital, no word is sure.
        """
        text = _unspelt(text)
        folded = _folded(text)
        where: list[int] | None = None
        # Most texts fold letter for letter.
        moves = any(len(_FOLDING[ord(sign)]) != 1 for sign in set(text))
        for match in self._matches(folded):
            first, last = match.start(), match.end() - 1
            if moves:
                if where is None:
                    where = [n for n, sign in enumerate(text) for _ in _FOLDING[ord(sign)]]
                first, last = where[first], where[last]
            sure = self._judged(match, text, (first, last + 1), listed, language)
            if sure is not None:
                yield Mention(first, sure)

    def _matches(self, folded: str) -> Iterator[re.Match[str]]:
        """Where the pattern fits. It is tried where a name may begin: in a search of its own it
        would try every name at every letter, which takes ten times as long."""
        places: set[int] = set()
        for begin in self._begins:
            at = folded.find(begin)
            while at >= 0:
                if not at or not folded[at - 1].isalpha() or _UNPARTED.match(begin):
                    places.add(at)
                at = folded.find(begin, at + 1)
        end = 0
        for at in sorted(places):
            match = self._pattern.match(folded, at) if at >= end else None
            if match is not None:
                end = match.end()
                yield match

    def says_one(self, text: str) -> bool:
        """Whether a name is said, or may be."""
        return next(self.mentions(text), None) is not None

    def _judged(
        self,
        match: re.Match[str],
        text: str,
        span: tuple[int, int],
        listed: Collection[str],
        language: str,
    ) -> bool | None:
        """Whether this surely is a name; None: it is a word, or a part of a food's name."""
        first, after = span
        key = re.sub(r"[\W_]", "", match["parted"] or match["unparted"])
        name = self._known.get(key, _Name())
        said = text[first:after]
        if name.is_initials:
            return False if "".join(filter(str.isalpha, said)).isupper() else None
        if not name.is_word:
            if self._is_in_a_phrase(match):
                return None
            return not _is_in_an_address(text, first)
        if name.is_place and key not in self._ordinary and not said[:1].isupper():
            return False
        if not said[:1].isupper() or self._is_in_a_phrase(match):
            return None
        if name.is_place:
            return None if _is_in_a_date(text, first, after) else False
        if _begins_sentence(text, first):
            return None if key in listed else False
        if key in listed or language in ("de", "lb") or _is_titled(text, first, after):
            return None if key in listed and _is_titled(text, first, after) else False
        return not _is_in_an_address(text, first)

    def _is_in_a_phrase(self, match: re.Match[str]) -> bool:
        """Whether it is a part of the name of a food or a dish."""
        folded = match.string
        start = max(0, match.start() - 40)
        around = re.sub(r"[\s\-]", " ", folded[start : match.end() + 40])
        begin, end = match.start() - start, match.end() - start
        base = re.sub(r"'?s?$", "", match[0])
        for phrase in self._phrases:
            if base not in phrase:
                continue
            at = around.find(phrase)
            while at >= 0:
                if at <= begin and end <= at + len(phrase) + 2:
                    return True
                at = around.find(phrase, at + 1)
        return False


def _plain(name: str) -> str:
    return re.sub(r"[\s\-]+", " ", _folded(name))


def _begins_sentence(text: str, at: int) -> bool:
    """Whether a word there has its capital only because it is the first one."""
    before = text[max(0, at - 300) : at].rstrip(_OPENING)
    if not before.strip():
        return True
    line = before.rpartition("\n")[2]
    if _LIST_MARK.fullmatch(line):
        # A list's item, a key's line, or a line of a paragraph that goes on.
        above = before[: len(before) - len(line)].rstrip(" \t")
        lines = above.split("\n")
        goes_on = not line.strip() and len(lines) > 1 and lines[-2].strip()
        if not goes_on:
            return True
        before = above.rstrip()
    return before[-1] in _SENTENCE_ENDS


def _is_titled(text: str, first: int, after: int) -> bool:
    """Whether the line has capitals all over, as titles have."""
    begin = text.rfind("\n", 0, first) + 1
    end = text.find("\n", after)
    line = text[begin:first] + text[after : end if end >= 0 else len(text)]
    others = re.findall(r"[^\W\d_]{3,}", line.partition(": ")[2] or line)
    others = [each for each in others if each not in _SMALL_IN_TITLES]
    return bool(others) and all(each[0].isupper() for each in others)


def _is_in_an_address(text: str, at: int) -> bool:
    """Whether it stands in a web address, or in the line of a source: an author's name."""
    begin = max(text.rfind(sign, 0, at) for sign in " \n\t(<\"'") + 1
    line = text[text.rfind("\n", 0, at) + 1 : at]
    return "://" in text[begin:at] or re.match(r"\s*-?\s*sources?:", line) is not None


def _is_in_a_date(text: str, first: int, after: int) -> bool:
    """Whether a number stands beside it: `5 May`, `May 2027`."""
    return bool(re.search(r"\d\S{0,2}\s{0,3}(?:de |of )?$", text[:first][-12:])) or bool(
        re.match(r"\s*\d", text[after : after + 3])
    )


def name_search(folder: ClassFolder) -> NameSearch:
    """What looks for the children of a class; of the foods, those that ship count: an author's
    own food may be called after a child."""
    if not folder.children:
        return NameSearch(())
    return NameSearch(folder.children, shipped_names())
