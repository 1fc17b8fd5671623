"""Numbers as cooks write them, read exactly or refused."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.refusal import Refusal, either, fold, rewritten
from spoonfold.quantity.show import GLYPHS, show_number

FRACTION_SIGNS: dict[str, Fraction] = {sign: value for value, sign in GLYPHS.items()} | {
    "⅐": Fraction(1, 7),
    "⅑": Fraction(1, 9),
    "⅒": Fraction(1, 10),
}

MOST = Fraction(10_000_000)
"""No kitchen measures more than this of anything; a slipped key does."""

_MOST_DIGITS = 12
_PLAIN = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+")
_OVER = re.compile(r"([0-9]+)/([0-9]+)")
_COMMA = re.compile(r"([0-9]+),([0-9]+)")
_JOINED_RANGE = re.compile(r"\s*[-–—]\s*|\s+to\s+")
_OR = re.compile(r"\s+or\s+")
_SPACES = re.compile(r"\s*")


@dataclass(frozen=True, slots=True)
class Number:
    """A number or a range found in a text."""

    low: Fraction
    high: Fraction | None
    end: int
    """The offset of the first character behind it."""


def starts_number(text: str, at: int) -> bool:
    """Whether a number could start at this offset."""
    if at >= len(text):
        return False
    if text[at] == ".":
        return _PLAIN.match(text, at) is not None
    return text[at] in "0123456789" or text[at] in FRACTION_SIGNS


def skip_spaces(text: str, at: int) -> int:
    """The offset of the next character that is not white space."""
    found = _SPACES.match(text, at)
    return at if found is None else found.end()


def scan_number(text: str, at: int) -> Number | Refusal:
    """One number at exactly this offset; never a range."""
    found = _scan_parts(text, at)
    if isinstance(found, Refusal):
        return found
    if found.end < len(text):
        follower = text[found.end]
        pair = _COMMA.match(text, at)
        if pair is not None:
            return _refuse_comma(text, at, pair)
        more = follower in "/.⁄" and starts_number(text, found.end + 1)
        if more or follower in FRACTION_SIGNS:
            return _unreadable(text, at)
        if follower in "eE" and _PLAIN.match(text, found.end + 1):
            return Refusal("unreadable-amount", "Write the number out in full, without an e.", at)
    if found.low == 0:
        return Refusal(
            "zero-amount", "Nothing of an ingredient is not an amount: leave it out.", at
        )
    if found.low > MOST:
        return Refusal("number-too-large", "That is more than ten million: check the number.", at)
    return found


def scan_range(text: str, at: int) -> Number | Refusal:
    """One number, or two that rise (`2-3`, `1½ to 2`), at exactly this offset."""
    low = scan_number(text, at)
    if isinstance(low, Refusal):
        return low
    joint = _JOINED_RANGE.match(text, low.end)
    if joint is None or not starts_number(text, joint.end()):
        choice = _OR.match(text, low.end)
        if choice is None or not starts_number(text, choice.end()):
            return low
        return Refusal(
            "or-for-range",
            "Write a range with a hyphen.",
            at,
            rewritten(text, choice.start(), choice.end(), "-"),
        )
    high = scan_number(text, joint.end())
    if isinstance(high, Refusal):
        return high
    if high.low <= low.low:
        return _refuse_falling(text, at, low, high)
    return Number(low.low, high.low, high.end)


def read_number(text: str) -> Fraction | Refusal:
    """A positive number without a unit: `1 1/2`, `1½`, `1.5`, `1-1/2`."""
    found = _read_whole(text)
    return found.low if isinstance(found, Number) else found


def read_share(text: str) -> Fraction | Refusal:
    """A part of something, above 0 and at most 1: `1/2`, `0.25`, `⅓`."""
    words = {"half": "1/2", "a half": "1/2", "third": "1/3", "a third": "1/3"}
    words |= {"quarter": "1/4", "a quarter": "1/4", "all": "1"}
    meant = words.get(fold(text[:40]).lower())
    if meant is not None:
        return Refusal("word-for-number", "Write the share in figures.", 0, meant)
    start = skip_spaces(text, 0)
    if text.rstrip().endswith("%") and starts_number(text, start):
        percent = scan_number(text, start)
        if isinstance(percent, Number) and fold(text[percent.end :]) == "%":
            share = show_number(percent.low / 100)
            return Refusal("percent-for-share", "Write the share as a fraction.", start, share)
    found = _read_whole(text)
    if isinstance(found, Number) and found.low > 1:
        return Refusal("share-above-one", "A share is at most 1, which is all of it.", start)
    return found.low if isinstance(found, Number) else found


def _read_whole(text: str) -> Number | Refusal:
    start = skip_spaces(text, 0)
    if text[start : start + 1] in ("-", "−") and starts_number(text, start + 1):
        return Refusal(
            "negative-amount", "A number here is above zero.", start, fold(text[start + 1 :])
        )
    if not starts_number(text, start):
        return Refusal("unreadable-amount", "Write a number, such as 2 or 1/2.", start)
    found = scan_number(text, start)
    if isinstance(found, Number) and skip_spaces(text, found.end) < len(text):
        return Refusal(
            "unreadable-amount",
            "Only a number is wanted here.",
            found.end,
            fold(text[start : found.end]),
        )
    return found


def _scan_parts(text: str, at: int) -> Number | Refusal:
    """The number's own characters, with no look at what follows them."""
    if at < len(text) and text[at] in FRACTION_SIGNS:
        return Number(FRACTION_SIGNS[text[at]], None, at + 1)
    over = _OVER.match(text, at)
    if over is not None:
        return _divided(over)
    plain = _PLAIN.match(text, at)
    if plain is None:
        return _unreadable(text, at)
    if len(plain.group()) > _MOST_DIGITS:
        return _too_long(at)
    value = Fraction(plain.group())
    end = plain.end()
    if "." in plain.group():
        return Number(value, None, end)
    # A hyphen binds a fraction to its whole number only when nothing stands between.
    next_at = end + 1 if text[end : end + 1] == "-" else skip_spaces(text, end)
    if next_at < len(text) and text[next_at] in FRACTION_SIGNS:
        return Number(value + FRACTION_SIGNS[text[next_at]], None, next_at + 1)
    over = _OVER.match(text, next_at) if next_at > end else None
    if over is None:
        return Number(value, None, end)
    part = _divided(over)
    if isinstance(part, Refusal):
        return part
    if part.low >= 1:
        return Refusal(
            "improper-fraction",
            "The fraction after a whole number is less than one.",
            at,
            rewritten(text, at, part.end, show_number(value + part.low)),
        )
    return Number(value + part.low, None, part.end)


