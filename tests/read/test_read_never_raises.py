"""Whatever an author may save, reading and checking answer with problems and never raise."""

from __future__ import annotations

import json
import tempfile
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from in_full import sampled
from spoonfold.check import examine
from spoonfold.read.folder import read_folder
from tiny_class import CLASS, RICE, write_class

HERE = Path(__file__).parent
BROTH = (HERE.parent / "check/base/content/recipes/broth.md").read_text("utf-8")
EXAMPLES = [
    each["markdown"] for each in json.loads((HERE / "commonmark-examples.json").read_text("utf-8"))
]

# What breaks readers: the signs that Markdown, YAML and the line of an ingredient live by.
PIECES = st.one_of(
    st.sampled_from(
        (
            "---\n",
            "\n",
            "\n\n",
            "  ",
            "    ",
            "\t",
            "- ",
            "1. ",
            "9. ",
            "## ",
            "### ",
            "## Steps\n",
            "[",
            "](",
            ")",
            '](#olive-oil "rest")',
            '"',
            "'",
            ": ",
            ":",
            "#",
            "*",
            "**",
            "_",
            "`",
            "```\n",
            "> ",
            "<",
            "<b>",
            "&amp;",
            "\\",
            "|",
            "{",
            "}",
            "[]",
            "!",
            "!!str ",
            "&a ",
            "*a",
            "½",
            "1/0",
            "1e9",
            "-",
            "–",
            "0",
            "99999999999999",
            "time: ",
            "after: 1",
            "after: none",
            "when: day before",
            "part: ",
            "swaps:\n",
            "null",
            "~",
            "yes",
            "no",
            "°F",
            "\u200b",
            "é",
            "\u2028",
            "\x00",
            "\ufeff",
            "\r",
            "\x85",
            "𝟙",
            "٣",
        )
    ),
    st.text(max_size=12),
    st.sampled_from(EXAMPLES),
)
often = settings(
    max_examples=sampled(30, 150), deadline=None, suppress_health_check=[HealthCheck.too_slow]
)


@st.composite
def bent(draw: st.DrawFn, text: str) -> str:
    """A right text with a few pieces cut out, put in or doubled."""
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.sampled_from((0, 0, 1, 5, 40))))
        middle = draw(st.one_of(PIECES, st.just(text[start:end] * 2), st.just("")))
        text = text[:start] + middle + text[end:]
    return text


def _check(name: str, content: str | bytes) -> None:
    """Reads and checks a class with this file; every problem has a place inside its file."""
    with tempfile.TemporaryDirectory() as where:
        folder = write_class(Path(where), {"recipes/broth.md": BROTH, name: content})
        examined = examine(folder)
        for problem in examined.problems:
            source = examined.read.sources.get(problem.place.path)
            lines = source.text.split("\n") if source else []
            assert problem.message
            if problem.place.line and source:
                assert problem.place.line <= len(lines) + 1, problem
            if problem.place.column and problem.place.line <= len(lines):
                assert problem.place.column <= len(lines[problem.place.line - 1]) + 1, problem
        again = read_folder(folder)
        assert again.problems == examined.read.problems


@often
@given(st.text())
def test_any_text_for_a_recipe(text: str) -> None:
    """Any text at all may stand where a recipe should."""
    _check("recipes/rice.md", text.encode("utf-8", "surrogatepass"))


@often
@given(st.lists(PIECES, max_size=30).map("".join))
def test_any_body_for_a_recipe(body: str) -> None:
    """Any text at all may follow a header that is right."""
    _check(
        "recipes/rice.md",
        (RICE.split("\n---\n")[0] + "\n---\n" + body).encode("utf-8", "surrogatepass"),
    )


@often
@given(st.binary())
def test_any_bytes(content: bytes) -> None:
    """Any file at all may bear a recipe's name."""
    _check("recipes/rice.md", content)


@settings(often, max_examples=sampled(80, 400))
@given(bent(BROTH))
def test_a_bent_recipe(text: str) -> None:
    """A right recipe may be bent in a few places."""
    _check("recipes/broth.md", text.encode("utf-8", "surrogatepass"))


@often
@given(bent(CLASS))
def test_a_bent_class(text: str) -> None:
    """class.yaml may be bent in a few places."""
    _check("class.yaml", text.encode("utf-8", "surrogatepass"))


@often
@given(
    st.sampled_from(
        (
            "words.yaml",
            "skills.yaml",
            "pantry.yaml",
            "recipes/rice.es.md",
            "lessons/soap.md",
            "after/2027-09-18.md",
            "private/children.yaml",
        )
    ),
    st.lists(PIECES, max_size=20).map("".join),
)
def test_any_text_for_another_file(name: str, text: str) -> None:
    """Any text at all may stand in every other file."""
    _check(name, text.encode("utf-8", "surrogatepass"))
