"""The clauses of a sentence as drafts of actions: which verb is meant, and what belongs to it.

A list goes on behind a comma; a leading “in a bowl” belongs to the command behind it; “let it
cool” cools, and “set it aside” sets nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from spoonfold.kitchen.actions import Unread
from spoonfold.kitchen.lexicon import Verb, english
from spoonfold.kitchen.mentions import Degrees, Foods, Mention, Speaking, degrees_in
from spoonfold.kitchen.nouns import Sort, noun_at, waste
from spoonfold.kitchen.reading import Clause, Sentence
from spoonfold.knowledge.names import singulars


@dataclass(slots=True)
class Draft:
    """A clause on its way to an action."""

    clause: Clause
    verb: Verb
    mentions: list[Mention]
    degrees: list[Degrees]
    lead: list[Mention]
    """What a phrase in front of the command said: in a bowl."""
    more: list[Clause]
    """What goes on behind a comma."""
    words: set[str]
    until: list[str]
    own: int = 0
    """How many of the mentions stand beside the verb itself."""

    @property
    def all_words(self) -> tuple[str, ...]:
        """Of all its clauses, in order, “until” and what follows included."""
        found = [*self.clause.words, *self.clause.tail]
        for clause in self.more:
            found += [*clause.words, *clause.tail]
        return tuple(found)


class Drafts:
    """Reads the sentences of one recipe's steps."""

    def __init__(self, foods: Foods) -> None:
        self._foods = foods

    def of(self, sentence: Sentence, speaking: Speaking, unread: list[Unread]) -> Iterator[Draft]:
        """The drafts of one sentence; what isn't understood is added to `unread`."""
        draft: Draft | None = None
        lead: list[Mention] = []
        early: list[Degrees] = []
        run = sentence.run
        for clause in sentence.clauses:
            begin = clause.offsets[0]
            degrees, bare = degrees_in(run, begin, begin + len(clause.text) + 2)
            unread.extend(bare)
            then = run.text[max(0, begin - 6) : begin].rstrip().endswith("then")
            goes_on = not then or _ends(draft) or clause.words[0] in self._foods.by_word
            verb, at = self._verb(clause, draft if goes_on else None)
            is_unread = verb is None and self._is_unread(clause)
            if is_unread and draft is not None and draft.until and "all" in clause.words[1:2]:
                # “pearly and opaque all through”
                is_unread = False
            if is_unread and clause.unread is not None:
                unread.append(Unread(clause.unread, clause.place, "verb"))
            mentions, unknown = speaking.mentions(clause.words, clause.offsets, at)
            if verb is not None and clause.at < 0:
                clause = replace(clause, verb=verb, at=at)
            if verb is not None:
                mentions = _without_particle(clause, verb, mentions)
                unread.extend(unknown)
                if draft is not None:
                    yield draft
                draft = Draft(
                    clause, verb, mentions, [*early, *degrees], lead, [], set(clause.words),
                    list(clause.tail),
                    len(mentions),
                )  # fmt: skip
                lead, early = [], []
            elif draft is None:
                # “When the middle is 165 °F, take it out.”
                lead, early = [*lead, *mentions], [*early, *degrees]
            elif not is_unread and not clause.is_time:
                unread.extend(unknown)
                draft.mentions.extend(self._continued(mentions, draft))
                draft.degrees.extend(degrees)
                draft.more.append(clause)
                draft.verb = _meant(draft)
                draft.words.update(clause.words)
                draft.until.extend((*clause.words, *clause.tail) if draft.until else clause.tail)
            else:
                draft.degrees.extend(degrees)
                draft.until.extend((*clause.words, *clause.tail))
                draft.more.append(clause)
                draft.verb = _meant(draft)
        if draft is not None:
            yield draft

    def _continued(self, mentions: list[Mention], draft: Draft) -> list[Mention]:
        """What goes on behind a comma stands behind the preposition in front of it."""
        if draft.until:
            # “until the carrots are tender and everything is hot”
            return []
        before = draft.mentions[-1].before if draft.mentions else ""
        if before not in ("with", "in", "into", "to", "over", "on", "onto"):
            return mentions
        return [replace(each, before=each.before or before) for each in mentions]

    def _verb(self, clause: Clause, draft: Draft | None) -> tuple[Verb | None, int]:
        """The verb that is meant, and where it stands."""
        verb, at = clause.verb, clause.at
        words = clause.words
        if verb is None and draft is not None and draft.clause.person:
            # “An adult heats the oil and pours in the batter.”
            told = english().forms.get(words[0]) if words[0].endswith("s") else None
            verb, at = (told, 0) if words[0] not in english().commands else (None, -1)
        if verb is None:
            return None, -1
        word = words[at]
        behind = words[at + 1 :]
        if draft is not None and at == 0 and self._is_listed(word, behind):
            return None, -1
        small = english().small
        alone = word in small.set_states and (
            not behind or (draft is not None and behind[0] in small.fillers)
        )
        if alone and (draft is None or draft.until):
            # “until hot and set”, “tall, crisp”
            return None, -1
        lexicon = english()
        if word in lexicon.passing_on or verb.name in lexicon.passing_on:
            meant = self._passed_on(words, at)
            if meant is not None:
                return meant
            if verb.name == "allow":
                verb = lexicon.commands["leave"]
        whole = (*behind, *clause.tail)
        for phrasal in lexicon.phrasal.get(verb.name, ()):
            length = len(phrasal.behind)
            if _stands_in(phrasal.behind, whole):
                if (
                    length == 1
                    and phrasal.behind[0] in lexicon.small.prepositions
                    and not (
                        behind[:1] == phrasal.behind
                        or behind[-1:] == phrasal.behind
                        or phrasal.means.name != "switch"
                    )
                ):
                    continue
                return phrasal.means, at
        return verb, at

    def _is_unread(self, clause: Clause) -> bool:
        """Whether a word stands where a verb would, and is none: no food, and no thing."""
        word = clause.unread
        if word is None:
            return False
        known = any(form in self._foods.by_word for form in singulars(word))
        return not known and noun_at((word,), 0) is None

    def _is_listed(self, word: str, behind: Sequence[str]) -> bool:
        """Whether a word that could be a verb is one of a list: “the salt, pepper and oil”."""
        small = english().small
        if behind and (behind[0] in small.determiners or behind[0][0].isdigit()):
            return False
        if behind and behind[0] not in small.prepositions:
            filled = behind[0] in small.fillers and len(behind) > 1
            return word in self._foods.by_word and not filled
        if word in self._foods.by_word or word in waste():
            return True
        noun = noun_at((word,), 0)
        return noun is not None and noun[0].sort is Sort.TOOL

    def _passed_on(self, words: Sequence[str], at: int) -> tuple[Verb, int] | None:
        """The verb behind “let”, “keep”, “start”: let it cool, keep stirring."""
        lexicon = english()
        for n in range(at + 1, min(len(words), at + 8)):
            verb = lexicon.forms.get(words[n])
            if verb is None or verb.kind not in lexicon.passed_kinds | {"eat", "serve"}:
                continue
            before = words[n - 1]
            if before in lexicon.small.determiners and before not in ("it", "them", "that"):
                continue
            to = before == "to"
            base = words[n] in lexicon.commands
            first = words[at]
            if first in ("let", "help", "have"):
                fits = base and n > at + 1
            elif first in ("leave", "allow"):
                fits = to and base
            else:
                fits = words[n].endswith("ing") or (to and base)
            if fits and (to or before not in lexicon.small.prepositions):
                return verb, n
        return None


