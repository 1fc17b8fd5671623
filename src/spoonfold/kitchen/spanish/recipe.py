"""A recipe in another language with the words that the rules go by beside those that are printed.

What the rules read is English (`words.py`), what every sheet prints is the author's: just
as in a translation, `text` and `name` are for the rules, `wording` is for readers. Every word keeps
the place where it was written, so that a problem is shown in the author's own line.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby

from spoonfold.kitchen.spanish.english import Sort
from spoonfold.kitchen.spanish.forms import plurals, singular_of
from spoonfold.kitchen.spanish.lexicon import spanish
from spoonfold.kitchen.spanish.words import Glosser
from spoonfold.knowledge.names import bare
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Explained, Inline, Link, Picture, Text
from spoonfold.model.recipe import Ingredient, Recipe, Step, Swap, Wording
from spoonfold.problem import Place

_LONGEST = 6
"""Words in the longest name of a food that is tried."""
_PIECES = frozenset({"hoja", "hojas", "diente", "dientes", "rama", "ramas", "filete", "filetes",
                     "trozo", "trozos", "pieza", "piezas", "pasta", "masa", "discos", "agua",
                     "mezcla", "crema", "salsa", "polvo"})  # fmt: skip
"""First words of names that alone mean something else."""


def recipe_in_english(recipe: Recipe, names: NamesInEnglish) -> Recipe:
    """The recipe with English for the rules and its own words for readers."""
    if any(each.wording is not None for each in recipe.ingredients):
        return recipe
    ingredients = tuple(names.worded(each) for each in recipe.ingredients)
    foods = dict(_listed(recipe.ingredients, ingredients))
    foods.update(_parts_of_eggs(recipe, ingredients))
    glosser = Glosser(foods, names.foods)
    english = {old.name: new.name for old, new in zip(recipe.ingredients, ingredients, strict=True)}
    return replace(
        recipe,
        ingredients=ingredients,
        swaps=tuple(_swap(each, names, glosser, english) for each in recipe.swaps),
        steps=tuple(_step(each, glosser) for each in recipe.steps),
    )


class NamesInEnglish:
    """What the foods of a language are called in English."""

    def __init__(self, pantry: Pantry, language: str) -> None:
        self._pantry = pantry
        self._language = language
        self._called = pantry.called_in(language)
        self._glosser = Glosser()

    @cached_property
    def foods(self) -> Mapping[tuple[str, ...], str]:
        """Names of several words, with what they mean."""
        return {
            (form, *words[1:]): meant
            for name, meant in self._called.items()
            if 1 < len(words := name.split(" ")) <= _LONGEST
            for form in plurals(words[0])
        }

    def worded(self, line: Ingredient) -> Ingredient:
        """A line of the list."""
        preparation = self._glosser.phrase(line.preparation) if line.preparation else None
        return replace(
            line,
            name=self.english(line.name),
            preparation=preparation,
            as_needed=self._glosser.phrase(line.as_needed) if line.as_needed else None,
            wording=Wording(
                line.name,
                ", ".join(each for each in (line.preparation, line.as_needed) if each),
                self._language,
            ),
        )

    def english(self, name: str) -> str:
        """A food's name; what nothing is known of stays as it is."""
        own = self._pantry.find(name)
        if own is not None and self._pantry.place(own) is not None:
            return name
        words = bare(name).replace("-", " ").split()
        while words and words[0] in ("de", "del", "la", "el", "los", "las"):
            words = words[1:]
        phrase = spanish().phrases.get(tuple(words))
        found = phrase[1] if phrase and phrase[0] is Sort.PHRASE else self._known(words)
        return self._short(found or self._glosser.phrase(" ".join(words)) or name)

    def _short(self, name: str) -> str:
        """The shortest of the pantry's names for the same food that says no other word."""
        item = self._pantry.find(name)
        if item is None or name != item.name:
            return name
        words = set(name.split(" "))
        fewer = [
            each
            for each in item.also
            if set(each.split(" ")) < words and self._pantry.find(each) == item
        ]
        return min(fewer, key=lambda each: len(each.split(" ")), default=name)

    def _known(self, words: Sequence[str]) -> str | None:
        """By its name, or by it without words behind it that say how it is."""
        described: list[str] = []
        rest = list(words)
        while rest:
            found = self._exact(rest)
            if found is not None:
                own = found.split(" ")
                return " ".join((*(each for each in described if each not in own), found))
            adjective = spanish().adjectives.get(rest[-1])
            if adjective is None or len(rest) == 1:
                return None
            described.insert(0, adjective)
            rest.pop()
            if rest and rest[-1] in ("y", "e"):
                rest.pop()
        return None

    def _exact(self, words: Sequence[str]) -> str | None:
        heads = list(singular_of(words[0]))
        for head in heads:
            found = self._called.get(" ".join((head, *words[1:])))
            if found is not None:
                return found
        singles = " ".join(list(singular_of(word))[-1] for word in words)
        return self._called.get(singles)


