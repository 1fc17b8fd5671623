"""Which step uses how much of which ingredient.

The first plain mention of an ingredient uses all of it. A link says otherwise: a share,
an amount, the rest, or a piece (`links`). Once an ingredient has a link only its links count. What
nothing names or links may be called together with others (`collective`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise

from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Inline, Link, Text, plain
from spoonfold.model.recipe import Ingredient, Recipe, Step, slug
from spoonfold.plan.amounts.collective import taken_together
from spoonfold.plan.amounts.links import LinkReader, links_in
from spoonfold.plan.amounts.mentions import (
    Mention,
    Names,
    amount_said,
    is_aside,
    is_measured,
    mentions_in,
    part_said,
    plain_runs,
    share_said,
)
from spoonfold.problem import Level, Place, Problem
from spoonfold.quantity.show import show_number

_SHARED = "Link it with its share, and link the rest where it goes:\n"


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
    by_key: Mapping[str, tuple[Use, ...]] = field(init=False, repr=False, compare=False)
    """By the ingredient's key, in the order of steps."""

    def __post_init__(self) -> None:
        found: dict[str, list[Use]] = {}
        for uses in self.by_step.values():
            for use in uses:
                found.setdefault(use.ingredient.key, []).append(use)
        object.__setattr__(self, "by_key", {key: tuple(uses) for key, uses in found.items()})

    def of(self, ingredient: Ingredient) -> tuple[Use, ...]:
        """The uses of one ingredient, in the order of steps."""
        return self.by_key.get(ingredient.key, ())


def _texts_before(children: Sequence[Inline]) -> Iterator[tuple[Place, str]]:
    """The plain text right in front of each link, by the link's place."""
    for first, second in pairwise(children):
        if isinstance(first, Text) and isinstance(second, Link):
            yield second.place, first.text
    for child in children:
        if isinstance(child, Emphasis):
            yield from _texts_before(child.children)


_FROM_THE_TAP = frozenset(("water",))
_THE_REST = re.compile(
    r"\bthe\s+(?:rest|remainder|other\s+half)\b(?!\s+of\b)|\bwhat\s+is\s+left\b(?!\s+of\b)",
    re.IGNORECASE,
)


def _rest_is_taken(step: Step, mention: Mention) -> bool:
    """Whether the same step goes on to the rest, without saying again of what."""
    text = plain(step.text)
    at = text.find(f"{mention.before[-12:]}{mention.words}")
    return at >= 0 and _THE_REST.search(text, at) is not None


def uses_of(recipe: Recipe, pantry: Pantry) -> Uses:
    """Every use, from the links and the first plain mentions."""
    return _Tally(recipe, pantry).result()


