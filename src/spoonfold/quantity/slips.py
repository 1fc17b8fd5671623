"""The usual slips in an ingredient line, each refused with the line as it should be.

Every function returns a refusal, or None where its slip was not made. Each runs in time
proportional to the line, which `opening` holds to `LONGEST` characters.
"""

from __future__ import annotations

import re
from difflib import get_close_matches
from itertools import dropwhile

from spoonfold.knowledge.line_words import COLOURS, DESCRIBING, FIXED_NAMES, SEASONINGS
from spoonfold.quantity.number import scan_number, skip_spaces, starts_number
from spoonfold.quantity.phrase import Phrase, scan_amount, word_at
from spoonfold.quantity.refusal import Refusal, fold, rewritten
from spoonfold.quantity.show import show_amount
from spoonfold.quantity.unit import LONG_SPELLINGS, PIECE, Dimension, size_in, unit_named

AS_NEEDED = re.compile(
    r"to taste|(?:as|if) (?:needed|required|desired|liked|wanted)|for \S.*|to [a-z]+(?: .*)?"
    r"|(?:al|a tu|a su|a) gusto|(?:la |lo )?(?:cantidad )?necesari[ao]|c/n|para \S.*",
    re.IGNORECASE,
)
_NO_COMMA = re.compile(
    r"\s(to taste|(?:as|if) (?:needed|required|desired)"
    r"|to (?:serve|garnish|thin|finish|decorate|sprinkle|drizzle|grease|dust|fry)"
    r"|for (?:(?:(?:shallow|deep|pan)[ -])?[a-z]+ing|the|garnish)\b.*)",
    re.IGNORECASE,
)
_OR_TO_TASTE = re.compile(
    r"(?:(?:or|and) )?(?:more )?(?:to taste|(?:as|if) (?:needed|required|desired))", re.IGNORECASE
)
_MORE = re.compile(
    r"\b(?:plus|and|with)\s+(?:some\s+|a\s+little\s+)?(?:more|extra|additional)\b(?=\s+(?:for|to|as|if)\b|\s*,|\s*$)",
    re.IGNORECASE,
)
_DASH = re.compile(r"\s(--?|[–—])\s")
_PLUS_AMOUNT = re.compile(r"(?:\bplus\b|\+)\s*(?=[0-9½⅓⅔¼¾⅛])", re.IGNORECASE)
_JOINT = re.compile(r"(?:plus|and|\+|&|/|\|)\s*|", re.IGNORECASE)
_TWO = re.compile(r"\s(and|&|\+|or|and/or)\s", re.IGNORECASE)
_SLASH = re.compile(r"(?<=[^\W\d_])\s?/\s?(?=[^\W\d_])")


def refuse_more(text: str, phrase: Phrase | None, at: int) -> Refusal | None:
    """`1 cup flour plus more for dusting`, which wants a comma; `3 tbsp butter, plus 1 tbsp for
    the pan`: two lines."""
    more = _MORE.search(text, at)
    if more is not None and more.start() > at and phrase is not None:
        if text[: more.start()].rstrip().endswith(","):
            return None
        instead = rewritten(text, more.start(), more.start(), ", ")
        return Refusal("comma-missing", "A comma stands before this.", more.start(), instead)
    plus = _PLUS_AMOUNT.search(text, at)
    if plus is None or plus.start() <= at or phrase is None:
        return None
    added = scan_amount(text, plus.end())
    if isinstance(added, Refusal):
        return added
    purpose = fold(text[added.end :])
    food = fold(text[at : plus.start()].split(",")[0])
    if purpose == "" and _both_measure(phrase, added):
        why = "A line has one amount, in one unit."
        return Refusal("two-amounts", why, plus.start(), f"{_sum(phrase, added)} {food}")
    if purpose == "" or AS_NEEDED.fullmatch(purpose) is not None:
        food = fold(f"{food}, {purpose}")
    else:
        food = purpose
    second = f"{fold(text[plus.end() : added.end])} {food}"
    if food != purpose and _both_measure(phrase, added):
        first, comma, rest = fold(text[at : plus.start()]).partition(",")
        whole = f"{_sum(phrase, added)} {first}{comma}{rest}, part of it {purpose}"
        why = "One food has one amount; the steps say what part of it goes where."
        return Refusal("plus-more", why, plus.start(), whole)
    why = "Two amounts are two lines."
    return Refusal("plus-more", why, plus.start(), f"{fold(text[: plus.start()])}\n{second}")


