"""A cook's words as file names, as a comment, and as Markdown."""

from __future__ import annotations

import re
import shlex
import unicodedata
from collections.abc import Iterable

from spoonfold.read.yaml_text import clean

LONGEST_NAME = 60
"""Characters of a file name; every file system and address takes that."""

# Letters that don't come apart into a plain one and a mark (Unicode has no decomposition).
_LETTERS = str.maketrans(
    {
        "ß": "ss",
        "ø": "o",
        "ł": "l",
        "đ": "d",
        "ð": "d",
        "þ": "th",
        "æ": "ae",
        "œ": "oe",
        "ı": "i",
        "ħ": "h",
        "ŋ": "n",
        "'": "",
        "’": "",
    }
)
_ENDS = (".", "!", "?", ":", ";", ")", "”", '"')
"""How a line ends that isn't broken off."""
_NOT_IN_NAME = re.compile(r"[^a-z0-9]+")
_MARKUP = re.compile(r"([\\`*_\[\]<>&])")
# What the reader would take for a link or a tag that went wrong, even where its signs are escaped.
_LINK_LIKE = re.compile(r"\](?=\()|<(?=[/A-Za-z!?])")
_BLOCK_START = re.compile(r"(?:([0-9]{1,9})([.)])|([-+#=~|]))(?=.*)")


def file_name(title: str) -> str:
    """A title as a file's name: small letters a to z, digits, hyphens; `dish` where none is left.

    `Çılbır, my way` becomes `cilbir-my-way`.
    """
    plain = unicodedata.normalize("NFKD", title.casefold().translate(_LETTERS))
    name = _NOT_IN_NAME.sub(
        "-", "".join(each for each in plain if not unicodedata.combining(each))
    ).strip("-")
    return name[:LONGEST_NAME].strip("-") or "dish"


def unwrapped(lines: Iterable[str]) -> list[str]:
    """Lines as they were before something broke them: one that ends within a sentence goes on."""
    whole: list[str] = []
    for line in lines:
        goes_on = whole and (line[:1].islower() or not whole[-1].endswith(_ENDS))
        if goes_on:
            whole[-1] += f" {line}"
        else:
            whole.append(line)
    return whole


def comment(text: str) -> str:
    """A line that YAML passes over."""
    return f"# {clean(text)}"


def markdown(text: str) -> str:
    """One line of words as Markdown that shows just them."""
    words = _MARKUP.sub(r"\\\1", _LINK_LIKE.sub(r"\g<0> ", clean(text, 10_000)))
    begins = _BLOCK_START.match(words)
    if begins is None:
        return words
    if begins[1] is not None:
        return f"{begins[1]}\\{words[len(begins[1]) :]}"
    return f"\\{words}"


def shell_word(text: str) -> str:
    """A file's name as it is typed in a terminal."""
    return shlex.quote(text)
