"""The words of a step at a table that cooks with something else: they name what is used there.

A child reads “stir in the yogurt” and takes the yogurt, whatever a box above says. So every
mention of what a swap takes out is replaced, in bold, on the whole card of that table.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from spoonfold.knowledge.names import fold, singulars
from spoonfold.language.texts import SOURCE_LANGUAGE, Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Explained, Inline, Link, Text, plain
from spoonfold.model.recipe import Ingredient, Recipe, Step
from spoonfold.plan.amounts.uses import Use
from spoonfold.plan.safety.swapped import TableSwap
from spoonfold.problem import Place
from spoonfold.sheets.at_size import says_amount

# Another food may take another article, or none.
_ARTICLES: Mapping[str, str] = {
    "en": r"(?:an?\s+)?",
    "es": r"(?:(?:el|la|los|las|una?|unos|unas)\s+|\b(?P<short>de|a)l\s+)?",
}
_SHORTEST = 3
"""Letters of a word that may stand for a food by itself."""


def swapped_words(
    step: Step,
    recipe: Recipe,
    swaps: Iterable[TableSwap],
    used: Sequence[Use],
    pantry: Pantry,
    texts: Texts,
) -> tuple[Inline, ...]:
    """The step's words with each swap's food in place of what it replaces; `used` is what goes
    in at that step. Where the original may stay if its label allows it, so do the words."""
    words = step.said
    for swap in swaps:
        if swap.if_label:
            continue
        changer = _changer(swap, recipe, pantry, texts)
        changed = changer.all(words)
        gone = {each.key for each in swap.originals}
        if changed == words and any(use.ingredient.key in gone for use in used):
            said = texts.say("Use {name}.", name=swap.swap.use.said)
            changed = (*words, Text(" ", step.place), Emphasis((Text(said, step.place),), True))
        words = changed
    return words


def _changer(swap: TableSwap, recipe: Recipe, pantry: Pantry, texts: Texts) -> _Changer:
    language = recipe.language or texts.language
    gone = {each.key for each in swap.originals}
    own, others = set[str](), set[str]()
    for each in recipe.ingredients:
        (own if each.key in gone else others).update(_names(each, pantry, language))
    listed = {fold(each.said) for each in swap.originals}
    # A word that may also mean what stays isn't touched; the amount beside the step says it.
    names = sorted({*listed, *(own - others)}, key=lambda name: (-len(name), name))
    said = (r"[\s-]+".join(re.escape(part) for part in name.split(" ")) for name in names)
    pattern = re.compile(
        rf"(?<!\w){_ARTICLES.get(language.split('-')[0], '')}(?:{'|'.join(said)})(?!\w)",
        re.IGNORECASE,
    )
    return _Changer(pattern, swap.swap.use.said, frozenset(f"#{key}" for key in gone))


def _names(ingredient: Ingredient, pantry: Pantry, language: str) -> Iterator[str]:
    """What the words may call it: its listed name, the pantry's names, its chief word."""
    item = pantry.find(ingredient.name)
    is_english = language.split("-")[0] == SOURCE_LANGUAGE
    names = [ingredient.said]
    if item is not None:
        names += (
            (item.name, item.plural, *item.also) if is_english else (item.names.get(language, ()))
        )
    parts = fold(ingredient.said).split(" ")
    chief = parts[-1] if is_english else parts[0]
    if len(chief) >= _SHORTEST:
        names.append(chief)
    for name in names:
        for one in singulars(fold(name)):
            yield from (one, f"{one}s", f"{one}es")


@dataclass(frozen=True, slots=True)
class _Changer:
    """Replaces the mentions of one food."""

    pattern: re.Pattern[str]
    name: str
    addresses: frozenset[str]
    """Of the links to what it replaces."""

    def all(self, children: tuple[Inline, ...]) -> tuple[Inline, ...]:
        found: list[Inline] = []
        for child in children:
            match child:
                case Text():
                    found.extend(self.text(child))
                case Link(inner, address, _, place) if address in self.addresses:
                    found.extend(self.link(inner, place))
                case Link(inner, address) if address.startswith("#"):
                    found.append(child)
                case Emphasis(inner) | Explained(inner) | Link(inner):
                    found.append(replace(child, children=self.all(inner)))
                case _:
                    found.append(child)
        return tuple(found)

    def link(self, inner: tuple[Inline, ...], place: Place) -> tuple[Inline, ...]:
        """The words of a link without the link: its amount is the replaced food's."""
        changed = self.all(inner)
        if says_amount(plain(inner)) or changed == inner:
            return (self.marked(self.name, place),)
        return changed

    def text(self, text: Text) -> Iterator[Inline]:
        done = 0
        for match in self.pattern.finditer(text.text):
            short = match.groupdict().get("short")
            before = text.text[done : match.start()] + (f"{short} " if short else "")
            if before:
                yield Text(before, text.place)
            name = self.name
            if match[0][0].isupper() and not short:
                name = name[:1].upper() + name[1:]
            yield self.marked(name, text.place)
            done = match.end()
        if done < len(text.text):
            yield Text(text.text[done:], text.place)

    def marked(self, name: str, place: Place) -> Inline:
        return Emphasis((Text(name, place),), strong=True)
