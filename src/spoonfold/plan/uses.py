"""Which step uses how much of which ingredient.

The first plain mention of an ingredient uses all of it. A link says otherwise: a share,
an amount, the rest, or a piece. Once an ingredient has a link only its links count.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from itertools import groupby

from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Inline, Link, Text, plain
from spoonfold.model.recipe import Ingredient, Recipe, Step, slug
from spoonfold.plan.convert import converted
from spoonfold.plan.mentions import Mention, Names, amount_said, mentions_in, share_said
from spoonfold.problem import Level, Place, Problem
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.grammar import Refusal, read_amount, read_share
from spoonfold.quantity.show import show_amount, show_number
from spoonfold.quantity.unit import PIECE

REST = "rest"


@dataclass(frozen=True, slots=True)
class Use:
    """Some of one ingredient in one step."""

    ingredient: Ingredient
    step: int
    """The step's number."""
    share: Fraction | None
    """Of the listed amount; None for one that is taken as needed."""
    piece: str | None
    """`zest`, `yolk` ...: only that part of it."""
    place: Place


@dataclass(frozen=True, slots=True)
class Uses:
    """All uses of a recipe, and what doesn't add up."""

    by_step: Mapping[int, tuple[Use, ...]]
    problems: tuple[Problem, ...]

    def of(self, ingredient: Ingredient) -> tuple[Use, ...]:
        """The uses of one ingredient, in the order of steps."""
        return tuple(
            use for uses in self.by_step.values() for use in uses
            if use.ingredient.key == ingredient.key
        )


def uses_of(recipe: Recipe, pantry: Pantry) -> Uses:
    """Every use, from the links and the first plain mentions."""
    return _Tally(recipe, pantry).result()


