"""The files of the class site."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from urllib.parse import quote

from spoonfold.language.texts import Texts
from spoonfold.press.html import Environment, rendered
from spoonfold.press.icons import drawn_once
from spoonfold.press.layouts import Layouts
from spoonfold.sheets.address import site_folder
from spoonfold.sheets.notice import IngredientsPage, notice_of
from spoonfold.sheets.sheet import Work
from spoonfold.sheets.site import recipe_page, site_of

_LOOKS = ("look/tokens.css", "look/tokens-dark.css", "look/screen.css", "look/site.js")
_WORKER = "look/worker.js"
_NOT_KEPT = (".txt", ".pdf")
"""What no page needs to be shown."""


@dataclass(frozen=True, slots=True)
class SiteFile:
    """A file of the site: its path from the top of the output, and its bytes."""

    path: str
    data: bytes


@dataclass(frozen=True, slots=True)
class _Told:
    """Where the pages of one language lie, and their templates."""

    environment: Environment
    folder: str

    def file(self, name: str, template: str, page: object) -> SiteFile:
        """A page as it is written."""
        return SiteFile(
            f"site/{self.folder}{name}", drawn_once(rendered(self.environment, template, page=page))
        )


def site_files(
    work: Work,
    layouts: Layouts,
    environment: Callable[[Texts], Environment],
    booklets: Collection[str],
) -> Iterator[SiteFile]:
    """Stylesheets, the script, fonts, and the pages in each language with the templates that go
    with it; `booklets` names the files of booklets that there are."""
    fonts = [name for name in layouts.names("fonts") if name.endswith((".woff2", ".txt"))]
    for name in (*_LOOKS, *fonts):
        yield SiteFile(f"site/{name}", layouts.find(name).read_bytes())
    told = [
        _Told(environment(tongue.texts), site_folder(tongue.texts.language, work.classroom))
        for tongue in work.tongues
    ]
    sites = [
        site_of(tongue.folder, work.classroom, tongue.uses, tongue.texts, booklets)
        for tongue in work.tongues
    ]
    for tongue, own, site in zip(work.tongues, told, sites, strict=True):
        notice = notice_of(tongue.folder, work.classroom, tongue.texts)
        yield own.file("index.html", "home.html", site.home)
        yield own.file("words.html", "words.html", site.words)
        yield own.file("season.html", "season.html", site.season)
        yield own.file(
            "ingredients.html", "ingredients.html", IngredientsPage(site.season.frame, notice)
        )
    # One dish in every language before the next: its amounts are the same in all of them.
    for key in work.recipes:
        for tongue, own, site in zip(work.tongues, told, sites, strict=True):
            yield own.file(
                f"recipes/{key}.html",
                "recipe.html",
                recipe_page(key, site, tongue.folder, work.classroom, tongue.uses, tongue.texts),
            )


def offline_file(digests: Mapping[str, str], layouts: Layouts) -> SiteFile:
    """The worker that keeps the site's files for when there is no net: it names them all, and a
    version that changes with any byte of any of them, its own too. `digests` are those of the
    files' bytes by their paths: the bytes of a thousand pages would fill the memory."""
    code = layouts.find(_WORKER).read_bytes()
    kept = sorted(path for path in digests if not path.endswith(_NOT_KEPT))
    digest = hashlib.sha256(code)
    for path in kept:
        digest.update(f"{path}\0{digests[path]}\0".encode())
    names = [quote(path.removeprefix("site/")) for path in kept]
    head = (
        f"const VERSION = {json.dumps(digest.hexdigest()[:16])}\n"
        f"const FILES = {json.dumps(names, indent=0)}\n"
    )
    return SiteFile("site/worker.js", head.encode() + code)
