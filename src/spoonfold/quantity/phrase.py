"""Finds an amount in a text: number, size, unit and what the bracket says."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from spoonfold.knowledge.line_words import ABOUT, FOODS_LIKE_UNITS, HEAPING
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.number import Number, scan_number, scan_range, skip_spaces, starts_number
from spoonfold.quantity.refusal import Refusal, either, fold, rewritten
from spoonfold.quantity.show import holds_each
from spoonfold.quantity.unit import BARE_LETTERS, PIECE, Dimension, Unit, unit_named

_WORD = re.compile(r"[^\s(),;]+")
_SIZE = re.compile(r"(small|medium|extra[ -]large|large)(?=[\s(),;]|$)", re.IGNORECASE)
_SHORT_SIZE = re.compile(
    r"(?:(?P<small>sml?)|(?P<medium>med)|(?P<large>lge?|lrg)|(?P<extra>x-?lg|xl))"
    # "med to lg" is a choice that only the cook can make.
    r"(?:\.\s*|\s+)(?!(?:to|or|and)\b)(?=\(|[^\W\d_])",
    re.IGNORECASE,
)
_FLUID_OUNCE = re.compile(r"(?:fl\.?|fluid)\s+(?:oz|ozs|ounces?)(?=[\s.(),;]|$)\.?", re.IGNORECASE)
_BETWEEN = re.compile(r"\s*[x×]\s*|\s*\(\s*|\s+", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Phrase:
    """An amount found in a text."""

    amount: Amount
    second: Amount | None
    unit_end: int
    """The offset behind the unit, before any bracket."""
    end: int
    """The offset behind everything that belongs to the amount."""


def scan_amount(text: str, at: int) -> Phrase | Refusal:
    """An amount at exactly this offset, with a bracket behind it where there is one."""
    upside_down = refuse_contents_first(text, at)
    if upside_down is not None:
        return upside_down
    bare = _scan_bare(text, at)
    if isinstance(bare, Refusal):
        return bare
    start = skip_spaces(text, bare.end)
    if text[start : start + 1] != "(":
        return bare
    close = text.find(")", start)
    if close < 0 or fold(text[start + 1 : close]).lower() == "optional":
        return bare
    return _with_bracket(text, at, bare, start, close)


def refuse_contents_first(text: str, at: int) -> Refusal | None:
    """Refuses `1 (15 oz) can`, `2 x 400 g cans`, `8-oz package` with the order turned round."""
    first = scan_number(text, at)
    if isinstance(first, Refusal):
        return None
    count, inner_at = "1", at
    between = _BETWEEN.match(text, first.end)
    if between is not None and starts_number(text, between.end()):
        count, inner_at = text[at : first.end], between.end()
    inner = scan_number(text, inner_at)
    if isinstance(inner, Refusal):
        return None
    hyphen = text[inner.end : inner.end + 1] == "-"
    found = _scan_unit(text, skip_spaces(text, inner.end + hyphen))
    if found is None or found[0].dimension is Dimension.COUNT:
        return None
    unit, end = found
    if text[end : end + 1] == "-":
        end += 1
    end = skip_spaces(text, end)
    if inner_at > at and text[end : end + 1] == ")":
        end = skip_spaces(text, end + 1)
    holder = _scan_unit(text, end)
    if holder is None or holder[0].dimension is not Dimension.COUNT:
        times = between is not None and text[first.end : between.end()].strip() in ("x", "X", "×")
        if not hyphen and not times:
            return None
        holder = (PIECE, end)
    readings = [_turned(text, at, count, text[inner_at : inner.end], unit, holder)]
    parts = text[at : inner.end].split()
    if inner_at == at and len(parts) == 2:
        # "2 1/2-inch pieces": one of two and a half inches, or two of half an inch.
        readings.append(_turned(text, at, parts[0], parts[1], unit, holder))
    return Refusal(
        "contents-before-unit",
        "Say how many first, then what one holds in brackets.",
        at,
        readings[0] if len(readings) == 1 else either(*readings),
        () if len(readings) == 1 else tuple(readings),
    )


def _turned(text: str, at: int, count: str, held: str, unit: Unit, holder: tuple[Unit, int]) -> str:
    """The line with the count and its unit first and what one holds in brackets."""
    many = count != "1"
    name = holder[0].plural if many else holder[0].name
    note = f"({held} {unit.name}{' each' if many else ''}) "
    return rewritten(text, at, holder[1], f"{count} {name} {note}")


def word_at(text: str, at: int) -> tuple[str, int]:
    """The word at this offset and the offset behind it; an empty word at the end."""
    found = _WORD.match(text, at)
    return ("", at) if found is None else (found.group(), found.end())


def _scan_unit(text: str, at: int) -> tuple[Unit, int] | None:
    fluid = _FLUID_OUNCE.match(text, at)
    if fluid is not None:
        unit = unit_named("fl oz")
        return None if unit is None else (unit, fluid.end())
    word, end = word_at(text, at)
    if "-" in word:
        end = at + word.index("-")
        word = text[at:end]
        # "oz-" may lead on to its package; a hyphen inside a food's name may not.
        unit = unit_named(word)
        return (unit, end) if unit is not None and unit.dimension is not Dimension.COUNT else None
    following = word_at(text, skip_spaces(text, end))[0]
    unit = None if f"{word} {following}".lower() in FOODS_LIKE_UNITS else unit_named(word)
    return None if unit is None else (unit, end)


def _scan_bare(text: str, at: int) -> Phrase | Refusal:
    """Number, size and unit."""
    number = scan_range(text, at)
    if isinstance(number, Refusal):
        return number
    word_start = skip_spaces(text, number.end)
    sized = _SIZE.match(text, word_start) if word_start > number.end else None
    size = None if sized is None else sized.group(1).lower().replace("-", " ")
    if sized is None:
        short = _refuse_short_size(text, word_start)
        if short is not None:
            return short
    start = word_start if sized is None else skip_spaces(text, sized.end())
    word, word_end = word_at(text, start)
    letter = word.removesuffix(".")
    if letter in BARE_LETTERS:
        return _refuse_letter(text, start, word_end, letter, number)
    found = _scan_unit(text, start)
    if found is not None and text[found[1] : found[1] + 1] == "-":
        found = None
    glued = start == number.end and word != ""
    if glued and found is None:
        return _refuse_glued(text, at, number)
    following = word_at(text, skip_spaces(text, word_end))[0]
    unit, end = (PIECE, number.end if sized is None else sized.end()) if found is None else found
    if size is not None and unit.dimension is not Dimension.COUNT:
        return Refusal(
            "sized-measure",
            "A measure has no size of its own: a cup is a cup, filled level.",
            word_start,
            rewritten(text, word_start, start, ""),
        )
    if found is None and word.lower() in HEAPING and unit_named(following) is not None:
        return Refusal(
            "vague-measure",
            "Measures are filled level here. Give the amount in level measures.",
            start,
            rewritten(text, start, skip_spaces(text, word_end), ""),
        )
    return Phrase(Amount(number.low, unit, number.high, size), None, end, end)


def _refuse_short_size(text: str, at: int) -> Refusal | None:
    """Refuses `1 lg onion`, which would be a food named “lg onion”."""
    short = _SHORT_SIZE.match(text, at)
    if short is None or short.lastgroup is None:
        return None
    size = "extra large" if short.lastgroup == "extra" else short.lastgroup
    return Refusal(
        "short-size",
        f"“{short[0].strip()}” is short for “{size}”.",
        at,
        rewritten(text, at, short.end(), f" {size} "),
    )


def _refuse_letter(text: str, start: int, end: int, letter: str, number: Number) -> Refusal:
    units = [unit for unit in map(unit_named, BARE_LETTERS[letter]) if unit is not None]
    many = (number.high or number.low) > 1
    words = [unit.plural if many else unit.name for unit in units]
    readings = [rewritten(text, start, end, f" {word}") for word in words]
    return Refusal(
        "bare-unit-letter",
        f"{letter} could be {words[0]} or {words[1]}. Write it out.",
        start,
        either(*readings),
        tuple(readings),
    )


def _refuse_glued(text: str, at: int, number: Number) -> Refusal:
    end = number.end
    instead = None
    if text[end] == "-":
        unit = unit_named(word_at(text, end + 1)[0])
        instead = None if unit is None else rewritten(text, end, end + 1, " ")
    return Refusal(
        "unreadable-amount",
        f"“{fold(text[at:end] + word_at(text, end)[0])[:30]}” is not an amount.",
        at,
        instead,
    )


def _with_bracket(text: str, at: int, bare: Phrase, start: int, close: int) -> Phrase | Refusal:
    """The amount with what its bracket adds: what one holds, or a second measure of it all."""
    inside = text[start + 1 : close]
    about, about_end = word_at(text, skip_spaces(text, start + 1))
    inner_at = skip_spaces(text, about_end if about.lower() in ABOUT else start + 1)
    if not starts_number(text, inner_at):
        moved = f"{rewritten(text, start, close + 1, ' ')}, {fold(inside)}"
        return Refusal(
            "bracket-not-amount",
            "Only an amount can stand in brackets before the ingredient.",
            start,
            None if not inside.strip() else moved,
        )
    inner = _scan_bare(text, inner_at)
    if isinstance(inner, Refusal):
        return inner
    note = fold(text[inner.end : close]).lower()
    outer, measure = bare.amount, inner.amount
    if note not in ("", "each", "total"):
        fixed = rewritten(text, inner.end, close, "")
        return Refusal(
            "bracket-not-amount",
            "Only the amount can stand in these brackets.",
            inner.end,
            f"{fixed}, {note}",
        )
    counted = outer.unit.dimension is Dimension.COUNT
    if note == "each" and not counted:
        return Refusal(
            "each-of-measure",
            "“Each” belongs to things that are counted, such as cans.",
            start,
            rewritten(text, inner.end, close, ""),
        )
    one_holds = counted and holds_each(outer.unit, measure.unit)
    if note == "" and one_holds and (outer.low != 1 or outer.high is not None):
        each = rewritten(text, inner.end, close, " each")
        total = rewritten(text, inner.end, close, " total")
        length = measure.unit.dimension is Dimension.LENGTH
        why = "This could be what one holds, or what all of them hold together."
        if length:
            return Refusal("each-or-total", why, start, each)
        return Refusal("each-or-total", why, start, either(each, total), (each, total))
    if note == "each" or (note == "" and one_holds):
        return replace(bare, amount=replace(outer, each=measure), end=close + 1)
    return replace(bare, second=measure, end=close + 1)
