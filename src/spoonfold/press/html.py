"""Page values to HTML, by the templates in `layouts/pages/`. The only room that knows Jinja."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from types import CodeType
from typing import Any

from jinja2 import BytecodeCache, FileSystemLoader, StrictUndefined, pass_context
from jinja2 import Environment as Environment
from jinja2.bccache import Bucket
from jinja2.runtime import Context
from markupsafe import Markup, escape

from spoonfold.language.marks import language_mark
from spoonfold.language.texts import Texts, direction_of
from spoonfold.model.prose import (
    Emphasis,
    Explained,
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
from spoonfold.model.translation import Foreign
from spoonfold.press.figures.folding import folding_figure
from spoonfold.press.figures.fractions import drawn
from spoonfold.press.figures.job import job_figure
from spoonfold.press.figures.map import WIDTH as WORLD
from spoonfold.press.figures.map import Pin, world_map
from spoonfold.press.figures.plate import plate_figure
from spoonfold.press.figures.qr import qr_figure
from spoonfold.press.figures.scoops import scoop_row, scoop_strip, shelved
from spoonfold.press.figures.shares import share_bar, swatch
from spoonfold.press.figures.timeline import timeline_chart
from spoonfold.press.html_guard import GuardedEnvironment
from spoonfold.press.layouts import Layouts
from spoonfold.press.numerals import numerals
from spoonfold.quantity.temperature import Temperature
from spoonfold.sheets.booklet.plate import PlateView
from spoonfold.sheets.brief.chart import ChartView
from spoonfold.sheets.colours import Bar
from spoonfold.sheets.shared.amounts import AmountView
from spoonfold.sheets.shared.cautions import sentence
from spoonfold.sheets.shared.season_map import SeasonMap
from spoonfold.sheets.shared.words import word_anchor
from spoonfold.sheets.table_cards.drawing import JobView
from spoonfold.sheets.worksheet.figures import Figure

_TITLE = re.compile(r"(?<=<title>).*?(?=</title>)", re.DOTALL)
_ELEMENT = re.compile(r"<[^>]*>")
_TEMPERATURE = re.compile(
    r"([−-]?[\d.,–]+)[ \u00a0]?°F(?: \(([−-]?[\d.,–]+)[ \u00a0]?°C\))?(?![^<]*>)"
)
"""A temperature in Fahrenheit, with its Celsius or without, in text and not inside a tag."""
_LEAST = 100
"""A lone number of degrees below this may be how much hotter, not how hot: it is left alone."""
_DIAL = 250
"""From here on it is an oven's dial, which has steps of 5 °C: no food's middle is so hot."""
_NUMBER_AND_SIGN = re.compile(r"(?<=\d) (?=[°%])")


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture as a sheet shows it."""

    address: str
    """An address of its own, or relative to the site's top."""
    width: int
    height: int
    """In pixels of the picture itself."""


Pictures = Callable[[Picture], Shown | None]
"""Finds what to show of a picture; None leaves its words alone."""


class _CompiledTemplates(BytecodeCache):
    """The code of every template, compiled once in a process for the environments of all
    languages: compiling takes longer than filling a page. No filter that is computed while
    compiling may therefore depend on the language."""

    def __init__(self) -> None:
        self._compiled: dict[str, tuple[str, CodeType]] = {}
        """By the name and the file: the checksum of its text, and the code."""

    def load_bytecode(self, bucket: Bucket) -> None:
        checksum, code = self._compiled.get(bucket.key, ("", None))
        if checksum == bucket.checksum:
            bucket.code = code

    def dump_bytecode(self, bucket: Bucket) -> None:
        if bucket.code is not None:
            self._compiled[bucket.key] = bucket.checksum, bucket.code


_COMPILED = _CompiledTemplates()


def environment_for(
    layouts: Layouts, texts: Texts, pictures: Pictures = lambda picture: None
) -> Environment:
    """Templates in one language: strict about names, escaping everything."""
    is_own = layouts.own is not None and (layouts.own / "pages").is_dir()
    environment = (GuardedEnvironment if is_own else Environment)(
        loader=FileSystemLoader([folder / "pages" for folder in layouts.folders]),
        bytecode_cache=None if is_own else _COMPILED,
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        finalize=lambda value: _foreign(value, texts) if isinstance(value, Foreign) else value,
    )
    environment.globals.update(
        say=texts.say,
        count=texts.count,
        strip=_strip,
        scoop_row=_scoop_row,
        plate=_plate,
        shelf=_shelf,
        job_address=_job_address,
        timeline=_timeline,
        world=_world,
        share_bar=_share_bar,
        pattern=_pattern,
        pattern_address=_pattern_address,
        figure=_figure,
        folding=_folding,
        qr=_qr,
        icon=_icon_of(layouts),
    )

    # A page below the site's top finds the pictures by the way back that its frame knows.
    @pass_context
    def prose(context: Context, blocks: Prose, heading: int = 3) -> Markup:
        return _writer(pictures, context).prose(blocks, heading)

    @pass_context
    def inline(context: Context, children: Sequence[Inline]) -> Markup:
        return _writer(pictures, context).inline(children)

    environment.filters.update(
        prose=prose,
        inline=inline,
        json_data=_json_data,
        content_hash=_content_hash,
        capital=_capital,
        sentence=sentence,
        flat=_flat,
        numerals=_numerals,
        in_both_orders=_in_both_orders,
    )
    return environment


