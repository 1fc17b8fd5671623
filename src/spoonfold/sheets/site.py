"""The files of the class site."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Collection, Iterator, Mapping
from urllib.parse import quote

from spoonfold.language.texts import Texts
from spoonfold.paper.address import site_folder
from spoonfold.paper.notice import IngredientsPage, notice_of
from spoonfold.paper.site import site_of
from spoonfold.press.html import Environment, rendered
from spoonfold.press.icons import drawn_once
from spoonfold.press.layouts import Layouts
from spoonfold.sheets.sheet import File, Tongue, Work

_LOOKS = ("look/tokens.css", "look/tokens-dark.css", "look/screen.css", "look/site.js")
_WORKER = "look/worker.js"
_NOT_KEPT = (".txt", ".pdf")
"""What no page needs to be shown."""


def site_files(
    work: Work,
    layouts: Layouts,
    environment: Callable[[Texts], Environment],
    booklets: Collection[str],
) -> Iterator[File]:
    """Stylesheets, the script, fonts, and the pages in each language with the templates that go
    with it; `booklets` names the files of booklets that there are."""
    fonts = [name for name in layouts.names("fonts") if name.endswith((".woff2", ".txt"))]
    for name in (*_LOOKS, *fonts):
        yield File(f"site/{name}", layouts.find(name).read_bytes())
    for tongue in work.tongues:
        yield from _pages(work, tongue, environment(tongue.texts), booklets)


def offline_file(digests: Mapping[str, str], layouts: Layouts) -> File:
    """The worker that keeps the site's files for when there is no net: it names them all, and a
    version that changes with any byte of any of them, its own too. `digests` are those of the
    files' bytes by their paths: the bytes of a thousand pages would fill the memory."""
    code = layouts.find(_WORKER).read_bytes()
    kept = sorted(path for path in digests if not path.endswith(_NOT_KEPT))
    digest = hashlib.sha256(code)
    for path in kept:
        digest.update(f"{path}\0{digests[path]}\0".encode())
    names = [quote(path.removeprefix("site/")) for path in kept]
    head = (f"const VERSION = {json.dumps(digest.hexdigest()[:16])}\n"
            f"const FILES = {json.dumps(names, indent=0)}\n")
    return File("site/worker.js", head.encode() + code)


def _pages(
    work: Work, tongue: Tongue, environment: Environment, booklets: Collection[str]
) -> Iterator[File]:
    site = site_of(tongue.folder, work.classroom, tongue.uses, tongue.texts, booklets)
    notice = notice_of(tongue.folder, work.classroom, tongue.texts)
    pages = (
        ("index.html", "home.html", site.home),
        ("words.html", "words.html", site.words),
        ("season.html", "season.html", site.season),
        ("ingredients.html", "ingredients.html", IngredientsPage(site.season.frame, notice)),
        *((f"recipes/{page.sheet.key}.html", "recipe.html", page) for page in site.recipes),
    )
    own = site_folder(tongue.texts.language, work.classroom)
    for name, template, page in pages:
        yield File(f"site/{own}{name}", drawn_once(rendered(environment, template, page=page)))
