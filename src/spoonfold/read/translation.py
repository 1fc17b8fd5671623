"""A recipe's translation: `NAME.es.md` beside `NAME.md`.

Only words are read; amounts, times and named notes stay the original's. The sections
stand in the original's order, under headings in the translation's own language.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from spoonfold.model.recipe import Recipe
from spoonfold.model.translation import TranslatedIngredient, TranslatedStep, Translation
from spoonfold.problem import Place
from spoonfold.read.files import Source
from spoonfold.read.header import split_header
from spoonfold.read.ingredients import PART, StepWords
from spoonfold.read.markdown import read_sections
from spoonfold.read.nodes import Mapping, Node
from spoonfold.read.recipe import STEPS
from spoonfold.read.record import Key, ListOf, Record
from spoonfold.read.shape import Found, Line, Shape, add
from spoonfold.read.steps import free_notes, step_text


@dataclass(frozen=True, slots=True)
class _NameLine:
    """An ingredient's name and preparation, without its amount."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (Line("an ingredient's name, without its amount"),)

    def read(self, node: Node, found: Found) -> TranslatedIngredient | None:
        text = Line("an ingredient's name, without its amount").read(node, found)
        if text is None:
            return None
        if text[0].isdigit() or text[0] in "½⅓⅔¼¾⅛":
            add(
                found,
                "amount-in-translation",
                node.place,
                "Amounts come from the original, so that they can't differ.",
                "Write the name and how it is prepared, without the amount.",
            )
            return None
        name, _, preparation = text.partition(",")
        return TranslatedIngredient(name.strip(), preparation.strip() or None, node.place)


@dataclass(frozen=True, slots=True)
class _NameLines:
    """Names with `part:` headings between them, as in the original's list."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (ListOf(_LineOrPart()),)

    def read(self, node: Node, found: Found) -> tuple[TranslatedIngredient, ...] | None:
        listed = ListOf(_LineOrPart()).read(node, found)
        if listed is None:
            return None
        part: str | None = None
        lines = []
        for each in listed:
            if isinstance(each, str):
                part = each
            else:
                lines.append(replace(each, part=part))
        return tuple(lines)


@dataclass(frozen=True, slots=True)
class _LineOrPart:
    @property
    def written(self) -> tuple[Shape, ...]:
        return (_NameLine(), PART)

    def read(self, node: Node, found: Found) -> TranslatedIngredient | str | None:
        if isinstance(node, Mapping) and tuple(node.entries) == ("part",):
            return Line("a heading").read(node.entries["part"], found)
        return _NameLine().read(node, found)


@dataclass(frozen=True, slots=True)
class _SwapName:
    """What to use instead; with words for single steps, where the original has them."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (_NameLine(), _SWAP)

    def read(self, node: Node, found: Found) -> TranslatedIngredient | None:
        if not isinstance(node, Mapping):
            return _NameLine().read(node, found)
        values = _SWAP.read(node, found)
        if values is None or "use" not in values:
            return None
        use: TranslatedIngredient = values["use"]
        return replace(use, steps=values.get("steps", ()))


_SWAP = Record(
    (
        Key("use", _NameLine(), "the name of what is used instead", True, "aceite de girasol"),
        Key("steps", StepWords(), "what single steps say with it"),
    ),
    "a swap's words",
)

HEADER = Record(
    (
        Key("title", Line("the dish's name"), "the dish's name", True, "Sopa de lentejas rojas"),
        Key("place", Line("a town or region and its country"), "where the dish comes from"),
        Key("portion", Line("one portion"), "what one portion is"),
        Key(
            "ingredients",
            _NameLines(),
            "names and preparations in the original's order",
            True,
            "[lentejas rojas, enjuagadas]",
        ),
        Key("swaps", ListOf(_SwapName()), "names of what to use instead, in the original's order"),
        Key("read by", Line("who has read it"), "`draft` until a fluent speaker has read it"),
    ),
    "a translation's header",
)


def section_titles(recipe: Recipe) -> tuple[str, ...]:
    """The original's sections in the order in which a translation gives them."""
    return (STEPS, *recipe.sections)


def read_translation(
    source: Source, recipe: Recipe, language: str, found: Found
) -> Translation | None:
    """The translation of a recipe, or None where too little could be read."""
    split = split_header(source, found)
    if split is None:
        return None
    values: dict[str, Any] = HEADER.read(split.header, found) or {}
    sections = read_sections(split.body, source.path, split.body_line, found, steps_in=0)
    if "title" not in values or "ingredients" not in values:
        return None
    wanted = section_titles(recipe)
    if len(sections) - 1 != len(wanted):
        add(
            found,
            "translation-sections",
            Place(source.path, split.body_line),
            f"The original has {len(wanted)} sections after the headnote, and this has "
            f"{len(sections) - 1}.",
            "Give them in this order: " + ", ".join(f"## {each.capitalize()}" for each in wanted),
        )
        return None
    steps = tuple(
        TranslatedStep(step_text(item, found), group, free_notes(item.notes, found), item.place)
        for group, item in sections[1].numbered
    )
    return Translation(
        of=recipe.key,
        language=language,
        title=values["title"],
        portion=values.get("portion"),
        ingredients=values["ingredients"],
        headnote=tuple(sections[0].blocks),
        sections=tuple((each.title, tuple(each.blocks)) for each in sections[2:]),
        steps=steps,
        read_by=values.get("read by"),
        place=Place(source.path, 1),
        origin=values.get("place"),
        swaps=values.get("swaps", ()),
    )