class _Tally:
    def __init__(self, recipe: Recipe, pantry: Pantry) -> None:
        self.recipe = recipe
        self.pantry = pantry
        self.ingredients = recipe.ingredients
        self.names = Names(recipe.ingredients, pantry)
        self.reader = LinkReader(recipe.ingredients, pantry, self.names)
        self.uses: list[tuple[int, Use]] = []
        self.taken = [Fraction(0)] * len(recipe.ingredients)
        """What the uses so far take of each, its pieces apart."""
        self.problems: list[Problem] = []

    def result(self) -> Uses:
        linked = self.links()
        self.mentions(linked)
        for index, ingredient in enumerate(self.ingredients):
            self.check_sum(index, ingredient)
        by_step: dict[int, list[Use]] = {step.number: [] for step in self.recipe.steps}
        for _, use in self.uses:
            by_step[use.step].append(use)
        return Uses(
            {number: tuple(uses) for number, uses in by_step.items()},
            (*self.reader.problems, *self.problems),
        )

    def add(
        self, code: str, place: Place, message: str, hint: str, level: Level = Level.ERROR
    ) -> None:
        self.problems.append(Problem(code, level, place, message, hint))

    def use(
        self, index: int, step: Step, share: Fraction | None, piece: str | None, place: Place
    ) -> None:
        self.uses.append((index, Use(self.ingredients[index], step.number, share, piece, place)))
        if share is not None and piece is None:
            self.taken[index] += share

    def links(self) -> set[int]:
        """Takes what the links say; the ingredients that have one."""
        linked: set[int] = set()
        # A food that one step names twice goes in once.
        whole: set[tuple[int, int]] = set()
        for step in self.recipe.steps:
            before = dict(_texts_before(step.text))
            for link in links_in(step.text):
                if not link.address.startswith("#"):
                    continue
                index = self.reader.target(link)
                if index is not None:
                    linked.add(index)
                    words = plain(link.children)
                    text = before.get(link.place, "")
                    self.check_amount(
                        index,
                        Mention(step.number, words, frozenset((index,)), link.place, text, ""),
                    )
                    if not link.title and (index, step.number) in whole:
                        continue
                    if not link.title:
                        whole.add((index, step.number))
                    said = self.reader.said(index, link, 1 - self.taken[index])
                    if said is not None:
                        self.use(index, step, said.share, said.piece, link.place)
        return linked

    def mentions(self, linked: set[int]) -> None:
        used = set(linked)
        doubtful: list[Mention] = []
        plain: dict[int, list[tuple[Step, Mention]]] = {}
        for step in self.recipe.steps:
            said = [
                mention
                for run in plain_runs(step.text)
                for mention in mentions_in(run, step.number, self.names)
            ]
            for mention in said:
                meant = mention.meant if len(mention.meant) == 1 else self.by_part(mention, said)
                if len(meant) > 1:
                    if not meant <= used | plain.keys():
                        doubtful.append(mention)
                    continue
                (index,) = meant
                if index in linked:
                    self.check_amount(index, mention)
                else:
                    plain.setdefault(index, []).append((step, mention))
        used |= plain.keys()
        for index, named in plain.items():
            self.named(index, named)
        unsure = frozenset().union(*(mention.meant for mention in doubtful))
        unused = set(range(len(self.ingredients))) - used - self.reader.doubted
        for index, step, place in taken_together(self.recipe, self.pantry, unused - unsure):
            share = None if self.ingredients[index].amount is None else Fraction(1)
            self.use(index, step, share, None, place)
            unused.discard(index)
        asked: set[int] = set()
        for index in sorted(unused):
            if index not in asked:
                asked.update(self.never_used(index, doubtful))

    def by_part(self, mention: Mention, said: Sequence[Mention]) -> frozenset[int]:
        """Of one food in two parts of the list the one whose part the rest of the step is about."""
        parts = {self.ingredients[index].part: index for index in mention.meant}
        names = {slug(self.ingredients[index].name) for index in mention.meant}
        sure = {
            self.ingredients[index].part
            for each in said
            if len(each.meant) == 1
            for index in each.meant
        }
        here = parts.keys() & sure
        if len(names) > 1 or len(parts) < len(mention.meant) or len(here) != 1:
            return mention.meant
        return frozenset((parts[here.pop()],))

    def named(self, index: int, named: Sequence[tuple[Step, Mention]]) -> None:
        """Takes an ingredient that is named without a link: in the parts that the words say, where
        they make the whole, else all of it where it is first named."""
        ingredient = self.ingredients[index]
        if ingredient.name.casefold() in _FROM_THE_TAP:
            named = [each for each in named if not is_aside(each[1])] or named
        step, first = named[0]
        if ingredient.amount is None:
            self.use(index, step, None, None, first.place)
            return
        parts = self.parts(named)
        for step, mention, share in parts:
            self.use(index, step, share, None, mention.place)
        if not parts:
            self.use(index, step, Fraction(1), None, first.place)
            self.check_words(index, first)
        for _, mention in named if parts else named[1:]:
            self.check_amount(index, mention)

    def parts(self, named: Sequence[tuple[Step, Mention]]) -> list[tuple[Step, Mention, Fraction]]:
        """`half the juice`, and later the rest of it; empty where that isn't all of it."""
        found: list[tuple[Step, Mention, Fraction]] = []
        left = Fraction(1)
        for step, mention in named:
            said = part_said(mention)
            # The rest of what nobody has begun to use is no share.
            share = (left if found else None) if said == "rest" else said
            if not isinstance(share, Fraction) or not 0 < share <= left:
                continue
            if share < left and _rest_is_taken(step, mention):
                share = left
            found.append((step, mention, share))
            left -= share
        return found if found and not left and found[0][1] is named[0][1] else []

    def check_amount(self, index: int, mention: Mention) -> None:
        """A measured amount in the words, which would be the same for every number of people."""
        amount = amount_said(mention)
        if amount is None or not is_measured(amount) or self.ingredients[index].amount is None:
            return
        self.add(
            "amount-in-words",
            mention.place,
            f"“{amount}” in front of {mention.words} stays the same for every number of people.",
            "Name it without its amount; or link to it, and link the rest where it goes:\n"
            f'[{amount} of the {mention.words}](#{self.ingredients[index].key} "{amount}")',
        )

    def check_words(self, index: int, mention: Mention) -> None:
        """Words that say less than all, or an amount that nobody multiplies."""
        key = self.ingredients[index].key
        part, amount = share_said(mention), amount_said(mention)
        how = self.ingredients[index].preparation
        if part is None and how is not None and "divided" in how.casefold().split():
            self.add(
                "share-in-words",
                mention.place,
                f"The list says “{how}”, but without a link this step takes all of the "
                f"{self.ingredients[index].name}.",
                f'{_SHARED}[half the {mention.words}](#{key} "1/2")',
                Level.WARNING,
            )
        elif part is not None and part not in _own_words(self.ingredients[index]):
            self.add(
                "share-in-words",
                mention.place,
                f"“{part} {mention.words}” says that not all of it is meant, but without a "
                "link this step takes all of it.",
                f'{_SHARED}[{part} {mention.words}](#{key} "1/2")',
                Level.WARNING,
            )
        elif amount is not None and is_measured(amount):
            self.check_amount(index, mention)
        elif amount is not None:
            self.add(
                "amount-in-words",
                mention.place,
                f"“{amount}” in front of {mention.words} stays the same for every number of "
                "people; the amounts that are worked out stand beside the step.",
                "Name it without its amount; or link to it, and link the rest where it goes:\n"
                f'[{mention.words}](#{key} "{amount}")',
                Level.WARNING,
            )

    def never_used(self, index: int, doubtful: Sequence[Mention]) -> frozenset[int]:
        """Says that nothing uses it, or which words may; the ingredients that it spoke of."""
        ingredient = self.ingredients[index]
        for mention in doubtful:
            if index in mention.meant:
                meant = [self.ingredients[each] for each in sorted(mention.meant)]
                self.add(
                    "two-could-be-meant",
                    mention.place,
                    f"“{mention.words}” could be "
                    + " or ".join(
                        f"{each.name} ({each.part})" if each.part else each.name for each in meant
                    )
                    + ".",
                    " or ".join(f"[{mention.words}](#{each.key})" for each in meant),
                )
                return mention.meant
        level = Level.ERROR if ingredient.amount is not None else Level.WARNING
        self.add(
            "never-used",
            ingredient.place,
            f"No step uses the {ingredient.name}.",
            f"Name it in the step that uses it, or link to it:\n"
            f"[{ingredient.name}](#{ingredient.key})",
            level,
        )
        return frozenset((index,))

    def check_sum(self, index: int, ingredient: Ingredient) -> None:
        mine = [use for each, use in self.uses if each == index]
        if ingredient.amount is None or not mine or index in self.reader.doubted:
            return
        pieces = [use.piece for use in mine if use.piece]
        whole = self.taken[index]
        last = mine[-1]
        twice = next((each for each in pieces if pieces.count(each) > 1), None)
        if twice is not None or (pieces and whole):
            what = twice or "all"
            self.add(
                "used-over",
                last.place,
                f"The {ingredient.name}: {what} is used twice over.",
                "Each piece can be used once, and none of it once the whole is gone.",
            )
        elif whole > 1:
            self.add(
                "used-over",
                last.place,
                f"The steps use {show_number(whole)} times the {ingredient.name} that is listed.",
                self.sum_hint(mine),
            )
        elif whole < 1 and not pieces:
            self.add(
                "used-in-part",
                ingredient.place,
                f"The steps use {show_number(whole)} of the {ingredient.name}; "
                f"{show_number(1 - whole)} is left over.",
                f'Give the last link the title "rest":\n[{ingredient.name}]'
                f'(#{ingredient.key} "rest")',
            )

    def sum_hint(self, uses: Sequence[Use]) -> str:
        shares = " + ".join(
            f"{show_number(use.share)} (step {use.step})" for use in uses if use.share
        )
        return f"They add up to more than 1: {shares}."


def _own_words(ingredient: Ingredient) -> list[str]:
    """“Leftover” of “mashed potatoes, leftover” is no share of them."""
    return f"{ingredient.name} {ingredient.preparation or ''}".casefold().replace(",", " ").split()
