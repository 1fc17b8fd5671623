"""Every text that a tree of files says anywhere: shown, hidden, packed, or in its names."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pikepdf
import pypdfium2


def said_in(tree: Path) -> Iterator[tuple[str, str]]:
    """Each file below the tree with all it says, one text after the other."""
    for path in sorted(tree.rglob("*")):
        if path.is_file():
            name = path.relative_to(tree).as_posix()
            yield name, name
            yield name, as_texts(path.read_bytes())
            if path.suffix == ".pdf":
                yield name, "\n".join(_in_pdf(path))


def as_texts(data: bytes) -> str:
    """Bytes as every text that they may be."""
    return "\n".join(
        data[start:].decode(encoding, "replace")
        for encoding, starts in (("utf-8", (0,)), ("utf-16-be", (0, 1)), ("utf-16-le", (0, 1)))
        for start in starts
    )


def _in_pdf(path: Path) -> Iterator[str]:
    # As it is read: letters in a page's own streams are numbers of glyphs.
    document = pypdfium2.PdfDocument(path)
    for page in document:
        yield " ".join(page.get_textpage().get_text_bounded().split())
    document.close()
    with pikepdf.open(path) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Stream):
                yield as_texts(thing.read_bytes() if _is_text(thing) else thing.read_raw_bytes())
            yield from _strings(thing, 0)
        yield from _strings(pdf.trailer, 0)


def _is_text(stream: pikepdf.Stream) -> bool:
    """Pictures are left as they are packed."""
    filters = str(stream.get("/Filter", ""))
    return "DCT" not in filters and "JPX" not in filters


def _strings(thing: object, depth: int) -> Iterator[str]:
    """The texts in one object; what it points at comes by itself."""
    if depth and isinstance(thing, pikepdf.Object) and thing.is_indirect:
        return
    if isinstance(thing, pikepdf.String):
        yield str(thing)
        yield as_texts(bytes(thing))
    elif isinstance(thing, pikepdf.Array):
        for each in thing:
            yield from _strings(each, depth + 1)
    elif isinstance(thing, (pikepdf.Dictionary, pikepdf.Stream)):
        for key, each in thing.items():
            yield str(key)
            yield from _strings(each, depth + 1)
