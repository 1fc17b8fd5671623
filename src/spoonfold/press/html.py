"""Page values to HTML, by the templates in `layouts/pages/`. The only room that knows Jinja."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from jinja2 import Environment as Environment
from jinja2 import FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from spoonfold.language.texts import Texts
from spoonfold.model.prose import (
    Emphasis,
    Heading,
    Inline,
    Link,
    Listing,
    Paragraph,
    Picture,
    Prose,
    Quote,
    Text,
)
from spoonfold.paper.amounts import AmountView
from spoonfold.press.figures.scoops import Scoop, scoop_strip
from spoonfold.press.layouts import Layouts


def environment_for(layouts: Layouts, texts: Texts) -> Environment:
    """Templates in one language: strict about names, escaping everything."""
    environment = Environment(
        loader=FileSystemLoader([folder / "pages" for folder in layouts.folders]),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.globals.update(
        say=texts.say,
        count=texts.count,
        strip=_strip,
        icon=_icon_of(layouts),
    )
    environment.filters.update(prose=_prose, inline=_inline, json_data=_json_data, capital=_capital)
    return environment


def rendered(environment: Environment, template: str, **values: Any) -> bytes:
    """One page as UTF-8."""
    return environment.get_template(template).render(**values).encode()


def _capital(text: str) -> str:
    """The first letter as a capital; the others as they are."""
    return text[:1].upper() + text[1:]


def _json_data(data: Mapping[str, object]) -> Markup:
    """JSON that can't end the element it stands in."""
    text = json.dumps(data, ensure_ascii=False, indent=1)
    for sign, code in (("<", "\\u003c"), (">", "\\u003e"), ("&", "\\u0026")):
        text = text.replace(sign, code)
    return Markup(text)


def _strip(view: AmountView, prefix: str, width: float = 288.0) -> Markup:
    """The scoop strip of an amount; nothing where it isn't scooped."""
    if not view.scoops:
        return Markup("")
    scoops = [Scoop(mark.kind, mark.label, mark.tsp, mark.count) for mark in view.scoops]
    return Markup(scoop_strip(scoops, view.words, prefix, width))


def _icon_of(layouts: Layouts) -> Any:
    @lru_cache(maxsize=64)
    def icon(name: str) -> Markup:
        """A drawn icon that says nothing by itself: its words stand beside it."""
        text = layouts.find(f"icons/{name}.svg").read_text(encoding="utf-8").strip()
        return Markup(text.replace("<svg ", '<svg class="icon" aria-hidden="true" ', 1))

    return icon


def _prose(prose: Prose, heading: int = 3) -> Markup:
    """Blocks as HTML; headings inside at the level asked for."""
    return Markup("\n").join(_block(block, heading) for block in prose)


def _block(block: object, heading: int) -> Markup:
    match block:
        case Paragraph(children):
            return Markup("<p>{}</p>").format(_inline(children))
        case Heading(children):
            tag = Markup(f"h{heading}")
            return Markup("<{0}>{1}</{0}>").format(tag, _inline(children))
        case Listing(items, ordered):
            tag = Markup("ol" if ordered else "ul")
            inner = Markup("").join(
                Markup("<li>{}</li>").format(_item(item, heading)) for item in items)
            return Markup("<{0}>{1}</{0}>").format(tag, inner)
        case Quote(blocks):
            return Markup("<blockquote>{}</blockquote>").format(_prose(blocks, heading))
    raise TypeError(block)


def _item(blocks: Sequence[object], heading: int) -> Markup:
    """A list item; one paragraph alone needs no element of its own."""
    if len(blocks) == 1 and isinstance(blocks[0], Paragraph):
        return _inline(blocks[0].children)
    return Markup("").join(_block(block, heading) for block in blocks)


def _inline(children: Sequence[Inline]) -> Markup:
    """Inlines as HTML. A link to an ingredient is only its words: the amount stands beside."""
    parts = []
    for child in children:
        match child:
            case Text(text):
                parts.append(escape(text))
            case Emphasis(inner, strong):
                tag = Markup("strong" if strong else "em")
                parts.append(Markup("<{0}>{1}</{0}>").format(tag, _inline(inner)))
            case Link(inner, address):
                if address.startswith("#"):
                    parts.append(_inline(inner))
                else:
                    parts.append(
                        Markup('<a href="{}">{}</a>').format(address, _inline(inner)))
            case Picture(_, alt):
                parts.append(escape(alt))
    return Markup("").join(parts)
