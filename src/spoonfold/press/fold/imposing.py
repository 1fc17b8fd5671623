"""Pages placed on larger sheets that are folded into a book (`plan/folding`).

What is read stays in the order of the pages, whatever their place: the tree of tags is kept, and
the numbers by which it finds its content are given out anew for each side. Links, the places that
they lead to, the outline and the frames of figures move with their page.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import pikepdf

from spoonfold.plan.folding import BLANK, PANELS, creep, mini_panels, saddle_sides
from spoonfold.press.fold.joining import is_element, kids_of, pairs

_POINTS = Fraction(72 * 10, 254)
"""In a millimetre."""


def saddle_stitched(pdf: bytes, is_right_to_left: bool = False) -> bytes:
    """Two pages beside each other on each side of a sheet, to be printed on both sides, turned on
    the short edge, folded and stapled in the fold.

    Pages move toward the fold by the creep of their sheet. The file asks the printer for two
    sides and no scaling. The same pages give the same bytes.
    """
    with pikepdf.open(io.BytesIO(pdf)) as book:
        width, height = _size(book.pages[0])
        sides = []
        for number, pages in enumerate(saddle_sides(len(book.pages))):
            inward = creep(number // 2) * _POINTS
            left, right = reversed(pages) if is_right_to_left else pages
            sides.append(
                _Side(
                    2 * width,
                    height,
                    tuple(
                        _Placed(page - 1, x, Fraction(0), False)
                        for page, x in ((left, inward), (right, width - inward))
                        if page != BLANK
                    ),
                )
            )
        return _imposed(book, sides, "/DuplexFlipShortEdge")


def mini_book(pdf: bytes, is_right_to_left: bool = False) -> bytes | None:
    """Up to eight small pages on one side of one sheet, to be cut once and folded; None where
    there are more.

    What is of another size than the first page follows as it is. Blanks stand before the last of
    the small ones, which is the back.
    """
    with pikepdf.open(io.BytesIO(pdf)) as book:
        width, height = _size(book.pages[0])
        small = sum(page.mediabox == book.pages[0].mediabox for page in book.pages)
        if small > PANELS:
            return None
        placed = []
        for panel in mini_panels():
            number = small if panel.page == PANELS else panel.page
            if number >= small and panel.page != PANELS:
                continue
            column = 3 - panel.column if is_right_to_left else panel.column
            # A page that is turned hangs from its far corner.
            turned = int(panel.is_turned)
            placed.append(
                _Placed(
                    number - 1,
                    (column + turned) * width,
                    (panel.row + turned) * height,
                    panel.is_turned,
                )
            )
        sides = [_Side(4 * width, 2 * height, tuple(placed))]
        for index, page in enumerate(book.pages):
            if index >= small:
                as_it_is = _Placed(index, Fraction(0), Fraction(0), False)
                sides.append(_Side(*_size(page), (as_it_is,)))
        return _imposed(book, sides, "/Simplex")


@dataclass(frozen=True, slots=True)
class _Placed:
    """A page on a side, by its index in the book, and where its lower left corner goes."""

    page: int
    x: Fraction
    y: Fraction
    is_turned: bool

    @property
    def sign(self) -> int:
        return -1 if self.is_turned else 1

    def point(self, x: Any, y: Any) -> tuple[float, float]:
        """Where a point of the page is on the side."""
        return (
            round(float(self.x) + self.sign * float(x), 3),
            round(float(self.y) + self.sign * float(y), 3),
        )

    def frame(self, corners: Any) -> list[float]:
        """Where a rectangle of the page is on the side: left, bottom, right, top."""
        one, other = (self.point(corners[i], corners[i + 1]) for i in (0, 2))
        return [*map(min, one, other), *map(max, one, other)]


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of a sheet, in points."""

    width: Fraction
    height: Fraction
    placed: tuple[_Placed, ...]


@dataclass(frozen=True, slots=True)
class _Moved:
    """What became of a page."""

    side: Any
    placed: _Placed
    first: int
    """What is added to the numbers of its marked content."""


def _size(page: pikepdf.Page) -> tuple[Fraction, Fraction]:
    _, _, width, height = (Fraction(str(each)) for each in page.mediabox)
    return width, height


