"""HTML to PDF. The only room that knows WeasyPrint, imported only where a PDF is made."""

from __future__ import annotations

import gc
import logging
import re
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from spoonfold.press.glyphs import (
    Faces,
    MissingGlyph,
    faces_of,
    is_drawn,
    mend_letters,
    missing_glyphs,
)
from spoonfold.press.layouts import Layouts
from spoonfold.press.tags import mend_tags
from spoonfold.problem import Failure

_LOGGER = "weasyprint"
_SPACE_BEFORE_INLINE = re.compile(r"(?<=[^\s>]) (?=<(?:a|b|em|span|strong)\b)")
_MOST_UNCOLLECTED = 60
"""Pages laid out between two collections: about 100 MB of rubbish."""
_MOST_PAGES = 600
"""Of one sheet in all its sizes of type; the longest booklet of a demo takes a tenth."""
_VARIANT = {"pdf_variant": "pdf/ua-1"}


class Printer:
    """Makes PDFs one after the other, with fonts and stylesheet read once.

    What its stylesheets and pages refer to is read by the fetcher alone.
    """

    def __init__(
        self, weasyprint: Any, fetcher: Any, faces: Faces, most_pages: int | None = None
    ) -> None:
        from weasyprint.text.fonts import FontConfiguration

        self._weasyprint = weasyprint
        self._faces = faces
        self._fonts = FontConfiguration()
        self._fetcher = fetcher
        self._sheets: dict[Path, Any] = {}
        self._uncollected = 0
        self._most_pages = most_pages

    def print(
        self, tries: Iterable[bytes], sheet: Path, pages: int | None = None
    ) -> bytes | tuple[MissingGlyph, ...]:
        """A tagged PDF (PDF/UA-1), or the letters that the fonts lack.

        Of several tries (HTML) the first that takes no more than so many pages is kept, or else
        the last; only that one is written out, which is a third of the work.
        Raises PrintError for what would print wrong: a bug.
        """
        with _faults() as faults, self._collecting_seldom(), _counted_pages(self._most_pages):
            printed = self._printed(tries, sheet, pages)
        if faults:
            raise PrintError("; ".join(faults))
        return printed

    def _printed(
        self, tries: Iterable[bytes], sheet: Path, pages: int | None
    ) -> bytes | tuple[MissingGlyph, ...]:
        """By itself, so that what was laid out is rubbish already when rubbish is looked for."""
        for html in tries:
            document = self._weasyprint.HTML(
                string=_unbroken(html.decode()), base_url=sheet.as_uri(), url_fetcher=self._fetcher
            ).render(font_config=self._fonts, stylesheets=[self._sheet(sheet)], **_VARIANT)
            self._uncollected += len(document.pages)
            if pages is None or len(document.pages) <= pages:
                break
        return missing_glyphs(document, self._faces) or bytes(
            document.write_pdf(finisher=_mend, **_VARIANT)
        )

    @contextmanager
    def _collecting_seldom(self) -> Iterator[None]:
        """Layout makes millions of small objects that stay: looking for rubbish all the time
        costs a tenth, and after each small sheet nearly as much."""
        collecting = gc.isenabled()
        gc.disable()
        try:
            yield
        finally:
            if self._uncollected > _MOST_UNCOLLECTED:
                self._uncollected = 0
                gc.collect()
            if collecting:
                gc.enable()

    def lacks(self, text: str) -> str:
        """The letters of a text that no font here has."""
        held = frozenset().union(*self._faces.letters.values())
        return "".join(dict.fromkeys(each for each in text if is_drawn(each) and each not in held))

    def _sheet(self, path: Path) -> Any:
        if path not in self._sheets:
            self._sheets[path] = self._weasyprint.CSS(
                filename=str(path), font_config=self._fonts, url_fetcher=self._fetcher
            )
        return self._sheets[path]


class PrintError(Exception):
    """The printer complained: a missing alternative text, an unreadable font."""


def printer(layouts: Layouts) -> Printer | Failure:
    """A printer that reads from the layouts alone, or why there can't be one here."""
    try:
        import weasyprint
    except OSError as error:
        return Failure(
            "no-pdf",
            f"PDF needs the system library Pango, which isn't found here ({_first_line(error)}).",
            "Debian or Ubuntu: sudo apt install libpango-1.0-0 libpangoft2-1.0-0 "
            "libharfbuzz-subset0. macOS: brew install pango. Windows: see the README.",
        )
    try:
        tempfile.gettempdir()
    except OSError:
        return Failure(
            "no-temporary-folder",
            "Printing needs a folder for what is only kept for a moment, and this machine has none "
            "that can be written to.",
            'Name one in the variable TMPDIR: on Linux and macOS, TMPDIR="$HOME" spoonfold build',
        )
    fonts = [layouts.find(name) for name in layouts.names("fonts") if name.endswith(".ttf")]
    most_pages = _MOST_PAGES if layouts.own is not None else None
    return Printer(weasyprint, _fetcher_for(layouts), faces_of(fonts), most_pages)


@contextmanager
def _counted_pages(most: int | None) -> Iterator[None]:
    """Raises PrintError where a stylesheet lets the pages go on without end: WeasyPrint makes them
    until nothing is left, and on a page without room nothing ever fits."""
    if most is None:
        yield
        return
    from weasyprint.layout import page as layout

    left, make_page = most, layout.make_page

    def counted(*args: Any, **named: Any) -> Any:
        nonlocal left
        left -= 1
        if left < 0:
            raise PrintError("its pages go on without an end")
        return make_page(*args, **named)

    layout.make_page = counted
    try:
        yield
    finally:
        layout.make_page = make_page


def _mend(document: Any, pdf: Any) -> None:
    """What WeasyPrint writes wrong, before it is written."""
    mend_tags(document, pdf)
    mend_letters(pdf)


def _unbroken(html: str) -> str:
    """No line ends before it is full. WeasyPrint breaks a text somewhere before, where all of it
    fits but the space at its end does not; so that space stands by itself."""
    return _SPACE_BEFORE_INLINE.sub("<span> </span>", html)


def _first_line(error: OSError) -> str:
    return str(error).strip().split("\n", 1)[0]


def _fetcher_for(layouts: Layouts) -> Any:
    from urllib.parse import urlsplit
    from urllib.request import url2pathname

    from weasyprint.urls import FatalURLFetchingError, URLFetcher

    class Confined(URLFetcher):  # type: ignore[misc]  # WeasyPrint ships no types
        """Files of the layouts, and data addresses; nothing else. Photos come as data."""

        def fetch(self, url: str, headers: Any = None) -> Any:
            parts = urlsplit(url)
            if parts.scheme == "file":
                named = Path(url2pathname(parts.path)).resolve()
                path = layouts.in_place_of(named).resolve()
                if not any(path.is_relative_to(folder) for folder in layouts.folders):
                    raise FatalURLFetchingError(f"outside the layouts: {path.name}")
                url = path.as_uri()
            return super().fetch(url, headers)

    return Confined(allowed_protocols={"file", "data"}, fail_on_errors=True)


@contextmanager
def _faults() -> Iterator[list[str]]:
    """What WeasyPrint only logs although it spoils the document."""
    faults: list[str] = []

    class Keeper(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            faults.append(record.getMessage())

    keeper = Keeper(level=logging.ERROR)
    logger = logging.getLogger(_LOGGER)
    logger.addHandler(keeper)
    try:
        yield faults
    finally:
        logger.removeHandler(keeper)
