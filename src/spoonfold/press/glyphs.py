"""Whether the fonts that a sheet offers can draw every letter on it.

A printer that lacks a letter takes it from whatever font the machine has, or draws an empty
box, without a word. On a sheet that names allergens and amounts that must be an error.

Mending what a PDF says of its letters, so that text read aloud or copied is whole.

Where several glyphs draw one letter with its marks, as in Arabic, WeasyPrint 70 writes all the
text under the first glyph and nothing under the others. A strict reader refuses an empty entry
(ISO 32000-1, 9.10.3), so the others get a space of no width."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import Any

from fontTools.ttLib import TTFont  # type: ignore[import-untyped]  # it ships no types

from spoonfold.press.drawings import Flaw

_EMPTY = re.compile(rb"(<[0-9a-fA-F]+>) <>")
_NO_WIDTH = rb"\1 <200b>"


def mend_letters(pdf: Any) -> None:
    """Mends every font's table of letters in place; for a PDF that isn't written yet."""
    for found in pdf.objects:
        lines = getattr(found, "stream", None)
        # A page's stream is long and has no table: its beginning tells them apart.
        if isinstance(lines, list) and b"begincmap" in lines[:3]:
            found.stream = [_EMPTY.sub(_NO_WIDTH, line) for line in lines]


SOURCE = "data-source"
"""The attribute that says in a template which file of the class folder a part is made of."""

_BOLD_FROM = 600
"""CSS weights from here on take the bold face where there is one (CSS Fonts 4, 5.2)."""

# Control and format characters are never drawn.
_UNDRAWN = frozenset({"Cc", "Cf", "Zl", "Zp"})
_VARIATION_SELECTORS = frozenset(map(chr, range(0xFE00, 0xFE10)))

_SVG_TEXT = "{http://www.w3.org/2000/svg}text"


@dataclass(frozen=True, slots=True)
class MissingGlyph:
    """A letter that no font offered for it has."""

    letter: str
    fonts: tuple[str, ...]
    """The families that were asked, in order."""
    text: str
    """The piece of text that it stands in."""
    source: str
    """The file of the class folder that the text comes from; empty where nothing says so."""


@dataclass(frozen=True, slots=True)
class Faces:
    """What each face of each family can draw."""

    letters: Mapping[tuple[str, bool, bool], frozenset[str]]
    """By family, bold, italic."""
    _offered: dict[tuple[tuple[str, ...], bool, bool], frozenset[str]] = field(default_factory=dict)

    def offered(self, families: tuple[str, ...], bold: bool, italic: bool) -> frozenset[str]:
        """Every letter that one of the families has, in the face that would be taken."""
        key = families, bold, italic
        if key not in self._offered:
            self._offered[key] = frozenset().union(
                *(self._nearest(family, bold, italic) for family in families)
            )
        return self._offered[key]

    def _nearest(self, family: str, bold: bool, italic: bool) -> frozenset[str]:
        """The face asked for, or else the one that is slanted or thickened in its place."""
        for face in ((bold, italic), (bold, False), (False, italic), (False, False), (True, False)):
            if (family, *face) in self.letters:
                return self.letters[family, *face]
        return frozenset()


def faces_of(files: Iterable[Path]) -> Faces:
    """The faces in these font files. Raises what fontTools raises for a file that is no font."""
    letters = {}
    for path in files:
        with TTFont(path, lazy=True) as font:
            selection = font["OS/2"].fsSelection
            # Bits 0 and 5 of fsSelection are ITALIC and BOLD (OpenType 1.9, OS/2 table).
            key = font["name"].getBestFamilyName(), bool(selection & 32), bool(selection & 1)
            letters[key] = frozenset(map(chr, font.getBestCmap()))
    return Faces(letters)


def flaw_of_font(data: bytes) -> Flaw | None:
    """Why a font file can't be used: every table is there to its end."""
    if not data:
        return Flaw(0, "This font is empty.", _NO_FONT)
    if data.startswith(b"wOF2"):
        # Packed, for browsers alone; the head says how long the file is (WOFF 2.0, 4.1).
        whole = int.from_bytes(data[8:12], "big") == len(data)
        return None if whole else Flaw(0, "This font is cut short.", _NO_FONT)
    try:
        with TTFont(BytesIO(data)) as font:
            if not font["name"].getBestFamilyName() or not font.getBestCmap():
                return Flaw(0, "This font has no name or no letters.", _NO_FONT)
            for table, entry in font.reader.tables.items():
                if len(font.reader[table]) != entry.length:
                    return Flaw(0, f"This font is cut short at its table {table}.", _NO_FONT)
            for table in _READ_TABLES:
                font[table]
    except Exception as error:
        said = str(error).strip().split("\n", 1)[0].rstrip(".") or type(error).__name__
        return Flaw(0, f"This isn't a whole font: {said}.", _NO_FONT)
    return None


_READ_TABLES = ("head", "hhea", "hmtx", "maxp", "OS/2", "name", "cmap")
"""What every font has (OpenType 1.9, “Required Tables”)."""
_NO_FONT = (
    "Get the font again from who makes it, or remove the file: then the one that ships is used."
)


def missing_glyphs(document: Any, faces: Faces) -> tuple[MissingGlyph, ...]:
    """Every letter on the laid-out pages that can't be drawn, once for each source file."""
    found: dict[tuple[str, str], MissingGlyph] = {}
    for page in document.pages:
        for families, bold, italic, text, source in _pieces(page._page_box, ""):
            for letter in sorted(set(text) - faces.offered(families, bold, italic)):
                if is_drawn(letter):
                    found.setdefault(
                        (letter, source),
                        MissingGlyph(letter, families, " ".join(text.split()), source),
                    )
    return tuple(found.values())


def _pieces(box: Any, source: str) -> Iterator[tuple[tuple[str, ...], bool, bool, str, str]]:
    """Each piece of text below a box with how it is to be drawn and what it is made of."""
    element = getattr(box, "element", None)
    if element is not None:
        source = element.get(SOURCE, source)
    text = getattr(box, "text", None)
    style = box.style
    families = tuple(style["font_family"])
    if isinstance(text, str):
        italic = style["font_style"] != "normal"
        yield families, style["font_weight"] >= _BOLD_FROM, italic, text, source
    elif element is not None and not getattr(box, "children", ()):
        # A drawing is one box; its labels are letters all the same.
        for label in element.iter(_SVG_TEXT):
            named = tuple(name.strip() for name in label.get("font-family", "").split(","))
            bold = label.get("font-weight") in ("700", "bold")
            yield named, bold, False, "".join(label.itertext()), source
    for child in getattr(box, "children", ()):
        yield from _pieces(child, source)


def is_drawn(letter: str) -> bool:
    """Whether a letter leaves anything on the paper, if only a space."""
    return unicodedata.category(letter) not in _UNDRAWN and letter not in _VARIATION_SELECTORS
