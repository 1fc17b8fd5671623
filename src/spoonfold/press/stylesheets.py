"""Whether a class's own stylesheet can be used: whole, from the layouts alone, of sizes that can be
printed. Read as the printer reads it (CSS Syntax 3), by its own reader."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Iterator
from typing import Any
from urllib.parse import unquote

import tinycss2

from spoonfold.press.drawings import Flaw

_IN_MM = {
    "mm": 1.0,
    "cm": 10.0,
    "in": 25.4,
    "pt": 25.4 / 72,
    "pc": 25.4 / 6,
    "px": 25.4 / 96,
    "q": 0.25,
    "em": 4.0,
    "rem": 4.0,
    "ex": 2.0,
    "ch": 2.0,
    "%": 2.0,
    "": 4.0,
}
"""What a length comes to; of those by the type or the room about as much."""
_LONGEST_MM = 5_000
_SHORTEST_PAGE_MM = 50
"""A card; on less a text takes a page a letter."""
_WIDEST_MARGIN_MM = 100
_MUST_BE_SEEN = frozenset({"font-size", "line-height"})
_ALL = re.compile(r"(?:^|,)\s*(?:html|body|:root|\*|p|li|\.sheet)\s*(?:,|$)")
"""Selectors of what every text stands in."""
_DEEPEST = 60


def flaws_of_stylesheet(data: bytes, shown: str, exists: Callable[[str], bool]) -> Iterator[Flaw]:
    """What keeps a stylesheet from being used. `shown`: its name below `layouts/`; `exists`:
    whether there is a file of that name, here or among those that ship."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = len(data[: error.start].split(b"\n"))
        yield Flaw(line, "This stylesheet isn't saved as UTF-8 text.", "Save it as UTF-8.")
        return
    if not text.strip():
        yield Flaw(0, "This stylesheet is empty.", "Remove it: then the one that ships is used.")
        return
    depth = _depth(text)
    if depth > _DEEPEST:
        yield Flaw(0, "This stylesheet has brackets within brackets without end.", "Remove them.")
        return
    if depth > 0 or len(text.split("/*")) > len(text.split("*/")):
        yield Flaw(
            _last_open(text),
            "Something is opened here and never closed, so that the rest isn't read.",
            "Close it: a } for each {, a ) for each (, and */ for each /*.",
        )
        return
    rules = tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True)
    yield from _of_rules(rules, shown, exists)


def _depth(text: str) -> int:
    """The deepest nesting where it goes too deep, or what stays open; 0 for a whole text."""
    deep = most = 0
    for sign in re.sub(r"""(?s)/\*.*?\*/|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'""", "", text):
        deep += (sign in "{([") - (sign in "})]")
        most = max(most, deep)
    return most if most > _DEEPEST else max(deep, 0)


def _last_open(text: str) -> int:
    lines: list[int] = []
    line = 1
    for sign in text:
        if sign == "\n":
            line += 1
        elif sign in "{([":
            lines.append(line)
        elif sign in "})]" and lines:
            lines.pop()
    return lines[-1] if lines else len(text[: text.rfind("/*")].split("\n"))


def _of_rules(rules: list[Any], shown: str, exists: Callable[[str], bool]) -> Iterator[Flaw]:
    for rule in rules:
        if rule.type == "error":
            yield _error(rule)
        elif rule.type == "at-rule":
            yield from _addresses(
                rule.prelude, shown, exists, is_import=rule.lower_at_keyword == "import"
            )
            if rule.content is None:
                continue
            if rule.lower_at_keyword in ("media", "supports", "layer"):
                inner = tinycss2.parse_blocks_contents(
                    rule.content, skip_comments=True, skip_whitespace=True
                )
                yield from _of_rules(inner, shown, exists)
            else:
                is_page = rule.lower_at_keyword == "page"
                yield from _of_block(rule.content, shown, exists, is_page=is_page)
        elif rule.type == "qualified-rule":
            is_all = bool(_ALL.search(tinycss2.serialize(rule.prelude)))
            yield from _of_block(rule.content, shown, exists, is_all=is_all)
        elif rule.type == "declaration":
            yield from _of_declaration(rule, shown, exists, is_page=False, is_all=False)