def _stands_in(phrase: Sequence[str], words: Sequence[str]) -> bool:
    """Whether a phrase stands among words; what something is put into is another thing: “heat the
    oil in the oven” lights none."""
    if phrase[0] not in words:
        return False
    length, into = len(phrase), english().groups["into"]
    return any(
        tuple(words[n : n + length]) == phrase
        and (length == 1 or n == 0 or words[n - 1] not in into)
        for n in range(len(words) - length + 1)
    )


def _meant(draft: Draft) -> Verb:
    """The verb with all that goes on behind it: “bring the milk, rice and sugar to a boil”."""
    lexicon = english()
    for phrasal in lexicon.phrasal.get(draft.verb.name, ()):
        is_plain = len(phrasal.behind) == 1 and phrasal.behind[0] in lexicon.small.prepositions
        if not is_plain and _stands_in(phrasal.behind, draft.more[-1].words):
            return phrasal.means
    return draft.verb


def _ends(draft: Draft | None) -> bool:
    """Whether a draft has said how far it goes, so that a lone word goes on with that."""
    return draft is not None and bool(draft.until)


def _without_particle(clause: Clause, verb: Verb, mentions: list[Mention]) -> list[Mention]:
    """“Stir in the garlic”: it isn't in the garlic that something is stirred."""
    behind = clause.words[clause.at + 1 : clause.at + 2]
    adds = verb.name in english().groups["adds"]
    if not adds or not behind or behind[0] not in ("in", "over", "on", "through"):
        return mentions
    first = mentions[0] if mentions else None
    if (
        first is None
        or first.before != behind[0]
        or not (first.keys or first.noun is None or first.noun.sort is Sort.MIX)
    ):
        return mentions
    return [replace(first, before=""), *mentions[1:]]
