"""The words of a sentence in Spanish as English would have them, each with where it stands.

Every rule of safety is written once, for English; a sentence in Spanish is put into those words
before it is read. It is no translation that anybody sees: it has the order in which English
names what is done, to what, with what, where and until when, and what it doesn't know it leaves as
it is, so that whoever reads it asks.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from spoonfold.kitchen.spanish.english import (
    ADVERBS,
    BEING,
    DETERMINERS,
    DROPPED,
    FINITE,
    IS,
    JOINS,
    MADE,
    OBJECTS,
    PREPOSITIONS,
    TAILS,
    Sort,
    Word,
)
from spoonfold.kitchen.spanish.forms import Form, singular_of, without_diminutive, without_pronouns
from spoonfold.kitchen.spanish.lexicon import Lexicon, spanish
from spoonfold.kitchen.spanish.telling import as_told
from spoonfold.knowledge.names import bare

_TOKEN = re.compile(
    r"\d+(?:[.,]\d+)?(?:/\d+)?(?:\s*[°º˚]\s*[CcFf]?\b)?|[½⅓⅔¼¾⅛]|[^\W\d_]+(?:[-'’][^\W\d_]+)*|[^\w\s]"
)
_LONGEST = 7
"""Words in the longest phrase that is looked for."""


class Glosser:
    """Puts Spanish into the words of English, with the foods of one list as they are listed."""

    def __init__(
        self,
        foods: Mapping[tuple[str, ...], str] | None = None,
        others: Mapping[tuple[str, ...], str] | None = None,
    ) -> None:
        """`foods`: by their Spanish words without accents, what the list calls them in English;
        `others`: what it doesn't list, by names of several words."""
        self._foods = foods or {}
        self._others = others or {}
        self._first = spanish().first | {words[0] for words in self._foods}

    def words(self, text: str) -> list[Word]:
        """The words of a text as English has them, in its order; each character of the text that
        says something stands in one of them."""
        tokens = [(match[0], match.start(), match.end()) for match in _TOKEN.finditer(text)]
        tagged = list(self._tagged(tokens))
        return _in_order(as_told(_merged(tagged)))

    def phrase(self, text: str) -> str:
        """A name or a few words, where no verb commands."""
        tokens = [(match[0], match.start(), match.end()) for match in _TOKEN.finditer(text)]
        tagged = [each for each in self._tagged(tokens, is_name=True) if each.said]
        return " ".join(each.said for each in _in_order(_merged(tagged)))

    def _tagged(
        self, tokens: Sequence[tuple[str, int, int]], is_name: bool = False
    ) -> Iterator[Word]:
        lexicon = spanish()
        folded = [bare(word) for word, _, _ in tokens]
        at = 0
        before: Word | None = None
        while at < len(tokens):
            length, sort, said = self._longest(folded, at)
            idiom = None if is_name or length > 2 else self._idiom(folded, at)
            if idiom is not None:
                length, word = idiom
                word = replace(word, begin=tokens[at][1], end=tokens[at + length - 1][2])
                at += length
            elif length:
                word = Word(sort, said, tokens[at][1], tokens[at + length - 1][2],
                            " ".join(folded[at : at + length]))  # fmt: skip
                at += length
            else:
                raw, begin, end = tokens[at]
                after = tuple(folded[at + 1 : at + 3])
                word = self._single(lexicon, raw, folded[at], begin, end, before, after, is_name)
                at += 1
            before = word
            yield word

    def _idiom(self, folded: Sequence[str], at: int) -> tuple[int, Word] | None:
        """“Da la vuelta al pollo”, “llévalo a ebullición”: how many words, and what they mean; the
        object may stand between the verb and the rest."""
        idioms, second = spanish().idioms, spanish().second
        if at + 1 == len(folded) or folded[at + 1] not in second:
            return None
        for stem, pronoun in ((folded[at], ""), *without_pronouns(folded[at])):
            for length in (4, 3, 2):
                found = idioms.get((stem, *folded[at + 1 : at + length]))
                if found and len(folded) >= at + length:
                    said, form = found[0]
                    made = Word(Sort.VERB, said, 0, 0, " ".join(folded[at : at + length]),
                                form, OBJECTS.get(pronoun, ""))  # fmt: skip
                    return length, made
        return None

    def _longest(self, folded: Sequence[str], at: int) -> tuple[int, Sort, str]:
        if folded[at] not in self._first and not self._others:
            return 0, Sort.UNKNOWN, ""
        phrases = spanish().phrases
        for length in range(min(_LONGEST, len(folded) - at), 0, -1):
            words = tuple(folded[at : at + length])
            said = self._foods.get(words) or self._others.get(words)
            if said is not None:
                return length, Sort.FOOD, said
            known = phrases.get(words)
            if known is not None:
                return length, *known
        return 0, Sort.UNKNOWN, ""

    def _single(
        self,
        lexicon: Lexicon,
        raw: str,
        word: str,
        begin: int,
        end: int,
        before: Word | None,
        after: tuple[str, ...],
        is_name: bool,
    ) -> Word:
        made = Word(Sort.UNKNOWN, raw, begin, end, word)
        if not word[:1].isalpha():
            number = raw.replace(",", ".") if re.fullmatch(r"\d+,\d+.*", raw) else raw
            return replace(made, sort=Sort.SMALL if word[:1].isdigit() else Sort.SIGN, said=number)
        noun, adjective = lexicon.nouns.get(word), lexicon.adjectives.get(word)
        verb = () if is_name else tuple(self._verb(lexicon, word))
        small = lexicon.small.get(word)
        previous = before.said if before else ""
        in_noun = before is not None and (
            (before.sort is Sort.SMALL and (previous in DETERMINERS | PREPOSITIONS
                                            or previous[:1].isdigit()))
            or before.sort is Sort.ADJECTIVE
        )  # fmt: skip
        follows_noun = before is not None and before.sort in (Sort.NOUN, Sort.FOOD)
        is_state = before is not None and (previous in IS or previous in ADVERBS)
        if word == "se":
            return replace(made, sort=Sort.SMALL, said="se")
        if word in BEING and (raw.casefold() != word or previous in TAILS | {"not", "still"}
                               or follows_noun or is_state):  # fmt: skip
            return replace(made, sort=Sort.VERB, said="be", form=Form.OTHER)
        if word in OBJECTS and not in_noun and self._is_finite(lexicon, after, before):
            return replace(made, sort=Sort.SMALL, said=f"<{OBJECTS[word]}>")
        if word in DROPPED:
            return replace(made, sort=Sort.SMALL, said="")
        if small is not None and not (noun and in_noun):
            return replace(made, sort=Sort.SMALL, said=small)
        if verb and (noun or adjective):
            has_pronoun = bool(verb[0][2] or verb[0][3])
            commands = any(form is not Form.PARTICIPLE for _, form, *_ in verb)
            # “Sírvelo frío”.
            after_verb = before is not None and before.sort is Sort.VERB and bool(adjective)
            may = not (in_noun or is_state or follows_noun or after_verb)
            if has_pronoun or (commands and may):
                return self._as_verb(made, verb, previous)
        if adjective is not None and (noun is None or follows_noun or is_state):
            return replace(made, sort=Sort.ADJECTIVE, said=adjective)
        if noun is not None:
            return replace(made, sort=Sort.NOUN, said=noun)
        if verb:
            return self._as_verb(made, verb, previous)
        if adjective is not None:
            return replace(made, sort=Sort.ADJECTIVE, said=adjective)
        for single in singular_of(word):
            if single in lexicon.nouns:
                return replace(made, sort=Sort.NOUN, said=lexicon.nouns[single])
        for whole in without_diminutive(word):
            for said, known in ((Sort.NOUN, lexicon.nouns), (Sort.ADJECTIVE, lexicon.adjectives)):
                if whole in known:
                    return replace(made, sort=said, said=known[whole])
        if word.endswith("mente"):
            return replace(made, sort=Sort.SMALL, said="so")
        if not is_name and (before is None or before.sort is Sort.SIGN or previous in JOINS):
            for stem, pronoun in without_pronouns(word):
                if pronoun and len(stem) > 4:
                    return replace(made, said=stem, pronoun=OBJECTS[pronoun])
        return made

    def _is_finite(self, lexicon: Lexicon, after: tuple[str, ...], before: Word | None) -> bool:
        """Whether a verb stands behind “la”, which is its object then: “y la vacía en”."""
        word = after[0] if after else ""
        if not any(form in FINITE for _, form in lexicon.verbs.get(word, ())):
            return False
        if word not in lexicon.nouns and word not in lexicon.adjectives:
            return True
        joined = before is None or before.said in JOINS or before.sort is Sort.PERSON
        behind = lexicon.small.get(after[1], "") if len(after) > 1 else "."
        return joined and (behind in PREPOSITIONS or not behind.isalpha())

    def _verb(self, lexicon: Lexicon, word: str) -> Iterator[tuple[str, Form, str, bool]]:
        """What verbs a form may be: each in English, what it tells, its object, whether `se` is at
        its end."""
        found = lexicon.verbs.get(word)
        if found:
            yield from ((said, form, "", False) for said, form in found)
            return
        for stem, pronoun in without_pronouns(word):
            forms = lexicon.verbs.get(stem) or (
                lexicon.verbs.get(stem + "s") if stem.endswith("mo") else None
            )
            kept = [each for each in forms or () if each[1] not in (Form.PARTICIPLE, Form.OTHER)]
            if kept:
                reflexive = word.removeprefix(stem).startswith("se")
                yield from (
                    (said, form, OBJECTS.get(pronoun, ""), reflexive) for said, form in kept
                )
                return

    def _as_verb(
        self, made: Word, verbs: Sequence[tuple[str, Form, str, bool]], previous: str
    ) -> Word:
        said, form, pronoun, reflexive = verbs[0]
        return replace(
            made, sort=Sort.VERB, said=said, form=form, pronoun=pronoun, reflexive=reflexive
        )