def refuse_second_amount(text: str, start: int, phrase: Phrase, at: int) -> Refusal | None:
    """`1 cup plus 2 tbsp flour`, `1 lb 8 oz beef`: one amount."""
    joint = _JOINT.match(text, at)
    second_at = at if joint is None else joint.end()
    if not starts_number(text, second_at):
        return None
    second = scan_amount(text, second_at)
    unit = phrase.amount.unit
    named = isinstance(second, Refusal) or second.amount.unit == PIECE
    if named and unit != PIECE:
        return None  # 2% milk, 00 flour: the number belongs to the food's name.
    instead = None
    if not isinstance(second, Refusal):
        rest = fold(text[second.end :])
        instead = f"{_sum(phrase, second)} {rest}" if _both_measure(phrase, second) else None
        if text[at : at + 1] in ("/", "|") and phrase.end == phrase.unit_end:
            # The same amount in two systems.
            why = "A second amount of the same stands in brackets."
            both = f"{fold(text[start:at])} ({fold(text[second_at : second.end])}) {rest}"
            return Refusal("bracket-after-name", why, at, both)
    return Refusal("two-amounts", "A line has one amount, in one unit.", start, instead)


def _both_measure(first: Phrase, second: Phrase) -> bool:
    """Whether the two can be added into one plain amount."""
    one, other = first.amount, second.amount
    same = one.unit.dimension is other.unit.dimension is not Dimension.COUNT
    return same and one.high is None and other.high is None


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
    other = _OTHER_SIZE.match(text, at) or _OR_SO.match(text, at)
    if other is not None and phrase is not None:
        instead = rewritten(text, at, other.end(), " ")
        if other.re is _OR_SO:
            why = f"Give the amount itself, without “{other.group().strip()}”."
            return Refusal("vague-amount", why, at, instead)
        return Refusal("either-or", "One line is of one size: choose one.", at, instead)
    opened = text.find("(", at)
    first_comma = text.find(",", at)
    if "(" in name and opened >= 0 and (first_comma < 0 or opened < first_comma):
        return _refuse_bracket(text, name, phrase, at)
    if _NO_COMMA.search(name) is not None:
        return _refuse_missing_comma(text, phrase, at)
    dash = _DASH.search(text, at)
    if dash is not None and (first_comma < 0 or dash.start() < first_comma):
        why = "How it is prepared stands behind a comma, not behind a dash."
        instead = rewritten(text, dash.start(), dash.end(), ", ")
        return Refusal("comma-missing", why, dash.start(1), instead)
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
    besides = _BESIDES.match(inside)
    if besides is not None:
        why = "What goes into it with it belongs to its name, so that its allergens are seen."
        named = rewritten(text, opened, close + 1, f" with {inside[besides.end() :]} ")
        return Refusal("bracket-after-name", why, opened, named)
    if phrase is not None and starts_number(text, amount_at):
        moved = f"{fold(text[: phrase.unit_end])} ({inside}) {fold(without[phrase.unit_end :])}"
        why = "A second amount stands right behind the first."
        same_unit = phrase.end == phrase.unit_end
        return Refusal("bracket-after-name", why, opened, moved if same_unit else None)
    why = "How it is prepared stands behind a comma, not in brackets."
    return Refusal("bracket-after-name", why, opened, f"{without}, {inside}" if inside else without)


_OTHER_SIZE = re.compile(
    r"(?:or|to|and|/)\s*(?:[0-9][0-9./]*\s+)?(?:small|medium|extra[ -]large|large)\s+(?=\S)",
    re.IGNORECASE,
)
"""The second half of “2 large or small eggs”, of “3 large or 4 small carrots”."""
_OR_SO = re.compile(r"or\s+(?:so|more|less|thereabouts)\s+(?:of\s+)?(?=\S)", re.IGNORECASE)
_BESIDES = re.compile(r"(?:and|plus|with)\s+(?=\S)", re.IGNORECASE)


def _refuse_missing_comma(text: str, phrase: Phrase | None, at: int) -> Refusal | None:
    found = _NO_COMMA.search(text, at)
    if found is None:
        return None
    if phrase is not None and _OR_TO_TASTE.fullmatch(found.group(1)) is not None:
        return _refuse_both(found.start(1), rewritten(text, found.start(), found.end(), ""))
    instead = rewritten(text, found.start(), found.start(), ",")
    return Refusal("comma-missing", "A comma stands before this.", found.start(1), instead)


def _refuse_both(at: int, instead: str) -> Refusal:
    why = "Give an amount, or say “to taste” without one."
    return Refusal("amount-and-as-needed", why, at, instead)


def refuse_amount_and_as_needed(text: str, parts: list[str]) -> Refusal | None:
    """`1 tsp salt, or to taste`: one or the other."""
    for part in parts:
        if _OR_TO_TASTE.fullmatch(part) is not None:
            instead = fold(fold(text).replace(part, "", 1).replace(", ,", ","))
            return _refuse_both(max(text.find(part), text.index(",")), instead)
    return None


