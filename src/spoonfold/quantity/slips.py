"""The usual slips in an ingredient line, each refused with the line as it should be.

Every function returns a refusal, or None where its slip was not made. Each runs in time
proportional to the line, which is at most `LONGEST` characters.
"""

from __future__ import annotations

import re
import unicodedata
from difflib import get_close_matches

from spoonfold.quantity.number import scan_number, skip_spaces, starts_number
from spoonfold.quantity.phrase import Phrase, scan_amount, word_at
from spoonfold.quantity.refusal import Refusal, fold, rewritten
from spoonfold.quantity.show import show_amount
from spoonfold.quantity.unit import LONG_SPELLINGS, PIECE, Dimension, size_in, unit_named
from spoonfold.quantity.words import (
    ABOUT,
    COLOURS,
    DESCRIBING,
    FIXED_NAMES,
    NUMBER_WORDS,
    VAGUE_LITTLE,
    VAGUE_MANY,
)

LONGEST = 1000
"""Characters; a longer line is a paste that went wrong."""

AS_NEEDED = re.compile(
    r"to taste|(?:as|if) (?:needed|required|desired|liked|wanted)|for \S.*|to [a-z]+(?: .*)?",
    re.IGNORECASE,
)
_NO_COMMA = re.compile(
    r"\s(to taste|(?:as|if) (?:needed|required|desired)|for [a-z]+ing\b.*|for (?:the|garnish)\b.*"
    r"|to (?:serve|garnish))",
    re.IGNORECASE,
)
_OR_TO_TASTE = re.compile(
    r"(?:(?:or|and) )?(?:more )?(?:to taste|(?:as|if) (?:needed|required|desired))", re.IGNORECASE
)
_MORE = re.compile(
    r"\b(?:plus|and|with)\s+(?:some\s+|a\s+little\s+)?(?:more|extra|additional)\b(?=\s+(?:for|to|as|if)\b|\s*,|\s*$)",
    re.IGNORECASE,
)
_PLUS_AMOUNT = re.compile(r"(?:\bplus\b|\+)\s*(?=[0-9½⅓⅔¼¾⅛])", re.IGNORECASE)
_JOINT = re.compile(r"(?:plus|and|\+|&)\s*|", re.IGNORECASE)
_TWO = re.compile(r"\s(and|&|\+|or|and/or)\s", re.IGNORECASE)
_SLASH = re.compile(r"(?<=[^\W\d_])\s?/\s?(?=[^\W\d_])")
_ARTICLE = re.compile(r"(an?)\s+", re.IGNORECASE)
_LEADING_OPTIONAL = re.compile(r"\(?\s*optional\b[\s:)]*", re.IGNORECASE)


def refuse_characters(text: str) -> Refusal | None:
    """What no ingredient line holds: too much, nothing, odd characters, open brackets."""
    if len(text) > LONGEST:
        why = f"A line has at most {LONGEST} characters."
        return Refusal("line-too-long", why, LONGEST)
    if not text.strip():
        return Refusal("empty-line", "There is nothing here.", 0)
    depth, opened = 0, 0
    for at, character in enumerate(text):
        refusal = None if character.isascii() else _refuse_foreign(text, at)
        if refusal is not None:
            return refusal
        if unicodedata.category(character) == "Cc" and not character.isspace():
            return Refusal("odd-character", "There is an invisible character here.", at)
        if character == "(":
            depth, opened = depth + 1, at
        elif character == ")":
            depth -= 1
        if depth not in (0, 1):
            nested = depth == 2
            why = "Brackets cannot stand inside brackets." if nested else "Nothing opens this."
            return Refusal("nested-bracket" if nested else "unclosed-bracket", why, at)
    if depth:
        return Refusal("unclosed-bracket", "This bracket is never closed.", opened)
    return None


_INVISIBLE = frozenset("\u200b\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2060\ufeff")
_SIGNS = frozenset("½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒")


