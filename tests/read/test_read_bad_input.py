"""What goes wrong with files: each mistake is one problem with its place, and never a crash."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from spoonfold.check import examine
from spoonfold.problem import Level, Problem
from tiny_class import CLASS, RICE

Make = Callable[..., Path]
RECIPE = "recipes/rice.md"
SOUP = RICE.replace("Plain rice", "Soup")


def _found(folder: Path) -> list[tuple[str, str]]:
    return [(_where(each), each.code) for each in examine(folder).problems]


def _where(problem: Problem) -> str:
    place = problem.place
    return ":".join(
        str(each)
        for each in (place.path.removeprefix("content/"), place.line, place.column)
        if each
    )


def _header(line: str) -> str:
    """The tiny recipe with another line in its header, the seventh of the file."""
    return RICE.replace("ingredients:\n", f"{line}\ningredients:\n")


def _line(line: str) -> str:
    """The tiny recipe with another first ingredient, on the seventh line from column 5."""
    return RICE.replace("1 cup rice, rinsed", line)


def _prose(words: str) -> str:
    """The tiny recipe with other words before its steps, on the twelfth line."""
    return RICE.replace("Rice as it is eaten every day.", words)


FILES = [
    (
        "not UTF-8",
        {RECIPE: RICE.encode().replace(b"every day", b"every d\xe9")},
        "recipes/rice.md:12:28",
        "not-utf-8",
    ),
    ("UTF-16", {RECIPE: RICE.encode("utf-16")}, "recipes/rice.md:1:1", "not-utf-8"),
    ("empty", {RECIPE: ""}, "recipes/rice.md", "empty-file"),
    ("only spaces", {RECIPE: "  \n \n"}, "recipes/rice.md", "empty-file"),
    ("empty class", {"class.yaml": ""}, "class.yaml", "empty-file"),
    ("ten megabytes", {RECIPE: RICE + "a" * 10_000_000}, "recipes/rice.md", "file-too-large"),
    (
        "a zero byte",
        {RECIPE: RICE.replace("every", "\0every")},
        "recipes/rice.md:12:21",
        "not-text",
    ),
    (
        "a page break",
        {RECIPE: RICE.replace("every", "\fevery")},
        "recipes/rice.md:12:21",
        "not-text",
    ),
    (
        "a line separator",
        {RECIPE: RICE.replace("every", "\u2028every")},
        "recipes/rice.md:12:21",
        "not-text",
    ),
    ("no header", {RECIPE: RICE.removeprefix("---\n")}, "recipes/rice.md:1", "no-header"),
    (
        "header never closed",
        {RECIPE: RICE.replace("\n---\n", "\n")},
        "recipes/rice.md:1",
        "unclosed-header",
    ),
    (
        "header with nothing in it",
        {RECIPE: "---\n---\n\nRice\n"},
        "recipes/rice.md:1",
        "empty-header",
    ),
    (
        "a tab for an indent",
        {RECIPE: RICE.replace("  - 2 cups", "\t- 2 cups")},
        "recipes/rice.md:8:1",
        "tab",
    ),
    ("a key twice", {RECIPE: _header("serves: 6")}, "recipes/rice.md:6:1", "key-twice"),
    ("an alias", {RECIPE: RICE.replace("PE", "*home")}, "recipes/rice.md:4:10", "yaml-alias"),
    ("an anchor", {RECIPE: RICE.replace("PE", "&home PE")}, "recipes/rice.md:4:10", "yaml-anchor"),
    (
        "a tag",
        {RECIPE: RICE.replace("serves: 4", "serves: !!int 4")},
        "recipes/rice.md:5:9",
        "yaml-tag",
    ),
    (
        "a tag that makes things",
        {RECIPE: RICE.replace("serves: 4", "serves: !!python/name:os.system 4")},
        "recipes/rice.md:5:9",
        "yaml-tag",
    ),
    (
        "an open quote",
        {RECIPE: RICE.replace("Plain rice", '"Plain rice')},
        "recipes/rice.md:2:8",
        "unclosed-quote",
    ),
    (
        "an open bracket",
        {RECIPE: RICE.replace("PE", "[PE")},
        "recipes/rice.md:4:10",
        "unclosed-bracket",
    ),
    (
        "a second colon",
        {RECIPE: RICE.replace("Plain rice", "Rice: plain")},
        "recipes/rice.md:2:12",
        "second-colon",
    ),
    (
        "brackets inside brackets",
        {"class.yaml": CLASS + "needs: " + "[" * 50 + "]" * 50},
        "class.yaml:16:19",
        "too-deep",
    ),
    (
        "a first day at the end of time",
        {"class.yaml": CLASS.replace("2027-09-18", "9999-12-31")},
        "class.yaml:3:12",
        "not-a-date",
    ),
    ("a file name with spaces", {"recipes/My Soup.md": SOUP}, "recipes/My Soup.md", "file-name"),
]

AMOUNTS = [
    ("serves: 4", "serves: 0", "recipes/rice.md:5:9", "zero-amount"),
    ("serves: 4", "serves: -4", "recipes/rice.md:5:9", "negative-amount"),
    ("serves: 4", "serves: 4 cakes", "recipes/rice.md:5:10", "unreadable-amount"),
    ("serves: 4", "serves: 99999999", "recipes/rice.md:5:9", "number-too-large"),
    ("1 cup rice", "-1 cup rice", "recipes/rice.md:7:5", "negative-amount"),
    ("1 cup rice", "1/0 cup rice", "recipes/rice.md:7:5", "divided-by-zero"),
    ("1 cup rice", "1e999 cups rice", "recipes/rice.md:7:5", "unreadable-amount"),
    ("1 cup rice", "0 cups rice", "recipes/rice.md:7:5", "zero-amount"),
    ("1 cup rice", "NaN cups rice", "recipes/rice.md:7:5", "no-amount"),
    ("1 cup rice", "9" * 400 + " cups rice", "recipes/rice.md:7:5", "number-too-long"),
    ("1 cup rice", "1 c rice", "recipes/rice.md:7:7", "bare-unit-letter"),
    ("1 cup rice, rinsed", '"1 c rice"', "recipes/rice.md:7:8", "bare-unit-letter"),
    ("1 cup rice, rinsed", "rice: 1 cup", "recipes/rice.md:7:5", "colon-in-line"),
    ("time: 3 min", "time: 0 min", "recipes/rice.md:17:13", "zero-amount"),
    ("time: 3 min", "time: -3 min", "recipes/rice.md:17:13", "unreadable-time"),
]

PROSE = [
    ("Rice <b>every</b> day", "recipes/rice.md:12:6", "raw-html"),
    ("Rice <script>alert(1)</script>", "recipes/rice.md:12:6", "raw-html"),
    ("Rice <!-- not yet -->", "recipes/rice.md:12:6", "raw-html"),
    ("Rice <img src=x onerror=*alert*>", "recipes/rice.md:12:6", "raw-html"),
    ("[rice](javascript:alert(1))", "recipes/rice.md:12:6", "link-not-read"),
    ("[rice](JaVaScRiPt:alert(1))", "recipes/rice.md:12:6", "link-not-read"),
    ("[rice](data:text/html,x)", "recipes/rice.md:12:6", "link-not-read"),
    ("[rice](ftp://example.org)", "recipes/rice.md:12:1", "link-to-file"),
    ("[rice](soup.md)", "recipes/rice.md:12:1", "link-to-file"),
    ("[rice](#plain rice)", "recipes/rice.md:12:6", "link-not-read"),
    ("[rice](plain rice.md)", "recipes/rice.md:12:6", "link-not-read"),
    ("![rice](../../../etc/passwd.png)", "recipes/rice.md:12:1", "picture-outside"),
    ("![rice](%2e%2e/%2e%2e/%2e%2e/passwd.png)", "recipes/rice.md:12:1", "picture-outside"),
    ("![rice](file:///etc/passwd)", "recipes/rice.md:12:7", "link-not-read"),
    ("![rice](data:image/png;base64,AAAA)", "recipes/rice.md:12:1", "picture-on-web"),
]


@pytest.mark.parametrize(("name", "files", "where", "code"), FILES, ids=[c[0] for c in FILES])
def test_a_broken_file(
    make_class: Make, name: str, files: Mapping[str, str | bytes], where: str, code: str
) -> None:
    """A file that can't be read is one problem at the spot where it goes wrong."""
    assert _found(make_class(files)) == [(where, code)]


