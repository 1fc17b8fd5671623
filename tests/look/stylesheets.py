"""Reading the stylesheets, and the published arithmetic of contrast and of grey."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import tinycss2

LAYOUTS = Path(__file__).parents[2] / "layouts"
LOOK = LAYOUTS / "look"

_TOKEN = re.compile(r"--([a-z-]+):\s*([^;]+);")
_USE = re.compile(r"var\(--([a-z-]+)\)")


def tokens(name: str) -> dict[str, str]:
    """The custom properties that the stylesheet `name` declares."""
    return dict(_TOKEN.findall((LOOK / name).read_text(encoding="utf-8")))


def tones(name: str) -> dict[str, str]:
    """Those of them that are colours, as #rrggbb."""
    return {key: value for key, value in tokens(name).items() if value.startswith("#")}


def pairs(declared: str) -> list[tuple[str, str]]:
    """`"ink on paper, ..."` as (front, ground) pairs."""
    both = (pair.split(" on ") for pair in declared.strip('"').split(", "))
    return [(front, ground) for front, ground in both]


def used(name: str) -> set[str]:
    """The tokens that the stylesheet `name` reads."""
    return set(_USE.findall((LOOK / name).read_text(encoding="utf-8")))


def rules(name: str) -> Iterator[tuple[str, dict[str, str]]]:
    """Every rule of the stylesheet, those inside at-rules too: selector, declarations."""
    sheet = (LOOK / name).read_text(encoding="utf-8")
    yield from _rules(tinycss2.parse_stylesheet(sheet, skip_comments=True, skip_whitespace=True))


def _rules(nodes: list[Any]) -> Iterator[tuple[str, dict[str, str]]]:
    for node in nodes:
        if node.type == "at-rule" and node.at_keyword in ("media", "supports"):
            yield from _rules(
                tinycss2.parse_rule_list(node.content, skip_comments=True, skip_whitespace=True)
            )
        elif node.type == "qualified-rule":
            found = tinycss2.parse_declaration_list(
                node.content, skip_comments=True, skip_whitespace=True
            )
            yield (
                tinycss2.serialize(node.prelude).strip(),
                {item.name: tinycss2.serialize(item.value).strip() for item in found},
            )


def tone_in(value: str, names: set[str]) -> str | None:
    """The first colour token read by a declaration's value."""
    return next((name for name in _USE.findall(value) if name in names), None)


def luminance(tone: str) -> float:
    """Relative luminance, 0 to 1, of #rrggbb (WCAG 2.2, definition of relative luminance)."""
    red, green, blue = (_linear(channel) for channel in _channels(tone))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(front: str, ground: str) -> float:
    """Contrast ratio, 1 to 21 (WCAG 2.2, definition of contrast ratio)."""
    light, dark = sorted((luminance(front), luminance(ground)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def lightness(tone: str) -> float:
    """CIE L*, 0 to 100, of #rrggbb."""
    share = luminance(tone)
    return 116 * share ** (1 / 3) - 16 if share > (6 / 29) ** 3 else share * (29 / 3) ** 3


def grey(tone: str) -> float:
    """The grey, 0 to 255, that a copier's driver prints (luma of ITU-R BT.601)."""
    red, green, blue = _channels(tone)
    return 255 * (0.299 * red + 0.587 * green + 0.114 * blue)


def _channels(tone: str) -> list[float]:
    return [int(tone[at : at + 2], 16) / 255 for at in (1, 3, 5)]


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else float(((channel + 0.055) / 1.055) ** 2.4)
