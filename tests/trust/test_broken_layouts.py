"""Mistakes in a class's own `layouts/`: each is told with its file and what to do, by `check` as by
`build`, and what was made before stays."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest

from in_full import sampled
from spoonfold.build import build, examined_with_layouts
from spoonfold.language.texts import load_texts
from spoonfold.press.layouts import layouts_for, shipped_layouts
from spoonfold.problem import Level
from tiny_class import write_class

SHIPPED = shipped_layouts()
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 24 24"{}>{}</svg>'
PO = 'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=utf-8\\n"\n{}'
FONT = (SHIPPED / "fonts" / "Andika-Regular.ttf").read_bytes()
PAGE = "pages/notice.html"
STYLE = "look/paper.css"
ICON = "icons/pot.svg"
WORDS = "messages/es.po"
FACE = "fonts/Andika-Regular.ttf"

MISTAKES: dict[str, tuple[str, str | bytes, str, int]] = {
    # Templates: name of the file, what it says, the code, the line.
    "template empty": (PAGE, "", "layout-template", 0),
    "template not text": (PAGE, b"<p>\n\xff\xfe", "layout-template", 2),
    "template open block": (PAGE, "<p>\n{% if page %}\n", "layout-template", 2),
    "template open brace": (PAGE, "<p>\n{{ page", "layout-template", 2),
    "template bad tag": (PAGE, "\n\n{% fro x in y %}", "layout-template", 3),
    "template end without begin": (PAGE, "{% endfor %}", "layout-template", 1),
    "template wrong end": (PAGE, "{% for a in (1,) %}\n{% endif %}", "layout-template", 2),
    "template unknown filter": (PAGE, "\n{{ 1|shout }}", "layout-template", 2),
    "template unknown test": (PAGE, "\n{{ 1 is tasty }}", "layout-template", 2),
    "template unknown value": (PAGE, "\n\n{{ recipy }}", "layout-template", 3),
    "template unknown function": (PAGE, "{{ open('x') }}", "layout-template", 1),
    "template missing part": (PAGE, "\n{% include 'haed.html' %}", "layout-template", 2),
    "template missing frame": (PAGE, "{% extends 'nothing.html' %}", "layout-template", 1),
    "template missing import": (PAGE, "{% import 'none.html' as n %}", "layout-template", 1),
    "template part outside": (PAGE, "{% include '../../x' %}", "layout-template", 1),
    "template part from the root": (PAGE, "{% include '/etc/passwd' %}", "layout-template", 1),
    "template chance": (PAGE, "{{ (1, 2)|random }}", "layout-template", 1),
    "template words by chance": (PAGE, "{{ lipsum() }}", "layout-template", 1),
    "template remote picture": (PAGE, '<p>\n<img src="https://a.example/x">', "layout-template", 2),
    "template picture by two slashes": (PAGE, '<img src="//a.example/x">', "layout-template", 1),
    "template remote sheet": (
        PAGE,
        '<link rel=stylesheet href="http://a.example">',
        "layout-template",
        1,
    ),
    "template remote script": (
        PAGE,
        '<script src="https://a.example"></script>',
        "layout-template",
        1,
    ),
    "template remote form": (PAGE, '<form action="https://a.example">', "layout-template", 1),
    "template remote style": (
        PAGE,
        "<style>a{b:url(https://a.example)}</style>",
        "layout-template",
        1,
    ),
    "template frame in a page": (PAGE, "<iframe></iframe>", "layout-template", 1),
    "template object": (PAGE, "<object></object>", "layout-template", 1),
    "template base": (PAGE, '<base href="/">', "layout-template", 1),
    "template handler": (PAGE, '<p onclick="a()">', "layout-template", 1),
    "template script address": (PAGE, '<a href="javascript:a()">', "layout-template", 1),
    "template with a child": (PAGE, "<p>\nFor Amaru", "name-said", 2),
    "template deep": (PAGE, "{{ " + "(" * 3000 + "1" + ")" * 3000 + " }}", "layout-template", 0),
    "template huge": (PAGE, "x" * 1_100_000, "file-too-large", 0),
    "template turned": (PAGE, "a\u202eb", "turned-text", 1),
    # Stylesheets.
    "style empty": (STYLE, " \n", "layout-style", 0),
    "style not text": (STYLE, b"a {}\n\xff", "layout-style", 2),
    "style open block": (STYLE, "a { color: red\n", "layout-style", 1),
    "style open comment": (STYLE, "a {}\n/* b\n", "layout-style", 2),
    "style open bracket": (STYLE, "a { width: calc(1px + }\n", "layout-style", 1),
    "style no rule": (STYLE, "a {}\nhello there", "layout-style", 2),
    "style no value": (STYLE, "a {\n color }", "layout-style", 2),
    "style deep": (STYLE, "a {" * 100 + "}" * 100, "layout-style", 0),
    "style missing picture": (STYLE, "a {\n b: url(../icons/none.svg) }", "layout-style", 2),
    "style missing sheet": (STYLE, '@import "none.css";', "layout-style", 1),
    "style imports itself": (STYLE, '@import "paper.css";', "layout-style", 1),
    "style remote": (STYLE, "a { b: url(https://a.example/x) }", "layout-outside", 1),
    "style two slashes": (STYLE, "a { b: url(//a.example/x) }", "layout-outside", 1),
    "style remote sheet": (STYLE, "\n@import 'https://a.example';", "layout-outside", 2),
    "style outside": (STYLE, "a { b: url(../../content/x.png) }", "layout-outside", 1),
    "style from the root": (STYLE, "a { b: url(/etc/passwd) }", "layout-outside", 1),
    "style page of nothing": (STYLE, "@page { size: 0 0 }", "layout-style", 1),
    "style page too small": (STYLE, "@page {\n size: 2mm 2mm }", "layout-style", 2),
    "style page too large": (STYLE, "@page { size: 900000mm 900000mm }", "layout-style", 1),
    "style margin": (STYLE, "@page { margin: 300mm }", "layout-style", 1),
    "style endless size": (STYLE, "p { padding: 1e30pt }", "layout-style", 1),
    "style type of nothing": (STYLE, "p { font-size: 0 }", "layout-style", 1),
    "style lines of nothing": (STYLE, "p { line-height: 0 }", "layout-style", 1),
    # Icons and figures.
    "drawing empty": (ICON, "", "layout-drawing", 0),
    "drawing not text": (ICON, b"\x89PNG\r\n\x1a\n\x00\x00", "layout-drawing", 1),
    "drawing of words": (ICON, "a pot", "layout-drawing", 1),
    "drawing cut short": (ICON, SVG.format("", "<g>")[:-6], "layout-drawing", 1),
    "drawing open element": (ICON, SVG.format("", "\n<g>"), "layout-drawing", 2),
    "drawing of a page": (ICON, "<html></html>", "layout-drawing", 1),
    "drawing without a size": (
        ICON,
        '<svg xmlns="http://www.w3.org/2000/svg"></svg>',
        "layout-drawing",
        1,
    ),
    "drawing of no size": (ICON, SVG.format("", "").replace("24 24", "0 0"), "layout-drawing", 1),
    "drawing too large": (
        ICON,
        SVG.format("", "").replace("24 24", "9e9 9e9"),
        "layout-drawing",
        1,
    ),
    "drawing size of words": (
        ICON,
        SVG.format("", "").replace("24 24", "a b"),
        "layout-drawing",
        1,
    ),
    "drawing script": (ICON, SVG.format("", "\n<script>a()</script>"), "layout-drawing", 2),
    "drawing handler": (ICON, SVG.format(' onload="a()"', ""), "layout-drawing", 1),
    "drawing foreign": (ICON, SVG.format("", "<foreignObject/>"), "layout-drawing", 1),
    "drawing moves": (ICON, SVG.format("", "<animate/>"), "layout-drawing", 1),
    "drawing link": (ICON, SVG.format("", '<a href="#x"/>'), "layout-drawing", 1),
    "drawing remote": (
        ICON,
        SVG.format("", '<image href="https://a.example"/>'),
        "layout-outside",
        1,
    ),
    "drawing remote use": (ICON, SVG.format("", '<use href="b.svg#a"/>'), "layout-drawing", 1),
    "drawing remote style": (
        ICON,
        SVG.format("", "<style>@import 'https://a.example'</style>"),
        "layout-outside",
        1,
    ),
    "drawing remote fill": (
        ICON,
        SVG.format("", '<g fill="url(https://a.b)"/>'),
        "layout-outside",
        1,
    ),
    "drawing doctype": (ICON, "<!DOCTYPE svg>" + SVG.format("", ""), "layout-drawing", 1),
    "drawing bomb": (
        ICON,
        '<!DOCTYPE svg [<!ENTITY a "b"><!ENTITY c "&a;&a;">]>' + SVG.format("", "&c;"),
        "layout-drawing",
        1,
    ),
    "drawing unfolds": (
        ICON,
        SVG.format(
            "",
            '<g id="a0"><path/></g>'
            + "".join(
                f'<g id="a{n + 1}">' + f'<use href="#a{n}"/>' * 10 + "</g>" for n in range(9)
            ),
        ),
        "layout-drawing",
        0,
    ),
    "drawing in a circle": (
        ICON,
        SVG.format("", '<g id="a"><use href="#a"/></g>'),
        "layout-drawing",
        0,
    ),
    "drawing deep": (ICON, SVG.format("", "<g>" * 100 + "</g>" * 100), "layout-drawing", 1),
    "drawing of many": (ICON, SVG.format("", "<g/>" * 30_000), "layout-drawing", 1),
    "drawing instruction": (ICON, "<?php a ?>" + SVG.format("", ""), "layout-drawing", 1),
    "drawing code page": (
        ICON,
        b'<?xml version="1.0" encoding="none"?><svg/>',
        "layout-drawing",
        0,
    ),
    # Fonts.
    "font empty": (FACE, b"", "layout-font", 0),
    "font junk": (FACE, b"hello" * 100, "layout-font", 0),
    "font cut short": (FACE, FONT[: len(FONT) // 2], "layout-font", 0),
    "font cut at its head": (FACE, FONT[:40], "layout-font", 0),
    "font of a page": (FACE, "<html>", "layout-font", 0),
    # Catalogues.
    "words not text": (WORDS, PO.format("").encode() + b"\xff", "layout-words", 4),
    "words of nothing": (WORDS, "hello", "layout-words", 1),
    "words open": (WORDS, PO.format('msgid "Cook"\nmsgstr "a'), "layout-words", 5),
    "words strange blank": (
        WORDS,
        PO.format('\nmsgid "{number} of {of}"\nmsgstr "{nummer} de {of}"\n'),
        "layout-words",
        0,
    ),
    "words of no language": ("messages/xx1.po", PO.format(""), "layout-words", 0),
    "words rule of plural": (
        WORDS,
        PO.format('"Plural-Forms: nplurals=2; plural=n/0;\\n"\n'),
        "layout-words",
        4,
    ),
    # Names.
    "name mistyped": ("icons/pots.svg", SVG.format("", ""), "layout-unused", 0),
    "folder mistyped": ("page/notice.html", "<p>", "layout-unused", 0),
}


def told(folder: Path) -> list[tuple[str, str, int]]:
    return [
        (each.place.path, each.code, each.place.line)
        for each in examined_with_layouts(folder).problems
    ]


def overridden(folder: Path, name: str, said: str | bytes) -> Path:
    write_class(folder, {"private/children.yaml": "- Amaru\n"})
    path = folder / "layouts" / name
    path.parent.mkdir(parents=True)
    path.write_bytes(said if isinstance(said, bytes) else said.encode())
    return folder


@pytest.mark.parametrize("mistake", MISTAKES)
def test_it_is_told_where_it_is(tmp_path: Path, mistake: str) -> None:
    """By its file, and by its line where there is one; nothing is raised."""
    name, said, code, line = MISTAKES[mistake]
    found = told(overridden(tmp_path, name, said))
    assert any(
        path == f"layouts/{name}" and each == code and line in (0, at) for path, each, at in found
    ), found


@pytest.mark.parametrize("top", ["pages", "look", "icons", "figures", "fonts", "messages"])
def test_what_ships_is_right(tmp_path: Path, top: str) -> None:
    """A copy of everything that ships is no problem."""
    write_class(tmp_path)
    shutil.copytree(SHIPPED / top, tmp_path / "layouts" / top)
    assert told(tmp_path) == []


def test_every_kind_that_ships_was_tried() -> None:
    """At least the mistakes that were once seen to fail: 69."""
    assert len(MISTAKES) >= 69
    assert {name.split("/")[0] for name, *_ in MISTAKES.values()} >= {
        *("pages", "look", "icons", "fonts", "messages")
    }


ENGLISH, OTHER = "Steps {first} to {last}", "Show all dishes"
CATALOGUE = PO.format(
    '"Plural-Forms: nplurals=2; plural=n != 1;\\n"\n\nmsgid "{one}"\nmsgstr "{said}"\n'
)


@pytest.mark.parametrize(
    ("english", "said", "code"),
    [
        (ENGLISH, "Pasos {first} a {ultimo}", "layout-words"),
        (ENGLISH, "Pasos {first}", "layout-words"),
        (ENGLISH, "Pasos {first} a {last", "layout-words"),
        (ENGLISH, "{first} {last.__class__}", "layout-words"),
        (ENGLISH, "{first} {last:>999999999}", "layout-words"),
        (ENGLISH, "{first} {last!r}", "layout-words"),
        ("Nobody says this", "Nadie", "layout-words"),
        (ENGLISH, "{first} Amaru {last}", "name-said"),
    ],
)
def test_words_with_the_wrong_blanks(tmp_path: Path, english: str, said: str, code: str) -> None:
    """A catalogue's text has the blanks of its English, each as it is."""
    text = CATALOGUE.replace("{one}", english).replace("{said}", said)
    found = told(overridden(tmp_path, WORDS, text))
    assert ("layouts/messages/es.po", code) in {(path, each) for path, each, _ in found}, found