def test_brackets_without_an_end(make_class: Make) -> None:
    """Deep nesting costs no stack. Where it is seen differs: libyaml 0.2.6 gives up at 1,000."""
    ((where, code),) = _found(make_class({"class.yaml": CLASS + "needs: " + "[" * 100_000}))
    assert where.startswith("class.yaml:16:") and code == "too-deep"


@pytest.mark.parametrize(("old", "new", "where", "code"), AMOUNTS)
def test_a_wrong_amount(make_class: Make, old: str, new: str, where: str, code: str) -> None:
    """An amount that means nothing is one problem at its own column."""
    assert RICE.count(old) == 1
    assert _found(make_class({RECIPE: RICE.replace(old, new)})) == [(where, code)]


@pytest.mark.parametrize(("words", "where", "code"), PROSE)
def test_prose_that_would_harm(make_class: Make, words: str, where: str, code: str) -> None:
    """HTML, script addresses and paths out of the folder are refused where they stand."""
    assert _found(make_class({RECIPE: _prose(words)})) == [(where, code)]


def test_a_link_to_a_picture_outside(make_class: Make, tmp_path: Path) -> None:
    """A picture that is a link to a file elsewhere is told once, at the link itself."""
    folder = make_class({RECIPE: _prose("![A pot](../pictures/pot.png)"), "pictures/x.png": "x"})
    (tmp_path / "secret.png").write_text("x")
    (folder / "content/pictures/pot.png").symlink_to(tmp_path / "secret.png")
    assert _found(folder) == [("pictures/pot.png", "link-outside")]