def _refuse_foreign(text: str, at: int) -> Refusal | None:
    character = text[at]
    if character in _INVISIBLE:
        instead = "".join(one for one in text if one not in _INVISIBLE)
        why = "There is an invisible character here."
        return Refusal("odd-character", why, at, fold(instead) or None)
    if character == "⁄":
        return Refusal("foreign-digit", "Write the slash as /.", at, fold(text.replace("⁄", "/")))
    if character in _SIGNS or unicodedata.category(character) not in ("Nd", "Nl", "No"):
        return None
    digits = [str(unicodedata.digit(one, one)) for one in text]
    plain = all(digit.isascii() or digit == one for digit, one in zip(digits, text, strict=True))
    solved = plain and digits[at] != character and unicodedata.category(character) == "Nd"
    return Refusal(
        "foreign-digit",
        "Write figures as 0 to 9, and fractions as 1/2 or ½.",
        at,
        fold("".join(digits)) if solved else None,
    )


def refuse_start(text: str) -> Refusal | None:
    """Minus signs, words for numbers, "a", "about", and "(optional)" before the amount."""
    start = skip_spaces(text, 0)
    if text[start] in "-−–" and starts_number(text, skip_spaces(text, start + 1)):
        rest = fold(text[start + 1 :])
        return Refusal("negative-amount", "An amount is above zero.", start, rest)
    optional = _LEADING_OPTIONAL.match(text, start)
    if optional is not None:
        rest = fold(text[optional.end() :])
        instead = f"{rest} (optional)" if rest else None
        return Refusal("optional-first", "“(optional)” stands at the end.", start, instead)
    word, end = word_at(text, start)
    behind = skip_spaces(text, end)
    if text[start] == "~" or (word.lower() in ABOUT and starts_number(text, behind)):
        rest = fold(text[start + 1 :] if text[start] == "~" else text[behind:])
        return Refusal("vague-amount", "Give the amount itself, without “about”.", start, rest)
    opening = " ".join(text[start : start + 40].lower().split()) + " "
    if opening.startswith(FIXED_NAMES):
        return None
    return _refuse_words(text, start, opening)


def _refuse_words(text: str, start: int, opening: str) -> Refusal | None:
    for words, figures in NUMBER_WORDS:
        if opening.startswith(words + " "):
            rest = _behind_words(text, start, len(words.split()))
            instead = fold(f"{figures} {rest}") if rest else None
            return Refusal("word-for-number", "Write numbers in figures.", start, instead)
    for words in VAGUE_LITTLE + VAGUE_MANY:
        if opening.startswith(words + " "):
            rest = _behind_words(text, start, len(words.split()))
            little = words in VAGUE_LITTLE and rest and "," not in rest
            return Refusal(
                "vague-amount",
                "Nobody can measure this: give an amount, or say “as needed”.",
                start,
                f"{rest}, as needed" if little else None,
            )
    article = _ARTICLE.match(text, start)
    if article is None:
        return None
    instead = fold(f"1 {text[article.end() :]}")
    return Refusal("a-for-one", f"Write 1, not “{article.group(1)}”.", start, instead)


def _behind_words(text: str, start: int, count: int) -> str:
    return " ".join(text[start:].split()[count:])


def refuse_more(text: str, phrase: Phrase | None, at: int) -> Refusal | None:
    """`1 cup flour, plus more for dusting`: two lines."""
    more = _MORE.search(text, at)
    if more is not None and more.start() > at:
        head = fold(text[: more.start()])
        food = fold(text[at : more.start()].split(",")[0])
        tail = fold(text[more.end() :]) or "as needed"
        return Refusal(
            "plus-more",
            "What is used as needed stands on a line of its own.",
            more.start(),
            f"{head}\n{food}, {tail}" if food and phrase is not None else None,
        )
    plus = _PLUS_AMOUNT.search(text, at)
    if plus is None or plus.start() <= at or phrase is None:
        return None
    added = scan_amount(text, plus.end())
    instead = None
    if not isinstance(added, Refusal):
        food = fold(text[at : plus.start()].split(",")[0])
        own = _COMMA_FIRST.sub(", ", fold(text[added.end :]))
        amount = fold(text[plus.end() : added.end])
        instead = f"{fold(text[: plus.start()])}\n" + fold(
            f"{amount} {food}{', ' + own if own.startswith('for ') else ' ' * bool(own) + own}"
        )
        if own and not own.startswith(("for ", ",")):
            instead = None
    return Refusal("plus-more", "Two amounts are two lines.", plus.start(), instead)


