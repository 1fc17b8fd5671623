"""Texts without the marks of rare blocks are read without asking for those blocks, and blocks
without any mark without asking for inlines: the tokens are those of markdown-it-py with all of
CommonMark's rules."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token

from spoonfold.read.inline import _MARKS
from spoonfold.read.markdown import _parsed

_ALL_BLOCKS = MarkdownIt("commonmark", {"html": False})

_STARTS = ("", "", "", "  ", "    ", "\t", "- ", "* ", "+ ", "1. ", "2) ", "   - ", "# ", "## ",
           "   1. ", "> ", "- - ", "<", "[a]: b", "=", "==", "-", "--", "***", "* * *", "_ _ _ ",
           "---", "```", "~~~", "`", "~~", "[a]:", "- watch: ", "\\")
_ENDS = ("", "", "", " ", "  ", "rice", "it boils.", "- x", "> y", "= 2", "*now*", "-", " *", "\\",
         "\r", "\x00", "]:")

lines = st.builds("{}{}{}".format, st.sampled_from(_STARTS),
                  st.sampled_from(("", "Stir", "2 cups", "the [oil](#oil)")),
                  st.sampled_from(_ENDS))


def _seen(tokens: Sequence[Token]) -> list[tuple[object, ...]]:
    return [(each.type, each.tag, each.nesting, each.map, each.level, each.content, each.markup,
             each.info) for each in tokens]


@given(st.lists(lines, max_size=9).map("\n".join))
@settings(max_examples=1500)
def test_every_text_has_the_blocks_of_commonmark(text: str) -> None:
    """Lists in lists, lines that go on, headings, and all marks of rare blocks among them."""
    tokens, _ = _parsed(text, "content/x.md", 1)
    assert _seen(tokens.each) == _seen(_ALL_BLOCKS.parse(text))


@pytest.mark.parametrize(("text", "block"), [
    ("```\ncode\n```", "fence"), ("- ~~~\n  code\n  ~~~", "fence"),
    ("> said", "blockquote_open"), ("1. one\n   > said", "blockquote_open"),
    ("---", "hr"), ("- * * *", "hr"), ("_ _ _  ", "hr"), ("***\r\nmore", "hr"),
    ("Soup\n====", "heading_open"), ("- Soup\n  --- ", "heading_open"),
])
def test_a_rare_block_is_seen_wherever_it_stands(text: str, block: str) -> None:
    """One of each, at the top and in a list."""
    tokens, _ = _parsed(text, "content/x.md", 1)
    assert block in {each.type for each in tokens.each}


def test_a_reference_is_followed() -> None:
    """It is itself no block, so that only its link shows that it was seen."""
    tokens, lines = _parsed("See [the book].\n\n[the book]: https://example.org\n", "x.md", 1)
    assert len(tokens.each) == 3
    assert "link_open" in {each.type for each in lines.inlines(tokens.each[1].content)}


def _inlines(text: str) -> list[tuple[str, str]]:
    (token,) = _ALL_BLOCKS.parseInline(text)
    return [(each.type, each.content) for each in token.children or ()]


@given(st.text(st.sampled_from("ab 12\u00a0é½°.,:;!?'\"()]{}>#+-=~^|$%@/\t") | st.characters(
    exclude_categories=["Cs"], exclude_characters="\0\r")))
@settings(max_examples=1500)
def test_a_block_without_marks_is_text_alone(text: str) -> None:
    """Every sign but those that begin something; CR and NUL are replaced before blocks are read."""
    if text and not _MARKS.search(text):
        assert _inlines(text) == [("text", text)]


@pytest.mark.parametrize("text", [
    "one\ntwo", "1\\. one", "`now`", "*now*", "__now__", "[a](#b)", "![a](b.png)",
    "<https://example.org>", "&amp;",
])
def test_every_mark_begins_something(text: str) -> None:
    """One of each inline of CommonMark: it isn't the text as it stands, and has a mark."""
    assert _MARKS.search(text) and _inlines(text) != [("text", text)]
