"""What a browser may ask for, and which file of the output that is."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import unquote_to_bytes

_TOPS = frozenset({"site", "families", "class"})
"""The folders of an output that people look at."""

KINDS = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".txt": "text/plain; charset=utf-8",
    ".csv": "text/csv; charset=utf-8",
    ".ics": "text/calendar; charset=utf-8",
    ".json": "application/json",
    ".pdf": "application/pdf",
    ".woff2": "font/woff2",
    ".ttf": "font/ttf",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".webp": "image/webp",
    ".gif": "image/gif",
}
"""Media types by ending (IANA media types registry). This computer's own table isn't asked: it
differs from one to the next."""

_UNKNOWN = "application/octet-stream"
_FORBIDDEN = frozenset("/\\:\0")
"""Signs that lead elsewhere on one system or another."""


def kind_of(name: str) -> str:
    """The media type of a file, by its ending."""
    return KINDS.get(Path(name).suffix.lower(), _UNKNOWN)


def file_at(output: Path, target: str) -> Path | None:
    """The file that a request's target names, such as `/site/index.html?again`; None where it
    names nothing that may be seen: something hidden, outside the output, or no file."""
    path = target.partition("#")[0].partition("?")[0]
    if not path.startswith("/"):
        return None
    try:
        # Taken apart before it is decoded: an encoded slash is part of a name, and refused.
        parts = [unquote_to_bytes(part).decode() for part in path[1:].split("/")]
    except UnicodeError:
        return None
    if parts[0] not in _TOPS or not all(map(_is_plain, parts)):
        return None
    found = output.joinpath(*parts)
    try:
        # A link may have been put there by hand since.
        inside = found.resolve().is_relative_to(output.resolve())
        return found if inside and found.is_file() else None
    except (OSError, ValueError, RuntimeError):
        return None


def _is_plain(part: str) -> bool:
    return bool(part) and not part.startswith(".") and not set(part) & _FORBIDDEN
