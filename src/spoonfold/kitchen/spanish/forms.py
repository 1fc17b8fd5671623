"""The forms of Spanish words, without their accents: verbs, nouns, adjectives, pronouns at the end.

Regular conjugation, the changes of stem and spelling, and the plural are those of the Nueva
gramática de la lengua española (RAE and ASALE, 2009-2011, chapters 3 and 4). Accents are left out
everywhere: cooks forget them, and “córtalo” has one that “corta” hasn't.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from enum import StrEnum
from functools import lru_cache

from spoonfold.knowledge.names import bare


class Form(StrEnum):
    """What a form of a verb tells."""

    COMMAND = "command"
    """Somebody is told to do it: corta, cortad; it may be a statement too."""
    WISH = "wish"
    """The subjunctive, which tells ustedes and nosotros to do it too: corte, corten, cortemos."""
    OTHER = "other"
    """It says that somebody does it, did it, or should: cortas, cortará, que corten."""
    INFINITIVE = "infinitive"
    GERUND = "gerund"
    PARTICIPLE = "participle"


_LAST = r"(?=(?:[^aeiou]|(?<=[gq])u)*$)"
"""The last vowel of a stem; the u of “segu” is none."""
_CHANGES = {"ie": re.compile("e" + _LAST), "ue": re.compile("o" + _LAST),
            "i": re.compile("e" + _LAST), "u": re.compile("o" + _LAST)}  # fmt: skip


def verb_forms(
    infinitive: str, change: str, irregular: Mapping[str, Sequence[str]]
) -> Iterator[tuple[str, Form]]:
    """Every form of a verb that a recipe has, without accents.

    `change` is what the last vowel of its stem becomes where it is stressed: `ie`, `ue`, `i` or
    nothing. `irregular` gives forms that no rule makes, by what they tell; a participle there
    stands in the place of the regular one.
    """
    word = bare(infinitive)
    stem, ending = word[:-2], word[-2:]
    strong = _CHANGES[change].sub(change, stem) if change else stem
    weak = stem
    if ending == "ir" and change in ("ie", "i"):
        weak = _CHANGES["i"].sub("i", stem)
    elif ending == "ir" and change == "ue":
        weak = _CHANGES["u"].sub("u", stem)
    yield word, Form.INFINITIVE
    for told, forms in irregular.items():
        for each in forms:
            if told == Form.PARTICIPLE:
                yield from ((form, Form.PARTICIPLE) for form in adjective_forms(each))
            else:
                yield each, Form(told)
    if ending == "ar":
        yield from _of_ar(stem, strong)
    else:
        yield from _of_er_and_ir(stem, strong, weak, ending)
    if Form.PARTICIPLE not in irregular:
        whole = stem + ("ad" if ending == "ar" else "id")
        yield from ((whole + end, Form.PARTICIPLE) for end in ("o", "a", "os", "as"))
    for end in ("a", "an", "emos", "as", "ia", "ian"):
        # Future and conditional.
        yield word + end, Form.OTHER


def _of_ar(stem: str, strong: str) -> Iterator[tuple[str, Form]]:
    yield from ((strong + end, Form.COMMAND) for end in ("a", "an"))
    yield from ((stem + end, Form.COMMAND) for end in ("a", "ad", "amos"))
    soft, soft_strong = _before_e(stem), _before_e(strong)
    yield from ((soft_strong + end, Form.WISH) for end in ("e", "en"))
    yield from ((soft + end, Form.WISH) for end in ("emos", "emo"))
    yield from ((form, Form.OTHER) for form in (strong + "o", strong + "as", soft_strong + "es"))
    yield from ((stem + end, Form.OTHER) for end in ("ais", "aron", "aba", "aban"))
    yield soft + "eis", Form.OTHER
    yield stem + "ando", Form.GERUND


def _of_er_and_ir(stem: str, strong: str, weak: str, ending: str) -> Iterator[tuple[str, Form]]:
    # Construir: construye, construya.
    y = "y" if stem.endswith("u") and not stem.endswith(("gu", "qu")) and ending == "ir" else ""
    yield from ((strong + y + end, Form.COMMAND) for end in ("e", "en"))
    yield from ((stem + end, Form.COMMAND) for end in (f"{ending[0]}d", f"{ending[0]}mos"))
    yield stem + ending[0], Form.COMMAND
    hard_strong, hard_weak = _before_a(strong, y), _before_a(weak, y)
    yield from ((hard_strong + end, Form.WISH) for end in ("a", "an"))
    yield from ((hard_weak + end, Form.WISH) for end in ("amos", "amo"))
    yield from ((form, Form.OTHER) for form in (hard_strong + "as", hard_weak + "ais"))
    yield from ((form, Form.OTHER) for form in (strong + y + "es", hard_strong + "o"))
    yield from ((stem + end, Form.OTHER) for end in ("ia", "ian"))
    if weak.endswith("i"):
        yield weak + "endo", Form.GERUND
    else:
        yield weak + ("yendo" if weak[-1:] in "aeo" or y else "iendo"), Form.GERUND


def _before_e(stem: str) -> str:
    for end, other in (("gu", "gu"), ("c", "qu"), ("g", "gu"), ("z", "c")):
        if stem.endswith(end):
            return stem.removesuffix(end) + other
    return stem


def _before_a(stem: str, y: str) -> str:
    if y:
        return stem + y
    for end, other in (("qu", "c"), ("gu", "g"), ("g", "j")):
        if stem.endswith(end):
            return stem.removesuffix(end) + other
    if stem.endswith("c"):
        # Cocer: cueza; but crecer: crezca.
        before = stem[-2:-1]
        return stem[:-1] + ("z" if stem.endswith(("uec", "oc", "nc", "rc")) or not before else "zc")
    return stem


def plurals(noun: str) -> tuple[str, ...]:
    """A noun without accents, and its plural."""
    if noun.endswith("z"):
        return noun, noun[:-1] + "ces"
    if noun.endswith(("a", "e", "i", "o", "u")):
        return (noun, noun + "s") if noun[-1] in "aeo" else (noun, noun + "s", noun + "es")
    return (noun,) if noun.endswith(("s", "x")) else (noun, noun + "es")


def singular_of(noun: str) -> Iterator[str]:
    """A noun without accents, then what it may be the plural of."""
    yield noun
    if noun.endswith("ces"):
        yield noun[:-3] + "z"
    if noun.endswith("es") and len(noun) > 4:
        yield noun[:-2]
    if noun.endswith("s") and len(noun) > 3:
        yield noun[:-1]


_DIMINUTIVE = re.compile(r"(?P<stem>\w{2,}?)(?P<c>c|ec)?(?:it|ill)(?P<end>[oa]s?)$")


def without_diminutive(word: str) -> Iterator[str]:
    """What a word may be a diminutive of: trocitos, papitas, poquito, montoncito."""
    found = _DIMINUTIVE.match(word)
    if found is None:
        return
    stem, many = found["stem"], found["end"].endswith("s")
    stems = [stem, stem + "c"] if found["c"] else [stem]
    for one in stems:
        ends = [one + found["end"]]
        if one.endswith("c"):
            ends.append(one[:-1] + "z" + found["end"])
        if one.endswith("qu"):
            ends.append(one[:-2] + "c" + found["end"])
        if one.endswith("gu"):
            ends.append(one[:-1] + found["end"])
        yield from ends
        yield one + ("es" if many else "")
        yield one + ("es" if many else "e")


def adjective_forms(masculine: str) -> tuple[str, ...]:
    """An adjective in both genders and numbers, by its masculine singular."""
    if masculine.endswith("o"):
        return tuple(masculine[:-1] + end for end in ("o", "a", "os", "as"))
    if masculine.endswith(("dor", "on")):
        return (*plurals(masculine), masculine + "a", masculine + "as")
    return plurals(masculine)


_ENDINGS = tuple(
    (others + ours, ours)
    for others in ("", "se", "me", "te", "nos", "os")
    for ours in ("lo", "la", "los", "las", "le", "les", "")
    if others + ours
)


@lru_cache(maxsize=1 << 12)
def without_pronouns(word: str) -> tuple[tuple[str, str], ...]:
    """A verb's form in front of the pronouns at its end, and the one that stands for its object;
    empty: none does. The shortest ending first."""
    return tuple(
        (word.removesuffix(end), ours)
        for end, ours in _ENDINGS
        if word.endswith(end) and len(word) > len(end) + 1
    )