def test_words_of_the_class_are_said(tmp_path: Path) -> None:
    """Its own first, then what ships, then English."""
    text = CATALOGUE.replace("{one}", ENGLISH).replace("{said}", "De {first} a {last}")
    folder = overridden(tmp_path, WORDS, text)
    assert told(folder) == []
    texts = load_texts("es", *layouts_for(folder).folders)
    assert texts.say(ENGLISH, first=1, last=4) == "De 1 a 4"
    assert texts.say(OTHER) == load_texts("es", SHIPPED).say(OTHER) != OTHER


def test_english_words_of_the_class_are_said(tmp_path: Path) -> None:
    """English has no catalogue that ships, and may have one of the class."""
    text = CATALOGUE.replace("{one}", OTHER).replace("{said}", "How")
    folder = overridden(tmp_path, "messages/en.po", text)
    assert told(folder) == []
    assert load_texts("en", *layouts_for(folder).folders).say(OTHER) == "How"


FILLED = {
    "divided by nothing": "\n{{ 1 // (page.values|length * 0) }}",
    "unknown part of a value": "\n{{ page.recipe.nothing.more }}",
    "round and round": "\n{% for a in range(9999) %}{% for b in range(99) %}.{% endfor %}"
    "{% endfor %}",
    "a text without end": "\n{{ 'a' * 999999999 }}",
    "a power": "\n{{ 9 ** 9 ** 9 }}",
    "calls itself": "\n{% include 'home.html' %}",
    "behind the values": "\n{{ ().__class__.__mro__ }}",
    "no number": "\n{{ 'a' + 1 }}",
}