class _Tally:
    def __init__(self, recipe: Recipe, pantry: Pantry) -> None:
        self.recipe = recipe
        self.pantry = pantry
        self.ingredients = recipe.ingredients
        self.keys = _addresses(recipe.ingredients)
        self.names = Names(recipe.ingredients, pantry)
        self.uses: list[tuple[int, Use]] = []
        self.problems: list[Problem] = []
        # Ingredients with a link that couldn't be made out: their sums mean nothing.
        self.doubted: set[int] = set()

    def result(self) -> Uses:
        linked = self.links()
        self.mentions(linked)
        for index, ingredient in enumerate(self.ingredients):
            self.check_sum(index, ingredient)
        by_step: dict[int, list[Use]] = {step.number: [] for step in self.recipe.steps}
        for _, use in self.uses:
            by_step[use.step].append(use)
        return Uses({number: tuple(uses) for number, uses in by_step.items()},
                    tuple(self.problems))

    def add(
        self, code: str, place: Place, message: str, hint: str, level: Level = Level.ERROR
    ) -> None:
        self.problems.append(Problem(code, level, place, message, hint))

    # Links

    def links(self) -> set[int]:
        linked: set[int] = set()
        for step in self.recipe.steps:
            for link in _links(step.text):
                if not link.address.startswith("#"):
                    continue
                index = self.target(link)
                if index is not None:
                    linked.add(index)
                    self.link_use(index, step, link)
        return linked

    def target(self, link: Link) -> int | None:
        address = link.address[1:]
        indexes = self.keys.get(address, ())
        if len(indexes) == 1:
            return indexes[0]
        if len(indexes) > 1:
            readings = [_written(link, self.ingredients[each].key) for each in indexes]
            self.doubted.update(indexes)
            self.add("ambiguous-link", link.place,
                     f"`{link.address}` stands in more than one part of the list.",
                     " or ".join(readings))
            return None
        close = get_close_matches(address.casefold(), self.keys, 1, 0.6)
        near = self.keys[close[0]] if close else ()
        self.doubted.update(near or self.meant_by(link))
        known = ", ".join(f"`#{each.key}`" for each in self.ingredients)
        self.add("unknown-link", link.place,
                 f"`{link.address}` isn't an ingredient of this recipe.",
                 _written(link, self.ingredients[near[0]].key) if len(near) == 1
                 else f"The ingredients are {known}.")
        return None

    def check_link_words(self, index: int, ingredient: Ingredient, link: Link) -> None:
        """Words of a link that say less than all, where it gives no share."""
        for run in plain_runs(link.children):
            for mention in mentions_in(run, 0, self.names):
                part = share_said(mention)
                if part is not None and index in mention.meant:
                    self.add("share-in-words", link.place,
                             f"“{part} {mention.words}” says that not all of it is meant, but the "
                             "link gives no share, so this step takes all of it.",
                             _written(link, ingredient.key, "1/2"), Level.WARNING)

    def meant_by(self, link: Link) -> set[int]:
        """The ingredients that the words of a link name."""
        return {index for run in plain_runs(link.children)
                for mention in mentions_in(run, 0, self.names) for index in mention.meant}

    def link_use(self, index: int, step: Step, link: Link) -> None:
        ingredient = self.ingredients[index]
        title = " ".join(link.title.split()).lower()
        if ingredient.amount is None:
            if title and title != REST:
                self.add("share-of-nothing", link.place,
                         f"“{ingredient.name}” has no amount in the list, so there is no share "
                         f"of it.", _written(link, ingredient.key, ""))
            self.use(index, step, None, None, link.place)
            return
        share, piece = self.read_title(index, ingredient, title, link)
        if share is None:
            self.doubted.add(index)
        else:
            self.use(index, step, share, piece, link.place)

    def read_title(
        self, index: int, ingredient: Ingredient, title: str, link: Link
    ) -> tuple[Fraction | None, str | None]:
        assert ingredient.amount is not None
        item = self.pantry.find(ingredient.name)
        if not title:
            self.check_link_words(index, ingredient, link)
            return Fraction(1), None
        if item is not None and title in item.pieces:
            return Fraction(1), title
        if title == REST:
            rest = 1 - self.taken(index)
            if rest <= 0:
                self.add("nothing-left", link.place,
                         f"Nothing is left of {ingredient.name} here: the steps before have used "
                         "all of it.", "Give an earlier step a share, such as \"1/2\".")
                return None, None
            return rest, None
        share = read_share(title)
        if isinstance(share, Fraction) and share < 1:
            return share, None
        amount = read_amount(title)
        if isinstance(amount, Refusal):
            pieces = "".join(f', "{each}"' for each in (item.pieces if item else ()))
            better = share.instead if isinstance(share, Refusal) else None
            self.add("unreadable-share", link.place,
                     f"“{title}” is neither a share, an amount, nor a piece of {ingredient.name}.",
                     _written(link, ingredient.key, better) if better
                     else f'Write "1/2", "2 tbsp", "rest"{pieces}, or nothing for all of it.')
            return None, None
        return self.amount_share(ingredient, amount, title, link), None

    def amount_share(
        self, ingredient: Ingredient, amount: Amount, title: str, link: Link
    ) -> Fraction | None:
        listed = ingredient.amount
        assert listed is not None
        if listed.high is None and amount.high is None:
            item = self.pantry.find(ingredient.name)
            same = converted(amount, listed.unit, item, ingredient.preparation)
            if same is not None:
                return same.low / listed.low
        bare = amount.unit == PIECE
        self.add("unreadable-share", link.place,
                 f"“{title}” is read as a share of the {ingredient.name}, and no share is more "
                 "than 1." if bare else
                 f"“{title}” can't be compared with the {show_amount(listed)} in the list.",
                 'Write a share such as "1/2", or the amount in the unit of the list.')
        return None

    # Plain mentions

    def mentions(self, linked: set[int]) -> None:
        used = set(linked)
        doubtful: list[Mention] = []
        for step in self.recipe.steps:
            for run in plain_runs(step.text):
                for mention in mentions_in(run, step.number, self.names):
                    if len(mention.meant) > 1:
                        doubtful.append(mention)
                        continue
                    (index,) = mention.meant
                    if index not in used:
                        used.add(index)
                        share = None if self.ingredients[index].amount is None else Fraction(1)
                        self.use(index, step, share, None, mention.place)
                        if share is not None:
                            self.check_words(index, mention)
        asked: set[int] = set()
        for index in range(len(self.ingredients)):
            if index not in used | self.doubted | asked:
                asked.update(self.never_used(index, doubtful))

    def check_words(self, index: int, mention: Mention) -> None:
        """Words that say less than all, or an amount that nobody multiplies."""
        key = self.ingredients[index].key
        part, amount = share_said(mention), amount_said(mention)
        how = self.ingredients[index].preparation
        if part is None and how is not None and "divided" in how.casefold().split():
            self.add("share-in-words", mention.place,
                     f"The list says “{how}”, but without a link this step takes all of the "
                     f"{self.ingredients[index].name}.",
                     f'[half the {mention.words}](#{key} "1/2")', Level.WARNING)
        elif part is not None:
            self.add("share-in-words", mention.place,
                     f"“{part} {mention.words}” says that not all of it is meant, but without a "
                     "link this step takes all of it.",
                     f'[{part} {mention.words}](#{key} "1/2")', Level.WARNING)
        elif amount is not None:
            self.add("amount-in-words", mention.place,
                     f"“{amount}” in front of {mention.words} stays the same for every number of "
                     "people; the amounts that are worked out stand beside the step.",
                     f'Name it without its amount, or link to it:\n[{mention.words}](#{key} '
                     f'"{amount}")', Level.WARNING)

    def never_used(self, index: int, doubtful: Sequence[Mention]) -> frozenset[int]:
        """Says that nothing uses it, or which words may; the ingredients that it spoke of."""
        ingredient = self.ingredients[index]
        for mention in doubtful:
            if index in mention.meant:
                meant = [self.ingredients[each] for each in sorted(mention.meant)]
                self.add("two-could-be-meant", mention.place,
                         f"“{mention.words}” could be " + " or ".join(
                             f"{each.name} ({each.part})" if each.part else each.name
                             for each in meant) + ".",
                         " or ".join(f"[{mention.words}](#{each.key})" for each in meant))
                return mention.meant
        level = Level.ERROR if ingredient.amount is not None else Level.WARNING
        self.add("never-used", ingredient.place,
                 f"No step uses the {ingredient.name}.",
                 f"Name it in the step that uses it, or link to it:\n"
                 f"[{ingredient.name}](#{ingredient.key})", level)
        return frozenset((index,))

    # Sums

    def use(
        self, index: int, step: Step, share: Fraction | None, piece: str | None, place: Place
    ) -> None:
        self.uses.append(
            (index, Use(self.ingredients[index], step.number, share, piece, place)))

    def taken(self, index: int) -> Fraction:
        return sum(
            (use.share for each, use in self.uses
             if each == index and use.share is not None and use.piece is None),
            Fraction(0))

    def check_sum(self, index: int, ingredient: Ingredient) -> None:
        mine = [use for each, use in self.uses if each == index]
        if ingredient.amount is None or not mine or index in self.doubted:
            return
        pieces = [use.piece for use in mine if use.piece]
        whole = self.taken(index)
        last = mine[-1]
        twice = next((each for each in pieces if pieces.count(each) > 1), None)
        if twice is not None or (pieces and whole):
            what = twice or "all"
            self.add("used-over", last.place,
                     f"The {ingredient.name}: {what} is used twice over.",
                     "Each piece can be used once, and none of it once the whole is gone.")
        elif whole > 1:
            self.add("used-over", last.place,
                     f"The steps use {show_number(whole)} times the {ingredient.name} that is "
                     "listed.", self.sum_hint(mine))
        elif whole < 1 and not pieces:
            self.add("used-in-part", ingredient.place,
                     f"The steps use {show_number(whole)} of the {ingredient.name}; "
                     f"{show_number(1 - whole)} is left over.",
                     f'Give the last link the title "rest":\n[{ingredient.name}]'
                     f'(#{ingredient.key} "rest")')

    def sum_hint(self, uses: Sequence[Use]) -> str:
        shares = " + ".join(
            f"{show_number(use.share)} (step {use.step})" for use in uses if use.share)
        return f"They add up to more than 1: {shares}."