def _merged(words: Sequence[Word]) -> list[Word]:
    """Adjectives in front of their nouns, “sauce of tomato” as tomato sauce; pronouns with the
    verb that they stand in front of."""
    found: list[Word] = []
    pronoun, reflexive = "", False
    for word in words:
        if word.said == "se" and word.sort is Sort.SMALL:
            reflexive = True
            continue
        if word.said.startswith("<"):
            pronoun = word.said.strip("<>")
            continue
        if word.sort is Sort.VERB or (word.sort is Sort.MODAL and (pronoun or reflexive)):
            word = replace(
                word, pronoun=word.pronoun or pronoun, reflexive=word.reflexive or reflexive
            )
        pronoun, reflexive = "", False
        if not word.said and word.sort is Sort.SMALL:
            continue
        last = found[-1] if found else None
        if word.sort is Sort.ADJECTIVE and last and last.sort in (Sort.NOUN, Sort.FOOD):
            at = len(found) - 1
            found.insert(at, word)
            continue
        if (
            word.sort in (Sort.NOUN, Sort.FOOD)
            and len(found) > 1
            and found[-1].said == "of"
            and found[-2].sort is Sort.NOUN
            and found[-2].said.split(" ")[-1] in MADE
        ):
            head = found[-2]
            del found[-2:]
            found += [word, head]
            continue
        found.append(word)
    return found


def _in_order(words: Sequence[Word]) -> list[Word]:
    return [each for each in words if each.said]