@pytest.mark.parametrize("target", ["x.png", "../private/x.png", "../../x.png"])
def test_a_link_inside_the_folder(make_class: Make, target: str) -> None:
    """A link to a file of the same class folder isn't followed: it may be a private one."""
    files = {RECIPE: _prose("![A pot](../pictures/pot.png)"), "pictures/x.png": "x"}
    folder = make_class({**files, "private/x.png": "x", "../x.png": "x"})
    (folder / "content/pictures/pot.png").symlink_to(target)
    assert _found(folder) == [("pictures/pot.png", "link-to-file")]


@pytest.mark.parametrize(
    ("target", "code"),
    [("..", "link-to-folder"), ("nowhere", "link-outside"), ("/", "link-outside")],
)
def test_a_linked_folder(make_class: Make, target: str, code: str) -> None:
    """Folders are never reached through a link: not a circle, not the whole disk."""
    folder = make_class()
    (folder / "content/pictures").symlink_to(target)
    assert _found(folder) == [("pictures", code)]


def test_a_content_folder_elsewhere(make_class: Make, tmp_path: Path) -> None:
    """A content/ that is a link out of the class folder isn't read."""
    folder = make_class()
    (folder / "content").rename(tmp_path / "elsewhere")
    (folder / "content").symlink_to(tmp_path / "elsewhere")
    assert _found(folder) == [("content", "link-outside")]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_for_a_recipe(make_class: Make) -> None:
    """A pipe without a writer would be waited for for ever; it is refused instead."""
    folder = make_class()
    os.mkfifo(folder / "content/recipes/soup.md")
    assert _found(folder) == [("recipes/soup.md", "not-a-file")]


def test_a_file_name_that_is_no_text(make_class: Make) -> None:
    """A name that isn't UTF-8 is told in letters that every terminal can show."""
    folder = make_class()
    try:
        (folder / "content/recipes" / os.fsdecode(b"sou\xff.md")).write_text(SOUP)
    except (OSError, UnicodeError):
        pytest.skip("this disk takes UTF-8 names alone")
    assert _found(folder) == [("recipes/sou?.md", "file-name")]


def test_two_recipes_with_one_name(make_class: Make) -> None:
    """Two files with one title are an error at the second."""
    assert _found(make_class({"recipes/soup.md": RICE})) == [("recipes/soup.md:1", "title-twice")]


def test_an_ingredient_as_its_own_swap(make_class: Make) -> None:
    """What replaces itself replaces nothing."""
    swap = "swaps:\n  - {instead of: rice, use: 1 cup rice, because: price}"
    found = _found(make_class({RECIPE: _header(swap)}))
    assert found == [("recipes/rice.md:7:29", "swap-for-itself")]


def test_a_mark_at_the_beginning_and_foreign_line_ends(make_class: Make) -> None:
    """A byte order mark and the line ends of other systems are no mistakes."""
    for ends in ("\r\n", "\r"):
        folder = make_class({RECIPE: b"\xef\xbb\xbf" + RICE.replace("\n", ends).encode()})
        assert _found(folder) == []


def test_nothing_at_all(tmp_path: Path) -> None:
    """An empty folder has one problem: no class."""
    assert _found(tmp_path) == [("class.yaml", "no-class-file")]


def test_one_run_shows_every_problem(make_class: Make) -> None:
    """A mistake in one file doesn't hide the mistakes in the others."""
    folder = make_class(
        {
            RECIPE: RICE.replace("1 cup", "1 c"),
            "words.yaml": "simmer: {meaning: x, saz: y}\n",
            "class.yaml": CLASS.replace("ages: 9-12", "ages: 12-9"),
        }
    )
    assert [code for _, code in _found(folder)] == ["not-ages", "bare-unit-letter", "unknown-key"]
    assert all(each.level is Level.ERROR for each in examine(folder).problems)
