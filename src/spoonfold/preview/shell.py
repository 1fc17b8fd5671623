"""The page round the preview, and what it is made of."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Mapping
from importlib.resources import files

from spoonfold.press.layouts import Layouts
from spoonfold.preview.address import kind_of

_LOOKS = (
    "look/tokens.css",
    "look/tokens-dark.css",
    "fonts/Andika-Regular.woff2",
    "fonts/Andika-Bold.woff2",
    "fonts/Literata-Bold.woff2",
)


def shell_files(layouts: Layouts) -> Mapping[str, tuple[str, bytes]]:
    """By address: the media type and the bytes of everything that the page needs."""
    found = {"/": ("text/html; charset=utf-8", _page())}
    for name in _LOOKS:
        address = name.removeprefix("look/")
        found[f"/shell/{address}"] = (kind_of(name), layouts.find(name).read_bytes())
    found["/shell/shell.css"] = (kind_of("shell.css"), _part("shell.css").encode())
    return found


def policy() -> str:
    """What the page may do (Content Security Policy Level 3): run its own script, known by its
    digest, and nothing from elsewhere."""
    digest = base64.b64encode(hashlib.sha256(_part("shell.js").encode()).digest()).decode()
    return (
        f"default-src 'none'; script-src 'sha256-{digest}'; style-src 'self'; "
        "font-src 'self'; connect-src 'self'; frame-src 'self'; img-src data:; "
        "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    )


def _page() -> bytes:
    return _part("shell.html").replace("{{script}}", _part("shell.js")).encode()


def _part(name: str) -> str:
    return (files("spoonfold.preview") / name).read_text(encoding="utf-8")