def _of_block(
    content: list[Any],
    shown: str,
    exists: Callable[[str], bool],
    *,
    is_page: bool = False,
    is_all: bool = False,
) -> Iterator[Flaw]:
    for each in tinycss2.parse_blocks_contents(content, skip_comments=True, skip_whitespace=True):
        if each.type == "declaration":
            yield from _of_declaration(each, shown, exists, is_page=is_page, is_all=is_all)
        elif each.type in ("qualified-rule", "at-rule") and each.content is not None:
            yield from _of_block(each.content, shown, exists)
        elif each.type == "error":
            yield _error(each)


def _of_declaration(
    rule: Any, shown: str, exists: Callable[[str], bool], *, is_page: bool, is_all: bool
) -> Iterator[Flaw]:
    name = rule.lower_name
    yield from _addresses(rule.value, shown, exists)
    for token in _tokens(rule.value):
        if token.type not in ("dimension", "percentage", "number"):
            continue
        unit = "%" if token.type == "percentage" else getattr(token, "lower_unit", "")
        if unit not in _IN_MM:
            continue
        millimetres = abs(token.value) * _IN_MM[unit]
        is_length = token.type == "dimension" or not token.value
        said = f"{token.representation}{'%' if unit == '%' else getattr(token, 'unit', '')}"
        if millimetres > _LONGEST_MM and name not in (
            "z-index",
            "font-weight",
            "orphans",
            "widows",
        ):
            yield _at(token, f"{said} is larger than any sheet.", "Write a smaller size.")
        elif is_page and name == "size" and is_length and millimetres < _SHORTEST_PAGE_MM:
            yield _at(
                token,
                f"A page of {said} has no room for a text.",
                f"A side of a page is at least {_SHORTEST_PAGE_MM} mm.",
            )
        elif is_page and name.startswith("margin") and millimetres > _WIDEST_MARGIN_MM:
            yield _at(
                token, f"A margin of {said} leaves no room for a text.", "Write a smaller one."
            )
        elif is_all and name in _MUST_BE_SEEN and token.value <= 0:
            yield _at(token, f"{name}: {said} can't be read.", "Write a larger size.")


def _tokens(values: list[Any]) -> Iterator[Any]:
    for token in values:
        yield token
        inner = getattr(token, "arguments", None) or getattr(token, "content", None)
        if inner and not isinstance(inner, str):
            yield from _tokens(inner)


def _addresses(
    values: list[Any], shown: str, exists: Callable[[str], bool], *, is_import: bool = False
) -> Iterator[Flaw]:
    for token in _tokens(values):
        address = None
        if token.type == "url" or (is_import and token.type == "string"):
            address = token.value
        elif token.type == "function" and token.lower_name in ("url", "src"):
            address = next((each.value for each in token.arguments if each.type == "string"), None)
        if address is None or address.startswith(("#", "data:")):
            continue
        target = posixpath.normpath(posixpath.join(posixpath.dirname(shown), unquote(address)))
        # What leads out of layouts/ is told where files are read.
        if (
            re.match(r"[A-Za-z][\w+.-]*:|/|\.\./", target)
            or target.startswith("..")
            or "//" in address
        ):
            continue
        if is_import and target == shown:
            yield _at(token, "This stylesheet imports itself.", "Remove this line.")
        elif not exists(target):
            yield _at(
                token,
                f"There is no file layouts/{target}, here or among those that ship.",
                "Put it there, or write the address from this file on.",
            )


def _error(rule: Any) -> Flaw:
    return _at(
        rule, f"This can't be read as CSS: {rule.message}.", "Write selector { name: value }."
    )


def _at(token: Any, message: str, hint: str) -> Flaw:
    return Flaw(token.source_line, message, hint, token.source_column)