_COMMA_FIRST = re.compile(r"^\s*,\s*")


def refuse_second_amount(text: str, start: int, phrase: Phrase, at: int) -> Refusal | None:
    """`1 cup plus 2 tbsp flour`, `1 lb 8 oz beef`: one amount."""
    joint = _JOINT.match(text, at)
    second_at = at if joint is None else joint.end()
    if not starts_number(text, second_at):
        return None
    second = scan_amount(text, second_at)
    if isinstance(second, Refusal):
        return second if second_at == at else None
    first_unit, second_unit = phrase.amount.unit, second.amount.unit
    rest = fold(text[second.end :])
    if rest.startswith("%") or (second_unit == PIECE and first_unit != PIECE):
        return None  # 2% milk, 00 flour: a number that belongs to the food's name.
    instead = None
    if first_unit.dimension is second_unit.dimension is not Dimension.COUNT:
        instead = f"{_sum(phrase, second)} {rest}"
    return Refusal("two-amounts", "A line has one amount, in one unit.", start, instead)


def _sum(first: Phrase, second: Phrase) -> str:
    """Both amounts together, in the larger unit where a common fraction can say it."""
    one, other = first.amount, second.amount
    ratio = size_in(other.unit, one.unit)
    total = one.times((one.low + other.low * ratio) / one.low)
    if total.low.denominator not in (1, 2, 3, 4, 8):
        total = total.to(other.unit)
    return show_amount(total)


def refuse_comma(text: str, blanked: str, phrase: Phrase, at: int) -> Refusal | None:
    """`1 lb boneless, skinless chicken`: a comma inside what only describes."""
    comma = blanked.find(",", at)
    fixed = text
    while comma >= 0 and _only_describes(fold(blanked[at:comma])):
        # Blanked, so that the next comma is still where it was.
        blanked = blanked[:comma] + " " + blanked[comma + 1 :]
        fixed = fixed[:comma] + " " + fixed[comma + 1 :]
        comma = blanked.find(",", at)
    if fixed == text:
        return None
    food = fold(blanked[at : comma if comma >= 0 else len(blanked)])
    if not food or _only_describes(food):
        return Refusal("no-name", "The ingredient itself is missing.", at)
    return Refusal(
        "comma-before-name",
        "The first comma comes after the ingredient; how it is prepared follows.",
        text.index(",", at),
        fold(fixed),
    )


def _only_describes(words: str) -> bool:
    return all(word in DESCRIBING or word in ("and", "&") for word in words.lower().split())


def refuse_name(text: str, name: str, phrase: Phrase | None, at: int) -> Refusal | None:
    """A name that is missing, in brackets, or starts with a misspelt unit."""
    if not any(character.isalpha() for character in name) or (
        phrase is not None and _only_describes(name)
    ):
        return Refusal("no-name", "The ingredient itself is missing.", min(at, len(text) - 1))
    opened = text.find("(", at)
    first_comma = text.find(",", at)
    if "(" in name and opened >= 0 and (first_comma < 0 or opened < first_comma):
        return _refuse_bracket(text, name, phrase, at)
    word, end = word_at(text, at)
    near = get_close_matches(word.lower(), LONG_SPELLINGS, 1, 0.8) if 7 <= len(word) <= 20 else []
    if near and phrase is not None and phrase.amount.unit == PIECE:
        return Refusal(
            "unit-misspelt", f"Did you mean {near[0]}?", at, rewritten(text, at, end, near[0])
        )
    return None