def _imposed(book: pikepdf.Pdf, sides: Sequence[_Side], duplex: str) -> bytes:
    pages = [page.obj for page in book.pages]
    root = book.Root.StructTreeRoot
    parents = dict(pairs(root.ParentTree.Nums))
    moved: dict[tuple[int, int], _Moved] = {}
    for side in sides:
        fresh, before = _blank(book, side), len(moved)
        own: list[Any] = []
        contents = b""
        for placed in side.placed:
            page = pages[placed.page]
            moved[page.objgen] = _Moved(fresh, placed, len(own))
            contents += _drawn(page, placed, len(own))
            # All pages of one book share what they draw with.
            fresh.Resources = page.Resources
            own.extend(parents.pop(int(page.StructParents)))
            for link in page.get("/Annots", ()):
                link.Rect = placed.frame(link.Rect)
                fresh.Annots.append(link)
            fresh.StructParents = int(page.StructParents)
        fresh.Contents = book.make_stream(contents)
        if len(moved) > before:
            parents[int(fresh.StructParents)] = book.make_indirect(pikepdf.Array(own))
        book.pages.append(pikepdf.Page(fresh))
    for top in kids_of(root):
        _move(top, moved)
    for destination in (*_named(book), *_outlined(book)):
        found = moved[destination[0].objgen]
        destination[0] = found.side
        destination[2], destination[3] = found.placed.point(destination[2], destination[3])
    root.ParentTree.Nums = pikepdf.Array(
        [each for pair in sorted(parents.items(), key=_number) for each in pair]
    )
    del book.pages[: len(pages)]
    preferences = book.Root.ViewerPreferences
    preferences.Duplex = pikepdf.Name(duplex)
    preferences.PrintScaling = pikepdf.Name("/None")
    written = io.BytesIO()
    book.save(written, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return written.getvalue()


def _number(pair: tuple[int, Any]) -> int:
    return pair[0]


def _blank(book: pikepdf.Pdf, side: _Side) -> Any:
    return book.make_indirect(
        pikepdf.Dictionary(
            Type=pikepdf.Name.Page,
            Tabs=pikepdf.Name.S,
            Resources=pikepdf.Dictionary(),
            MediaBox=[0, 0, float(side.width), float(side.height)],
            Annots=pikepdf.Array(),
        )
    )


def _drawn(page: Any, placed: _Placed, first: int) -> bytes:
    """The page's drawing at its place, cut off at its edges."""
    sign = placed.sign
    _, _, width, height = page.MediaBox
    head = f"q {sign} 0 0 {sign} {float(placed.x):.3f} {float(placed.y):.3f} cm"
    drawing = page.Contents.read_bytes() if not first else _renumbered(page, first)
    return b"".join((head.encode(), f" 0 0 {width} {height} re W n\n".encode(), drawing, b"\nQ\n"))


def _renumbered(page: Any, first: int) -> bytes:
    """The drawing with its marked content counted from `first` on."""
    instructions = pikepdf.parse_content_stream(page)
    for each in instructions:
        if str(each.operator) == "BDC":
            marked: Any = each.operands[1]
            if "/MCID" in marked:
                marked.MCID = int(marked.MCID) + first
    return pikepdf.unparse_content_stream(instructions)


def _move(element: Any, moved: dict[tuple[int, int], _Moved]) -> None:
    """Leads an element and all below it to where its page is now."""
    found = moved[element.Pg.objgen] if "/Pg" in element else None
    placed = []
    for kid in kids_of(element):
        if isinstance(kid, int) and found is not None:
            placed.append(kid + found.first)
            continue
        if is_element(kid):
            _move(kid, moved)
        elif "/Pg" in kid:
            kid.Pg = moved[kid.Pg.objgen].side
        placed.append(kid)
    if "/K" in element:
        element.K = pikepdf.Array(placed)
    if found is not None:
        element.Pg = found.side
        if "/BBox" in element.get("/A", {}):
            element.A.BBox = found.placed.frame(element.A.BBox)


def _named(book: pikepdf.Pdf) -> Iterator[Any]:
    """The places that links lead to by a name."""
    if "/Names" in book.Root:
        yield from list(book.Root.Names.Dests.Names)[1::2]


def _outlined(book: pikepdf.Pdf) -> Iterator[Any]:
    """The places that the outline leads to."""
    waiting = [book.Root.Outlines.First] if "/First" in book.Root.get("/Outlines", {}) else []
    while waiting:
        item = waiting.pop()
        yield item.Dest
        waiting += [item[key] for key in ("/Next", "/First") if key in item]