@pytest.mark.parametrize("mistake", FILLED)
def test_what_fails_when_it_is_filled(tmp_path: Path, mistake: str) -> None:
    """Told with its line by a build, whose old output stays."""
    folder = overridden(tmp_path, "pages/home.html", FILLED[mistake])
    (folder / "build").mkdir()
    (folder / "build" / ".gitkeep").touch()
    outcome = build(folder, folder / "build", ["site"])
    (problem,) = [each for each in outcome.problems if each.level is Level.ERROR]
    assert (problem.place.path, problem.place.line) == ("layouts/pages/home.html", 2), problem
    assert [each.name for each in (folder / "build").iterdir()] == [".gitkeep"]


def test_mutated_overrides(tmp_path: Path) -> None:
    """Files that ship, with some of their bytes changed, are told or taken, never raised."""
    shipped = [
        path
        for path in sorted(SHIPPED.rglob("*"))
        if path.suffix in (".html", ".css", ".svg", ".po", ".ttf") and path.stat().st_size < 200_000
    ]
    tried = 0
    for number in range(sampled(20, 3000)):
        chance = random.Random(number)
        path = chance.choice(shipped)
        data = bytearray(path.read_bytes())
        for _ in range(chance.randint(1, 6)):
            at = chance.randrange(len(data))
            match chance.randrange(4):
                case 0:
                    data[at] = chance.randrange(256)
                case 1:
                    del data[at : at + chance.randrange(1, 40)]
                case 2:
                    data[at:at] = chance.choice([b"{{", b"}}", b"{%", b"<", b"{", b"\x00", b"&a;"])
                case _:
                    del data[at:]
            data = data or bytearray(b" ")
        folder = tmp_path / str(number)
        overridden(folder, path.relative_to(SHIPPED).as_posix(), bytes(data))
        told(folder)
        shutil.rmtree(folder)
        tried += 1
    assert tried >= 20