def _refuse_bracket(text: str, name: str, phrase: Phrase | None, at: int) -> Refusal:
    opened = text.index("(", at)
    close = text.index(")", opened)
    inside = fold(text[opened + 1 : close])
    without = rewritten(text, opened, close + 1, "")
    amount_at = skip_spaces(text, opened + 1)
    if inside.lower().startswith("or "):
        why = "One line is one ingredient: choose one, and put the other under swaps."
        return Refusal("either-or", why, opened, without)
    if phrase is not None and starts_number(text, amount_at):
        moved = f"{fold(text[: phrase.unit_end])} ({inside}) {fold(without[phrase.unit_end :])}"
        why = "A second amount stands right behind the first."
        same_unit = phrase.end == phrase.unit_end
        return Refusal("bracket-after-name", why, opened, moved if same_unit else None)
    why = "How it is prepared stands behind a comma, not in brackets."
    return Refusal("bracket-after-name", why, opened, f"{without}, {inside}" if inside else without)


def refuse_amount_and_as_needed(text: str, parts: list[str]) -> Refusal | None:
    """`1 tsp salt, or to taste`: one or the other."""
    for part in parts:
        if _OR_TO_TASTE.fullmatch(part) is not None:
            folded = fold(text)
            instead = fold(folded.replace(part, "", 1).replace(", ,", ","))
            return Refusal(
                "amount-and-as-needed",
                "Give an amount, or say “to taste” without one.",
                text.rfind(part.split()[-1]),
                instead,
            )
    return None


def refuse_without_amount(text: str, name: str, at: int) -> Refusal:
    """A line with neither an amount nor a word for "as needed"."""
    word = name.split(" ")[0]
    if unit_named(word) is not None and " " in name:
        instead = fold(f"1 {text}")
        return Refusal("no-amount", f"How many? Write 1 {word} where it is one.", at, instead)
    found = _NO_COMMA.search(text, at)
    if found is not None:
        instead = rewritten(text, found.start(), found.start(), ",")
        return Refusal("comma-missing", "A comma stands before this.", found.start(1), instead)
    return Refusal(
        "no-amount",
        "How much? Give an amount, or say “to taste”, “for dusting” or “as needed”.",
        at,
    )


def refuse_two_foods(
    text: str, phrase: Phrase | None, name: str, parts: list[str], at: int
) -> Refusal | None:
    """`salt and pepper`, `butter or oil`: two lines, or one of them and a swap."""
    masked = name
    for fixed in FIXED_NAMES:
        masked = re.sub(re.escape(fixed), "x" * len(fixed), masked, flags=re.IGNORECASE)
    found = _TWO.search(masked) or _SLASH.search(masked)
    if found is None:
        return None
    joint = found.group().strip().lower()
    left, right = name[: found.start()].strip(), name[found.end() :].strip()
    words = left.lower().split()
    described = all(word in DESCRIBING or word in COLOURS for word in words)
    if described and joint != "or" and not COLOURS.intersection(words):
        return None
    each = phrase is not None and words[0] == "each"
    left = re.sub(r"^each (?:of )?", "", left, flags=re.IGNORECASE) if each else left
    if described:
        kind = right.split()
        while len(kind) > 1 and (kind[0].lower() in DESCRIBING or kind[0].lower() in COLOURS):
            kind = kind[1:]
        left = f"{left} {' '.join(kind)}"
    tail = "".join(f", {part}" for part in parts)
    amount = "" if phrase is None else fold(text[: phrase.end]) + " "
    if joint in ("or", "/", "and/or"):
        why = "One line is one ingredient: choose one, and put the other under swaps."
        return Refusal("either-or", why, at + len(left), f"{amount}{left}{tail}")
    own = starts_number(right, 0) and not isinstance(scan_number(right, 0), Refusal)
    second = right if own else amount + right
    lines = f"{amount}{left}{'' if phrase is not None and own else tail}\n{second}{tail}"
    why = "Two ingredients are two lines, each with its own amount."
    if phrase is not None and not own and not each:
        why += " Check how much of each."
    return Refusal("two-ingredients", why, at + len(left), lines)
