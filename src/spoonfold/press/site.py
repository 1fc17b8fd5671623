"""The files of the class site."""

from __future__ import annotations

import hashlib
import json
import re
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from urllib.parse import quote
from xml.sax.saxutils import escape

from spoonfold.press.calendar import calendar_bytes
from spoonfold.press.layouts import Layouts
from spoonfold.press.render import RenderContext
from spoonfold.press.rows import spreadsheet_file
from spoonfold.sheets.sheet import Calendar, File, Page

_LOOKS = (
    "look/tokens.css",
    "look/tokens-dark.css",
    "look/screen.css",
    "look/site.js",
    "look/stove.js",
    "look/plate.svg",
)
_WORKER = "look/worker.js"
_NOT_KEPT = (".txt", ".pdf", ".ics", ".xml")
"""What no page needs to be shown."""
_FRONTS = ("index.html", "ingredients.html")
"""Pages that are kept with those of the next meeting."""
_COMMENT = re.compile(
    rb"""url\([^"')]*\)|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|/\*.*?\*/\s*""", re.DOTALL
)
"""A comment of a stylesheet, or what may hold its signs and is none."""


@dataclass(frozen=True, slots=True)
class SiteFile:
    """A file of the site: its path from the top of the output, and its bytes."""

    path: str
    data: bytes


def site_files(made: Iterable[Page | File], context: RenderContext) -> Iterator[SiteFile]:
    """Stylesheets, the script, fonts, the pages and calendars, and the pictures that the pages
    have asked for by then."""
    layouts = context.layouts
    fonts = [name for name in layouts.names("fonts") if name.endswith((".woff2", ".txt"))]
    for name in (*_LOOKS, *fonts):
        data = layouts.find(name).read_bytes()
        yield SiteFile(f"site/{name}", _light(data) if name.endswith(".css") else data)
    for each in made:
        data = context.page(each) if isinstance(each, Page) else file_bytes(each)
        yield SiteFile(each.path, data)
    for name, data in context.pictures.files.items():
        yield SiteFile(f"site/{name}", data)


def file_bytes(file: File) -> bytes:
    """A file that is no PDF and no page."""
    if isinstance(file.content, Calendar):
        return calendar_bytes(file.content)
    return spreadsheet_file(file.content)


def _light(sheet: bytes) -> bytes:
    """A stylesheet without the words to whoever changes it: a telephone loads it with each page."""
    return _COMMENT.sub(lambda found: b"" if found[0].startswith(b"/*") else found[0], sheet)


def offline_file(
    digests: Mapping[str, str], meetings: Iterable[tuple[str, Collection[str]]], layouts: Layouts
) -> SiteFile:
    """The worker that keeps what was opened for when there is no net. It knows the pages of each
    meeting, whose day is handed over with the keys of its dishes, and has a version that changes
    with any byte of any file of the site. `digests` are those of the files' bytes by their paths:
    the bytes of a thousand pages would fill the memory."""
    code = layouts.find(_WORKER).read_bytes()
    digest = hashlib.sha256(code)
    fronts, dishes = [], defaultdict(list)
    for path in sorted(each for each in digests if not each.endswith(_NOT_KEPT)):
        digest.update(f"{path}\0{digests[path]}\0".encode())
        name = path.rpartition("/")[2]
        if path.endswith(f"recipes/{name}"):
            dishes[name.removesuffix(".html")].append(path)
        elif name in _FRONTS:
            fronts.append(path)
    days = [
        (day, [*fronts, *(path for key in dict.fromkeys(keys) for path in dishes[key])])
        for day, keys in meetings
    ]
    known = {_name(path): digests[path][:16] for _, paths in days for path in paths}
    pages = [(day, [_name(path) for path in paths]) for day, paths in days]
    head = (
        f"const VERSION = {json.dumps(digest.hexdigest()[:16])}\n"
        f"const FILES = {json.dumps(known, indent=0)}\n"
        f"const MEETINGS = {json.dumps(pages)}\n"
    )
    return SiteFile("site/worker.js", head.encode() + code)


def sitemap_file(address: str, paths: Iterable[str]) -> SiteFile:
    """Every page by its address on the net, for who searches it (sitemaps.org, protocol 0.9)."""
    places = "".join(
        f"<url><loc>{escape(address + _name(path))}</loc></url>\n"
        for path in sorted(paths)
        if path.endswith(".html")
    )
    text = (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">\n{places}</urlset>\n'
    )
    return SiteFile("site/sitemap.xml", text.encode())


def _name(path: str) -> str:
    return quote(path.removeprefix("site/"))
