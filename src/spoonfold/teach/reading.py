"""How hard a text is to read, by the Flesch-Kincaid grade; for English alone.

The formula: Kincaid, Fishburne, Rogers and Chissom, Naval Technical Training Command, Research
Branch Report 8-75, 1975. It counts words, sentences and syllables, and knows nothing of sense: a
number to look twice at a sentence by, and no verdict.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from spoonfold.model.prose import Inline, Picture, Text, leaves, plain
from spoonfold.problem import Place

_PER_SENTENCE, _PER_WORD, _BASE = 39, 1180, 1559
"""In hundredths of a grade."""

LANGUAGE = "en"
"""The language that the formula was made for."""

_AGE_BEFORE_SCHOOL = 5
"""First grade in a US school begins at 6 (common practice)."""

_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*|\d[\d.,/½⅓⅔¼¾⅛]*|[½⅓⅔¼¾⅛]")
_END = re.compile(r"(?<=[.!?…])[\"'”’)\]]*\s+(?=[^\sa-z])")
"""A sentence ends at a full stop, question or exclamation mark with a space and anything but a
small letter after it: “1.5 cups” and “e.g. rice” go on."""

_VOWELS = re.compile(r"[aeiouyàâäáãéèêëíîïóôöõúûü]+")
_SILENT = re.compile(
    # bake, hole, more; bakes, baked, stored, rolled; dates, sandwiches but not dishes, marched
    r"(?<=[^aeiouylr])e$|(?<=[aeiouylr][rl])e$|(?<=[aeiouy][aeiouy][rl])e$"
    r"|(?<=[^aeiouyrsxzcgldth])e[sd]$|(?<=[szxcg])ed$|(?<=[aeiouy]r)e[sd]$"
    r"|(?<=[aeiouylr]l)e[sd]$|(?<=[dt])es$|(?<=(?<![sc])h)es$|(?<=h)ed$"
    r"|(?<=[^aeiouy])e(?=(?:ly|ful|fully|less|ment|ments|ness|some|where|body|thing)$)"
    r"|(?<=[^aeiouy])e(?=(?:stone|cake|cakes|work|works|worker|man|men)$)"
    r"|(?<=ev)e(?=r[yi])|(?<=am)e(?=s$)|(?<=[^aeiouyl])e(?='s$)"
)
"""An e that is written and not said: bake, holes, baked, safely, limestone, every."""
_APART = re.compile(
    # period, India, but not onion, special, Italian; serious; medium; dual; being; easier
    r"i[ao](?<!tia)(?<!cia)(?<!gia)(?<!lia(?=n))(?<![tscgxnl]io)"
    r"|(?<=[ct])ia(?=t)|[^tcgsx]iou|iu(?!m?m)|iu(?=m)|eo(?!pl|u|n$)|eu(?=m)"
    r"|u[ao](?<!qua)(?<!gua)(?<!quo)(?<!guo)|[aeiouy]ing|yi(?!ng)|ya(?=n$|l$)"
    r"|[^aeiouylrt]ier|(?<=[dfln])ier$|iet|iest$|(?<=cr)ea(?=t(?!u))|[^tcs]ien(?!d)(?!c)"
    r"|sms?$|(?<=[aeou])y(?=[ao])|(?<=[aeou])ye(?=r)|(?<=[nr])ea(?=l(?:it|iz)|n$)|^mc(?=[a-z])"
)
"""Letters that stand together and are said apart: India, medium, create, frying, prism."""
_BY_HEART = {
    "anyone": 3,
    "cereal": 3,
    "cereals": 3,
    "evening": 2,
    "everyone": 3,
    "recipe": 3,
    "recipes": 3,
    "science": 2,
    "sesame": 3,
    "someone": 2,
    "vegetable": 3,
    "vegetables": 3,
}
"""Common words of a kitchen whose spelling misleads the rules."""


@lru_cache(maxsize=1 << 14)
def syllables_in(word: str) -> int:
    """Syllables of an English word by rules of spelling, at least one; a number counts as one."""
    letters = word.casefold().replace("’", "").replace("'", "")
    if letters in _BY_HEART:
        return _BY_HEART[letters]
    groups = len(_VOWELS.findall(letters))
    return max(1, groups - len(_SILENT.findall(letters)) + len(_APART.findall(letters)))


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence and where it begins."""

    said: str
    """As it was written, with its spaces."""
    words: int
    syllables: int
    _at: int
    """Where it begins in its paragraph."""
    _starts: Sequence[tuple[int, Place]]
    """Where the texts of the paragraph begin, in it and in the file."""

    @property
    def text(self) -> str:
        """With single spaces."""
        return " ".join(self.said.split())

    @property
    def place(self) -> Place:
        """Where it was written."""
        offset, place = max(
            (each for each in self._starts if each[0] <= self._at), key=lambda each: each[0]
        )
        return Place(
            place.path, place.line, place.column + self._at - offset if place.column else 0
        )

    @property
    def grade(self) -> Fraction:
        """Its own grade, as if it were a text."""
        return grade_of((self,))


def sentences_of(children: tuple[Inline, ...]) -> Iterator[Sentence]:
    """The sentences of a paragraph or a step; pictures say nothing. What has no word is none."""
    starts: list[tuple[int, Place]] = []
    text = ""
    for leaf in leaves(children):
        if isinstance(leaf, Picture):
            continue
        starts.append((len(text), leaf.place))
        text += leaf.text if isinstance(leaf, Text) else plain((leaf,))
    at = 0
    for end in (*(match.end() for match in _END.finditer(text)), len(text)):
        said = text[at:end]
        counted = _counted(said)
        if counted[0]:
            yield Sentence(said, *counted, at, starts)
        at = end


def grade_of(sentences: Sequence[Sentence]) -> Fraction:
    """The Flesch-Kincaid grade of at least one sentence, exact: 0.39 words a sentence
    + 11.8 syllables a word - 15.59."""
    words = sum(each.words for each in sentences)
    syllables = sum(each.syllables for each in sentences)
    # All over one denominator: no sums of fractions for every sentence of a thousand dishes.
    count = len(sentences)
    return Fraction(
        _PER_SENTENCE * words * words + _PER_WORD * syllables * count - _BASE * words * count,
        100 * words * count,
    )


def hardest(sentences: Iterable[Sentence]) -> Sentence:
    """The sentence of the highest grade, the first of several."""
    return max(sentences, key=lambda each: each.grade)


def grade_at(age: int) -> int:
    """The grade of a US school in which a child of so many years is."""
    return age - _AGE_BEFORE_SCHOOL


def _counted(text: str) -> tuple[int, int]:
    """Words and syllables."""
    words = _WORD.findall(text)
    return len(words), sum(map(syllables_in, words))
