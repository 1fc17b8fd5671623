"""A class's own `layouts/`, looked through before anything is made of them: they are content."""

from __future__ import annotations

import re
import stat
from collections.abc import Iterator
from difflib import get_close_matches
from functools import lru_cache
from pathlib import Path

from spoonfold.language.catalogues import misprints, texts_of
from spoonfold.language.texts import Texts
from spoonfold.model.folder import ClassFolder
from spoonfold.plan.people.names import NameSearch, name_search
from spoonfold.press.drawings import Flaw, flaws_of_drawing
from spoonfold.press.glyphs import flaw_of_font
from spoonfold.press.html import Environment, environment_for
from spoonfold.press.html_guard import flaws_of_template, values_known
from spoonfold.press.layouts import Layouts, layouts_for
from spoonfold.press.stylesheets import flaws_of_stylesheet
from spoonfold.problem import Level, Place, Problem
from spoonfold.read.files import LAYOUTS, odd_sign

_MOST_BYTES = 1_000_000
_MOST_FONT_BYTES = 30_000_000
"""A font of all of Chinese has 20 MB."""
_MOST_FILES = 500
_TEXTS = (".html", ".css", ".svg", ".po", ".js")
_ENDINGS = (".html", ".css", ".svg", ".po", ".ttf", ".otf", ".woff2")


def problems_of_overrides(folder: Path, content: ClassFolder) -> Iterator[Problem]:
    """What keeps the class's own layouts from being used, by file and line. Nothing is run, printed
    or fetched for it. Links and addresses that lead out are told where the folder is read."""
    layouts = layouts_for(folder)
    if layouts.own is None:
        return
    for path in _files(layouts.own):
        shown = path.relative_to(layouts.own).as_posix()
        data = _read(path, shown)
        if isinstance(data, Problem):
            yield data
            continue
        yield from _flaws(shown, data, layouts)
        if shown.endswith(_TEXTS):
            yield from _names(shown, data, name_search(content))


def _files(own: Path) -> list[Path]:
    # A link is refused before, and what it leads to isn't looked at.
    found = (path for path in own.rglob("*") if not path.is_symlink() and not path.is_dir())
    return sorted(path for path in found if not _is_hidden(path.relative_to(own)))[:_MOST_FILES]


def _is_hidden(path: Path) -> bool:
    return any(part.startswith(".") for part in path.parts)


def _read(path: Path, shown: str) -> bytes | Problem:
    place = Place(f"{LAYOUTS}/{shown}")
    most = _MOST_FONT_BYTES if path.suffix in (".ttf", ".otf", ".woff2") else _MOST_BYTES
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):
            return Problem(
                "not-a-file",
                Level.ERROR,
                place,
                "This isn't a file that can be read.",
                "Remove it.",
            )
        if about.st_size > most:
            return Problem(
                "file-too-large",
                Level.ERROR,
                place,
                f"This file is larger than {most // 1_000_000} MB.",
                "Save it smaller.",
            )
        return path.read_bytes()
    except OSError as error:
        return Problem(
            "unreadable-file",
            Level.ERROR,
            place,
            f"This file can't be opened: {error.strerror or 'the disk refused'}.",
            "Check that it is there and that you may read it.",
        )


def _flaws(shown: str, data: bytes, layouts: Layouts) -> Iterator[Problem]:
    shipped = Layouts(layouts.folders[1:])
    if not _is_used(shown, shipped):
        names = [name for top in _READ for name in shipped.names(top)]
        close = get_close_matches(shown, names, 1)
        yield Problem(
            "layout-unused",
            Level.WARNING,
            Place(f"{LAYOUTS}/{shown}"),
            "Nothing reads a file of this name, so it changes nothing.",
            f"Did you mean layouts/{close[0]}?"
            if close
            else "A file takes the place of the one of the same name that ships.",
        )
    match Path(shown).suffix:
        case ".html":
            pages = frozenset(name.removeprefix("pages/") for name in layouts.names("pages"))
            for each in flaws_of_template(data, _environment(layouts), pages, _values(shipped)):
                yield _refuse("layout-template", shown, each)
        case ".css":
            for each in flaws_of_stylesheet(data, shown, lambda name: _is_there(layouts, name)):
                yield _refuse("layout-style", shown, each)
        case ".svg":
            for each in flaws_of_drawing(data):
                yield _refuse("layout-drawing", shown, each)
        case ".ttf" | ".otf" | ".woff2":
            flaw = flaw_of_font(data)
            if flaw is not None:
                yield _refuse("layout-font", shown, flaw)
        case ".po":
            for said in misprints(data, Path(shown).stem, _said(shipped)):
                yield Problem(
                    "layout-words",
                    Level.WARNING if said.is_lost else Level.ERROR,
                    Place(f"{LAYOUTS}/{shown}", said.line),
                    said.message,
                    said.hint,
                )


def _refuse(code: str, shown: str, flaw: Flaw) -> Problem:
    place = Place(f"{LAYOUTS}/{shown}", flaw.line, flaw.column)
    return Problem(code, Level.ERROR, place, flaw.message, flaw.hint)


_READ = ("pages", "look", "icons", "figures", "fonts", "messages")


def _is_used(shown: str, shipped: Layouts) -> bool:
    """Whether anything may read it: it has the name of one that ships, or is of a kind of which
    there may be more, which the others name."""
    return (
        _is_there(shipped, shown)
        or shown.endswith((".md", ".txt"))
        or (shown.startswith(("fonts/", "pages/", "figures/")) and shown.endswith(_ENDINGS))
        or (shown.startswith("messages/") and shown.endswith(".po"))
        or shown.startswith("look/")
    )


def _is_there(layouts: Layouts, name: str) -> bool:
    try:
        layouts.find(name)
    except (FileNotFoundError, ValueError):
        return False
    return True


@lru_cache(maxsize=1)
def _environment(layouts: Layouts) -> Environment:
    return environment_for(layouts, Texts("en"))


@lru_cache(maxsize=1)
def _values(shipped: Layouts) -> frozenset[str]:
    paths = [shipped.find(name) for name in shipped.names("pages")]
    return values_known(paths, environment_for(shipped, Texts("en")))


@lru_cache(maxsize=1)
def _said(shipped: Layouts) -> frozenset[str]:
    """Every text of the template of the catalogues."""
    return texts_of(shipped.find("messages/spoonfold.pot").read_bytes())


def _names(shown: str, data: bytes, search: NameSearch) -> Iterator[Problem]:
    """Names of the children's list, which would be printed on every sheet."""
    text = data.decode("utf-8", "replace")
    if shown.endswith(".po"):
        # Where a text is said, which is never printed: gettext marks such paths by turning signs.
        text = re.sub(r"(?m)^#.*", "", text)
    odd = odd_sign(text, f"{LAYOUTS}/{shown}")
    if odd is not None:
        yield odd
    for said in search.mentions(text):
        if said.is_sure:
            line = len(text[: said.start].split("\n"))
            column = said.start - text.rfind("\n", 0, said.start)
            yield Problem(
                "name-said",
                Level.ERROR,
                Place(f"{LAYOUTS}/{shown}", line, column),
                "This says a name of the children's list, and it would leave the adults' room: "
                "what layouts/ says is printed on sheets for everybody.",
                "Write “one child” instead, or nothing.",
            )