def _writer(pictures: Pictures, context: Context) -> _Writer:
    page = context.get("page")
    # A card alone has no room to explain its words.
    explains = "page" in context or "book" in context
    return _Writer(pictures, str(page.frame.root) if page else "", explains)


def rendered(environment: Environment, template: str, **values: Any) -> bytes:
    """One page as UTF-8."""
    if isinstance(environment, GuardedEnvironment):
        environment.begin()
    html = environment.get_template(template).render(**values)
    # The head's data is known by its hash, so that nothing in it may change.
    head, end, body = html.partition("</head>")
    # A title holds no elements, and so can't say that a part of it is in another language.
    head = _TITLE.sub(lambda title: _ELEMENT.sub("", title[0]), head)
    # No line ends between a number and its degrees or percent: 200 alone would be misread.
    return (head + end + _NUMBER_AND_SIGN.sub("\u00a0", body)).encode()


def _capital(text: str) -> str:
    """The first letter as a capital; the others as they are."""
    said = text[:1].upper() + text[1:]
    return text.changed(said) if isinstance(text, Foreign) else said


def _flat(text: str) -> str:
    """Words for an attribute, which can't say that they are in another language."""
    return str(text)


def _foreign(text: Foreign, texts: Texts) -> Markup:
    """Words in another language, named for who hears them and, where they are marked, for who
    sees them."""
    said = Markup('<span lang="{}" dir="{}">{}</span>').format(
        text.language, direction_of(text.language), str(text)
    )
    mark = language_mark(text.language, texts) if text.is_marked else ""
    return said + Markup(' <span class="note">({})</span>').format(mark) if mark else said


def _json_data(data: Mapping[str, object]) -> Markup:
    """JSON that can't end the element it stands in."""
    text = json.dumps(data, ensure_ascii=False, indent=1)
    for sign, code in (("<", "\\u003c"), (">", "\\u003e"), ("&", "\\u0026")):
        text = text.replace(sign, code)
    return Markup(text)


def _content_hash(text: str) -> str:
    """The hash by which a content security policy knows an element's text (CSP 3, 2.3.1)."""
    digest = hashlib.sha256(text.encode()).digest()
    return f"sha256-{base64.b64encode(digest).decode()}"


def _strip(
    view: AmountView, prefix: str, width: float = 288.0, shelf: dict[str, str] | None = None
) -> Markup:
    """The scoop strip of an amount; nothing where it isn't scooped."""
    if not view.scoops:
        return Markup("")
    return Markup(scoop_strip(view.scoops, view.words, prefix, width, shelf))


def _scoop_row(view: AmountView, prefix: str, width: float) -> Markup:
    """The same as a row as low as a line, each box behind its scoop."""
    return Markup(scoop_row(view.scoops, view.words, prefix, width)) if view.scoops else Markup("")


def _plate(view: PlateView, prefix: str, width: float) -> Markup:
    """A dish from above."""
    return Markup(plate_figure(view, prefix, width))


def _shelf(tools: dict[str, str]) -> Markup:
    """The tools that a page's strips point at; nothing where there are none."""
    return Markup(shelved(tools)) if tools else Markup("")


def _figure(view: Figure, prefix: str) -> Markup:
    """The picture beside a question of a worksheet."""
    return Markup(drawn(view, prefix))


def _folding(name: str, words: str, prefix: str) -> Markup:
    """A picture of paper that is folded."""
    return Markup(folding_figure(name, words, prefix))


def _qr(address: str, words: str, prefix: str) -> Markup:
    """The address as a code for a phone's camera."""
    return Markup(qr_figure(address, words, prefix))


def _numerals(text: str) -> Markup:
    """A text with its fractions set one over the other."""
    return Markup(numerals(text))


def _in_both_orders(html: str) -> Markup:
    """A page with every temperature as cups and spoons go with it, and as metric measures do."""
    return Markup(_TEMPERATURE.sub(_both_orders, str(html)))


