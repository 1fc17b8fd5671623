"""A cook's words on one line, and as YAML that is read as just them."""

from __future__ import annotations

import json
import re

# What `read` refuses in a file, and what would end a line of its own.
_NOT_PRINTED = re.compile(
    "[\\x00-\\x1f\\x7f-\\x9f\\u2028\\u2029\\ud800-\\udfff\\ufffe\\uffff\\ufeff\\u200b\\u200e\\u200f"
    "\\u2060\\u202a-\\u202e\\u2066-\\u2069]+"
)
# Begins with a letter or a figure and holds nothing that YAML gives a meaning to.
_PLAIN = re.compile(r"[^\W_](?:[^:#\[\]{}\"`&*!|>%@\\]*[^\s:#\[\]{}\"`&*!|>%@\\,])?")


def clean(text: str, most: int = 2_000) -> str:
    """Words on one line, without signs that nobody sees; at most so many characters."""
    return " ".join(_NOT_PRINTED.sub(" ", text).split())[:most].strip()


def yaml_text(text: str) -> str:
    """One line of words as a YAML value, in quotation marks only where it needs them."""
    words = clean(text)
    return words if _PLAIN.fullmatch(words) else json.dumps(words, ensure_ascii=False)
