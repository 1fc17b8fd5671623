"""A replacement's name where words name what it replaces: in a step, in a dish's title."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from spoonfold.knowledge.names import fold, singulars
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Explained, Inline, Link, Text, plain
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.plan.amounts.mentions import says_amount
from spoonfold.plan.safety.swapped import TableSwap
from spoonfold.problem import Place

# Another food may take another article, or none.
_ARTICLES: Mapping[str, str] = {
    "en": r"(?:an?\s+)?",
    "es": r"(?:(?:el|la|los|las|una?|unos|unas)\s+|\b(?P<short>de|a)l\s+)?",
}
_SHORTEST = 3
"""Letters of a word that may stand for a food by itself."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line that stands instead of another one."""

    original: Ingredient
    line: Ingredient
    swap: TableSwap


def own_language(recipe: Recipe, language: str) -> str:
    """What a reader sees a recipe's words in; `language` where it doesn't say."""
    return recipe.language or language


@dataclass(frozen=True, slots=True)
class Renamer:
    """Puts the names of replacements where words name what they replace, all in one pass: what
    one swap has put in is never read again by the next."""

    recipe: Recipe
    lines: Mapping[str, Line]
    pantry: Pantry
    patterns: dict[str, tuple[re.Pattern[str], Mapping[str, Line]]]
    """By language: what may be said, and which line each name of it means."""

    @classmethod
    def of(
        cls, recipe: Recipe, lines: Mapping[str, Line], pantry: Pantry, language: str
    ) -> Renamer:
        """For the languages of a recipe's words."""
        made = cls(recipe, lines, pantry, {})
        for each in {language, own_language(recipe, language)}:
            made.patterns[each] = made._pattern(each)
        return made

    def _pattern(self, language: str) -> tuple[re.Pattern[str], Mapping[str, Line]]:
        others: set[str] = set()
        own: dict[str, Line] = {}
        for each in self.recipe.ingredients:
            names = _names(each, self.pantry, language, _shown(each, self.recipe, language))
            if each.key in self.lines:
                for name in names:
                    own.setdefault(name, self.lines[each.key])
            else:
                others.update(names)
        listed = {
            fold(_shown(each.original, self.recipe, language)): each for each in self.lines.values()
        }
        # A word that may also mean what stays isn't touched; the amount beside the step says it.
        meant = {name: line for name, line in own.items() if name not in others} | listed
        said = (
            r"[\s-]+".join(re.escape(part) for part in name.split(" "))
            for name in sorted(meant, key=lambda name: (-len(name), name))
        )
        pattern = re.compile(
            rf"(?<!\w){_ARTICLES.get(language.split('-')[0], '')}(?P<name>{'|'.join(said)})(?!\w)",
            re.IGNORECASE,
        )
        return pattern, meant

    def all(self, children: tuple[Inline, ...], language: str) -> tuple[Inline, ...]:
        """Words with every replaced name changed, in bold."""
        found: list[Inline] = []
        for child in children:
            match child:
                case Text():
                    found.extend(self._text(child, language))
                case Link(inner, address) if address[1:] in self.lines and address[0] == "#":
                    found.append(self._link(child, self.lines[address[1:]], language))
                case Link(_, address) if address.startswith("#"):
                    found.append(child)
                case Emphasis(inner) | Explained(inner) | Link(inner):
                    found.append(replace(child, children=self.all(inner, language)))
                case _:
                    found.append(child)
        return tuple(found)

    def _link(self, link: Link, line: Line, language: str) -> Link:
        inner = link.children
        changed = self.all(inner, language)
        if says_amount(plain(inner)) or changed == inner:
            # Its amount was the replaced food's.
            changed = (_bold(_shown(line.line, self.recipe, language), link.place),)
        return Link(changed, f"#{line.line.key}", link.title, link.place)

    def _text(self, text: Text, language: str) -> Iterator[Inline]:
        pattern, meant = self.patterns[language]
        done = 0
        for match in pattern.finditer(text.text):
            short = match.groupdict().get("short")
            before = text.text[done : match.start()] + (f"{short} " if short else "")
            if before:
                yield Text(before, text.place)
            line = meant[fold(match["name"])]
            name = _shown(line.line, self.recipe, language)
            if match[0][0].isupper() and not short:
                name = name[:1].upper() + name[1:]
            yield _bold(name, text.place)
            done = match.end()
        if done < len(text.text):
            yield Text(text.text[done:], text.place)

    def title(self, title: str, language: str) -> str:
        """A dish's name with the replacement's in place of what it was called after."""
        pattern, meant = self.patterns[language]

        def named(match: re.Match[str]) -> str:
            line = meant[fold(match["name"])].line
            item = self.pantry.find(line.name)
            one = None if item is None else item.called(language.split("-")[0], many=False)
            name = one or _shown(line, self.recipe, language)
            return name[:1].upper() + name[1:] if match[0][0].isupper() else name

        return pattern.sub(named, title)


def in_bold(words: tuple[Inline, ...], name: str) -> tuple[Inline, ...]:
    """Words of the author's own with a replacement's name in bold, as where it is put in."""
    pattern = re.compile(rf"(?<!\w){re.escape(name)}(?!\w)", re.IGNORECASE)
    found: list[Inline] = []
    for child in words:
        if not isinstance(child, Text):
            found.append(child)
            continue
        done = 0
        for match in pattern.finditer(child.text):
            found += [Text(child.text[done : match.start()], child.place)]
            found += [_bold(match[0], child.place)]
            done = match.end()
        found.append(Text(child.text[done:], child.place))
    return tuple(each for each in found if not isinstance(each, Text) or each.text)


def _bold(name: str, place: Place) -> Inline:
    return Emphasis((Text(name, place),), strong=True)


def _shown(ingredient: Ingredient, recipe: Recipe, language: str) -> str:
    """What an ingredient is called in the words of that language."""
    return ingredient.said if language == (recipe.language or language) else ingredient.name


def _names(ingredient: Ingredient, pantry: Pantry, language: str, shown: str) -> Iterator[str]:
    """What the words may call it: its listed name, the pantry's names, its chief word."""
    item = pantry.find(ingredient.name)
    is_english = language.split("-")[0] == "en"
    names = [shown]
    if item is not None:
        names += (
            (item.name, item.plural, *item.also)
            if is_english
            else (item.names.get(language.split("-")[0], ()))
        )
    parts = fold(shown).split(" ")
    chief = parts[-1] if is_english else parts[0]
    if len(chief) >= _SHORTEST:
        names.append(chief)
    for name in names:
        for one in singulars(fold(name)):
            yield from (one, f"{one}s", f"{one}es")