def refuse_without_amount(text: str, name: str, at: int) -> Refusal:
    """A line with neither an amount nor a word for "as needed"."""
    piece = _PIECE_FIRST.match(text, at)
    if piece is not None:
        food, comma, rest = piece["food"].partition(",")
        prepared = _PREPARED.get(" ".join(piece["piece"].lower().split()), piece["piece"].lower())
        instead = fold(f"{food}, {prepared}{comma}{rest}")
        why = "The amount and the food stand first, then what is taken of it."
        return Refusal("amount-behind", why, at, instead)
    if _own_food(name) in SEASONINGS or all(map(_is_seasoning, _LISTED.split(name))):
        foods = _LISTED.split(fold(text[at:]))
        each_known = all(map(_is_seasoning, foods))
        instead = "\n".join(f"{each}, to taste" for each in (foods if each_known else [text]))
        return Refusal("seasoning-alone", "A seasoning is added to taste.", at, instead)
    word = name.split(" ")[0]
    if unit_named(word) is not None and " " in name:
        instead = fold(f"1 {text}")
        unit = unit_named(word)
        if unit is not None and word.lower() == unit.name:
            return Refusal("a-for-one", f"Write 1 {word}.", at, instead)
        return Refusal("no-amount", f"How many? Write 1 {word} where it is one.", at, instead)
    missing = _refuse_missing_comma(text, None, at)
    if missing is not None:
        return missing
    return Refusal(
        "no-amount",
        "How much? Give an amount, or say “to taste”, “for dusting” or “as needed”.",
        at,
        f"{fold(text)}, as needed" if _is_short_name(name) else None,
    )


_PIECE_FIRST = re.compile(
    r"(?P<piece>(?:(?:the|finely|freshly|grated|strained|squeezed)\s+)*(?:juice|zest|rind)"
    r"(?:\s*(?:and|&)\s*(?:grated\s+)?(?:juice|zest|rind))?)\s+(?:of|from)\s+"
    r"(?P<food>(?:[0-9½⅓⅔¼¾⅛]|(?:an?|half|one|two|three|four|six)\b).*)",
    re.IGNORECASE,
)
"""`juice of 1 lime`."""
_PREPARED = {
    "juice": "juiced",
    "the juice": "juiced",
    "zest": "zested",
    "the zest": "zested",
    "grated zest": "zested",
    "zest and juice": "zested and juiced",
    "juice and zest": "zested and juiced",
}
_LISTED = re.compile(r"\s*,\s*(?:and\s+)?|\s+(?:and|&)\s+", re.IGNORECASE)
_MOST_WORDS = 5
"""Of a line without an amount that still looks like a food, not like a sentence."""


def _is_short_name(name: str) -> bool:
    return len(name.split()) <= _MOST_WORDS and not any(map(str.isdigit, name))


def _is_seasoning(name: str) -> bool:
    return _own_food(name) in SEASONINGS


def _own_food(name: str) -> str:
    """The food without what only describes it."""
    return " ".join(word for word in name.lower().split() if word not in DESCRIBING)


def _describes(word: str) -> bool:
    return word.lower() in DESCRIBING or word.lower() in COLOURS


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
    place = min(at + found.start() + found.group().startswith(" "), len(text) - 1)
    left, right = name[: found.start()].strip(), name[found.end() :].strip()
    words = left.lower().split()
    described = all(map(_describes, words))
    if described and joint != "or" and not COLOURS.intersection(words):
        return None
    each = phrase is not None and words[0] == "each"
    left = re.sub(r"^each (?:of )?", "", left, flags=re.IGNORECASE) if each else left
    if described:
        # “Red or green peppers” are red peppers; of “red or green” nobody knows what is red.
        left = " ".join((left, *dropwhile(_describes, right.split())))
    tail = "".join(f", {part}" for part in parts)
    amount = "" if phrase is None else fold(text[: phrase.end]) + " "
    if joint in ("or", "/", "and/or"):
        why = "One line is one ingredient: choose one, and put the other under swaps."
        return Refusal("either-or", why, place, f"{amount}{left}{tail}")
    own = starts_number(right, 0) and not isinstance(scan_number(right, 0), Refusal)
    second = right if own else amount + right
    lines = f"{amount}{left}{'' if phrase is not None and own else tail}\n{second}{tail}"
    why = "Two ingredients are two lines, each with its own amount."
    if phrase is not None and not own and not each:
        why += " Check how much of each."
    return Refusal("two-ingredients", why, place, lines)
