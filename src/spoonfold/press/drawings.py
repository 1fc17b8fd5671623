"""Whether a class's own drawing can be shown: well-formed, of a size, and nothing but a drawing.

A drawing goes into pages as it is. What acts by itself, or shows something from elsewhere, is
refused (SVG 2, 2.1: “static” and “secure static mode”), and so is what unfolds without end.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from xml.parsers import expat

_SVG = "http://www.w3.org/2000/svg"
_SHAPES = frozenset(
    {
        *("svg", "g", "defs", "symbol", "use", "title", "desc", "metadata", "style", "switch"),
        *("path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "marker", "pattern"),
        *("text", "tspan", "textPath", "clipPath", "mask", "image"),
        *("linearGradient", "radialGradient", "stop", "filter"),
    }
)
"""Elements of static drawings (SVG 2, appendix F); `fe...` of filters besides."""
_MOST_DRAWN = 20_000
"""Elements, counted as often as they are drawn."""
_DEEPEST = 60
_LEAST, _MOST = 0.1, 20_000
"""Sides of a drawing that can be shown, in its own units."""
_NUMBER = re.compile(r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(?:px|pt|mm|cm|in|em)?\s*")
_ADDRESS = re.compile(r"""(?i)url\(\s*["']?\s*([^"')]*)|@import""")


@dataclass(frozen=True, slots=True)
class Flaw:
    """What is wrong with a file of the class's own layouts, and where in it."""

    line: int
    message: str
    hint: str
    column: int = 0


@dataclass(slots=True)
class _Looked:
    """What has been read of a drawing."""

    flaws: list[Flaw] = field(default_factory=list)
    depth: int = 0
    drawn: int = 0
    within: list[str] = field(default_factory=list)
    """The names (`id`) around the element that is read."""
    holds: dict[str, list[str]] = field(default_factory=dict)
    """What each named element points at, once for each `use`."""
    own: dict[str, int] = field(default_factory=dict)


_Note = Callable[[str, str], None]


class _EnoughError(Exception):
    """No need to read on."""


def flaws_of_drawing(data: bytes) -> Iterator[Flaw]:
    """What keeps an SVG file from being shown."""
    if not data.strip():
        yield Flaw(0, "This drawing is empty.", _REMOVE)
        return
    looked = _Looked()
    parser = expat.ParserCreate(namespace_separator=" ")

    def note(message: str, hint: str) -> None:
        looked.flaws.append(
            Flaw(parser.CurrentLineNumber, message, hint, parser.CurrentColumnNumber + 1)
        )

    def doctype(*_: object) -> None:
        note(
            "A drawing with a DOCTYPE isn't read: what it declares can unfold without end.",
            "Remove the line that begins with <!DOCTYPE.",
        )
        raise _EnoughError

    def start(name: str, attributes: dict[str, str]) -> None:
        looked.depth += 1
        looked.drawn += 1
        if looked.depth > _DEEPEST or looked.drawn > _MOST_DRAWN:
            note("This drawing has more parts than can be shown.", "Draw it simpler.")
            raise _EnoughError
        space, _, local = name.rpartition(" ")
        if looked.depth == 1:
            if local != "svg" or space != _SVG:
                note(
                    "This isn't an SVG drawing.",
                    f'It begins with <svg xmlns="{_SVG}" viewBox="0 0 24 24">.',
                )
                raise _EnoughError
            _sized(attributes, note)
        elif space == _SVG and local not in _SHAPES and not local.startswith("fe"):
            note(
                f"<{local}> isn't taken into a drawing: one only shows, and does nothing.",
                f"Remove <{local}>.",
            )
        _attributes(local, attributes, note)
        name = attributes.get("id", "")
        looked.within.append(name)
        for around in filter(None, looked.within):
            looked.own[around] = looked.own.get(around, 0) + 1
        target = attributes.get("href", attributes.get("http://www.w3.org/1999/xlink href", ""))
        if local == "use" and target.startswith("#"):
            for around in {"", *looked.within}:
                looked.holds.setdefault(around, []).append(target[1:])

    def end(_: str) -> None:
        looked.depth -= 1
        looked.within.pop()

    def text(said: str) -> None:
        for match in _ADDRESS.finditer(said):
            if not (match[1] or "").strip().startswith(("#", "data:")):
                note(_FROM_ELSEWHERE, "Draw it here.")

    parser.StartDoctypeDeclHandler = doctype
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = text
    parser.ProcessingInstructionHandler = lambda target, _: note(
        f"<?{target} … ?> isn't taken into a drawing.", "Remove it."
    )
    try:
        parser.Parse(data, True)
    except _EnoughError:
        pass
    except expat.ExpatError as error:
        looked.flaws.append(
            Flaw(
                error.lineno,
                f"This isn't a whole SVG drawing: {expat.ErrorString(error.code)}.",
                "Save it again from the program that it was drawn with, as plain SVG.",
                error.offset + 1,
            )
        )
    except (ValueError, LookupError):
        looked.flaws.append(Flaw(0, "This drawing isn't saved as UTF-8 text.", "Save it as UTF-8."))
    if not looked.flaws and _unfolded(looked) > _MOST_DRAWN:
        looked.flaws.append(
            Flaw(0, "This drawing unfolds into more parts than can be shown.", "Draw it simpler.")
        )
    yield from looked.flaws


_REMOVE = "Put the drawing there, or remove the file: then the one that ships is used."
_FROM_ELSEWHERE = (
    "This drawing shows something from elsewhere, and nothing from elsewhere is shown."
)


def _sized(attributes: dict[str, str], note: _Note) -> None:
    """Whether the drawing says how large it is."""
    sides = attributes.get("viewBox", "").replace(",", " ").split()[2:]
    if "viewBox" not in attributes:
        sides = [attributes.get("width", ""), attributes.get("height", "")]
    found = [_NUMBER.fullmatch(each) for each in sides]
    if len(found) != 2 or not all(each and _LEAST <= float(each[1]) <= _MOST for each in found):
        note(
            "This drawing doesn't say how large it is, or has a size that can't be shown.",
            'Write its four numbers behind <svg, such as viewBox="0 0 24 24".',
        )


def _attributes(local: str, attributes: dict[str, str], note: _Note) -> None:
    for name, value in attributes.items():
        short = name.rpartition(" ")[2]
        if short.lower().startswith("on"):
            note(f"{short} would run a program, and a drawing only shows.", f"Remove {short}.")
        elif (
            short in ("href", "src")
            and not value.strip().startswith(("#", "data:image/png;", "data:image/jpeg;"))
        ) or any(
            not (match[1] or "").strip().startswith("#") for match in _ADDRESS.finditer(value)
        ):
            note(_FROM_ELSEWHERE, f"Remove {short} from <{local}>.")


def _unfolded(looked: _Looked) -> int:
    """Elements as often as they are drawn; one more than is allowed where there is no end."""
    known: dict[str, int] = {}

    def size(name: str, depth: int) -> int:
        if name in known:
            return known[name]
        if depth > _DEEPEST:
            return _MOST_DRAWN + 1
        total = looked.own.get(name, 0)
        for each in looked.holds.get(name, ()):
            total += size(each, depth + 1)
            if total > _MOST_DRAWN:
                break
        known[name] = total
        return total

    return size("", 0) + looked.drawn