def _both_orders(found: re.Match[str]) -> str:
    fahrenheit, celsius = found.groups()
    if celsius is None:
        if not fahrenheit.isdecimal() or int(fahrenheit) < _LEAST:
            return found[0]
        exact = Temperature(Fraction(int(fahrenheit)))
        is_dial = int(fahrenheit) >= _DIAL
        celsius = str(5 * round(exact.celsius / 5) if is_dial else exact.whole_celsius)
    return (
        f'<span class="us">{found[0]}</span><span class="metric"><i> / </i>'
        f"{celsius} °C ({fahrenheit} °F)</span>"
    )


def _timeline(view: ChartView, prefix: str, larger: float = 1) -> Markup:
    """The clock chart of a session."""
    return Markup(timeline_chart(view, prefix, larger))


def _share_bar(view: Bar, prefix: str, width: float, height: float) -> Markup:
    """A whole in its parts."""
    return Markup(share_bar(view, prefix, width, height))


def _pattern(name: str) -> Markup:
    """One pattern of such a bar, beside its name."""
    return Markup(swatch(name))


def _pattern_address(name: str) -> str:
    """The same as an address for a stylesheet: on paper, what says nothing is a background."""
    return _as_address(swatch(name))


def _job_address(view: JobView) -> str:
    """The drawing of a step as an address: the printer reads a picture that comes again once."""
    return _as_address(job_figure(view))


def _as_address(svg: str) -> str:
    return f"data:image/svg+xml;base64,{base64.b64encode(svg.encode()).decode()}"


def _world(view: SeasonMap, prefix: str, width: float = WORLD) -> Markup:
    """The map of the season's dishes, so many points wide."""
    pins = [
        Pin(number, float(place.latitude), float(place.longitude)) for number, place in view.pins
    ]
    return Markup(world_map(pins, view.words, prefix, width))


def _icon_of(layouts: Layouts) -> Any:
    @lru_cache(maxsize=64)
    def icon(name: str) -> Markup:
        """A drawn icon that says nothing by itself: its words stand beside it."""
        text = layouts.find(f"icons/{name}.svg").read_text(encoding="utf-8").strip()
        return Markup(text.replace("<svg ", '<svg class="icon" aria-hidden="true" ', 1))

    return icon


@dataclass(frozen=True, slots=True)
class _Writer:
    """Prose as HTML, for one page."""

    pictures: Pictures
    root: str
    explains: bool
    """Whether the explanations of words are on the same page."""

    def prose(self, prose: Prose, heading: int) -> Markup:
        """Blocks, with headings inside at the level asked for."""
        return Markup("\n").join(self._block(block, heading) for block in prose)

    def _block(self, block: object, heading: int) -> Markup:
        match block:
            case Paragraph(children):
                return Markup("<p>{}</p>").format(self.inline(children))
            case Heading(children):
                tag = Markup(f"h{heading}")
                return Markup("<{0}>{1}</{0}>").format(tag, self.inline(children))
            case Listing(items, ordered):
                tag = Markup("ol" if ordered else "ul")
                inner = Markup("").join(
                    Markup("<li>{}</li>").format(self._item(item, heading)) for item in items
                )
                return Markup("<{0}>{1}</{0}>").format(tag, inner)
            case Quote(blocks):
                return Markup("<blockquote>{}</blockquote>").format(self.prose(blocks, heading))
        raise TypeError(block)

    def _item(self, blocks: Sequence[object], heading: int) -> Markup:
        """A list item; one paragraph alone needs no element of its own."""
        if len(blocks) == 1 and isinstance(blocks[0], Paragraph):
            return self.inline(blocks[0].children)
        return Markup("").join(self._block(block, heading) for block in blocks)

    def inline(self, children: Sequence[Inline]) -> Markup:
        """A link to an ingredient is only its words: the amount stands beside."""
        return Markup("").join(self._one(child) for child in children)

    def _one(self, child: Inline) -> Markup:
        match child:
            case Text(text):
                return escape(text)
            case Emphasis(inner, strong):
                tag = Markup("strong" if strong else "em")
                return Markup("<{0}>{1}</{0}>").format(tag, self.inline(inner))
            case Link(inner, address):
                if address.startswith("#"):
                    return self.inline(inner)
                return Markup('<a href="{}">{}</a>').format(address, self.inline(inner))
            case Explained(inner, term):
                if not self.explains:
                    return self.inline(inner)
                return Markup('<a class="word" href="#{}">{}</a>').format(
                    word_anchor(term), self.inline(inner)
                )
            case Picture(_, alt):
                return self._picture(child, alt)

    def _picture(self, picture: Picture, alt: str) -> Markup:
        shown = self.pictures(picture)
        if shown is None:
            return escape(alt)
        own = ":" in shown.address
        return Markup('<img src="{}" width="{}" height="{}" alt="{}">').format(
            shown.address if own else self.root + shown.address, shown.width, shown.height, alt
        )
