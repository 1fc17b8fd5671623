"""Icons that a page shows again and again, drawn once."""

from __future__ import annotations

import re
from collections import Counter

_ICON = re.compile(r'<svg class="icon" ([^>]*)>(.*?)</svg>', re.DOTALL)
_ATTRIBUTE = re.compile(r'([\w:-]+)="([^"]*)"')
_OF_THE_FRAME = ("aria-hidden", "viewBox")
_LEFT_OUT = ("xmlns", "width", "height")
"""What HTML doesn't ask for, and what the stylesheet says."""


def drawn_once(html: bytes) -> bytes:
    """The page with each icon drawn where it first stands and pointed at from everywhere else:
    a page with many steps stays light. Icons that stand there once stay as they are."""
    text = html.decode()
    often = Counter(each[0] for each in _ICON.finditer(text))
    names: dict[str, str] = {}

    def shown(icon: re.Match[str]) -> str:
        if often[icon[0]] == 1:
            return icon[0]
        attributes = dict(_ATTRIBUTE.findall(icon[1]))
        frame = " ".join(f'{name}="{attributes[name]}"' for name in _OF_THE_FRAME
                         if name in attributes)
        inner = f'<use href="#{names[icon[0]]}"/>' if icon[0] in names else ""
        if not inner:
            name = names[icon[0]] = f"icon-{len(names) + 1}"
            look = "".join(f' {key}="{value}"' for key, value in attributes.items()
                           if key not in (*_OF_THE_FRAME, *_LEFT_OUT))
            inner = f'<g id="{name}"{look}>{icon[2]}</g>'
        return f'<svg class="icon" {frame}>{inner}</svg>'

    return _ICON.sub(shown, text).encode()
