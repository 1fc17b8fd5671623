"""Mending the tags of a PDF so that it passes PDF/UA-1 (ISO 14289-1), before it is written.

WeasyPrint 70 tags what it prints, but leaves some things that a strict reader refuses: running
heads tagged like text, spaces between list items tagged as children of the list, header cells
that don't say what they head, links that name an address instead of saying where they lead,
figures whose frame is measured from the wrong corner. Each is mended here, and nowhere else do
we lean on the shape of its objects (pydyf dictionaries, references as `12 0 R`, boxes with a
`link_annotation`); the tests hold the result to independent checkers.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

_PX_TO_PT = 0.75
"""CSS pixels to PDF points: 96 and 72 to the inch."""

_PRINTED = 4
"""The annotation flag Print (ISO 32000-1, table 165)."""

_SCOPES = {"/THead": "/Column", "/TBody": "/Row", "/TFoot": "/Row"}
"""What a header cell heads, by the part of the table that it stands in."""

_KEPT_EMPTY = {"/TD", "/TH", "/TR"}
"""Cells hold a table together even with nothing in them."""


def mend_tags(document: Any, pdf: Any) -> None:
    """Mends the tag tree in place; a finisher for `write_pdf`."""
    tree = _Tree(pdf)
    root = tree.at(pdf.catalog["StructTreeRoot"])
    mentioned: set[bytes] = set()
    for reference in root["K"]:
        _mend(tree, tree.at(reference), "", mentioned)
    _drop_unmentioned(tree, tree.at(root["ParentTree"]), mentioned)
    _say_where_links_lead(document)


@dataclass(frozen=True, slots=True)
class _Tree:
    pdf: Any

    def at(self, reference: bytes) -> Any:
        """The object that a reference like `12 0 R` names."""
        return self.pdf.objects[int(reference.split()[0])]

    def element(self, kid: Any) -> Any | None:
        """The structure element that a kid names; None for marked content and links."""
        found = self.at(kid) if isinstance(kid, bytes) else None
        return found if found is not None and found.get("Type") == "/StructElem" else None


def _mend(tree: _Tree, element: Any, part: str, mentioned: set[bytes]) -> bool:
    """Mends an element and all below it; False where nothing is left to read in it."""
    kind = element["S"]
    if kind in _SCOPES:
        part = kind
    kept: list[Any] = []
    for kid in element["K"]:
        below = tree.element(kid)
        # Between the items of a list stands nothing but the space of the source.
        stray = below is not None and kind == "/L" and below["S"] == "/Span"
        if below is None or (not stray and _mend(tree, below, part, mentioned)):
            kept.append(kid)
    element["K"][:] = kept
    if kind == "/TH":
        element["A"]["Scope"] = _SCOPES.get(part, "/Column")
    elif kind == "/Figure":
        _measure_from_below(tree, element)
    if not kept and kind not in _KEPT_EMPTY:
        return False
    mentioned.add(element.reference)
    return True


def _measure_from_below(tree: _Tree, figure: Any) -> None:
    """The frame in the page's own points, counted from its lower left corner."""
    left, top, right, bottom = figure["A"]["BBox"]
    height = tree.at(figure["Pg"])["MediaBox"][3]
    figure["A"]["BBox"][:] = (
        left * _PX_TO_PT,
        height - bottom * _PX_TO_PT,
        right * _PX_TO_PT,
        height - top * _PX_TO_PT,
    )


def _drop_unmentioned(tree: _Tree, parent_tree: Any, mentioned: set[bytes]) -> None:
    """Makes artifacts of marked content that no element of the tree holds: running heads."""
    numbers = parent_tree["Nums"]
    pages = tree.pdf.page_references
    for page, parents in zip(numbers[::2], numbers[1::2], strict=True):
        # Annotations come after the pages, each with one parent instead of a list.
        if isinstance(parents, bytes):
            continue
        dropped = {mcid for mcid, parent in enumerate(parents) if parent not in mentioned}
        for mcid in dropped:
            parents[mcid] = b"null"
        _make_artifacts(tree.at(tree.at(pages[page])["Contents"]).stream, dropped)


def _make_artifacts(operators: list[Any], dropped: set[int]) -> None:
    for index, operand in enumerate(operators):
        if isinstance(operand, dict) and operand.get("MCID") in dropped:
            operators[index - 1] = "/Artifact"
            operand.clear()


def _say_where_links_lead(document: Any) -> None:
    """Every link says its own words, and is printed."""
    for page in document.pages:
        for box in page._page_box.descendants():
            annotation = getattr(box, "link_annotation", None)
            if annotation is not None:
                annotation["F"] = _PRINTED
                annotation["Contents"] = type(annotation["Contents"])(_words(box))


def _words(box: Any) -> str:
    return " ".join("".join(_texts(box)).split())


def _texts(box: Any) -> Iterator[str]:
    text = getattr(box, "text", None)
    if isinstance(text, str):
        yield text
    for child in getattr(box, "children", ()):
        yield from _texts(child)
