"""Finished PDFs joined into one, tags and all.

A joined file is tagged like its parts (PDF/UA-1, ISO 14289-1): each page keeps the tree of what
is read on it, and the numbers by which content finds its place in the tree are given out anew.
A copy shares the page's drawing with the first one, so twelve copies weigh little more than one.

The tree of what is read in a tagged PDF (ISO 32000-1, 14.7), as far as it is walked here."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import pikepdf


def pairs(numbers: Any) -> Iterator[tuple[int, Any]]:
    """The entries of a number tree that has no branches."""
    flat = list(numbers)
    return zip(map(int, flat[::2]), flat[1::2], strict=True)


def kids_of(element: Any) -> list[Any]:
    """What an element holds: elements, numbers of marked content, links."""
    found = element.get("/K")
    if found is None:
        return []
    return list(found) if isinstance(found, pikepdf.Array) else [found]


def is_element(kid: Any) -> bool:
    """Whether a kid is an element itself."""
    return isinstance(kid, pikepdf.Dictionary) and "/S" in kid


@dataclass(frozen=True, slots=True)
class Part:
    """A finished, tagged PDF and how often it is wanted."""

    title: str
    """For the outline; once, whatever the number of copies."""
    pdf: bytes
    copies: int = 1


def page_count(pdf: bytes) -> int:
    """How many pages a PDF has."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return len(opened.pages)


def joined(parts: Sequence[Part]) -> bytes:
    """All parts in order, every copy on a fresh sheet: a blank back follows an odd page.

    Title, language and the claim to be accessible are the first part's. At least one part; the
    same parts give the same bytes.
    """
    with pikepdf.open(io.BytesIO(parts[0].pdf)) as target:
        joining = _Joining(target)
        for number, part in enumerate(parts):
            joining.add(part, is_first=number == 0)
        joining.finish()
        joining.outline_parts()
        return _written(target)


def slipped(title: str, slip: bytes, book: bytes) -> bytes:
    """A finished book with a slip before it, on a sheet of its own.

    Title, language, links, outline and what is asked of the printer are the book's; the slip is
    the first line of the outline.
    """
    with pikepdf.open(io.BytesIO(book)) as target:
        joining = _Joining(target)
        joining.add(Part("", book), is_first=True)
        sides, told = len(target.pages), len(joining.elements)
        joining.add(Part(title, slip), is_first=False)
        before = list(target.pages)[sides:]
        del target.pages[sides:]
        target.pages[0:0] = before
        joining.elements = joining.elements[told:] + joining.elements[:told]
        joining.finish()
        with target.open_outline() as outline:
            outline.root.insert(0, pikepdf.OutlineItem(title, 0))
        return _written(target)


def _written(target: pikepdf.Pdf) -> bytes:
    written = io.BytesIO()
    target.save(
        written, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate
    )
    return written.getvalue()


_Moved = dict[tuple[int, int], Any]
"""The new object for each old one, by number and generation."""


@dataclass(frozen=True, slots=True)
class _Tree:
    """What is read on some pages."""

    tops: list[Any]
    parents: dict[int, Any]
    """The elements of a page's content, or the one of a link, by the number that it carries."""


