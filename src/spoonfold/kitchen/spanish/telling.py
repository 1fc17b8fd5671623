"""The verbs of a text as English has them: a command, what somebody does, what is done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from spoonfold.kitchen.spanish.english import (
    ADVERBS,
    BAKES,
    CARRIED_ON,
    FINITE,
    JOINS,
    LEFT,
    PREPOSITIONS,
    TAILS,
    TAKES_OUT,
    Sort,
    Word,
)
from spoonfold.kitchen.spanish.forms import Form, verb_forms
from spoonfold.kitchen.spanish.lexicon import inflected, spanish


def as_told(words: Sequence[Word]) -> list[Word]:
    """The verbs as English has them: a command, what somebody does, what is done."""
    return list(_Teller(words).told())


class _Teller:
    """Goes along the words of a text and says every verb in its clause."""

    def __init__(self, words: Sequence[Word]) -> None:
        self._words = [each for each in words if each.said]
        self._found: list[Word] = []
        verbs = [each.form for each in self._words if each.sort is Sort.VERB]
        self._polite = bool(verbs) and verbs[0] is Form.WISH
        """Somebody is told as usted, ustedes or nosotros."""
        self._begin()

    def _begin(self, is_tail: bool = False) -> None:
        self._tail = is_tail
        self._subject = self._person = self._told = False
        self._modal = ""
        self._denied: int | None = None
        self._verb_at: int | None = None
        self._let = False
        self._bakes = False

    def told(self) -> list[Word]:
        words = self._words
        for at, _ in enumerate(words):
            word = words[at]
            before = words[at - 1].said if at else ""
            if not word.said:
                continue
            if word.sort is Sort.SIGN or (word.sort is Sort.SMALL and word.said in JOINS):
                # “until the yolk and the white are firm”: one clause.
                goes_on = word.said in ("and", "or", "nor") and not self._starts_clause(at + 1)
                self._found.append(word)
                if not goes_on and not (word.said == "," and not self._starts_clause(at + 1)):
                    self._begin()
                continue
            if word.sort is Sort.SMALL and word.said in TAILS:
                self._tail_begins(at, word, before)
                continue
            if word.sort is Sort.SMALL and word.said in ("not", "never"):
                self._denied = len(self._found)
                self._found.append(word)
                continue
            if word.sort is Sort.PERSON:
                self._person = not self._told
                if word.said == "nobody":
                    self._denied = None
                self._found.append(word)
                continue
            if word.sort is Sort.MODAL:
                self._modal_said(word)
                continue
            if word.sort is Sort.VERB:
                self._verb(at, word, before)
                continue
            if word.said == "to" and self._bakes and _is_degrees(words, at + 1):
                word = replace(word, said="at")
            if word.sort in (Sort.NOUN, Sort.FOOD) and not self._told and not self._behind(at):
                self._subject = True
            if word.sort is Sort.UNKNOWN and word.pronoun:
                self._found += [word, _small(word.pronoun, word)]
                self._told = True
                continue
            if word.said == "everything" and self._found and self._found[-1].said in ("it", "them"):
                # “Córtalo todo”.
                self._found.pop()
            self._found.append(word)
        return self._found

    def _starts_clause(self, at: int) -> bool:
        """Whether a verb stands where a clause begins."""
        for word in self._words[at : at + 3]:
            if word.sort is Sort.VERB:
                if self._tail and word.form is Form.WISH and not word.pronoun:
                    # “hasta que esté firme y llegue a 72 °C”; but “y agregue la sal”.
                    return self._polite and word.said not in spanish().in_tail
                return word.form is not Form.PARTICIPLE and not (
                    word.form is Form.OTHER and self._tail
                )
            if word.sort in (Sort.MODAL, Sort.PERSON):
                return True
            if word.sort is Sort.UNKNOWN and word.pronoun:
                return True
            if word.sort is Sort.SMALL and word.said in ("not", "never", "then", "also", "and"):
                continue
            return word.sort is Sort.SMALL and word.said in TAILS
        return False

    def _behind(self, at: int) -> bool:
        """Whether a noun stands behind a preposition."""
        for word in reversed(self._words[max(0, at - 3) : at]):
            if word.sort is Sort.SMALL and word.said in PREPOSITIONS:
                return True
            if word.sort not in (Sort.SMALL, Sort.ADJECTIVE):
                return False
        return False

    def _tail_begins(self, at: int, word: Word, before: str) -> None:
        after = self._words[at + 1] if at + 1 < len(self._words) else None
        if word.said == "which" and self._let_que(at):
            return
        if (word.said == "which" and not self._found) or (
            word.said == "which" and self._found[-1].sort is Sort.SIGN
        ):
            # “Que cada niño pruebe”.
            return
        if after is not None and after.said == "of" and word.said in ("before", "after"):
            self._found.append(word)
            self._words[at + 1] = replace(after, said="")
            self._begin(True)
            return
        if word.said == "for which" and not (after and after.sort is Sort.VERB):
            self._found.append(replace(word, said="for"))
            return
        self._found.append(replace(word, said="for") if word.said == "for which" else word)
        if word.said == "as" and not (after and after.sort is Sort.VERB):
            return
        self._begin(True)

    def _let_que(self, at: int) -> bool:
        """“Deja que la masa repose”: let the dough rest."""
        last = self._found[-1] if self._found else None
        if last is None or last.bare not in _LETTING or self._verb_at != len(self._found) - 1:
            return False
        self._found[-1] = replace(last, said="let")
        self._let = True
        return True

    def _modal_said(self, word: Word) -> None:
        if word.said == "no need to":
            self._found.append(word)
            self._modal = word.said
            return
        if word.said in ("start", "let"):
            return
        self._modal = word.said
        self._modal_reflexive = word.reflexive or word.bare.startswith("se ")
        self._modal_at = len(self._found)

    def _verb(self, at: int, word: Word, before: str) -> None:
        word = self._meant(at, word)
        self._bakes = word.said in BAKES
        match word.form:
            case Form.GERUND:
                self._add(word, inflected(word.said, "ing"))
            case Form.PARTICIPLE:
                self._found.append(replace(word, said=inflected(word.said, "ed")))
            case Form.INFINITIVE:
                self._infinitive(at, word, before)
            case _:
                self._finite(at, word)

    def _finite(self, at: int, word: Word) -> None:
        after = self._words[at + 1] if at + 1 < len(self._words) else None
        if word.said == "be" or (
            word.said == "stand"
            and after is not None
            and (
                after.sort is Sort.ADJECTIVE
                or after.form is Form.PARTICIPLE
                or after.said in ADVERBS
            )
        ):
            self._is(word)
            return
        if word.said == "reach" and after is not None and after.said in ("to", "to the"):
            self._words[at + 1] = replace(after, said="the" if after.said == "to the" else "")
        if word.said == "flip" and after is not None and after.said in ("to", "to the"):
            self._words[at + 1] = replace(after, said="the" if after.said == "to the" else "")
        if word.said in TAKES_OUT:
            self._from(at)
        if self._let:
            self._let = False
            self._found.append(replace(word, said=word.said))
            return
        if self._tail:
            if not self._subject and not self._person and not self._told:
                self._found.append(_small("it", word))
            self._add(word, inflected(word.said, "s"))
            self._told = True
            return
        if self._told and word.form is Form.OTHER:
            self._add(word, inflected(word.said, "s"))
            return
        if self._person:
            self._add(word, word.said if self._denied is not None else inflected(word.said, "s"))
        elif self._subject and word.reflexive:
            self._passive(word)
        elif self._subject and self._denied is None:
            self._add(word, inflected(word.said, "s"))
        else:
            self._command(word)
        self._told = True

    def _from(self, at: int) -> None:
        """“Saca la leche de la nevera”: from the refrigerator."""
        for n in range(at + 1, min(at + 8, len(self._words) - 1)):
            word = self._words[n]
            if word.sort is Sort.VERB or word.said == ".":
                return
            near = {each.said for each in self._words[n + 1 : n + 3]}
            if word.said in ("of", "of the") and near & LEFT:
                self._words[n] = replace(word, said="from the" if word.said[2:] else "from")

    def _is(self, word: Word) -> None:
        if self._tail and not self._subject and not self._told:
            self._found.append(_small("it", word))
        self._found.append(replace(word, sort=Sort.SMALL, said="is"))
        self._told = True

    def _command(self, word: Word) -> None:
        if self._denied is not None:
            self._found[self._denied] = replace(self._found[self._denied], said="do not")
            self._denied = None
        self._verb_at = len(self._found)
        self._add(word, word.said)

    def _passive(self, word: Word) -> None:
        denied = ""
        if self._denied is not None:
            self._found[self._denied] = replace(self._found[self._denied], said="")
            denied, self._denied = "not ", None
        self._found.append(_small(f"must {denied}be", word))
        self._found.append(replace(word, said=inflected(word.said, "ed")))

    def _infinitive(self, at: int, word: Word, before: str) -> None:
        last = self._found[-1] if self._found else None
        if self._modal:
            modal, self._modal = self._modal, ""
            if modal == "no need to":
                self._add(word, word.said)
            elif word.reflexive or self._modal_reflexive:
                if not self._subject and not self._person and self._denied is not None:
                    self._found.insert(self._denied, _small("it", word))
                    self._denied += 1
                    self._subject = True
                if self._subject:
                    self._passive(word)
                else:
                    self._command(word)
            elif self._person or self._subject:
                denied = ""
                if self._denied is not None:
                    self._found[self._denied] = replace(self._found[self._denied], said="")
                    denied, self._denied = " not", None
                self._found.append(_small(modal + denied, word))
                self._add(word, word.said)
            else:
                self._command(word)
            self._told = True
            return
        if last is not None and last.bare in _LETTING and self._verb_at == len(self._found) - 1:
            # “Deja reposar la masa”: rest the dough.
            self._found.pop()
            # “Deja entibiar la leche”: what stood on the heat gets lukewarm by itself.
            said = "cool" if word.said.startswith("warm") else word.said
            self._add(replace(word, pronoun=word.pronoun or last.pronoun), said)
            return
        if (
            last is not None
            and last.said in ("it", "them")
            and len(self._found) > 1
            and (self._found[-2].bare in _LETTING or self._found[-2].said in ("leave", "let"))
        ):
            pronoun = last.said
            del self._found[-2:]
            said = "cool" if word.said.startswith("warm") else word.said
            self._add(replace(word, pronoun=pronoun), said)
            return
        if last is not None and last.said in ("to", "to the") and self._verb_at is not None:
            verb = self._found[self._verb_at]
            if verb.said in CARRIED_ON:
                self._found.pop()
                self._found[self._verb_at] = replace(verb, said=word.said)
                return
        if last is not None and last.said == "without":
            self._add(word, inflected(word.said, "ing"))
        elif last is not None and last.said == "until":
            self._found.append(replace(word, said=inflected(word.said, "ed")))
        elif last is not None and last.said in ("before", "after", "for", "of", "by"):
            self._add(word, inflected(word.said, "ing"))
        elif last is not None and last.said == "to the":
            self._found[-1] = replace(last, said="when")
            self._add(word, inflected(word.said, "ing"))
        elif (
            self._told
            and last is not None
            and self._verb_at is not None
            and any(each.said == "leave" for each in self._found[self._verb_at : self._verb_at + 1])
        ):
            # “Deja la masa reposar”: let the dough rest.
            self._found[self._verb_at] = replace(self._found[self._verb_at], said="let")
            self._add(word, word.said)
        elif not self._told:
            self._command(word)
            self._told = True
        else:
            self._add(word, word.said)

    def _meant(self, at: int, word: Word) -> Word:
        """The verb as what stands in its clause makes it: “cuece al vapor”."""
        lexicon = spanish()
        if self._tail and word.said in lexicon.in_tail and word.form in FINITE:
            return replace(word, said=lexicon.in_tail[word.said])
        cases = lexicon.beside.get(word.said)
        if cases is None:
            return word
        near: set[str] = set()
        for each in self._words[at + 1 :]:
            if each.sort is Sort.VERB and each.form is not Form.PARTICIPLE:
                break
            if each.said == "." or each.said in TAILS:
                break
            near.update(each.bare.split())
        said = next((said for said, words in cases.items() if not words.isdisjoint(near)), None)
        return word if said is None else replace(word, said=said)

    def _add(self, word: Word, said: str) -> None:
        self._found.append(replace(word, said=said))
        if word.pronoun:
            self._found.append(_small(word.pronoun, word))


_LETTING = frozenset(
    form
    for infinitive in ("dejar", "permitir")
    for form, _ in verb_forms(infinitive, "", {})
) | frozenset({"dejalo", "dejala", "dejalos", "dejalas", "dejelo", "dejela", "dejelos", "dejelas",
               "dejenlo", "dejenla", "dejenlos", "dejenlas", "dejadlo", "dejadla", "dejarlo",
               "dejarla", "dejarlos", "dejarlas", "dejandolo", "dejandola"})  # fmt: skip


def _is_degrees(words: Sequence[Word], at: int) -> bool:
    said = words[at].said if at < len(words) else ""
    behind = words[at + 1].said if at + 1 < len(words) else ""
    return said[:1].isdigit() and ("°" in said or "º" in said or behind in ("degrees", "degree"))


def _small(said: str, near: Word) -> Word:
    return Word(Sort.SMALL, said, near.begin, near.end, "")