def _divided(over: re.Match[str]) -> Number | Refusal:
    if len(over.group()) > _MOST_DIGITS + 1:
        return _too_long(over.start())
    below = int(over.group(2))
    if below == 0:
        return Refusal("divided-by-zero", "Nothing can be divided by 0.", over.start())
    return Number(Fraction(int(over.group(1)), below), None, over.end())


def _too_long(at: int) -> Refusal:
    return Refusal("number-too-long", f"Write at most {_MOST_DIGITS} digits.", at)


def _unreadable(text: str, at: int) -> Refusal:
    return Refusal(
        "unreadable-amount", "This number cannot be read. Write it like 2, 1 1/2 or 1.5.", at
    )


def _refuse_comma(text: str, at: int, pair: re.Match[str]) -> Refusal:
    before, after = pair.groups()
    point = rewritten(text, at, pair.end(), f"{before}.{after}")
    if len(after) != 3:
        return Refusal("decimal-comma", "Write decimals with a point.", at, point)
    joined = rewritten(text, at, pair.end(), before + after)
    return Refusal(
        "comma-in-number",
        "A comma in a number can mean a thousand or a decimal. Write it without a comma.",
        at,
        either(joined, point),
        (joined, point),
    )


def _refuse_falling(text: str, at: int, low: Number, high: Number) -> Refusal:
    if high.low == low.low:
        why, fixed = "Both ends of the range are the same.", show_number(low.low)
    elif low.low.denominator == 1 and high.low < 1:
        why = "A range rises. A whole number and its fraction are written with a space."
        fixed = show_number(low.low + high.low)
    else:
        why = "A range rises: the smaller number comes first."
        fixed = f"{show_number(high.low)}-{show_number(low.low)}"
        # A mixed number keeps its space, so that the hyphen joins the two ends alone.
        fixed = fixed.replace("-", " to ") if "/" in fixed else fixed
    return Refusal("falling-range", why, at, rewritten(text, at, high.end, fixed))
