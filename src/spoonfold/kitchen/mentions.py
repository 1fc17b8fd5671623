"""What the words of a clause speak of: foods, things made of them, tools, places, degrees."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from spoonfold.kitchen.actions import Tidy, Unread
from spoonfold.kitchen.lexicon import english
from spoonfold.kitchen.nouns import Noun, Sort, derived, noun_at
from spoonfold.kitchen.reading import Run
from spoonfold.knowledge.names import singulars
from spoonfold.problem import Place
from spoonfold.quantity.temperature import Temperature


@dataclass(frozen=True, slots=True)
class Taken:
    """Some of a listed food that a step takes, as the sums have it."""

    key: str
    place: Place
    """Where the words name it, or where their link begins."""
    piece: str = ""


@dataclass(frozen=True, slots=True)
class Foods:
    """What the words of a recipe may mean by its foods."""

    listed: Mapping[str, Sequence[str]]
    """By the key of each line: the words of its name, in the singular, in order."""
    also: Mapping[str, frozenset[str]]
    """By the key: further words that may mean it, in the singular."""
    taken: Mapping[int, Sequence[Taken]]
    """By step."""
    known: Container[str]
    """Words in the names of any food, listed or not."""
    shared: Container[str]
    """Words that many foods share, of which none says which food is meant."""
    names: Mapping[str, frozenset[str]] = field(init=False)
    """By the key: every word that may stand in its name."""
    by_word: Mapping[str, frozenset[str]] = field(init=False)
    """Which keys a word alone may mean."""
    every_word: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        own = {word for words in self.listed.values() for word in words}
        names: dict[str, frozenset[str]] = {}
        found: dict[str, set[str]] = {}
        for key, line in self.listed.items():
            # The chicken of “chicken egg” is another line's, the slice of “bacon slice” any food's.
            also = {
                word
                for word in self.also[key] - own
                if word not in self.shared and noun_at((word,), 0) is None
            }
            names[key] = frozenset(also.union(line))
            meaning = [word for word in line if word not in self.shared] or line
            for word in also.union(meaning):
                found.setdefault(word, set()).add(key)
        for word, meant in tuple(found.items()):
            plain = {key for key in meant if self.listed[key][-1] not in derived()}
            if plain and any(self.listed[key][-1] != word for key in meant):
                found[word] = plain | {key for key in meant if self.listed[key][-1] == word}
        object.__setattr__(self, "names", names)
        object.__setattr__(self, "by_word", {word: frozenset(keys) for word, keys in found.items()})
        object.__setattr__(self, "every_word", frozenset().union(*names.values()))


@dataclass(frozen=True, slots=True)
class Mention:
    """Some words of a clause that speak of one thing."""

    at: int
    end: int
    before: str
    """The preposition in front of it; empty: none."""
    keys: frozenset[str] = frozenset()
    """Of foods."""
    noun: Noun | None = None
    pronoun: str = ""
    tidy: Tidy = Tidy.UNKNOWN
    piece: str = ""


@dataclass(frozen=True, slots=True)
class Degrees:
    """A temperature that is said."""

    value: Temperature
    at: int
    """Its place in the run."""


_DEGREES = re.compile(
    r"(?<![\w.])(-?\d{1,3}(?:\.\d+)?)\s*(?:(?:°|º|˚|degrees?\b|deg\b\.?)\s*"
    r"(f\b|c\b|fahrenheit|celsius|centigrade)?|(f|c|fahrenheit|celsius)\b)"
)
_DIGIT = re.compile(r"\d\d")
_BARE = re.compile(r"\b(?:to|reaches|reach|hits|at|of|is|above|reads)\s+(\d{3})(?!\s*[\w°º/])")


def degrees_in(run: Run, begin: int, end: int) -> tuple[list[Degrees], list[Unread]]:
    """Every temperature in a stretch of the text, and every one without its unit."""
    text = run.text
    found: list[Degrees] = []
    unread: list[Unread] = []
    if not _DIGIT.search(text, begin, end):
        return found, unread
    for match in _DEGREES.finditer(text, begin, end):
        unit = match[2] or match[3]
        if unit is None:
            unread.append(Unread(match[0].strip(), run.place(match.start()), "degrees"))
            continue
        value = Fraction(match[1])
        if unit[0] == "c":
            value = value * Fraction(9, 5) + 32
        found.append(Degrees(Temperature(value), match.start()))
    for match in _BARE.finditer(text, begin, end):
        if 100 <= int(match[1]) <= 550:
            unread.append(Unread(match[1], run.place(match.start(1)), "degrees"))
    return found, unread


@lru_cache(maxsize=1 << 13)
def _forms(word: str) -> tuple[str, ...]:
    return tuple(singulars(word))


class Speaking:
    """Reads the mentions of one step's clauses."""

    def __init__(self, foods: Foods, run: Run, step: int) -> None:
        self._foods = foods
        self._run = run
        self._begins: dict[int, list[Taken]] = {}
        for taken in foods.taken.get(step, ()):
            at = run.at(taken.place)
            if at is not None:
                self._begins.setdefault(at, []).append(taken)

    def mentions(
        self, words: Sequence[str], offsets: Sequence[int], verb_at: int
    ) -> tuple[list[Mention], list[Unread]]:
        """Everything that the words speak of, in order, but for the verb; and what isn't known."""
        found: list[Mention] = []
        unread: list[Unread] = []
        small = english().small
        at, phrase, before, hidden = 0, -1, "", False
        while at < len(words):
            word = words[at]
            if at == verb_at:
                before, phrase = "", at + 1
                at += 1
                continue
            if at > verb_at and self._hides(words, at):
                hidden = True
            if word == "that" and found and found[-1].end == at:
                # “a can that leaks”: what it is, and nothing that is done.
                hidden, phrase = True, -1
                at += 1
                continue
            mention = self._one(words, offsets, at)
            if mention is not None and self._counts_out(words, mention):
                at = mention.end + (words[mention.end] == "of")
                phrase = at
                continue
            if mention is not None:
                if not hidden:
                    found.append(
                        Mention(
                            mention.at,
                            mention.end,
                            before,
                            mention.keys,
                            mention.noun,
                            mention.pronoun,
                            self._tidy(words, mention.at),
                            mention.piece,
                        )
                    )
                at = mention.end
                phrase = -1
                continue
            if hidden:
                at += 1
                continue
            if word in small.prepositions:
                unread.extend(self._unknown(words, offsets, phrase, at, before))
                before = "out" if before == "out" and word in ("of", "from") else word
                phrase = at + 1
            elif word in small.determiners:
                unread.extend(self._unknown(words, offsets, phrase, at, before))
                phrase = at + 1
            elif word in small.joins or word in small.cut_off or word in small.fillers:
                unread.extend(self._unknown(words, offsets, phrase, at, before))
                phrase = -1
            at += 1
        if not hidden:
            unread.extend(self._unknown(words, offsets, phrase, len(words), before))
        return found, unread

    def _counts_out(self, words: Sequence[str], mention: Mention) -> bool:
        """Whether it only says how much or which part of what stands behind “of”."""
        noun = mention.noun
        return (
            noun is not None
            and mention.end + 1 < len(words)
            and (
                (
                    words[mention.end] == "of"
                    and (noun.sort in (Sort.PIECE, Sort.PART) or noun.name in ("cup", "spoon"))
                )
                or (
                    words[mention.end] in ("the", "it", "them") and noun.name in ("half", "quarter")
                )
            )
        )

    def _hides(self, words: Sequence[str], at: int) -> bool:
        hides = english().hidden_behind.get(words[at], ())
        return any(tuple(words[at : at + len(phrase)]) == phrase for phrase in hides)

    def _one(self, words: Sequence[str], offsets: Sequence[int], at: int) -> Mention | None:
        food = self._food(words, offsets, at)
        noun = noun_at(words, at)
        if noun is not None and self._is_water(words, at, noun):
            return Mention(at, at + noun[1], "", self._food_keys(words[at + noun[1] - 1]))
        if noun is not None and (food is None or noun[1] > food.end - at):
            return Mention(at, at + noun[1], "", noun=noun[0])
        if food is not None:
            return self._with_noun(words, food)
        if words[at] in english().small.pronouns:
            alone = words[at + 1 : at + 2]
            bound = bool(alone) and self._goes_on(alone[0])
            if not bound or words[at] in ("it", "them", "they", "everything"):
                return Mention(at, at + 1, "", pronoun=words[at])
        return None

    def _is_water(self, words: Sequence[str], at: int, noun: tuple[Noun, int]) -> bool:
        """Hot water that is listed is a food and no place."""
        named, length = noun
        return (
            length > 1
            and named.sort in (Sort.WARM, Sort.PART)
            and bool(self._food_keys(words[at + length - 1]))
        )

    def _food_keys(self, word: str) -> frozenset[str]:
        by_word = self._foods.by_word
        return next((by_word[form] for form in _forms(word) if form in by_word), frozenset())

    def _goes_on(self, word: str) -> bool:
        """Whether a noun or its adjective may stand here, so that “this” is no pronoun."""
        small = english().small
        return not (word in small.prepositions or word in small.joins or word.endswith("ly"))

    def _with_noun(self, words: Sequence[str], food: Mention) -> Mention:
        """“The bean mix”, “potato salad” are what was made of them, “egg yolks” a part."""
        following = noun_at(words, food.end) if food.end < len(words) else None
        if following is None or following[0].sort not in (Sort.MIX, Sort.PIECE):
            return food
        noun, length = following
        if noun.sort is Sort.PIECE:
            return Mention(food.at, food.end + length, "", food.keys, piece=food.piece)
        return Mention(food.at, food.end + length, "", food.keys, noun)

    def _food(self, words: Sequence[str], offsets: Sequence[int], at: int) -> Mention | None:
        foods = self._foods
        link = self._link(offsets, at)
        if link is not None:
            return link
        end, hits = at, []
        while end < len(words) and end - at < 6:
            forms = [form for form in _forms(words[end]) if form in foods.every_word]
            if not forms:
                break
            hits.append(forms)
            end += 1
        while hits and not any(form in foods.by_word for form in hits[-1]):
            hits.pop()
            end -= 1
        if not hits:
            return None
        taken = [each for n in range(at, end) for each in self._begins.get(offsets[n], ())]
        if taken:
            return Mention(at, end, "", frozenset(each.key for each in taken), piece=taken[0].piece)
        keys = frozenset().union(
            *(foods.by_word[form] for forms in hits for form in forms if form in foods.by_word)
        )
        if len(keys) > 1:
            score = {
                key: sum(any(form in foods.names[key] for form in forms) for forms in hits)
                for key in keys
            }
            most = max(score.values())
            keys = frozenset(key for key, value in score.items() if value == most)
        return Mention(at, end, "", keys)

    def _link(self, offsets: Sequence[int], at: int) -> Mention | None:
        for begin, end in self._run.links:
            if begin <= offsets[at] < end:
                taken = self._begins.get(begin, ())
                stop = at
                while stop < len(offsets) and offsets[stop] < end:
                    stop += 1
                if taken:
                    keys = frozenset(each.key for each in taken)
                    return Mention(at, stop, "", keys, piece=taken[0].piece)
        return None

    def _tidy(self, words: Sequence[str], at: int) -> Tidy:
        near, small = words[max(0, at - 3) : at], english().small
        if not small.same.isdisjoint(near):
            return Tidy.SAME
        if not small.clean.isdisjoint(near):
            return Tidy.CLEAN
        return Tidy.KNOWN if "the" in near or "that" in near else Tidy.UNKNOWN

    def _unknown(
        self, words: Sequence[str], offsets: Sequence[int], begin: int, end: int, before: str
    ) -> Iterator[Unread]:
        """The head of a phrase of which no word is known."""
        small = english().small
        if begin < 0:
            return
        phrase = [
            n
            for n in range(begin, end)
            if len(words[n]) > 1
            and words[n] not in small.units
            and not words[n][0].isdigit()
            and not words[n].endswith("ly")
            and words[n] not in small.fillers
            and words[n] not in small.persons
        ]
        if not phrase or begin == 0:
            return
        if before not in small.placing and before not in small.means:
            return
        if any(self._is_known(words[n]) for n in phrase):
            return
        head = phrase[-1]
        sort = "place" if before in small.placing else "thing"
        yield Unread(words[head], self._run.place(offsets[head]), sort)

    def _is_known(self, word: str) -> bool:
        return any(form in self._foods.known for form in _forms(word)) or (
            word in english().forms
            or word in english().small.no_command
            or word in english().small.modals
        )
