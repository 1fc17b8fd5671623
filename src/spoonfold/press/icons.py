"""Icons that a page shows again and again, drawn once."""

from __future__ import annotations

import re
from collections import Counter

_OPEN, _CLOSE = '<svg class="icon" ', "</svg>"
_ATTRIBUTE = re.compile(r'([\w:-]+)="([^"]*)"')
_OF_THE_FRAME = ("aria-hidden", "viewBox")
_LEFT_OUT = ("xmlns", "width", "height")
"""What HTML doesn't ask for, and what the stylesheet says."""


def drawn_once(html: bytes) -> bytes:
    """The page with each icon drawn where it first stands and pointed at from everywhere else:
    a page with many steps stays light. Icons that stand there once stay as they are."""
    before, *rest = html.decode().split(_OPEN)
    icons = [each.split(_CLOSE, 1) for each in rest]
    often = Counter(icon for icon, _ in icons)
    pointed: dict[str, str] = {}
    page = [before]
    for icon, after in icons:
        if often[icon] == 1:
            page.append(f"{_OPEN}{icon}{_CLOSE}")
        elif icon in pointed:
            page.append(pointed[icon])
        else:
            drawn, pointed[icon] = _named(icon, f"icon-{len(pointed) + 1}")
            page.append(drawn)
        page.append(after)
    return "".join(page).encode()


def _named(icon: str, name: str) -> tuple[str, str]:
    """An icon drawn under a name, and one that points at it."""
    opening, _, inner = icon.partition(">")
    attributes = dict(_ATTRIBUTE.findall(opening))
    frame = _OPEN + " ".join(
        f'{key}="{attributes[key]}"' for key in _OF_THE_FRAME if key in attributes
    )
    look = "".join(
        f' {key}="{value}"'
        for key, value in attributes.items()
        if key not in (*_OF_THE_FRAME, *_LEFT_OUT)
    )
    return (
        f'{frame}><g id="{name}"{look}>{inner}</g>{_CLOSE}',
        f'{frame}><use href="#{name}"/>{_CLOSE}',
    )