class _Joining:
    """A file while parts are added to it."""

    def __init__(self, target: pikepdf.Pdf) -> None:
        self.target = target
        self.root = target.Root.StructTreeRoot
        self.elements: list[Any] = []
        self.parents: list[tuple[int, Any]] = []
        self.outline: list[tuple[str, int]] = []
        self.next = 0

    def add(self, part: Part, is_first: bool) -> None:
        """Every copy of a part; of the first part the pages are there already."""
        self.outline.append((part.title, 0 if is_first else len(self.target.pages)))
        if is_first:
            pages, root = list(self.target.pages), self.root
        else:
            with pikepdf.open(io.BytesIO(part.pdf)) as source:
                before = len(self.target.pages)
                self.target.pages.extend(source.pages)
                pages = list(self.target.pages)[before:]
                # After its pages, so that what names them finds them here.
                root = self.target.copy_foreign(source.Root.StructTreeRoot)
        tree = _Tree(kids_of(root), dict(pairs(root.ParentTree.Nums)))
        # Copied now: the first copy's numbers are changed in place.
        copies = [self._copy(pages, tree) for _ in range(1, part.copies)]
        self._take(pages, tree)
        self._turn()
        for copied, copied_tree in copies:
            before = len(self.target.pages)
            self.target.pages.extend(copied)
            self._take(list(self.target.pages)[before:], copied_tree)
            self._turn()

    def _copy(self, pages: Sequence[Any], tree: _Tree) -> tuple[list[Any], _Tree]:
        """Pages, their links and their tree anew; what is drawn on them is shared."""
        moved: _Moved = {}
        fresh = [pikepdf.Page(self._again(page.obj, moved)) for page in pages]
        for page in fresh:
            if "/Annots" in page.obj:
                page.obj.Annots = pikepdf.Array(
                    [self._again(each, moved) for each in page.obj.Annots]
                )
        tops = [self._cloned(top, None, moved) for top in tree.tops]
        return fresh, _Tree(
            tops,
            {
                number: moved[found.objgen]
                if is_element(found)
                else self.target.make_indirect(
                    pikepdf.Array(
                        [moved.get(each.objgen) if is_element(each) else None for each in found]
                    )
                )
                for number, found in tree.parents.items()
            },
        )

    def _again(self, thing: Any, moved: _Moved) -> Any:
        """The same dictionary once more; `moved` learns where it is now."""
        fresh = self.target.make_indirect(pikepdf.Dictionary(thing))
        moved[thing.objgen] = fresh
        return fresh

    def _cloned(self, element: Any, parent: Any, moved: _Moved) -> Any:
        clone = self._again(element, moved)
        if parent is not None:
            clone.P = parent
        kids = [
            self._cloned(kid, clone, moved) if is_element(kid) else self._placed(kid, moved)
            for kid in kids_of(element)
        ]
        clone.K = pikepdf.Array(kids)
        if "/Pg" in element:
            clone.Pg = moved[element.Pg.objgen]
        return clone

    def _placed(self, kid: Any, moved: _Moved) -> Any:
        """Marked content, or a link: one that names its page names the copy's."""
        if not isinstance(kid, pikepdf.Dictionary):
            return kid
        fresh = self.target.make_indirect(pikepdf.Dictionary(dict(kid.items())))
        for key in ("/Pg", "/Obj"):
            if key in kid:
                fresh[key] = moved[kid[key].objgen]
        return fresh

    def _take(self, pages: Sequence[Any], tree: _Tree) -> None:
        """Gives pages and links their new numbers, and hangs their tree under the common root."""
        for page in pages:
            holders = [
                (page.obj, "/StructParents"),
                *((each, "/StructParent") for each in page.obj.get("/Annots", ())),
            ]
            for holder, key in holders:
                if key in holder:
                    self.parents.append((self.next, tree.parents[int(holder[key])]))
                    holder[key] = self.next
                    self.next += 1
        for top in tree.tops:
            top.P = self.root
            self.elements.append(top)

    def _turn(self) -> None:
        """A blank back, so that the next sheet begins on a front."""
        if len(self.target.pages) % 2:
            box = self.target.pages[-1].mediabox
            blank = pikepdf.Page(
                self.target.make_indirect(
                    pikepdf.Dictionary(
                        Type=pikepdf.Name.Page,
                        MediaBox=box,
                        Tabs=pikepdf.Name.S,
                        Resources=pikepdf.Dictionary(),
                        Contents=self.target.make_stream(b""),
                    )
                )
            )
            self.target.pages.append(blank)

    def finish(self) -> None:
        """Writes the tree's root."""
        self.root.K = pikepdf.Array(self.elements)
        self.root.ParentTree = self.target.make_indirect(
            pikepdf.Dictionary(Nums=pikepdf.Array([each for pair in self.parents for each in pair]))
        )
        self.root.ParentTreeNextKey = self.next

    def outline_parts(self) -> None:
        """Writes an outline of one line a part."""
        with self.target.open_outline() as outline:
            outline.root.clear()
            for title, page in self.outline:
                outline.root.append(pikepdf.OutlineItem(title, page))
