"""Texts without the marks of rare blocks are read without asking for those blocks, and blocks
without any mark without asking for inlines: the tokens are those of markdown-it-py with all of
CommonMark's rules."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token

from in_full import sampled
from spoonfold.read.markdown import _parsed

_ALL_BLOCKS = MarkdownIt("commonmark", {"html": False})
# It joins what was escaped with the text around it; ours does so with places.
_ALL_INLINES = MarkdownIt("commonmark", {"html": False}).disable("text_join")

_STARTS = (
    "",
    "",
    "",
    "  ",
    "    ",
    "\t",
    "- ",
    "* ",
    "+ ",
    "1. ",
    "2) ",
    "   - ",
    "# ",
    "## ",
    "   1. ",
    "> ",
    "- - ",
    "<",
    "[a]: b",
    "=",
    "==",
    "-",
    "--",
    "***",
    "* * *",
    "_ _ _ ",
    "---",
    "```",
    "~~~",
    "`",
    "~~",
    "[a]:",
    "- watch: ",
    "\\",
)
_ENDS = (
    "",
    "",
    "",
    " ",
    "  ",
    "rice",
    "it boils.",
    "- x",
    "> y",
    "= 2",
    "*now*",
    "-",
    " *",
    "\\",
    "\r",
    "\x00",
    "]:",
)

lines = st.builds(
    "{}{}{}".format,
    st.sampled_from(_STARTS),
    st.sampled_from(("", "Stir", "2 cups", "the [oil](#oil)")),
    st.sampled_from(_ENDS),
)


def _seen(tokens: Sequence[Token]) -> list[tuple[object, ...]]:
    return [
        (
            each.type,
            each.tag,
            each.nesting,
            each.map,
            each.level,
            each.content,
            each.markup,
            each.info,
        )
        for each in tokens
    ]


@given(st.lists(lines, max_size=9).map("\n".join))
@settings(max_examples=sampled(300, 1500))
def test_every_text_has_the_blocks_of_commonmark(text: str) -> None:
    """Lists in lists, lines that go on, headings, and all marks of rare blocks among them."""
    tokens, _ = _parsed(text, "content/x.md", 1)
    assert _seen(tokens.each) == _seen(_ALL_BLOCKS.parse(text))


@pytest.mark.parametrize(
    ("text", "block"),
    [
        ("```\ncode\n```", "fence"),
        ("- ~~~\n  code\n  ~~~", "fence"),
        ("> said", "blockquote_open"),
        ("1. one\n   > said", "blockquote_open"),
        ("---", "hr"),
        ("- * * *", "hr"),
        ("_ _ _  ", "hr"),
        ("***\r\nmore", "hr"),
        ("Soup\n====", "heading_open"),
        ("- Soup\n  --- ", "heading_open"),
    ],
)
def test_a_rare_block_is_seen_wherever_it_stands(text: str, block: str) -> None:
    """One of each, at the top and in a list."""
    tokens, _ = _parsed(text, "content/x.md", 1)
    assert block in {each.type for each in tokens.each}


def test_a_reference_is_followed() -> None:
    """It is itself no block, so that only its link shows that it was seen."""
    tokens, lines = _parsed("See [the book].\n\n[the book]: https://example.org\n", "x.md", 1)
    assert len(tokens.each) == 3
    assert "link_open" in {each.type for each in lines.inlines(tokens.each[1].content)}


@given(
    st.text(
        st.sampled_from("ab 12\u00a0é½°.,:;!?'\"()]{}>#+-=~^|$%@/\t")
        | st.sampled_from("\n\\`*_[<&![](#)")
        | st.characters(exclude_categories=["Cs"], exclude_characters="\0\r")
    )
)
@settings(max_examples=sampled(300, 1500))
@example("1\\. one")
@example("`now`")
@example("*now*")
@example("__now__")
@example("[a](#b)")
@example("<https://example.org>")
@example("&amp; &#38;")
@example("one  \ntwo")
def test_every_block_has_the_inlines_of_commonmark(text: str) -> None:
    """With signs of inlines and without; CR and NUL are replaced before blocks are read."""
    _, lines = _parsed("", "content/x.md", 1)
    (block,) = _ALL_INLINES.parseInline(text)
    assert _seen(lines.inlines(text)) == _seen(block.children or ())