def _listed(
    written: Sequence[Ingredient], worded: Sequence[Ingredient]
) -> Mapping[tuple[str, ...], str]:
    """Every way in which steps may name a listed food, with its name in English."""
    found: dict[tuple[str, ...], str] = {}
    heads: dict[str, set[str]] = {}
    for old, new in zip(written, worded, strict=True):
        words = bare(old.name).replace("-", " ").split()
        while words and words[0] in ("de", "del"):
            words = words[1:]
        if not words:
            continue
        for head in _forms(words[0]):
            found[(head, *words[1:])] = new.name
            heads.setdefault(head, set()).add(new.name)
        # Without what says how it comes: “pechuga de pollo congelada”.
        short = list(words)
        while len(short) > 1 and short[-1] in spanish().adjectives:
            short.pop()
            for head in _forms(short[0]):
                found.setdefault((head, *short[1:]), new.name)
    for head, meant in heads.items():
        if len(meant) == 1 and head not in _PIECES:
            found.setdefault((head,), next(iter(meant)))
    for word, meant in _complements(written, worded).items():
        if len(meant) == 1:
            found.setdefault((word,), next(iter(meant)))
    return found


def _parts_of_eggs(recipe: Recipe, worded: Sequence[Ingredient]) -> Mapping[tuple[str, ...], str]:
    """Yolks and whites as the listed eggs, where no step says eggs: else nothing would use them."""
    eggs = [new.name for new in worded if new.name.split(" ")[-1] in ("egg", "eggs")]
    said = {word for step in recipe.steps for word in bare(step.words).split()}
    if len(eggs) != 1 or any(word.startswith(("huevo", "blanquillo")) for word in said):
        return {}
    return {
        (form,): f"{eggs[0]} {part}"
        for word, part in (("yema", "yolk"), ("clara", "white"))
        for form in plurals(word)
    }


def _complements(
    written: Sequence[Ingredient], worded: Sequence[Ingredient]
) -> Mapping[str, set[str]]:
    """What “el pollo” and “los filetes” may mean: the chicken of “pechuga de pollo”, but for what
    is only made of it."""
    found: dict[str, set[str]] = {}
    for old, new in zip(written, worded, strict=True):
        head, *behind = bare(old.name).replace("-", " ").split() or [""]
        if old.amount is not None and old.amount.unit.name == "fillet":
            for form in plurals("filete"):
                found.setdefault(form, set()).add(new.name)
        if not behind or behind[0] not in ("de", "del") or _MADE_OF & set(singular_of(head)):
            continue
        for word in behind[1:2]:
            for form in _forms(word):
                found.setdefault(form, set()).add(new.name)
    return found


_MADE_OF = frozenset({"caldo", "jugo", "zumo", "salsa", "aceite", "vinagre", "harina", "crema",
                      "pure", "polvo", "pasta", "mermelada", "cascara", "ralladura", "hoja",
                      "semilla", "sopa", "queso", "leche", "tortilla", "masa", "disco", "esencia",
                      "extracto", "mantequilla", "pan", "fecula", "almidon", "sal"})  # fmt: skip
"""First words of what is made of the food behind them."""


def _forms(word: str) -> set[str]:
    return {form for single in singular_of(word) for form in plurals(single)} | {word}


def _swap(swap: Swap, names: NamesInEnglish, glosser: Glosser, english: Mapping[str, str]) -> Swap:
    return replace(
        swap,
        instead_of=replace(
            swap.instead_of, text=english.get(swap.instead_of.text, swap.instead_of.text)
        ),
        use=names.worded(swap.use),
        shown=swap.instead_of.text,
        steps=tuple(
            replace(each, text=_english(each.text, glosser), wording=each.text)
            for each in swap.steps
        ),
    )


def _step(step: Step, glosser: Glosser) -> Step:
    return replace(step, text=_english(step.text, glosser), wording=step.text)


@dataclass(frozen=True, slots=True)
class _Leaf:
    """A run of the author's text, and the link that it stands in."""

    begin: int
    text: str
    place: Place
    link: Link | None


def _english(children: Sequence[Inline], glosser: Glosser) -> tuple[Inline, ...]:
    leaves = list(_leaves(children, None, 0))
    text = "".join(each.text for each in leaves)
    said = glosser.words(text)
    placed = [(word, _leaf_at(leaves, word.begin)) for word in said]
    found: list[Inline] = []
    is_first = True
    for _, group in groupby(placed, key=lambda each: id(each[1].link) if each[1].link else 0):
        runs = list(group)
        inner: list[Inline] = []
        for word, leaf in runs:
            joined = (
                is_first or word.said in ".,;:!?)" or ((found or inner) and _opens(inner or found))
            )
            is_first = False
            place = Place(
                leaf.place.path,
                leaf.place.line,
                leaf.place.column + word.begin - leaf.begin if leaf.place.column else 0,
            )
            if not joined:
                (inner if inner or runs[0][1].link is None else found).append(Text(" ", place))
            inner.append(Text(word.said, place))
        link = runs[0][1].link
        if link is None:
            found.extend(inner)
        else:
            found.append(replace(link, children=tuple(inner)))
    return tuple(found)


def _opens(children: Sequence[Inline]) -> bool:
    last = children[-1]
    return isinstance(last, Text) and last.text == "("


def _leaves(children: Sequence[Inline], link: Link | None, begin: int) -> Iterator[_Leaf]:
    for child in children:
        match child:
            case Text(text, place):
                yield _Leaf(begin, text, place, link)
                begin += len(text)
            case Emphasis(inner) | Explained(inner):
                for leaf in _leaves(inner, link, begin):
                    yield leaf
                    begin = leaf.begin + len(leaf.text)
            case Link(inner):
                own = child if child.address.startswith("#") else link
                for leaf in _leaves(inner, own, begin):
                    yield leaf
                    begin = leaf.begin + len(leaf.text)
            case Picture():
                pass


def _leaf_at(leaves: Sequence[_Leaf], at: int) -> _Leaf:
    found = leaves[0]
    for leaf in leaves:
        if leaf.begin > at:
            break
        found = leaf
    return found