def _written(link: Link, key: str, title: str | None = None) -> str:
    """The link as it should be written."""
    title = link.title if title is None else title
    return f"[{plain(link.children)}](#{key}" + (f' "{title}")' if title else ")")


def _addresses(ingredients: Sequence[Ingredient]) -> Mapping[str, tuple[int, ...]]:
    """Every address that a link may use, and what it points at."""
    addresses: dict[str, list[int]] = defaultdict(list)
    for index, ingredient in enumerate(ingredients):
        name = slug(ingredient.name)
        for address in dict.fromkeys(
            (ingredient.key, name, f"{slug(ingredient.part)}-{name}" if ingredient.part else name)
        ):
            addresses[address].append(index)
    return {address: tuple(indexes) for address, indexes in addresses.items()}


def _links(children: Sequence[Inline]) -> Iterator[Link]:
    for child in children:
        if isinstance(child, Link):
            yield child
        elif isinstance(child, Emphasis):
            yield from _links(child.children)


def plain_runs(children: Sequence[Inline]) -> Iterator[tuple[Text, ...]]:
    """Plain text outside links, neighbouring lines together."""
    for kind, run in groupby(children, key=type):
        if kind is Text:
            yield tuple(child for child in run if isinstance(child, Text))
        elif kind is Emphasis:
            for child in run:
                yield from plain_runs(child.children if isinstance(child, Emphasis) else ())
